"""Whether a polynomial in one or two variables is above 0 wherever they run from 0 to 1: proved, in whole numbers.

In the basis of Bernstein the least coefficient is no greater than the least value. Where it is not above 0 the domain
is halved, and each half looked at alone; a value at a corner is itself a coefficient, so that a value of 0 or less is
met with soon. S. Bernstein, 1912; the halving by de Casteljau's scheme; both from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import comb, lcm

Table = list[list[int]]
"""Coefficients; the first index is the power of, or the place along, the first variable."""

MOST_PIECES = 4000
"""So many parts of the domain are looked at before a proof is given up."""


def above_zero(coefficients: Sequence[Sequence[Fraction]], most: int = MOST_PIECES) -> bool:
    """Whether it is proved that Σ a[i][j]·xⁱ·yʲ > 0 for all x and y from 0 to 1.

    False where it is not so, or not proved with so many parts.

    Example:
        >>> above_zero([[Fraction(1, 3)], [Fraction(-1)], [Fraction(1)]])
        True
        >>> above_zero([[Fraction(1, 4)], [Fraction(-1)], [Fraction(1)]])
        False
    """
    parts = [_bernstein(_whole(coefficients))]
    looked = 0
    while parts:
        part = parts.pop()
        looked += 1
        if min(map(min, part)) > 0:
            continue
        corners = (part[0][0], part[0][-1], part[-1][0], part[-1][-1])
        if min(corners) <= 0 or looked > most:
            return False
        parts += _halves(part)
    return True


def _whole(coefficients: Sequence[Sequence[Fraction]]) -> Table:
    """The same times one number above 0, in whole numbers."""
    below = lcm(*(one.denominator for row in coefficients for one in row))
    return [[int(one * below) for one in row] for row in coefficients]


def _bernstein(powers: Table) -> Table:
    """The coefficients in the basis of Bernstein, times one number above 0."""
    rows = [_turned(row) for row in powers]
    return _flipped([_turned(column) for column in _flipped(rows)])


def _turned(powers: list[int]) -> list[int]:
    """b_i = Σ a_k·C(i, k)/C(d, k), times what makes them whole."""
    top = len(powers) - 1
    below = lcm(*(comb(top, k) for k in range(top + 1)))
    shares = [a * (below // comb(top, k)) for k, a in enumerate(powers)]
    return [sum(shares[k] * comb(i, k) for k in range(i + 1)) for i in range(top + 1)]


def _flipped(table: Table) -> Table:
    return [list(column) for column in zip(*table, strict=True)]


def _halves(part: Table) -> list[Table]:
    """Both halves across the longer side, each times a power of 2."""
    if len(part) < len(part[0]):
        return [_flipped(half) for half in _halves(_flipped(part))]
    columns = [_split(column) for column in _flipped(part)]
    return [_flipped([pair[side] for pair in columns]) for side in (0, 1)]


def _split(line: list[int]) -> tuple[list[int], list[int]]:
    """De Casteljau's scheme at ½, both halves times 2 to the degree."""
    top = len(line) - 1
    first, second = [], []
    for step in range(top + 1):
        first.append(line[0] << (top - step))
        second.append(line[-1] << (top - step))
        line = [one + other for one, other in pairwise(line)]
    return first, second[::-1]
