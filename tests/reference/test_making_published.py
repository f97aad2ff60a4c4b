"""Cooling, legible heights, contrast, upside-down pairs, settling against values found elsewhere; see the README."""

from __future__ import annotations

import csv
import math
from dataclasses import replace
from pathlib import Path

import pytest
from facewright.constraints.rates import shipped
from facewright.constraints.solids import solid
from facewright.search.artwork.sizes import character_height_mm
from facewright.search.artwork.turning import mistaken
from facewright.search.costing.cooling import ball_s, body_s, cube_s, equal_ball_mm, skin_s, theta
from facewright.search.costing.mould import Tool, clamp_kn
from facewright.search.costing.scenarios import Scenarios
from facewright.search.products.reading import contrast

from tests.costing_jobs import CUBE

with Path(__file__).with_name("making.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
DIFFUSIVITY = {"ABS": 1.7e-7, "PS": 0.9e-7}


def found(about: str, case: str) -> float:
    words = case.split()
    if about in ("plate", "ball", "cube"):
        plastic, melt, wall, eject, size = words[0], *map(float, words[1:])
        over, rate = theta(melt, wall, eject), DIFFUSIVITY[plastic]
        # a skin cools as a plate twice as thick does from both sides
        return {
            "plate": skin_s(size / 2, rate, over),
            "ball": ball_s(size, rate, over),
            "cube": cube_s(size, rate, over),
        }[about]
    if about == "height":
        return character_height_mm(float(words[0]), float(words[1]))
    if about == "contrast":
        return contrast(*words)
    if about == "settles":
        return min(rest.settle for rest in solid(case).rests)
    assert about == "clamp"
    die = replace(CUBE, area_mm2=float(case))
    return clamp_kn(Scenarios.of(shipped()), Tool((die,), 1)).likely


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['about']} {row['case']}")
def test_value(row: dict[str, str]) -> None:
    assert found(row["about"], row["case"]) == pytest.approx(
        float(row["value"]), abs=float(row["within"]), rel=0
    )


def test_one_term_is_enough_for_a_ball() -> None:
    # the whole series of a ball's middle: Θ⁻¹ = 2 Σ (−1)^(n+1) exp(−n²π²αt/R²), summed to 1e-12, solved by halving
    low, high = 1.0, 1000.0
    for _ in range(80):
        middle = (low + high) / 2
        decay = math.pi**2 * 1.7e-7 * middle / 0.008**2
        left = 2 * sum((-1) ** (n + 1) * math.exp(-n * n * decay) for n in range(1, 60))
        low, high = (middle, high) if left > 1 / 6 else (low, middle)
    assert ball_s(16.0, 1.7e-7, 6.0) == pytest.approx(low, rel=1e-3)


def test_other_bodies_lie_between_their_two_balls() -> None:
    # the cube itself, which has its own formula, lies between them too
    over = theta(240.0, 60.0, 90.0)
    inside, outside = (body_s("icosahedron", 8.0, 4096.0, at, 1.7e-7, over) for at in (0.0, 1.0))
    assert inside == pytest.approx(ball_s(16.0, 1.7e-7, over))
    assert outside == pytest.approx(ball_s(equal_ball_mm(4096.0), 1.7e-7, over))
    assert inside < body_s("cube", 8.0, 4096.0, 0.5, 1.7e-7, over) < outside


def test_labels_that_read_as_others_upside_down() -> None:
    # all pairs among 0 … 120, worked out by us once from the figures alone: two labels a pair, 69 and 96 are none
    plain = [(6, 9), (16, 91), (18, 81), (19, 61), (66, 99), (68, 89), (86, 98)]
    flagged = [(6, 9), (66, 99), (68, 89), (86, 98)]
    for flag, pairs in ((False, plain), (True, flagged)):
        turned = mistaken(range(121), flag_on_one=flag)
        assert sorted((one, other) for one, other in turned.items() if one < other) == pairs
        assert all(turned[other] == one for one, other in turned.items())
