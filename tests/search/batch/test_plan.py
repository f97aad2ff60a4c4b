"""Plans: which questions they ask, and every fault of a wrong one at once."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.errors import BriefRefused
from facewright.search.batch.plan import Limit, asked_of, key_of, parse_plan
from facewright.search.batch.tasks import answer_one
from facewright.search.batch.toml_text import toml_text
from hypothesis import given
from hypothesis import strategies as st

PLAN = """
title = "Quays"
most_faces = 20
[brief]
read = "total"
labels = { lowest = 1 }
[lists]
like = ["2d6", "d8 + d4"]
dice = [[6, 6], [4, 9], [12, 18]]
"labels.highest" = [12, 20]
[[leave_out]]
like = "d8 + d4"
dice = [6, 6]
[each]
seconds = 3
designs = 7
"""

WHOLE = st.characters(exclude_categories=["Cs"])
"""Characters, no halves of one."""

NAMES = st.text(WHOLE, min_size=1)
VALUES = st.recursive(
    st.integers(-(10**12), 10**12) | st.booleans() | st.floats(allow_nan=False) | st.text(WHOLE),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(NAMES, inner, max_size=3),
    max_leaves=8,
)


@given(st.dictionaries(NAMES, VALUES, max_size=4))
def test_values_come_back_from_their_toml(values: dict[str, Any]) -> None:
    assert tomllib.loads(toml_text(values)) == values


def test_a_plan_asks_for_everything_but_what_it_leaves_out() -> None:
    plan = parse_plan(PLAN)
    assert (plan.size, plan.each) == (12, Limit(3, 7, 2000))
    asked = list(asked_of(plan))
    # 30 faces are too many; of d8 + d4 on two cubes nothing is asked
    assert [one.words for one, _ in asked] == [
        f"like = {like}, dice = {dice}, labels.highest = {highest}"
        for like, dice in (("2d6", "6 + 6"), ("2d6", "4 + 9"), ("d8 + d4", "4 + 9"))
        for highest in (12, 20)
    ]
    for one, fingerprint in asked:
        question: Any = parse(one.brief)
        values = dict(one.chosen)
        assert question.fingerprint() == fingerprint
        assert [die.faces for die in question.dice] == values["dice"]
        assert question.like == values["like"]
        assert question.dice[0].rules.highest == values["labels.highest"]
        assert question.title.startswith("Quays: ")


def test_cases_go_together() -> None:
    plan = parse_plan(
        'title = "T"\ncases = [{ readouts = { wind = 3 }, solid = "cube" }, { readouts = { rain = 2 }, solid = 12 }]\n'
        '[brief]\nmeasure = "together"\n'
    )
    assert [parse(one.brief).kind for one, _ in asked_of(plan)] == ["readouts", "readouts"]


def test_equal_questions_have_one_key() -> None:
    plan = parse_plan(
        'title = "T"\n[brief]\nread = "total"\ndice = [6, 6]\n[lists]\nlike = ["2d6", "d6 + d6", "3d4"]\n'
    )
    keys = [key_of(fingerprint, plan.each, "1") for _, fingerprint in asked_of(plan)]
    assert keys[0] == keys[1] != keys[2]
    assert (
        key_of("a", Limit(designs=5), "1")
        != key_of("a", Limit(designs=6), "1")
        != key_of("a", Limit(designs=6), "2")
    )


def faults_of(text: str) -> list[tuple[int, str, str]]:
    with pytest.raises(BriefRefused) as refused:
        list(asked_of(parse_plan(text), text))
    return [(fault.line, fault.key, fault.found) for fault in refused.value.faults]


def test_every_fault_of_a_plan_is_told_at_once() -> None:
    text = (
        'title = ""\nmost_face = 3\nmost_faces = "many"\n[brief]\ntitle = "no"\n[lists]\ndice = []\nlike = "2d6"\n'
        '[each]\nseconds = -1\nsecond = 2\n[[leave_out]]\nsolid = "cube"\n'
    )
    assert [(line, key) for line, key, _ in faults_of(text)] == [
        (1, "title"),
        (2, "most_face"),
        (3, "most_faces"),
        (5, "brief.title"),
        (7, "lists.dice"),
        (8, "lists.like"),
        (10, "each.seconds"),
        (11, "each.second"),
        (13, "leave_out[1].solid"),
    ]


def test_refused_questions_are_told_once_each_with_their_line() -> None:
    text = 'title = "T"\n[brief]\nread = "totals"\n[lists]\nlike = ["2d6", "2x6"]\ndice = [[6, 6], [4, 9]]\n'
    found = faults_of(text)
    assert [(line, key) for line, key, _ in found] == [(3, "brief.read"), (5, "lists.like[2]")]
    assert "4 questions, the first with like = 2d6, dice = 6 + 6" in found[0][2]
    assert "2 questions, the first with like = 2x6" in found[1][2]


@pytest.mark.parametrize("text", ["", "title = ", 'title = "T"', "lists = 3\n", "\x00"])
def test_what_is_no_plan_is_refused(text: str) -> None:
    assert faults_of(text)


def test_every_set_of_some_values() -> None:
    plan = parse_plan(
        'title = "T"\n[brief]\nread = "total"\nlike = "2d6"\n[lists]\ndice = { sets_of = [1, 2], from = [6, 36] }\n'
    )
    assert plan.lists["dice"] == ([6], [36], [6, 6], [6, 36], [36, 36])
    assert len(list(asked_of(plan))) == 5


def test_what_a_division_rules_out_is_not_asked() -> None:
    text = (
        'title = "T"\nonly_divisible = true\n[brief]\nread = "total"\nlike = "2d6"\n[lists]\n'
        "dice = { sets_of = 2, from = [4, 6, 9, 12] }\n"
    )
    asked = [dict(one.chosen)["dice"] for one, _ in asked_of(parse_plan(text))]
    assert asked == [[4, 9], [6, 6], [6, 12], [9, 12], [12, 12]]
    text = text.replace("true", "false")
    left = [one for one, _ in asked_of(parse_plan(text)) if dict(one.chosen)["dice"] not in asked]
    assert left
    assert {answer_one("", one.brief, 5, 1)["verdict"] for one in left} == {"none"}


def test_nearest_numberings_and_uneven_weights_are_not_ruled_out_by_division() -> None:
    text = (
        'title = "T"\nonly_divisible = true\n[brief]\nread = "total"\naccept = "nearest"\nlike = "2d6"\n[lists]\n'
        "dice = [[4, 6], [4, 9]]\n"
    )
    assert len(list(asked_of(parse_plan(text)))) == 2
    readouts = (
        'title = "T"\nonly_divisible = true\n[lists]\nsolid = ["cube", 12]\n'
        '[[cases]]\nreadouts = { wind = 4, rain = 2 }\n[[cases]]\nreadouts = { wind = "yes:1 no:2" }\n[brief]\n'
    )
    assert [dict(one.chosen)["solid"] for one, _ in asked_of(parse_plan(readouts))] == [12, "cube", 12]


@pytest.mark.parametrize(
    ("rule", "key"),
    [
        ("{ sets_of = 0, from = [6] }", "lists.dice.sets_of"),
        ("{ sets_of = [], from = [6] }", "lists.dice.sets_of"),
        ("{ sets_of = [1, true], from = [6] }", "lists.dice.sets_of"),
        ("{ from = [6] }", "lists.dice"),
        ("{ sets_of = 2 }", "lists.dice"),
        ("{ sets_of = 2, from = [] }", "lists.dice.from"),
        ('{ sets_of = 2, from = [6], named = ["a"] }', "lists.dice.named"),
        ('{ sets_of = 2, from = [6], named = ["a", "a"] }', "lists.dice.named"),
        ("{ sets_of = 2, from = [6], name = 3 }", "lists.dice.name"),
    ],
)
def test_a_wrong_rule_for_sets_is_told(rule: str, key: str) -> None:
    text = f'title = "T"\nonly_divisible = 1\n[brief]\nread = "total"\nlike = "2d6"\n[lists]\ndice = {rule}\n'
    assert [(line, key) for line, key, _ in faults_of(text)] == [(2, "only_divisible"), (7, key)]


def test_too_many_sets_are_refused_before_they_are_made() -> None:
    text = (
        'title = "T"\n[brief]\nread = "total"\nlike = "2d6"\n[lists]\n'
        f"dice = {{ sets_of = 6, from = {list(range(2, 200))} }}\n"
    )
    assert [key for _, key, _ in faults_of(text)] == ["lists.dice"]
