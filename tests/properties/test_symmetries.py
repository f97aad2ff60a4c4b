"""The symmetries of questions, row by row of the table in the method: exchange, shift and reversal keep every design.

Tiny random questions and their images are answered by the engines; the designs of one, moved by hand, are those of the
other. Each row of the table has its own images here, so that a row that is wrong is seen.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.contest import BEATS, ORDERS, Contest
from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering
from facewright.constraints.readings import READINGS
from facewright.search.engines import CONTEST_ENGINES, ENGINES
from facewright.search.finding import find
from facewright.search.progress import silent
from facewright.search.stop import never
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests import brute
from tests.properties.test_readings_brute import questions

METHOD = Path(__file__).resolve().parents[2] / "docs" / "method.md"

SHIFTED = {
    "total": lambda k, _: k,
    "highest": lambda _k, _h: 1,
    "lowest": lambda _k, _h: 1,
    "middle": lambda _k, _h: 1,
    "total-of-highest": lambda _, how: how["keep"],
    "total-of-lowest": lambda _, how: how["keep"],
    "difference": lambda _k, _h: 0,
    "signed-difference": lambda _k, _h: 0,
    "side-by-side": lambda _k, _h: 1,
    "total-modulo": lambda k, _: k,
}
"""By how much a result moves when all labels of k dice move by 1; the reading stays the same."""

REVERSED = {
    "total": "total",
    "highest": "lowest",
    "lowest": "highest",
    "middle": "middle",
    "total-of-highest": "total-of-lowest",
    "total-of-lowest": "total-of-highest",
    "difference": "difference",
    "signed-difference": "signed-difference",
    "side-by-side": "side-by-side",
    "total-modulo": "total-modulo",
}
"""The reading of the labels with their signs turned."""

FEW = 400


def tiny(question: Numbering) -> bool:
    """Whether brute force, and so every engine, is done at once."""
    return brute.work(question) <= FEW


def moved(question: Numbering, by: int, sign: int) -> tuple[Die, ...]:
    """The dice with every label x that they may carry made sign·x + by."""
    found = []
    for die in question.dice:
        ends = sorted((sign * die.rules.lowest + by, sign * die.rules.highest + by))
        only = None if die.rules.only is None else tuple(sorted(sign * x + by for x in die.rules.only))
        rules = LabelRules(
            *ends, die.rules.repeats, only, tuple(sorted(sign * x + by for x in die.rules.avoid))
        )
        exactly = None if die.exactly is None else tuple(sorted(sign * x + by for x in die.exactly))
        found.append(replace(die, rules=rules, exactly=exactly))
    return tuple(found)


def image(question: Numbering, dice: tuple[Die, ...], design: NumberingDesign, by: int, sign: int) -> Any:
    """The id of a design whose labels are moved, as a design of other dice."""
    labels = [[sign * x + by for x in die.labels] for die in design.dice]
    return NumberingDesign.of(dice, labels).id


def again(question: Numbering, by: int, sign: int) -> Any:
    """What the reading is told, the labels that are rolled again moved along."""
    return tuple(
        (key, tuple(sorted(sign * x + by for x in value)) if key == "reroll" else value)
        for key, value in question.how
    )


def ids(question: Numbering) -> set[str]:
    """The ids of all designs."""
    answer = find(question)
    assert answer.count_is == "all"
    return {one.design.id for one in answer.found}


@settings(max_examples=60, deadline=None)
@given(st.data(), st.sampled_from(sorted(SHIFTED)), st.integers(-3, 3))
def test_a_shift_of_all_labels(data: st.DataObject, read: str, by: int) -> None:
    question = data.draw(drawn(read))
    dice = moved(question, by, 1)
    step = SHIFTED[read](len(dice), dict(question.how))
    modulo = dict(question.how).get("modulo")
    ways: Counter[Any] = Counter()
    for result, times in question.target.ways.items():
        up: Any = tuple(x + by * step for x in result) if isinstance(result, tuple) else result + by * step
        ways[up if modulo is None else up % modulo] += times
    shifted = replace(question, sets=(dice,), target=Distribution.of(ways), how=again(question, by, 1))
    found = find(question).found
    assert {image(question, dice, one.design, by, 1) for one in found} == ids(shifted)


@settings(max_examples=60, deadline=None)
@given(st.data(), st.sampled_from(sorted(REVERSED)))
def test_a_reversal(data: st.DataObject, read: str) -> None:
    question = data.draw(drawn(read))
    dice = moved(question, 0, -1)
    modulo = dict(question.how).get("modulo")
    ways: Counter[Any] = Counter()
    for result, times in question.target.ways.items():
        if isinstance(result, tuple):
            turned: Any = tuple(-x for x in result)
        elif read == "difference":
            turned = result
        else:
            turned = -result if modulo is None else -result % modulo
        ways[turned] += times
    mirrored = replace(
        question, read=REVERSED[read], sets=(dice,), target=Distribution.of(ways), how=again(question, 0, -1)
    )
    found = find(question).found
    assert {image(question, dice, one.design, 0, -1) for one in found} == ids(mirrored)


@st.composite
def drawn(draw: st.DrawFn, read: str) -> Numbering:
    """A tiny question with this reading whose target is what some dice within its rules give."""
    reading = READINGS[read]
    keys = {"total-of-highest": ("keep",), "total-of-lowest": ("keep",), "total-modulo": ("modulo",)}.get(
        read, ()
    )
    how = tuple((key, draw(st.integers(1 if key == "keep" else 2, 3))) for key in keys)
    if draw(st.integers(0, 3)) == 0:
        how = tuple(sorted((*how, ("reroll", (draw(st.integers(-2, 3)),)))))
    many = draw(st.sampled_from([k for k in (2, 3) if brute_takes(read, k, dict(how))]))
    dice: list[Die] = []
    for at in range(many):
        if dice and draw(st.booleans()):
            dice.append(replace(dice[-1], place=at if ordered(reading) else None))
            continue
        faces, low = draw(st.integers(2, 3)), draw(st.integers(-2, 2))
        rules = LabelRules(low, low + draw(st.integers(1, 3)), draw(st.sampled_from((None, 2))))
        dice.append(Die(faces, f"solid with {faces} faces", 1, rules, place=at if ordered(reading) else None))
    shown = [
        draw(st.lists(st.sampled_from(die.rules.allowed()), min_size=die.faces, max_size=die.faces))
        for die in dice
    ]
    ways = brute.results_of(read, dict(how), shown)
    question = Numbering(read, Distribution.of(ways), (tuple(dice),), how=how)
    assume(tiny(question))
    return question


def ordered(reading: Any) -> bool:
    """Whether a reading heeds the order of the dice."""
    return bool(getattr(reading, "ordered", False))


def brute_takes(read: str, many: int, how: dict[str, Any]) -> bool:
    """Whether a reading goes with so many dice."""
    if read in ("difference", "signed-difference"):
        return many == 2
    if read == "middle":
        return many == 3
    return many >= how.get("keep", 1)


@settings(max_examples=60, deadline=None)
@given(questions().filter(tiny))
def test_an_exchange_of_equal_dice(question: Numbering) -> None:
    equal = [
        order
        for order in permutations(range(len(question.dice)))
        if all(question.dice[a] == question.dice[b] for a, b in enumerate(order))
    ]
    for one in find(question).found[:5]:
        labels = [die.labels for die in one.design.dice]
        forms = {NumberingDesign.of(question.dice, [labels[at] for at in order]).id for order in equal}
        assert forms == {one.design.id}
    if question.read in ("signed-difference", "side-by-side"):
        assert len(equal) == 1, "dice in their order are never equal"


@settings(max_examples=40, deadline=None)
@given(st.data(), st.sampled_from(["lose", "none"]))
def test_duels_the_other_way_round(data: st.DataObject, ties: str) -> None:
    size = data.draw(st.integers(2, 3))
    highest = data.draw(st.integers(2, 4))
    dice = tuple(
        Die(data.draw(st.integers(2, 3)), "x", 1, LabelRules(1, highest), name=f"die {at}")
        for at in range(size)
    )
    arcs = [(a, b) for a in range(size) for b in range(size) if a != b]
    beats = tuple(data.draw(st.lists(st.sampled_from(arcs), min_size=1, unique=True)))
    question = Contest(
        BEATS,
        (dice,),
        ties=ties,
        chance_at_least=data.draw(st.fractions(0, 1, max_denominator=6)),
        beats=beats,
    )
    back = replace(question, beats=tuple((b, a) for a, b in beats))

    def listed(one: Contest) -> set[tuple[tuple[int, ...], ...]]:
        answering = CONTEST_ENGINES[BEATS].answer(one, 10_000, never, 0, silent)
        return {tuple(die.labels for die in design.dice) for design in answering}

    mirrored = {
        tuple(tuple(sorted(highest + 1 - x for x in die)) for die in design) for design in listed(question)
    }
    assert mirrored == listed(back)


@pytest.mark.parametrize("fair", ["every-order", "places"])
@pytest.mark.parametrize("faces", [(2, 4, 6), (4, 4, 6), (2, 2, 2, 2)])
def test_finishing_orders_the_other_way_round(faces: tuple[int, ...], fair: str) -> None:
    top = sum(faces)
    dice = tuple(Die(n, f"solid {n}", 1, LabelRules(1, top)) for n in faces)
    question = Contest(ORDERS, (dice,), fair=fair)
    answering = CONTEST_ENGINES[ORDERS].answer(question, 10_000, never, 0, silent)
    found = {design.id: [die.labels for die in design.dice] for design in answering}
    back = {
        question.design(dice, [sorted(top + 1 - x for x in die) for die in labels]).id
        for labels in found.values()
    }
    assert back == set(found)


def test_the_tables_in_the_method_have_every_reading_and_engine() -> None:
    section = METHOD.read_text(encoding="utf-8").partition(" Symmetries of questions\n")[2]
    first, second = section.partition("\n## ")[0].split("What each engine does")
    assert named_in(first) == set(READINGS) | {BEATS, ORDERS}
    assert named_in(second) == {engine.name for engine in (*ENGINES, *CONTEST_ENGINES.values())}


def named_in(text: str) -> set[str]:
    """What the first column of a table names."""
    rows = [line for line in text.splitlines() if line.startswith("| `")]
    return {name.strip(" `") for row in rows for name in row.split("|")[1].split(",")}
