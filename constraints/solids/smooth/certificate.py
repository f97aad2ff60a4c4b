"""The least radius of curvature of a smooth body, proved over the whole sphere.

Let q(u, t) = tᵀ(∇²f + f)t for a direction u and a unit tangent t there; the radii of curvature are ½ + q. Along a
great circle, t carried with it, q is a trigonometric polynomial of the body's degree n. As f is odd, so is q in u,
and the greatest |q| = M is a greatest and a least value. A trigonometric polynomial of degree n that reaches its
greatest absolute value M at an angle keeps at least M·cos(nη) up to η to either side while nη ≤ π (M. Riesz, 1914;
from memory). So where every direction has a grid point within η, M ≤ (greatest |q| on the grid) / cos(nη): the grid
proves the sphere. The grid covers a domain of which the rest are images. At each point the greatest |q| over t is an
eigenvalue. What depends on one angle alone is computed in interval arithmetic (Arb) from the exact coefficients; the
sums of products are floats, with a bound on their rounding.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, sqrt
from typing import TYPE_CHECKING

import flint
from facewright.constraints.solids.smooth.body import SmoothBody
from facewright.constraints.solids.smooth.legendre import derived

if TYPE_CHECKING:
    import numpy as np

BITS = 192
"""The working precision of the intervals, and so many bits more for each degree."""
BITS_A_DEGREE = 6
UNIT = 2.0**-52
"""Twice the rounding of a float."""
BLOCK = 400
"""Rows of the grid taken together."""
MOST_POINTS = 40_000_000
"""A grid with more points is not built."""


@dataclass(frozen=True)
class Certificate:
    """What is proved of the greatest |q|, in units of the width: it is `most` or less.

    `seen` is the greatest on the grid, to rounding; `points` and `reach` (radians) describe the grid.
    """

    most: float
    seen: float
    points: int
    reach: float


def certify(body: SmoothBody, loss: float) -> Certificate:
    """Bounds the greatest |q| of a body from above, the grid so fine that the bound is at most 1 + `loss` too large.

    Raises: ValueError where that needs too many points.
    """
    import numpy as np

    reach = sqrt(2 * loss / (1 + loss)) / body.degree
    tops, rights = body.group.corner
    side = reach * sqrt(2)
    rows, columns = ceil(tops / side), ceil(rights / side)
    if rows * columns > MOST_POINTS:
        raise ValueError(f"a loss of {loss} at degree {body.degree} needs {rows * columns:,} points")
    theta = (np.arange(rows) + 0.5) * (tops / rows)
    phi = (np.arange(columns) + 0.5) * (rights / columns)
    half_theta, half_phi = tops / rows / 2 * (1 + UNIT * 8), rights / columns / 2 * (1 + UNIT * 8)
    theta = theta[_met(body, theta + half_theta, rights)]
    waves, turned = _around(body, phi)
    seen, points = 0.0, 0
    orders = [order for order, _ in radial(body)]
    for start in range(0, len(theta), BLOCK):
        block = theta[start : start + BLOCK]
        tables, slack = _rows(body, block)
        ss, ee, se = tables[0] @ waves, tables[1] @ waves, tables[2] @ turned
        greatest = np.abs(ss + ee) / 2 + np.hypot((ss - ee) / 2, se)
        inside = _in_domain(body, block + half_theta, phi + half_phi)
        greatest = np.where(inside, greatest + slack[:, None], 0.0)
        seen, points = max(seen, float(greatest.max())), points + int(inside.sum())
    angle = body.degree * float(np.hypot(half_theta, half_phi)) * (1 + UNIT * 8)
    most = seen * (1 + UNIT * 8) / (1 - angle * angle / 2) if orders else 0.0
    return Certificate(most * (1 + UNIT * 8), seen, points, float(np.hypot(half_theta, half_phi)))


def _in_domain(body: SmoothBody, theta: np.ndarray, phi: np.ndarray) -> np.ndarray:
    """Which cells, named by their corner of greatest angles, may meet the domain; shape (rows, columns)."""
    import numpy as np

    if not body.group.cubic:
        return np.ones((len(theta), len(phi)), dtype=bool)
    # y ≥ z is sin θ sin φ ≥ cos θ, and rises with both angles
    theta, phi = np.minimum(theta, np.pi / 2), np.minimum(phi, np.pi / 2)
    found: np.ndarray = np.outer(np.sin(theta), np.sin(phi)) >= np.cos(theta)[:, None] - 1e-9
    return found


def _met(body: SmoothBody, theta: np.ndarray, right: float) -> np.ndarray:
    import numpy as np

    found: np.ndarray = _in_domain(body, theta, np.array([right + 1e-9]))[:, 0]
    return found


def radial(body: SmoothBody) -> list[tuple[int, flint.fmpq_poly]]:
    """For each order m the polynomial G of f = Σ sinᵐθ·G(cos θ)·cos mφ (or sin), with its exact coefficients."""
    found: dict[int, flint.fmpq_poly] = {}
    for harmonic, c in body.parts:
        for order, t in harmonic.terms:
            share = c * t
            term = derived(harmonic.degree, order) * flint.fmpq(share.numerator, share.denominator)
            found[order] = found[order] + term if order in found else term
    return sorted(found.items())


def _rows(body: SmoothBody, theta: np.ndarray) -> tuple[list[np.ndarray], np.ndarray]:
    """The three tables of a block of rows, each of shape (rows, orders), and a bound on all rounding in a row."""
    import numpy as np

    before = flint.ctx.prec
    flint.ctx.prec = BITS + BITS_A_DEGREE * body.degree
    try:
        parts = [
            (m, [flint.arb_poly(one) for one in (g, g.derivative(), g.derivative().derivative())])
            for m, g in radial(body)
        ]
        tables = np.zeros((3, len(theta), len(parts)))
        off = np.zeros(len(theta))
        for at, angle in enumerate(theta):
            here = flint.arb(float(angle))
            z, s = here.cos(), here.sin()
            for column, (m, polynomials) in enumerate(parts):
                balls = _entries(m, z, s, *(one(z) for one in polynomials))
                for table, ball in enumerate(balls):
                    tables[table, at, column] = float(ball.mid())
                    off[at] += float(ball.rad()) * (1 + UNIT)
    finally:
        flint.ctx.prec = before
    sizes = np.abs(tables).sum(axis=(0, 2))
    # the tables and the waves are rounded once each, a sum of k products k times more, the eigenvalue ten times
    return list(tables), 2 * off + sizes * (2 * len(parts) + 24) * UNIT


def _entries(
    m: int, z: flint.arb, s: flint.arb, g: flint.arb, dg: flint.arb, ddg: flint.arb
) -> tuple[flint.arb, flint.arb, flint.arb]:
    """The entries of ∇²f + f that belong to sinᵐθ·G(cos θ), but for the waves of the longitude."""
    power = s ** (m - 2)
    value = power * s * s * g
    slope = power * s * (m * z * g - s * s * dg)
    bend = power * (m * (m - 1) * z * z * g - m * s * s * g - (2 * m + 1) * z * s * s * dg + s**4 * ddg)
    ee = value + z / s * slope - m * m * power * g
    return bend + value, ee, m / s * (slope - z / s * value)


def _around(body: SmoothBody, phi: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """cos mφ and −sin mφ (or sin mφ and cos mφ), each of shape (orders, columns), rounded once."""
    import numpy as np

    orders = [m for m, _ in radial(body)]
    cosine, sine = (np.zeros((len(orders), len(phi))) for _ in range(2))
    before = flint.ctx.prec
    flint.ctx.prec = BITS
    try:
        for row, m in enumerate(orders):
            for column, angle in enumerate(phi):
                here = flint.arb(float(angle)) * m
                cosine[row, column], sine[row, column] = float(here.cos().mid()), float(here.sin().mid())
    finally:
        flint.ctx.prec = before
    return (sine, cosine) if body.group.sine else (cosine, -sine)


def exact_scale(most: float, allowed: Fraction) -> Fraction:
    """A factor, 9 digits after the point, by which a body may be multiplied so that the greatest |q| is allowed."""
    return Fraction(int(allowed / Fraction(most) * 10**9), 10**9)
