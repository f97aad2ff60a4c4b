"""Random tiny questions with every reading: engines give exactly what brute force gives, in both directions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product
from math import prod
from typing import Any

import pytest
from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.further import AlsoRead, Distinct, EqualLabels, Further, SameMean, Symmetric
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering
from facewright.constraints.readings import PARAMETERS, READINGS, How, reading_of
from facewright.search.engines import ENGINES
from facewright.search.finding import find
from facewright.search.progress import silent
from facewright.search.recount import recount, recount_distribution
from facewright.search.stop import never
from hypothesis import HealthCheck, assume, event, given, settings
from hypothesis import strategies as st

from tests import brute

NO_LIMIT = 1_000_000
MOST = 3_000
"""So many sets of numberings take brute force a few hundredths of a second."""
FEW = 400
"""So many where a distance is worked out for each."""


@st.composite
def rules(draw: st.DrawFn) -> LabelRules:
    """Label rules that leave some labels."""
    lowest = draw(st.integers(-2, 2))
    highest = lowest + draw(st.integers(1, 4))
    avoid = (draw(st.integers(lowest, highest)),) if draw(st.integers(0, 5)) == 0 else ()
    return LabelRules(lowest, highest, draw(st.sampled_from((None, None, 1, 2))), None, avoid)


@st.composite
def hows(draw: st.DrawFn, read: str) -> How:
    """What a reading is told, now and then with labels that are rolled again."""
    bounds = {"modulo": (2, 5), "keep": (1, 3), "at_least": (-1, 4)}
    told: dict[str, Any] = {key: draw(st.integers(*bounds[key])) for key in PARAMETERS.get(read, ())}
    if draw(st.integers(0, 4)) == 0:
        told["reroll"] = tuple(sorted(draw(st.sets(st.integers(-2, 4), min_size=1, max_size=2))))
    return tuple(sorted(told.items()))


@st.composite
def questions(draw: st.DrawFn, only: str | None = None, perturbed: bool | None = None) -> Numbering:
    """A tiny question: the target is what dice within the rules give, or, `perturbed`, what they nearly give.

    Of `only` one reading where it is named; perturbed or not as chance has it where that is not said.
    """
    read = only or draw(st.sampled_from(sorted(READINGS)))
    how = draw(hows(read))
    reading = reading_of(read, how)
    many = draw(st.sampled_from([n for n in (1, 2, 2, 2, 3, 3) if reading.takes(n) is None]))
    dice: list[Die] = []
    while len(dice) < many:
        if dice and draw(st.integers(0, 2)):
            dice.append(dice[-1])
            continue
        one = draw(rules())
        exactly = None
        faces = draw(st.integers(2, 4 if many < 3 else 3))
        if draw(st.integers(0, 7)) == 0:
            exactly = tuple(sorted(draw(st.lists(st.integers(-1, 4), min_size=faces, max_size=faces))))
            one = LabelRules(exactly[0], exactly[-1])
        dice.append(Die(faces, f"solid with {faces} faces", 1, one, exactly))
    placed = tuple(
        Die(d.faces, d.solid, 1, d.rules, d.exactly, place=at if reading.ordered else None)
        for at, d in enumerate(dice)
    )
    labels = [
        die.exactly
        or draw(
            st.lists(st.sampled_from(die.rules.allowed() or (0,)), min_size=die.faces, max_size=die.faces)
        )
        for die in placed
    ]
    ways = dict(reading.distribution(labels).ways)
    off = draw(st.integers(0, 2)) == 0 if perturbed is None else perturbed
    if off and len(ways) > 1:
        event("perturbed")
        first, *_, last = sorted(ways)
        ways[first] += 1
        ways[last] -= 1
    anchored = read == "difference" or (read == "signed-difference" and draw(st.booleans()))
    also = draw(further_rules(labels, how)) if draw(st.integers(0, 2)) == 0 else ()
    return Numbering(read, Distribution.of(ways), (placed,), how=how, anchored=anchored, also=also)


@st.composite
def further_rules(draw: st.DrawFn, labels: Sequence[Sequence[int]], how: How) -> tuple[Further, ...]:
    """One or two further rules, most of which these labels keep."""
    again = {key: value for key, value in how if key == "reroll"}
    dice = [sorted(one) for one in labels]
    rules: list[Further] = [Symmetric(), Distinct(draw(st.integers(1, 3)))]
    if len(dice) > 1:
        ways = brute.results_of("side-by-side", again, dice)
        alike = sum(times for shown, times in ways.items() if len(set(shown)) == 1)
        off = draw(st.sampled_from((0, 0, 0, 1)))
        chance = Fraction(min(alike + off, sum(ways.values())), sum(ways.values()))
        rules += [SameMean(), EqualLabels(chance)]
    for read in ("highest", "product", "total"):
        target = Distribution.of(brute.results_of(read, again, dice))
        if draw(st.integers(0, 3)) == 0:
            target = target.shifted(1)
        rules.append(AlsoRead(read, target))
    return tuple(draw(st.lists(st.sampled_from(rules), min_size=1, max_size=2, unique=True)))


@settings(max_examples=400, deadline=None)
@given(questions().filter(lambda question: brute.work(question) <= MOST))
def test_the_same_designs_as_brute_force(question: Numbering) -> None:
    all_give(question, brute.designs_read(question))


def all_give(question: Numbering, wanted: set[NumberingDesign]) -> None:
    """Every engine that accepts the question gives these designs, and the recount agrees."""
    event(f"{question.read}: {'some' if wanted else 'none'}")
    asked = [engine for engine in ENGINES if engine.accepts(question)]
    assert asked
    for engine in asked:
        answer = engine.answer(question, NO_LIMIT, never, 0, silent)
        found = list(answer)
        assert set(found) == wanted, engine.name
        closing = answer.closing
        assert len(found) == closing.count == len(wanted), engine.name
        assert closing.verdict == ("complete" if wanted else "none"), engine.name
        assert closing.count_up_to_shift == len(shapes(question, wanted)), engine.name
        assert closing.reason and closing.proof
    for design in wanted:
        assert recount(question, design).agrees


@pytest.mark.parametrize("there_are", [True, False], ids=["some", "none"])
@pytest.mark.parametrize("read", sorted(READINGS))
def test_every_reading_where_designs_exist_and_where_none_do(read: str, there_are: bool) -> None:
    tried = 0

    @settings(max_examples=6, deadline=None, suppress_health_check=list(HealthCheck))
    @given(questions(read, not there_are).filter(lambda question: brute.work(question) <= FEW))
    def agree(question: Numbering) -> None:
        nonlocal tried
        wanted = brute.designs_read(question)
        assume(bool(wanted) == there_are)
        tried += 1
        all_give(question, wanted)

    agree()
    assert tried >= 3


def shapes(question: Numbering, found: set[NumberingDesign]) -> set[tuple[tuple[int, ...], ...]]:
    """The designs, those that count once joined: by the contract's words for each reading."""
    forms = set()
    for design in found:
        labels = [die.labels for die in design.dice]
        if question.read == "total" and not question.again:
            labels = [tuple(x - one[0] for x in one) for one in labels]
        if question.read == "difference" and not question.again:
            least = min(one[0] for one in labels)
            labels = [tuple(x - least for x in one) for one in labels]
        design_again = NumberingDesign.of(question.dice, labels)
        forms.add(tuple(die.labels for die in design_again.dice))
    return forms


@given(st.data())
def test_the_recount_is_that_of_all_outcomes(data: st.DataObject) -> None:
    question = data.draw(questions())
    labels = [
        data.draw(st.lists(st.integers(-3, 5), min_size=die.faces, max_size=die.faces))
        for die in question.dice
    ]
    found = recount_distribution(labels, question.read, question.how)
    assert found == dict(brute.results(question, labels))
    assert list(found) == sorted(found)
    assert sum(found.values()) == prod(map(len, labels)) ** (2 if question.again else 1)


@settings(max_examples=120, deadline=None)
@given(
    questions().filter(lambda question: brute.work(question) <= FEW),
    st.sampled_from(("total-variation", "largest", "moments-first")),
)
def test_the_nearest_are_those_of_brute_force(question: Numbering, measure: str) -> None:
    assume(question.read != "side-by-side" or measure != "moments-first")  # which have no mean
    near = replace(question, accept="nearest", nearest=measure)
    every = [
        labels
        for labels in product(*map(brute.numberings, question.dice))
        if brute.anchored(question, labels) and brute.further(question, labels)
    ]
    found = find(near)
    if not every:
        assert found.verdict == "none"
        return
    assert found.verdict == "best"
    fixed = all(die.exactly is not None for die in question.dice)
    best = min(off(near, labels) for labels in every)
    assert off(near, [die.labels for die in found.found[0].design.dice]) == best
    assert fixed or Fraction(found.bound) == best[-1]


def off(question: Numbering, labels: Sequence[Sequence[int]]) -> tuple[Fraction, ...]:
    """How far dice are from the target, what counts most first, from the definitions."""
    ways = Distribution.of(brute.results(question, labels))
    gaps = [abs(ways.chance(r) - question.target.chance(r)) for r in {*ways.ways, *question.target.ways}]
    distance = sum(gaps, Fraction(0)) / 2
    if question.nearest == "moments-first":
        apart = (abs(ways.mean - question.target.mean), abs(ways.variance - question.target.variance))
        return (*apart, distance)
    return (max(gaps),) if question.nearest == "largest" else (distance,)
