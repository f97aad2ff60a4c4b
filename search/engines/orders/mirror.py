"""Words that read the same from both ends: where to look for fair orders of many faces, or of four dice and more.

The second half is the first backwards, so each order is as likely as its reverse, and pairs are fair of themselves.
What triples need adds up along the first half; of the words that meet it some are fair for all dice.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from itertools import combinations, permutations
from math import prod

from facewright.constraints.orders import EVERY, is_fair, order_ways
from facewright.search.engines.orders.paths import Point, Weigh, stepped, too_early, word_layers
from facewright.search.engines.orders.sums import Drawn, Edge, Layer, Sums
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, Stopped, never

Word = tuple[int, ...]


def fair_words(
    kinds: Sequence[Hashable],
    faces: Sequence[int],
    seed: int,
    stop: Stop = never,
    report: Progress = silent,
) -> Iterator[Word]:
    """Words in which every order is equally likely, among those that read the same from both ends; some come twice.

    For dice of one size first those made of blocks, each block holding every die once; then any. Raises Stopped where
    `stop` asks for it.
    """
    if any(count % 2 for count in faces):
        return
    dice = len(faces)
    half = tuple(count // 2 for count in faces)
    wanted = [prod(faces[die] for die in (a, b, c)) // 6 for b in range(dice) for a, c in _pairs(dice, b)]
    weigh = _triples(faces)
    letters: list[Word] = [(die,) for die in range(dice)]
    layered = [(word_layers(kinds, half, weigh), letters)]
    if len(set(faces)) == 1:
        layered.insert(0, _blocks(kinds, half, weigh))
    for layers, spelled in layered:
        sums = Sums(layers, (0,) * dice, half, wanted, stop, report, seed)
        for tried, path in enumerate(sums.paths()):
            report("words fair for three dice", tried, None)
            if (asked := stop()) is not None:
                raise Stopped(asked)
            first = tuple(letter for choice in path for letter in spelled[choice])
            word = first + first[::-1]
            if is_fair(order_ways(word, dice), dice, EVERY):
                yield word


def _pairs(dice: int, middle: int) -> list[tuple[int, int]]:
    return list(combinations([die for die in range(dice) if die != middle], 2))


def _triples(faces: Sequence[int]) -> Weigh:
    """What a letter and its mirror image add, as the middle of three, to an order and to its reverse alike.

    With α and γ letters of the outer two below it, of a and c in all, the letter adds α·(c − γ), its image (a − α)·γ.
    """
    outer = [_pairs(len(faces), middle) for middle in range(len(faces))]

    def weigh(die: int, point: Point) -> tuple[int, ...]:
        return tuple(
            point[a] * faces[c] + point[c] * faces[a] - 2 * point[a] * point[c] if middle == die else 0
            for middle, pairs in enumerate(outer)
            for a, c in pairs
        )

    return weigh


def _blocks(kinds: Sequence[Hashable], half: Sequence[int], weigh: Weigh) -> tuple[list[Layer], list[Word]]:
    """The first half block by block, each with every die once; equal dice stand in their order in the first."""
    dice = len(half)
    spelled = list(permutations(range(dice)))
    layers: list[Layer] = []
    for at in range(half[0]):
        edges = []
        for choice, block in enumerate(spelled):
            point: Point = (at,) * dice
            adds = []
            early = False
            for die in block:
                early |= too_early(kinds, point, die)
                adds.append(weigh(die, point))
                point = stepped(point, die)
            if not early:
                edges.append(Edge(point, choice, tuple(map(sum, zip(*adds, strict=True)))))
        layers.append(Drawn({(at,) * dice: edges}))
    return layers, spelled
