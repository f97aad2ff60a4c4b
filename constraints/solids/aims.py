"""Free proportions by a stated aim, from one face, since all rests are alike.

`settles-best`: the centre of mass must rise farthest, for its height at rest, to tip the solid over an edge.
`largest-numeral`: two digits on a face are largest for the diameter of the sphere about the solid, among all shapes
that lie at least half as firmly as the firmest.

Searched on a grid, then finer about the best point; rounded to three decimals, the same on every machine.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from facewright.constraints.solids.boxes import DIGIT, largest_height
from numpy.typing import NDArray

AIMS = ("largest-numeral", "settles-best")
"""The aims by name, the default first."""

TWO_DIGITS = 2 * DIGIT
"""The width of two digits over their height."""

APART = 0.08
"""An aim keeps a proportion away from one that would make another solid of more symmetry, by this share of it."""

DECIMALS = 3
"""Decimals of a proportion that an aim finds."""

FIRM_SHARE = 0.5
"""The largest numeral is sought among shapes whose firmness is at least this share of the best (our choice)."""

_GRID = 17
_FINER = 9

Polygon = NDArray[np.float64]
"""A face's corners, counter-clockwise seen from outside, shape (k, 3), with the centre of mass at the origin."""


@dataclass(frozen=True)
class Proportion:
    """A free proportion: its name, the least and the most that it may be, where a solid of more symmetry lies."""

    name: str
    least: float
    most: float
    barred: float | None = None

    def allowed(self, number: float) -> bool:
        """Whether an aim may choose this value."""
        within = self.least <= number <= self.most
        return within and (self.barred is None or abs(number / self.barred - 1) >= APART - 1e-12)

    def between(self, low: float, high: float, steps: int) -> list[float]:
        """Values from low to high in equal ratios, cut to the range, with the ends of what is barred."""
        low, high = max(low, self.least), min(high, self.most)
        values = [low * (high / low) ** (step / (steps - 1)) for step in range(steps)]
        if self.barred is not None:
            values += [self.barred * (1 - APART), self.barred * (1 + APART)]
        return [number for number in values if self.allowed(number)]


def text_box(polygon: Polygon, wide: float) -> float:
    """The height of the largest box, `wide` times as wide as high, that lies on a face at any angle and place.

    Params:
        polygon: the face.
        wide: width over height.
    """
    along = polygon[1] - polygon[0]
    along = along / np.linalg.norm(along)
    square = polygon[-1] - polygon[0]
    square = square - (square @ along) * along
    square /= np.linalg.norm(square)
    return largest_height((polygon - polygon[0]) @ np.stack([along, square], axis=1), wide)


def numeral(polygon: Polygon) -> float:
    """The height of two digits on a face over the diameter of the sphere about the solid."""
    return text_box(polygon, TWO_DIGITS) / (2 * float(np.linalg.norm(polygon, axis=1).max()))


def firmness(polygon: Polygon) -> float:
    """The least rise of the centre of mass over an edge, over its height at rest."""
    after = np.roll(polygon, -1, axis=0)
    sides = after - polygon
    passing = np.linalg.norm(np.cross(polygon, sides), axis=1) / np.linalg.norm(sides, axis=1)
    normal = np.cross(sides[0], sides[1])
    height = float(polygon[0] @ normal / np.linalg.norm(normal))
    return float(passing.min()) / height - 1


def best_proportions(
    aim: str, proportions: Sequence[Proportion], face: Callable[[tuple[float, ...]], Polygon]
) -> tuple[float, ...]:
    """The proportions that serve an aim best.

    Params:
        aim: one of `AIMS`.
        proportions: the free ones, one or two.
        face: a face of the solid with given proportions.
    """
    firm = cache(lambda point: firmness(face(point)))
    firmest = _highest(proportions, firm)
    if aim == "settles-best":
        return firmest
    enough = FIRM_SHARE * firm(firmest)

    @cache
    def worth(point: tuple[float, ...]) -> float:
        # shapes that lie too loosely count below all others, the firmer the less
        return numeral(face(point)) if firm(point) >= enough else firm(point) - enough

    return _highest(proportions, worth)


def _highest(
    proportions: Sequence[Proportion], worth: Callable[[tuple[float, ...]], float]
) -> tuple[float, ...]:
    """The point at which a function of the proportions is highest, as far as ever finer grids tell."""
    lows, highs = [p.least for p in proportions], [p.most for p in proportions]
    steps = _GRID if len(proportions) > 1 else 2 * _GRID
    best: tuple[float, ...] = ()
    while not best or max(high / low for low, high in zip(lows, highs, strict=True)) > 1.0003:
        grids = [
            [*p.between(low, high, steps), *([best[i]] if best else [])]
            for i, (p, low, high) in enumerate(zip(proportions, lows, highs, strict=True))
        ]
        best = max(itertools.product(*grids), key=worth)
        # the next grid spans a step of this one to either side
        ratios = [(high / low) ** (1 / (steps - 1)) for low, high in zip(lows, highs, strict=True)]
        lows = [number / ratio for number, ratio in zip(best, ratios, strict=True)]
        highs = [number * ratio for number, ratio in zip(best, ratios, strict=True)]
        steps = _FINER
    return tuple(round(number, DECIMALS) for number in best)
