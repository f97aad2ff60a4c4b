"""Wear of smooth bodies, thick coins and the ends of logs: simple models, held to what they say."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from facewright.constraints.solids.coins import end_margin, rim_chance, thickness_for
from facewright.constraints.solids.logs import POINTED
from facewright.constraints.solids.smooth.wear import worn_body


def test_wear_follows_the_root_of_the_time_and_the_family() -> None:
    fresh = worn_body(22.0, 0.05, 0.098, 0.0)
    assert (fresh.least_radius_mm, fresh.tips_back_mm) == pytest.approx((1.1, 0.0))
    once, twice = worn_body(22.0, 0.0, 0.1, 0.5), worn_body(22.0, 0.0, 0.1, 0.5 * sqrt(2))
    assert twice.least_radius_mm**2 == pytest.approx(2 * once.least_radius_mm**2)
    # the settling of the family is in proportion to 1 − 2r
    assert once.settling_mm == pytest.approx(2.2 * (1 - 2 * 0.5 / 22))
    assert once.settling_mm + once.tips_back_mm == pytest.approx(2.2)
    assert worn_body(22.0, 0.05, 0.098, 100.0).settling_mm == 0


def test_the_rim_s_share_of_all_directions() -> None:
    # directions in which a coin leans over its rim: |cos| of the angle to the axis below t/√(t² + d²), from a sample
    random = np.random.default_rng(0)
    z = random.normal(size=(200_000, 3))
    cosine = np.abs(z[:, 2]) / np.linalg.norm(z, axis=1)
    for thickness in (0.2, 0.354, 1.0):
        over = (cosine < thickness / np.hypot(thickness, 1)).mean()
        assert rim_chance(thickness, 1.0) == pytest.approx(over, abs=0.005)


def test_three_equal_chances_by_two_models() -> None:
    # 1/(2√2) and 1/√3, as the literature has them (from memory)
    assert thickness_for(1 / 3, 1.0) == pytest.approx(1 / (2 * sqrt(2)))
    assert thickness_for(1 / 3, 1.0, "plane") == pytest.approx(1 / sqrt(3))
    for model in ("space", "plane"):
        assert rim_chance(thickness_for(0.4, 20.0, model), 20.0, model) == pytest.approx(0.4)


@pytest.mark.parametrize(
    "wrong", [lambda: rim_chance(0, 1), lambda: rim_chance(1, 1, "x"), lambda: thickness_for(1, 1)]
)
def test_what_no_coin_has_is_refused(wrong: object) -> None:
    assert callable(wrong)
    with pytest.raises(ValueError, match="accepted"):
        wrong()
    with pytest.raises(ValueError, match="accepted"):
        thickness_for(0.3, 1.0, "x")


def test_our_logs_keep_half_as_much_again_off_their_ends() -> None:
    assert end_margin(1.0, 2.0, POINTED / 2.0) == pytest.approx(0.5)
    # as in the plane: the foot of the centre on the facet from (a, L) to (0, L + p) lies before its edge if above 0
    for length, point in ((0.5, 0.5), (1.0, 1.2), (2.0, 0.4)):
        edge, tip = np.array([1.0, length]), np.array([0.0, length + point])
        assert (end_margin(1.0, length, point) > 0) == (edge @ (tip - edge) > 0)
