"""The recount of smooth bodies: it agrees with what is right, and says what is wrong."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from facewright.constraints.smooth import Smooth
from facewright.constraints.smooth_design import SmoothDesign
from facewright.constraints.solids.smooth.body import SmoothBody
from facewright.constraints.solids.smooth.certificate import certify
from facewright.search.recount_smooth import recount_smooth

QUESTION = Smooth("tetrahedral", Fraction(1, 20), 9)
BODY = SmoothBody("tetrahedral", 3, (Fraction(1, 20),))


def design(body: SmoothBody = BODY, question: Smooth = QUESTION) -> SmoothDesign:
    """A body with what is true of it."""
    return SmoothDesign.of(body, 0.5 - certify(body, 1e-3).most, question.bound)


def test_a_right_design_agrees() -> None:
    found = recount_smooth(QUESTION, design())
    assert found.agrees, found.faults
    assert found.least == pytest.approx(design().least_radius, abs=1e-3)


@pytest.mark.parametrize("name", ["three-sided", "five-sided", "seven-sided"])
def test_other_symmetries_agree(name: str) -> None:
    question = Smooth(name, Fraction(1, 20), 9)
    body = SmoothBody(name, 9, (Fraction(1, 500),))
    assert recount_smooth(question, design(body, question)).agrees


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"settling": 0.08}, "settling"),
        ({"settling": float("nan")}, "settling"),
        ({"volume": 0.5}, "volume"),
        ({"area": 3.0}, "area"),
        ({"bound": 0.2}, "bound"),
        ({"least_radius": 0.2}, "radius of curvature"),
        ({"least_radius": 0.01}, "less than asked for"),
        ({"coefficients": ()}, "coefficients"),
        ({"symmetry": "three-sided"}, "another symmetry"),
        ({"degree": 25}, "higher degree"),
        ({"coefficients": (Fraction(1, 21),)}, "settling"),
    ],
)
def test_a_wrong_claim_is_told(changes: dict[str, object], fault: str) -> None:
    found = recount_smooth(QUESTION, replace(design(), **changes))  # type: ignore[arg-type]
    assert not found.agrees
    assert any(fault in one for one in found.faults), found.faults


def test_a_body_that_is_none_is_told() -> None:
    # twice too much: a radius of curvature below 0 somewhere
    found = recount_smooth(QUESTION, design(SmoothBody("tetrahedral", 3, (Fraction(1, 7),))))
    assert any("less than asked for" in one for one in found.faults)


def test_rests_that_are_not_told_are_found(monkeypatch: pytest.MonkeyPatch) -> None:
    # a five-sided body whose support function rises twice on the way from the pole to a tip
    question = Smooth("five-sided", Fraction(1, 20), 9)
    body = SmoothBody("five-sided", 9, (Fraction(1, 1000), Fraction(-1, 800)))
    told = design(body, question)
    assert not told.resting.alone
    assert recount_smooth(question, told).agrees, "nothing is claimed"
    monkeypatch.setattr("facewright.constraints.solids.smooth.rests.rests_alone", lambda _: True)
    claimed = design(body, question)
    found = recount_smooth(question, claimed)
    assert any("more ways than told" in one for one in found.faults), found.faults
