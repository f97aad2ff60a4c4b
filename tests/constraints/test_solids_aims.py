"""Free proportions by an aim: the aims against closed forms and against themselves."""

from __future__ import annotations

import math

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.aims import AIMS, APART, FIRM_SHARE, firmness, numeral, text_box
from facewright.constraints.solids.catalogue import listed, proportions_for, proportions_of, searched
from facewright.constraints.solids.expressions import value
from facewright.constraints.solids.logs import log_length

FREE = [name for name in listed() if proportions_of(name)]
FAMILIES = [name for name in FREE if len(proportions_of(name)) == 1 and not name.endswith("log")]


def face_of(name: str, shape: str | float = AIMS[0]) -> np.ndarray:
    found = solid(name, shape)
    return found.vertices[list(found.faces[0])]


def test_the_largest_box_in_a_rectangle_and_by_trial() -> None:
    rectangle = np.array([[0, 0, 1], [3, 0, 1], [3, 1, 1], [0, 1, 1]], dtype=float)
    assert text_box(rectangle, 1.2) == pytest.approx(1)
    assert text_box(rectangle, 4) == pytest.approx(3 / 4, abs=0.05)
    # no box of a great many tried ones is larger
    random = np.random.default_rng(1)
    triangle = np.array([[0, 0, 1], [4, 0, 1], [1, 3, 1]], dtype=float)
    best = text_box(triangle, 1.2)
    for _ in range(3000):
        angle, height = random.uniform(0, math.pi), best * random.uniform(1.0005, 1.2)
        across = np.array([math.cos(angle), math.sin(angle)])
        up = np.array([-across[1], across[0]])
        middle = random.uniform(0, 3, size=2)
        corners = [
            middle + 0.6 * height * i * across + 0.5 * height * j * up for i in (1, -1) for j in (1, -1)
        ]
        flat = triangle[:, :2]
        sides = np.roll(flat, -1, axis=0) - flat
        inside = all(
            side[0] * (corner - start)[1] - side[1] * (corner - start)[0] >= 0
            for corner in corners
            for side, start in zip(sides, flat, strict=True)
        )
        assert not inside


@pytest.mark.parametrize("n", range(3, 13))
def test_the_firmest_bipyramid_in_closed_form(n: int) -> None:
    """Own derivation: the edges of the girth and those to the tips are then equally far from the centre."""
    sine = math.sin(math.pi / n)
    expected = math.sqrt(1 + 1 / sine**2)
    found = solid(f"{n}-gonal bipyramid", "settles-best").shape["height"]
    if n == 4:
        # an octahedron would be firmest: the aim stays away from it
        assert expected == pytest.approx(math.sqrt(3))
        assert abs(found / expected - 1) == pytest.approx(APART, abs=1e-3)
    else:
        assert found == pytest.approx(expected, abs=2e-3)


@pytest.mark.parametrize("name", [*FAMILIES, "10-sided log"])
def test_the_catalogue_holds_what_a_search_finds(name: str) -> None:
    for aim in AIMS:
        if not name.endswith("log"):
            assert proportions_for(name, aim) == searched(name, aim)


@pytest.mark.quality
@pytest.mark.parametrize("name", [name for name in FREE if len(proportions_of(name)) == 2])
def test_the_catalogue_holds_what_a_slow_search_finds(name: str) -> None:
    for aim in AIMS:
        assert proportions_for(name, aim) == searched(name, aim)


@pytest.mark.parametrize("name", [name for name in FREE if not name.endswith("log")])
def test_each_aim_is_best_at_what_it_aims_at(name: str) -> None:
    plain, firm = face_of(name), face_of(name, "settles-best")
    assert firmness(firm) >= firmness(plain) - 1e-9
    assert firmness(plain) >= FIRM_SHARE * firmness(firm) - 1e-3
    assert numeral(plain) >= numeral(firm) - 1e-3
    for proportion, number in zip(proportions_of(name), solid(name).shape.values(), strict=True):
        assert proportion.least <= number <= proportion.most
        if proportion.barred is not None:
            assert abs(number / proportion.barred - 1) >= APART - 1e-3


@pytest.mark.parametrize("sides", [3, 4, 5, 8])
def test_the_length_of_a_log_is_what_a_search_finds(sides: int) -> None:
    assert log_length(sides) == pytest.approx(searched(f"{sides}-sided log", AIMS[0])[0], abs=2e-3)


def test_aims_reach_past_the_catalogue() -> None:
    assert 1.1 <= solid("13-gonal bipyramid").shape["height"] <= 2
    assert solid("13-gonal bipyramid", "settles-best").shape["height"] == pytest.approx(
        math.sqrt(1 + 1 / math.sin(math.pi / 13) ** 2), abs=2e-3
    )


def test_expressions() -> None:
    assert value("phi*phi - phi - 1") == pytest.approx(0, abs=1e-15)
    assert value("tribonacci*tribonacci*tribonacci") == pytest.approx(
        value("tribonacci*tribonacci + tribonacci + 1")
    )
    assert value("-sqrt(x)/2", {"x": 16.0}) == -2
    for text in ("__import__('os')", "x", "2**3", "'a'", "sqrt(1, 2)", "True and 1"):
        with pytest.raises(ValueError, match="expression: found"):
            value(text)
