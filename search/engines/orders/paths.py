"""Words as lattice paths: each letter is a step, and what is to be fair adds up along the path."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass, field
from math import prod
from typing import Any

from facewright.constraints.orders import EVERY, FIRST
from facewright.search.engines.orders.sums import Edge, Layer

Point = tuple[int, ...]
"""How many letters of each die a word has so far."""

MOST_KEPT = 50_000
"""Points whose letters are kept."""

Weigh = Callable[[int, Point], tuple[int, ...]]
"""What a letter of a die adds at a point."""


def additive(dice: int, fair: str) -> bool:
    """Whether what is to be fair adds up along a path: always, but for every order of four dice and more."""
    return fair != EVERY or dice <= 3


def layers_of(
    kinds: Sequence[Hashable], faces: Sequence[int], fair: str
) -> tuple[list[Layer], tuple[int, ...]]:
    """The layered graph of all words, one letter a layer, and the sum that fair words have.

    Equal dice (of one kind) appear for the first time in their order, so that each design is one word.
    """
    dice, outcomes = len(faces), prod(faces)
    weigh: Weigh
    if dice == 2 or fair == FIRST:
        weigh, wanted = _first(faces), (outcomes // dice,) * dice
    elif fair == EVERY:
        weigh, wanted = _middle(faces), (outcomes // 6,) * 6
    else:
        weigh, wanted = _places(faces), (outcomes // dice,) * (dice * dice)
    return word_layers(kinds, faces, weigh), wanted


@dataclass(frozen=True)
class WordLayer:
    """The letters that can stand at one place of a word with so many letters of each die, whatever they add.

    Points are worked out when they are asked for: many dice of many faces have more than can be listed. The first
    `MOST_KEPT` are kept, since the words that are found come by the same points again and again.
    """

    kinds: Sequence[Hashable]
    faces: Sequence[int]
    weigh: Weigh
    _kept: dict[Point, list[Edge]] = field(default_factory=dict, repr=False, compare=False)

    def leaving(self, point: Any) -> list[Edge]:
        """The letters that can follow at a point."""
        edges = self._kept.get(point)
        if edges is None:
            edges = [
                Edge(stepped(point, die), die, self.weigh(die, point))
                for die in range(len(self.faces))
                if point[die] < self.faces[die] and not too_early(self.kinds, point, die)
            ]
            if len(self._kept) < MOST_KEPT:
                self._kept[point] = edges
        return edges

    def before(self, points: Iterable[Any]) -> list[Point]:
        """The points from which a letter leads to one of these, in order."""
        found = {stepped(point, die, -1) for point in points for die, so_far in enumerate(point) if so_far}
        return sorted(found)


def word_layers(kinds: Sequence[Hashable], faces: Sequence[int], weigh: Weigh) -> list[Layer]:
    """The layered graph of all words with so many letters of each die, whatever the letters add."""
    return [WordLayer(kinds, faces, weigh)] * sum(faces)


def stepped(point: Point, die: int, by: int = 1) -> Point:
    """The point after one more letter of a die, or so many."""
    return (*point[:die], point[die] + by, *point[die + 1 :])


def too_early(kinds: Sequence[Hashable], point: Point, die: int) -> bool:
    """Whether a die would appear before an equal one that comes before it."""
    return point[die] == 0 and any(kinds[other] == kinds[die] and not point[other] for other in range(die))


def _others(faces: Sequence[int]) -> list[list[int]]:
    return [[other for other in range(len(faces)) if other != die] for die in range(len(faces))]


def _first(faces: Sequence[int]) -> Weigh:
    """A label comes in first against all smaller ones of the others."""
    others = _others(faces)

    def weigh(die: int, point: Point) -> tuple[int, ...]:
        won = prod(point[other] for other in others[die])
        return tuple(won if other == die else 0 for other in range(len(faces)))

    return weigh


def _middle(faces: Sequence[int]) -> Weigh:
    """Of three dice the order is known from the middle one, and who is above it."""
    others = _others(faces)

    def weigh(die: int, point: Point) -> tuple[int, ...]:
        row = [0] * 6
        one, other = others[die]
        row[2 * die] = point[one] * (faces[other] - point[other])
        row[2 * die + 1] = point[other] * (faces[one] - point[one])
        return tuple(row)

    return weigh


def _places(faces: Sequence[int]) -> Weigh:
    """How many of the others a label beats: the coefficients of a product, a factor for each other die."""
    others, dice = _others(faces), len(faces)

    def weigh(die: int, point: Point) -> tuple[int, ...]:
        ways = [1]
        for other in others[die]:
            below, above = point[other], faces[other] - point[other]
            longer = [0] * (len(ways) + 1)
            for beaten, count in enumerate(ways):
                longer[beaten] += count * above
                longer[beaten + 1] += count * below
            ways = longer
        row = [0] * (dice * dice)
        row[die * dice : (die + 1) * dice] = ways
        return tuple(row)

    return weigh
