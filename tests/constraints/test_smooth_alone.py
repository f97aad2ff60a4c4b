"""That a body rests opposite its tips alone: polynomials against slopes, and the proof against a search."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from random import Random

import numpy as np
import pytest
from facewright.constraints.smooth_design import SmoothDesign
from facewright.constraints.solids.smooth.alone import _around, _cubic, rests_alone
from facewright.constraints.solids.smooth.body import SmoothBody, angles
from facewright.constraints.solids.smooth.companion import tips
from facewright.constraints.solids.smooth.harmonics import basis
from facewright.constraints.solids.smooth.positive import above_zero
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES
from facewright.search.recount_smooth import _Odd, _other_rests
from hypothesis import given, settings
from hypothesis import strategies as st

AROUND = [name for name, group in SYMMETRIES.items() if not group.cubic]


def some_body(name: str, degree: int, seed: int, spread: float) -> SmoothBody:
    """A body whose first coefficient leads, the others at random."""
    random = Random(seed)
    parts = basis(name, degree)
    unit = Fraction(1, 40 * (parts[0].degree + 1))
    others = [
        unit * Fraction(round(random.uniform(-spread, spread) * 10**6), 10**6) / one.degree
        for one in parts[1:]
    ]
    return SmoothBody(name, degree, (unit, *others))


def value(table: list[list[Fraction]], x: float, y: float) -> float:
    """A polynomial in two variables."""
    return sum(float(one) * x**i * y**j for i, row in enumerate(table) for j, one in enumerate(row))


@pytest.mark.parametrize("name", AROUND)
def test_the_polynomials_of_rests_around_are_slopes(name: str) -> None:
    body = some_body(name, 21, 1, 2.0)
    n = body.group.order
    fall, rise = _around(body)
    random = np.random.default_rng(3)
    theta, phi = random.uniform(0.3, 1.4, 40), random.uniform(0, 6, 40)
    field, flat = body.field(theta, phi), body.field(theta, 0 * phi)
    for at in range(40):
        s, z, c = np.sin(theta[at]), np.cos(theta[at]), np.cos(n * phi[at])
        east = -(s ** (n - 1)) * np.sin(n * phi[at]) * value(fall, z * z, c * c)
        assert field.east[at] == pytest.approx(east, abs=1e-11)
        assert flat.south[at] == pytest.approx(s ** (n - 1) * z * value(rise, z * z, 0), abs=1e-11)


def test_the_polynomials_of_four_rests_are_slopes() -> None:
    body = some_body("tetrahedral", 21, 1, 2.0)
    inner, edge = _cubic(body)
    random = np.random.default_rng(4)
    for u, v in random.uniform(0.05, 0.95, (40, 2)):
        a, b, c = 1 - u / 2 - u * v / 6, u / 2 - u * v / 6, u * v / 3
        x, y, z = np.sqrt([a, b, c])
        across = np.array([y * z * (b - c), z * x * (c - a), x * y * (a - b)])
        slope = float(across @ gradient(body, np.array([x, y, z])))
        assert slope == pytest.approx((a - b) * (b - c) * (a - c) * value(inner, u, v), abs=1e-11)
    for t in random.uniform(0.02, 0.48, 40):
        # on the edge x = y (t above 1/3) or y = z: two of the squares are t
        f = [alike(body, t + step) for step in (-1e-5, 1e-5)]
        slope = (f[1] - f[0]) / 2e-5 * np.sqrt(1 - 2 * t)
        assert slope == pytest.approx((1 - 3 * t) * value(edge, 2 * t, 0), abs=1e-7)


def gradient(body: SmoothBody, direction: np.ndarray) -> np.ndarray:
    """The slope of f along the sphere, shape (3,)."""
    theta, phi = angles(direction[None, :])
    field = body.field(theta, phi)
    s, c = float(np.sin(theta[0])), float(np.cos(theta[0]))
    cosine, sine = float(np.cos(phi[0])), float(np.sin(phi[0]))
    south, east = np.array([c * cosine, c * sine, -s]), np.array([-sine, cosine, 0.0])
    found: np.ndarray = field.south[0] * south + field.east[0] * east
    return found


def alike(body: SmoothBody, t: float) -> float:
    """f where two squares of coordinates are t."""
    return float(body.field(*angles(np.sqrt([[t, t, 1 - 2 * t]]))).value[0])


def others_seen(body: SmoothBody) -> int:
    """How many other rests the recount sees on a fine grid, by its own way to reckon f."""
    return _other_rests(_Odd(SmoothDesign.of(body, 0.1, 0.1)), np.array(tips(body.symmetry)))


@pytest.mark.parametrize("name", SYMMETRIES)
def test_what_is_proved_is_seen(name: str) -> None:
    told, seen = {True: 0, False: 0}, 0
    for seed in range(24):
        body = some_body(name, 15, seed, (0.02, 1.0, 8.0)[seed % 3])
        alone, others = rests_alone(body), others_seen(body)
        assert not (alone and others), seed
        told[alone] += 1
        seen += others > 0
    assert min(told.values()) > 2, told
    assert 2 < seen <= told[False]


def test_upside_down_and_a_ball_are_not_proved() -> None:
    assert rests_alone(SmoothBody("tetrahedral", 3, (Fraction(1, 20),)))
    assert not rests_alone(SmoothBody("tetrahedral", 3, (Fraction(-1, 20),)))
    assert not rests_alone(SmoothBody("three-sided", 9, (Fraction(0),)))


def test_a_second_rest_on_the_way_from_pole_to_tip_is_no_proof() -> None:
    body = SmoothBody("five-sided", 9, (Fraction(1, 1000), Fraction(-1, 800)))
    theta = np.linspace(0.05, np.pi / 2 - 0.05, 400)
    slopes = np.sign(body.field(theta, np.zeros(400)).south)
    assert sum(one != other for one, other in pairwise(slopes)) > 0
    assert not rests_alone(body)


@settings(max_examples=200, deadline=None)
@given(
    st.lists(
        st.lists(st.fractions(-2, 2, max_denominator=6), min_size=3, max_size=3), min_size=1, max_size=4
    ),
    st.fractions(-1, 3, max_denominator=4),
)
def test_positive_where_it_says_so(table: list[list[Fraction]], lift: Fraction) -> None:
    table[0][0] += lift
    places = [Fraction(k, 12) for k in range(13)]
    least = min(
        sum(one * x**i * y**j for i, row in enumerate(table) for j, one in enumerate(row))
        for x in places
        for y in places
    )
    proved = above_zero(table)
    assert not (proved and least <= 0)
    # steep at most as the sum of its coefficients times their powers: away from 0 the proof must come
    steep = sum(abs(one) * (i + j) for i, row in enumerate(table) for j, one in enumerate(row))
    if least > steep / 12:
        assert proved


def test_a_double_zero_is_given_up() -> None:
    assert not above_zero([[Fraction(1, 9)], [Fraction(-2, 3)], [Fraction(1)]])
