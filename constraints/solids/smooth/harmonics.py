"""An orthogonal basis of the odd harmonics that a symmetry keeps, exact."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import factorial, lcm, sqrt

import flint
from facewright.constraints.solids.smooth.legendre import derived
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES, SmoothSymmetry


@dataclass(frozen=True)
class Harmonic:
    """One element of the basis: Σ t·sinᵐθ·(dᵐ/dzᵐ P)(cos θ)·cos mφ (or sin mφ), with P the Legendre polynomial.

    `terms` pairs each order m with its factor t; `number` counts the elements of one degree from 1. `mean_square` is
    the mean of its square over the sphere: a power of 2 as a factor keeps it between ½ and 2.
    """

    degree: int
    number: int
    terms: tuple[tuple[int, Fraction], ...]
    mean_square: Fraction

    @property
    def normalised(self) -> tuple[tuple[int, float], ...]:
        """The factors of the harmonics whose mean square is 1, each with its order m."""
        return tuple(
            (order, (1 if t > 0 else -1) * sqrt(t * t * norm(self.degree, order))) for order, t in self.terms
        )


def norm(degree: int, order: int) -> Fraction:
    """The mean over the sphere of (sinᵐθ·(dᵐ/dzᵐ P)(cos θ)·cos mφ)², for an order m above 0."""
    return Fraction(factorial(degree + order), 2 * (2 * degree + 1) * factorial(degree - order))


@lru_cache(maxsize=64)
def basis(name: str, degree: int) -> tuple[Harmonic, ...]:
    """The odd harmonics up to a degree that a symmetry keeps, orthogonal to each other, by degree.

    Raises: KeyError for a symmetry that is not in the table.

    Example:
        >>> [(one.degree, one.number) for one in basis("tetrahedral", 15)]
        [(3, 1), (7, 1), (9, 1), (11, 1), (13, 1), (15, 1), (15, 2)]
    """
    symmetry = SYMMETRIES[name]
    found: list[Harmonic] = []
    for of in range(symmetry.least_degree, degree + 1, 2):
        found += _of_degree(symmetry, of)
    return tuple(found)


@lru_cache(maxsize=512)
def _of_degree(symmetry: SmoothSymmetry, degree: int) -> tuple[Harmonic, ...]:
    orders = symmetry.orders(degree)
    norms = [norm(degree, order) for order in orders]
    raw = (
        _kept_by_turning(symmetry, degree)
        if symmetry.cubic
        else [[Fraction(int(at == one)) for at in range(len(orders))] for one in range(len(orders))]
    )
    done: list[list[Fraction]] = []
    harmonics = []
    for row in raw:
        rest = list(row)
        for other in done:
            share = _product(row, other, norms) / _product(other, other, norms)
            rest = [a - share * b for a, b in zip(rest, other, strict=True)]
        scale = _power_of_two(_product(rest, rest, norms))
        rest = [scale * one for one in rest]
        done.append(rest)
        terms = tuple((order, t) for order, t in zip(orders, rest, strict=True) if t)
        harmonics.append(Harmonic(degree, len(done), terms, _product(rest, rest, norms)))
    return tuple(harmonics)


def _product(one: list[Fraction], other: list[Fraction], norms: list[Fraction]) -> Fraction:
    return sum((a * b * n for a, b, n in zip(one, other, norms, strict=True)), Fraction(0))


def _power_of_two(square: Fraction) -> Fraction:
    """The power of 2 that, as a factor, brings a mean square between ½ and 2."""
    scale = Fraction(1)
    while square * scale * scale >= 2:
        scale /= 2
    while square * scale * scale < Fraction(1, 2):
        scale *= 2
    return scale


def _kept_by_turning(symmetry: SmoothSymmetry, degree: int) -> list[list[Fraction]]:
    """The combinations of the orders that stay as they are under x → y → z → x.

    They are the kernel of whole-number conditions at whole-number points. Each kept one is in that kernel; as many as
    `multiplicity` says are independent, so a kernel of that dimension holds no other.
    """
    orders, wanted = symmetry.orders(degree), symmetry.multiplicity(degree)
    if not wanted:
        return []
    rows = []
    for at in range(len(orders) + 2):
        x, y, z = 1 + at % 3, 2 + at, 5 + 2 * at
        rows.append([_value(degree, order, x, y, z) - _value(degree, order, y, z, x) for order in orders])
    whole = [_whole(row) for row in rows]
    reduced, _, rank = flint.fmpz_mat(whole).rref()
    if len(orders) - rank != wanted:
        raise AssertionError(f"degree {degree}: {len(orders) - rank} harmonics found where {wanted} exist")
    return _kernel(reduced, rank, len(orders))


def _kernel(reduced: flint.fmpz_mat, rank: int, width: int) -> list[list[Fraction]]:
    """The kernel of a matrix in reduced form, one vector a free column."""
    leads = [next(c for c in range(width) if reduced[r, c]) for r in range(rank)]
    found = []
    for free in (c for c in range(width) if c not in leads):
        row = [Fraction(0)] * width
        row[free] = Fraction(1)
        for r, lead in enumerate(leads):
            row[lead] = Fraction(-int(reduced[r, free]), int(reduced[r, lead]))
        found.append(row)
    return found


def _value(degree: int, order: int, x: int, y: int, z: int) -> Fraction:
    """Im (x + iy)ᵐ times the homogeneous derivative of the Legendre polynomial at a whole-number point."""
    square = x * x + y * y + z * z
    real, imaginary = 1, 0
    for _ in range(order):
        real, imaginary = real * x - imaginary * y, real * y + imaginary * x
    total = Fraction(0)
    for power, factor in enumerate(derived(degree, order).coeffs()):
        if factor:
            share = Fraction(int(factor.p), int(factor.q)) * z**power
            total += share * square ** ((degree - order - power) // 2)
    return imaginary * total


def _whole(row: list[Fraction]) -> list[int]:
    size = 1
    for one in row:
        size = lcm(size, one.denominator)
    return [int(one * size) for one in row]
