"""Smooth briefs: what they mean, and every fault of them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.brief.models_smooth import ROUND
from facewright.constraints.brief.starter import starter
from facewright.constraints.errors import BriefRefused, UsageError
from facewright.constraints.question_form import any_from_form, any_to_form
from facewright.constraints.smooth import Smooth

TABLE = 'symmetry = "tetrahedral", width_mm = 22, least_radius = 0.05, degree = 25, goal = "flat"'
GOOD = f'title = "x"\nsmooth = {{ {TABLE} }}'


def told(text: str) -> list[tuple[int, str, str]]:
    """Line, key and what was found, of each fault."""
    with pytest.raises(BriefRefused) as refused:
        parse(text)
    return [(fault.line, fault.key, fault.found) for fault in refused.value.faults]


def test_what_a_brief_means() -> None:
    question = parse(GOOD)
    assert question == Smooth("tetrahedral", Fraction(1, 20), 25, "flat")
    assert isinstance(question, Smooth)
    assert question.width_mm == 22
    assert question.room == Fraction(9, 10)


def test_defaults_and_even_degrees() -> None:
    assert parse('title = "x"\nsmooth = { symmetry = "five-sided" }') == Smooth("five-sided")
    assert parse('title = "x"\nsmooth = { symmetry = "tetrahedral", degree = 10 }') == Smooth(
        "tetrahedral", degree=9
    )


def test_the_starter_is_a_brief() -> None:
    assert isinstance(parse(starter("smooth")), Smooth)


def test_a_question_comes_back_from_its_form() -> None:
    question = parse(GOOD)
    assert any_from_form(any_to_form(question)) == question
    assert question.fingerprint() == any_from_form(any_to_form(question)).fingerprint()
    assert question.fingerprint() != parse(GOOD.replace("25", "27")).fingerprint()
    assert question.fingerprint() == parse(GOOD.replace("22", "23")).fingerprint()


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("degree", 1000),
        ("symmetry", "round"),
        ("goal", "x"),
        ("least_radius", "1/2"),
        ("least_radius", "x"),
        ("least_radius", "1e-999999999"),
        ("stop", 3),
    ],
)
def test_a_form_that_is_none_is_refused(key: str, value: object) -> None:
    with pytest.raises(UsageError, match="stored question"):
        Smooth.from_form({**any_to_form(parse(GOOD)), key: value})


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ("smooth = {}", [(0, "title"), (1, "smooth.symmetry")]),
        ('title = "x"\nsmooth = 3', [(2, "smooth")]),
        ('title = "x"\nsmooth = { symmetry = "cubical" }', [(2, "smooth.symmetry")]),
        ('title = "x"\nsmooth = { symmetry = "tetrahedral", degre = 9 }', [(2, "smooth.degre")]),
        ('title = "x"\nsmooth = { symmetry = "seven-sided", degree = 5 }', [(2, "smooth.degree")]),
        (
            'title = "x"\nsolid = "cube"\n'
            'smooth = { symmetry = 4, degree = 2, least_radius = 0.6, width_mm = 0, goal = "x" }',
            [
                (2, "solid"),
                (3, "smooth.degree"),
                (3, "smooth.goal"),
                (3, "smooth.least_radius"),
                (3, "smooth.symmetry"),
                (3, "smooth.width_mm"),
            ],
        ),
    ],
)
def test_every_fault_at_once(text: str, faults: list[tuple[int, str]]) -> None:
    assert [one[:2] for one in told(text)] == faults


@pytest.mark.parametrize("name", ROUND)
def test_why_a_symmetry_is_not_offered(name: str) -> None:
    with pytest.raises(BriefRefused) as refused:
        parse(f'title = "x"\nsmooth = {{ symmetry = "{name}" }}')
    [fault] = refused.value.faults
    assert "settles by 0.0121 at most" in fault.accepted
