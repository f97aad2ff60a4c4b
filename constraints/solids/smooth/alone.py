"""A proof that a smooth body rests stably opposite its tips and nowhere else, by polynomials above 0.

A body rests where its support function ½ + f has a local minimum. f is odd, so minima are opposite maxima, and all
critical points are images of those in the domain that `SmoothSymmetry.corner` describes.

*Rests around, n of them.* With s = sin θ, z = cos θ and c = cos nφ, f = Σ sᵐ·Gₘ(z)·cos mφ over the orders m, and

    f_φ = −sⁿ·sin nφ·W,    W = Σ (1 − z²)^((m−n)/2)·m·Gₘ(z)·U(c),   U the Chebyshev polynomial with sin mφ/sin nφ,
    f_θ = sⁿ⁻¹·z·R at φ = 0,  z·R = Σ (1 − z²)^((m−n)/2)·(m z Gₘ − (1 − z²)·Gₘ′),

both polynomials in z² and c² with rational coefficients. Where W > 0 on the square, f is critical at φ = 0 and at the
pole only; where R > 0 too, at the tip and the pole only. At the pole f begins as sⁿ·cos nφ and has both signs: no
extremum.

*Four rests.* With a, b, c = x², y², z², which add up to 1, f = xyz·H(p, q), where p = ab + bc + ca and q = abc. Let
V = u × ∇p/2. On the sphere p is constant along V, and V·∇f = (a − b)(b − c)(a − c)·K with K = H + 2q·∂H/∂q. Where
K > 0 in the domain x ≥ y ≥ z ≥ 0, f is critical on the edges x = y and y = z only. There, with two of a, b, c equal
to t, f changes with t as (1 − 3t)·E(t)/√(1 − 2t); where E > 0 for t from 0 to ½, f is critical at the tip t = ⅓, and
at t = 0, an axis, where f begins as yz·H and has both signs. (At t = ½, z is 0, and f rises across with xy·K.)
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from itertools import combinations_with_replacement
from math import comb, gcd

import flint
from facewright.constraints.solids.smooth.body import SmoothBody
from facewright.constraints.solids.smooth.certificate import radial
from facewright.constraints.solids.smooth.positive import above_zero

POINTS = 2
"""So many points for each coefficient H is found from; their values must agree."""

Poly = flint.fmpq_poly
Square = list[list[Fraction]]


@lru_cache(maxsize=64)
def rests_alone(body: SmoothBody) -> bool:
    """Whether it is proved that a body rests stably opposite its tips and nowhere else."""
    if not body.parts:
        return False
    return all(map(above_zero, _cubic(body) if body.group.cubic else _around(body)))


def _around(body: SmoothBody) -> tuple[Square, Square]:
    """W by powers of z² and c², and R by powers of z²."""
    n, z, square = body.group.order, Poly([0, 1]), Poly([1, 0, -1])
    pairs, rise = [], Poly([0])
    for m, g in radial(body):
        power = square ** ((m - n) // 2)
        pairs.append((_numbers(power * g * m)[::2], _numbers(_chebyshev(m // n - 1))[::2]))
        rise += power * (m * z * g - square * g.derivative())
    tall, wide = (max(len(pair[side]) for pair in pairs) for side in (0, 1))
    fall = [[Fraction(0)] * wide for _ in range(tall)]
    for along, across in pairs:
        for i, one in enumerate(along):
            for j, other in enumerate(across):
                fall[i][j] += one * other
    return fall, [[one] for one in _numbers(rise)[1::2]]


def _chebyshev(degree: int) -> Poly:
    """The polynomial in cos x that is sin((degree + 1)·x)/sin x."""
    before, last = Poly([0]), Poly([1])
    for _ in range(degree):
        before, last = last, Poly([0, 2]) * last - before
    return last


def _cubic(body: SmoothBody) -> tuple[Square, Square]:
    """K on the domain as the image of a square, and E for t from 0 to ½ by powers of 2t."""
    top = (body.degree - 3) // 2
    h = _by_invariants(body, top)
    t, equal = Poly([0, 1]), Poly([0])
    for (i, j), one in h.items():
        equal += one * (2 * t - 3 * t**2) ** i * (t**2 * (1 - 2 * t)) ** j
    whole = (1 - 3 * t) * equal + t * (1 - 2 * t) * equal.derivative()
    edge = whole // (1 - 3 * t)
    if edge * (1 - 3 * t) != whole:
        raise AssertionError("the tip is no critical point")
    halved = [[one / 2**k] for k, one in enumerate(_numbers(edge))]
    return _on_square(h, top), halved


def _by_invariants(body: SmoothBody, top: int) -> dict[tuple[int, int], flint.fmpq]:
    """The coefficients of H by the powers of p and q, from its values at whole-number points.

    At a, b, c in the ratio of whole numbers, times the power of their sum that makes all terms of one degree.
    """
    powers = [(i, j) for i in range(top // 2 + 1) for j in range(top // 3 + 1) if 2 * i + 3 * j <= top]
    parts = [(m, _numbers(g)[1::2]) for m, g in radial(body)]
    rows: list[list[flint.fmpq]] = []
    for a, b, c in _points(POINTS * len(powers) + POINTS):
        total = a + b + c
        p, q = a * b + b * c + c * a, a * b * c
        row = [flint.fmpq(total ** (top - 2 * i - 3 * j) * p**i * q**j) for i, j in powers]
        share = Fraction(1, total)
        value = (
            sum((_wave(m, a * share, b * share) * _at(g, c * share) for m, g in parts), Fraction(0))
            * Fraction(total) ** top
        )
        rows.append([*row, flint.fmpq(value.numerator, value.denominator)])
    reduced, rank = flint.fmpq_mat(rows).rref()
    if rank != len(powers) or any(reduced[at, at] != 1 for at in range(rank)):
        raise AssertionError("f is not xyz times a polynomial in the invariants")
    return {power: reduced[at, len(powers)] for at, power in enumerate(powers)}


def _points(many: int) -> list[tuple[int, int, int]]:
    """Whole numbers without a common factor, of which no two triples are in one ratio, up to order."""
    most = 2
    while True:
        found = [one for one in combinations_with_replacement(range(most), 3) if gcd(*one) == 1]
        if len(found) >= many:
            return sorted(found, key=lambda one: (sum(one), one))[:many]
        most += 1


def _wave(m: int, a: Fraction, b: Fraction) -> Fraction:
    """Im (x + iy)ᵐ over xy, for even m, by a = x² and b = y²."""
    return sum(
        ((-1) ** (k // 2) * comb(m, k) * a ** ((m - k - 1) // 2) * b ** (k // 2) for k in range(1, m, 2)),
        Fraction(0),
    )


def _at(factors: list[Fraction], place: Fraction) -> Fraction:
    total = Fraction(0)
    for one in reversed(factors):
        total = total * place + one
    return total


def _on_square(h: dict[tuple[int, int], flint.fmpq], top: int) -> Square:
    """K by powers of u and v, where a, b, c = 1 − u/2 − uv/6, u/2 − uv/6, uv/3 cover the domain.

    Reckoned as a polynomial in one variable: u itself, and v its power beyond all powers of u.
    """
    far = top + 1
    u = Poly([0, 1])
    uv = Poly([0] * (far + 1) + [1])
    a, b, c = 1 - u / 2 - uv / 6, u / 2 - uv / 6, uv / 3
    p, q = a * b + b * c + c * a, a * b * c
    total = Poly([0])
    for (i, j), one in h.items():
        total += one * (1 + 2 * j) * p**i * q**j
    flat = _numbers(total)
    flat += [Fraction(0)] * (-len(flat) % far)
    columns = [flat[start : start + far] for start in range(0, len(flat), far)]
    return [list(row) for row in zip(*columns, strict=True)]


def _numbers(poly: Poly) -> list[Fraction]:
    """The coefficients, the constant first."""
    return [Fraction(int(one.p), int(one.q)) for one in poly.coeffs()]
