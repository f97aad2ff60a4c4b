"""The nearest by CP-SAT: equal to brute force by every measure, and to the search along the totals."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from typing import Any

import pytest
from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.like import parse_like
from facewright.constraints.question import Numbering
from facewright.search.answer import Closing
from facewright.search.engines.nearest.solver import NearestSolver
from facewright.search.engines.nearest.totals import NearestTotals
from facewright.search.finding import find
from facewright.search.progress import silent
from facewright.search.recount import recount
from facewright.search.stop import Stop, never
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests import brute

MEASURES = ["total-variation", "largest", "moments-first"]


def answered(question: Numbering, stop: Stop = never) -> tuple[list[NumberingDesign], Closing]:
    answering = NearestSolver().answer(question, 1, stop, 0, silent)
    return list(answering), answering.closing


def off(question: Numbering, labels: Any) -> tuple[Fraction, ...]:
    """How far dice are from the target, what counts most first, from the definitions."""
    rolled = Distribution.of(brute.totals(labels))
    results = {*rolled.ways, *question.target.ways}
    gaps = [abs(rolled.chance(t) - question.target.chance(t)) for t in results]
    distance = sum(gaps, Fraction(0)) / 2
    if question.nearest == "largest":
        return (max(gaps),)
    if question.nearest == "total-variation":
        return (distance,)
    mean = abs(rolled.mean - question.target.mean)
    return mean, abs(rolled.variance - question.target.variance), distance


@st.composite
def questions(draw: st.DrawFn) -> Numbering:
    dice = []
    for _ in range(draw(st.integers(1, 2))):
        faces, low = draw(st.integers(2, 3)), draw(st.integers(-1, 2))
        rules = LabelRules(low, low + draw(st.integers(1, 4)), repeats=draw(st.sampled_from([None, 2])))
        dice += [Die(faces, "x", 1, rules)] * draw(st.sampled_from([1, 2]))
    ways = draw(st.dictionaries(st.integers(-2, 9), st.integers(1, 4), min_size=1, max_size=5))
    dice = dice[:2]
    nearest = draw(st.sampled_from(MEASURES))
    return Numbering("total", Distribution.of(ways), (tuple(dice),), accept="nearest", nearest=nearest)


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(questions())
def test_the_same_as_brute_force(question: Numbering) -> None:
    assert NearestSolver().accepts(question)
    every = [
        off(question, labels) for labels in product(*(list(brute.numberings(die)) for die in question.dice))
    ]
    designs, closing = answered(question)
    if not every:
        assert (designs, closing.verdict) == ([], "none")
        return
    [design] = designs
    assert closing.verdict == "best"
    assert off(question, tuple(die.labels for die in design.dice)) == min(every)
    assert recount(question, design).agrees


@pytest.mark.parametrize("nearest", ["total-variation", "largest"])
@pytest.mark.parametrize(
    ("faces", "like", "highest"), [((4, 6), "2d5", 8), ((3, 4, 4), "3d4", 6), ((6, 8), "d4 + 2d3", 8)]
)
def test_the_same_as_the_search_along_the_totals(
    faces: tuple[int, ...], like: str, highest: int, nearest: str
) -> None:
    dice = tuple(Die(n, str(n), 1, LabelRules(1, highest)) for n in faces)
    question = Numbering("total", parse_like(like), (dice,), accept="nearest", nearest=nearest)
    other = NearestTotals().answer(question, 1, never, 0, silent)
    [theirs] = list(other)
    [ours], closing = answered(question)
    assert closing.verdict == other.closing.verdict == "best"
    assert closing.bound == other.closing.bound
    assert off(question, [die.labels for die in ours.dice]) == off(
        question, [die.labels for die in theirs.dice]
    )


def test_a_search_cut_short_has_a_bound() -> None:
    dice = tuple(Die(n, str(n), 1, LabelRules(1, 12)) for n in (8, 12))
    question = Numbering("total", parse_like("2d10"), (dice,), accept="nearest", nearest="largest")
    asked = iter([None, None, None] + ["time"] * 10_000)
    designs, closing = answered(question, lambda: next(asked))
    assert closing.verdict == "partial"
    assert len(designs) <= 1
    assert closing.bound is not None
    [best] = list(NearestTotals().answer(question, 1, never, 0, silent))
    assert Fraction(closing.bound) <= off(question, [die.labels for die in best.dice])[0]


def test_a_brief_asks_for_mean_and_variance_first(tmp_path: Any) -> None:
    brief = tmp_path / "brief.toml"
    brief.write_text(
        'title = "t"\nlike = "2d5"\nread = "total"\ndice = [4, 6]\naccept = "nearest"\nnearest = "moments-first"\n',
        encoding="utf-8",
    )
    answer = find(brief)
    assert answer.verdict == "best"
    rolled = Distribution.of(brute.totals(tuple(die.labels for die in answer.found[0].design.dice)))
    assert (rolled.mean, rolled.variance) == (parse_like("2d5").mean, parse_like("2d5").variance)
