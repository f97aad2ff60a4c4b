"""The solids that are no isohedra: logs (prisms with pointed ends), for any number of sides, and the coin.

A log is fair because its symmetry carries each side to each other and its end facets are no rests. Whether they are
is statics: with apothem a, half-length L of the prism and height h of a pointed end, the foot of the perpendicular from
the centre of mass to an end facet lies beyond the facet, past its edge with a side, if and only if L·h > a².

Source: own derivation. In the plane through the axis that halves the facet, the facet runs from P = (a, L) to the tip
(0, L + h). The foot lies before P if and only if P · (tip − P) > 0, that is L·h − a² > 0.

The same prism without pointed ends, or a coin with a straight rim and so many sides, has rests of two kinds, and no
symmetry makes the two equally likely: such bodies are left out.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from facewright.constraints.solids.aims import DECIMALS, TWO_DIGITS
from numpy.typing import NDArray

POINTED = 1.5
"""L·h over a² of our logs: half as much again as is needed to keep them off their ends."""

COIN_SIDES = 24
"""The coin's outline is drawn as a polygon with so many sides; a real one is round."""

COIN_RADIUS, COIN_RIDGE = 7.0, 0.5
"""Half-thicknesses: a coin's flat faces reach so far, and the ridge about its rim so much farther.

A straight rim would be a third way to lie, and by no symmetry as likely as the other two. On a rim with a ridge no coin
stands: its slopes are no rests, since radius times ridge is more than 1, by the rule for the ends of a log.
"""

LEAST_LENGTH, MOST_LENGTH = 1.2, 10.0
"""Half-lengths over the apothem that a log may have."""

Built = tuple[NDArray[np.float64], list[list[int]]]
"""Corners, shape (V, 3), and faces as numbers of corners, counter-clockwise seen from outside."""


def log_length(sides: int) -> float:
    """The half-length, over the apothem, with the largest numeral for a log's size: two digits fill a side's width.

    Down to `LEAST_LENGTH`: a shorter log would have longer points than sides.
    """
    return max(LEAST_LENGTH, round(TWO_DIGITS * math.tan(math.pi / sides), DECIMALS))


def log(sides: int, length: float) -> Built:
    """A prism with pointed ends along z, the apothem 1.

    Params:
        sides: 3 or more.
        length: half the length of the prism, without its ends, over the apothem.
    """
    around = _ring(sides, 1 / math.cos(math.pi / sides))
    cap = POINTED / length
    end = np.array([0, 0, length])
    top, bottom = around + end, around - end
    vertices = np.concatenate([top, bottom, [[0, 0, length + cap], [0, 0, -length - cap]]])
    faces = []
    for this in range(sides):
        after = (this + 1) % sides
        faces.append([this, sides + this, sides + after, after])
        faces.append([this, after, 2 * sides])
        faces.append([sides + after, sides + this, 2 * sides + 1])
    return vertices, faces


def coin() -> Built:
    """A flat disc with a ridge about its rim, half its thickness 1, the axis along z."""
    flat, ridge = _ring(COIN_SIDES, COIN_RADIUS), _ring(COIN_SIDES, COIN_RADIUS + COIN_RIDGE)
    thick = np.array([0, 0, 1])
    vertices = np.concatenate([flat + thick, ridge, flat - thick])
    n = COIN_SIDES
    faces = [list(range(n)), list(range(3 * n - 1, 2 * n - 1, -1))]
    for this in range(n):
        after = (this + 1) % n
        faces.append([this, n + this, n + after, after])
        faces.append([n + this, 2 * n + this, 2 * n + after, n + after])
    return vertices, faces


@lru_cache(maxsize=256)
def _angles(sides: int) -> tuple[float, ...]:
    # the sides, not the corners, stand at the multiples of the turn
    return tuple((2 * side - 1) * math.pi / sides for side in range(sides))


def _ring(sides: int, radius: float) -> NDArray[np.float64]:
    angles = np.array(_angles(sides))
    return radius * np.stack([np.cos(angles), np.sin(angles), np.zeros(sides)], axis=1)
