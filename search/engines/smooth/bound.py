"""A bound from above that is proved: the multipliers of the last programme, checked in interval arithmetic.

Every body has sign·q ≤ ½ in each half-space. With weights y ≥ 0 that make Σ y·sign·q equal to the goal but for a
remainder r, the goal is at most ½ Σ y + Σ |r||c|. A coefficient c of any body is at most 1/((n − 1)(n + 2)√m), with n
the degree and m the mean square of its harmonic: the sum of both q at a direction lies between −1 and 1, so the mean
of its square, Σ c²(n − 1)²(n + 2)² m, is at most 1.
"""

from __future__ import annotations

from collections.abc import Iterator

import flint
from facewright.constraints.solids.smooth.harmonics import Harmonic
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES, SmoothSymmetry
from facewright.search.engines.smooth.grid import Cut, Grid
from facewright.search.engines.smooth.programme import Solved

BITS = 192
BITS_A_DEGREE = 4
LEAST_WEIGHT = 1e-13
"""Smaller multipliers are left out; what they would have added is in the remainder."""


def proved_bound(grid: Grid, solved: Solved) -> float:
    """What the settling of no body exceeds whose |q| is at most ½."""
    before = flint.ctx.prec
    flint.ctx.prec = BITS + BITS_A_DEGREE * grid.degree
    try:
        used = solved.weights > LEAST_WEIGHT
        weights = [flint.arb(float(one)) for one in solved.weights[used]]
        rest = tip_values(grid)
        for weight, row in zip(weights, _exact_rows(grid, solved.cuts.picked(used)), strict=True):
            rest = [left - weight * one for left, one in zip(rest, row, strict=True)]
        total = sum(weights, flint.arb(0)) / 2
        for left, one in zip(rest, grid.harmonics, strict=True):
            square = flint.fmpq(one.mean_square.numerator, one.mean_square.denominator)
            total += abs(left) / ((one.degree - 1) * (one.degree + 2) * flint.arb(square).sqrt())
        return float(total.upper()) * (1 + 2.0**-50)
    finally:
        flint.ctx.prec = before


def tip_values(grid: Grid) -> list[flint.arb]:
    """The value of each harmonic at the tip, in intervals, at the precision that is set."""
    group = SYMMETRIES[grid.symmetry]
    z, s = _cosine(group)
    longitude = flint.arb.pi() / 4 if group.cubic else flint.arb(0)
    table = _derivatives(z, grid.degree, 1)
    found = []
    for one in grid.harmonics:
        total = flint.arb(0)
        for order, t in one.terms:
            wave = (order * longitude).sin() if group.sine else (order * longitude).cos()
            total += flint.fmpq(t.numerator, t.denominator) * s**order * table[order][one.degree] * wave
        found.append(total)
    return found


def _cosine(group: SmoothSymmetry) -> tuple[flint.arb, flint.arb]:
    if group.cubic:
        return 1 / flint.arb(3).sqrt(), (flint.arb(2) / 3).sqrt()
    return flint.arb(0), flint.arb(1)


def _exact_rows(grid: Grid, cuts: Cut) -> Iterator[list[flint.arb]]:
    """sign·q of every harmonic at each half-space."""
    group = SYMMETRIES[grid.symmetry]
    for colatitude, longitude, turn, sign in zip(*(one.tolist() for one in cuts), strict=True):
        here, tangent = flint.arb(colatitude), flint.arb(turn)
        z, s = here.cos(), here.sin()
        table = _derivatives(z, grid.degree, 3)
        waves = {}
        for m in grid.orders:
            angle = flint.arb(longitude) * m
            waves[m] = (angle.sin(), angle.cos()) if group.sine else (angle.cos(), -angle.sin())
        c, t = tangent.cos(), tangent.sin()
        # of each order and degree once, whatever the harmonics in which it stands
        parts = {
            (m, n): sign * _bent(m, z, s, [table[m + k][n] for k in range(3)], waves[m], c, t)
            for m in grid.orders
            for n in range(m | 1, grid.degree + 1, 2)
        }
        yield [_mixed(one, parts) for one in grid.harmonics]


def _mixed(one: Harmonic, parts: dict[tuple[int, int], flint.arb]) -> flint.arb:
    total = flint.arb(0)
    for order, t in one.terms:
        total += flint.fmpq(t.numerator, t.denominator) * parts[order, one.degree]
    return total


def _bent(
    m: int,
    z: flint.arb,
    s: flint.arb,
    g: list[flint.arb],
    waves: tuple[flint.arb, flint.arb],
    c: flint.arb,
    t: flint.arb,
) -> flint.arb:
    """q of sinᵐθ·g(cos θ)·cos mφ, given g and its two derivatives."""
    along, across = waves
    value = s**m * g[0]
    slope = s ** (m - 1) * (m * z * g[0] - s * s * g[1])
    bend = s ** (m - 2) * (
        (m * (m - 1) * z * z - m * s * s) * g[0] - (2 * m + 1) * z * s * s * g[1] + s**4 * g[2]
    )
    ss, ee = bend + value, value + z / s * slope - m * m * s ** (m - 2) * g[0]
    se = m / s * (slope - z / s * value)
    return (c * c * ss + t * t * ee) * along + 2 * c * t * se * across


def _derivatives(z: flint.arb, degree: int, more: int) -> list[list[flint.arb]]:
    """Derivatives of the Legendre polynomials at z: [order][degree], orders up to the degree + `more` − 1."""
    first = [flint.arb(1), z]
    for n in range(1, degree):
        first.append(((2 * n + 1) * z * first[n] - n * first[n - 1]) / (n + 1))
    found = [first]
    for _ in range(degree + more - 1):
        lower, row = found[-1], [flint.arb(0), flint.arb(0)]
        if len(found) == 1:
            row[1] = flint.arb(1)
        for n in range(1, degree):
            row.append(row[n - 1] + (2 * n + 1) * lower[n])
        found.append(row)
    return found
