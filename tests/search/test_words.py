"""Sentences: dice, targets, rules, verdicts, in every number and case."""

from __future__ import annotations

from dataclasses import replace

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import StopRule
from facewright.search.words import (
    MOST_SCORED,
    ask,
    completed,
    conditions,
    dice_words,
    die_words,
    first_found,
    rules_words,
    stopped,
    target_words,
)

RULES = LabelRules(1, 11)
CUBE = Die(6, "cube", 1, RULES)
COIN = Die(2, "coin", 1, RULES)
EIGHT = Die(8, "octahedron", 1, RULES)
LOG = Die(9, "9-sided log", 1, RULES)
THREE = Die(3, "cube", 2, RULES)
TUG = Die(6, "cube", 1, RULES, name="tug")
FIXED = Die(2, "coin", 1, LabelRules(0, 3), exactly=(0, 3))


@pytest.mark.parametrize(
    ("dice", "words"),
    [
        ([CUBE], "a cube"),
        ([CUBE, CUBE], "two cubes"),
        ([COIN], "a coin"),
        ([EIGHT], "an octahedron (8 faces)"),
        ([EIGHT] * 13, "13 octahedra (8 faces)"),
        ([LOG], "a 9-sided log"),
        ([THREE], "a three-label die on a cube"),
        ([THREE, THREE], "two three-label dice on cubes"),
        ([TUG], "tug (cube)"),
        ([FIXED], "a coin with 0 3"),
        ([CUBE, EIGHT, CUBE], "two cubes and an octahedron (8 faces)"),
        ([COIN, CUBE, EIGHT], "a coin, a cube and an octahedron (8 faces)"),
    ],
)
def test_dice_in_words(dice: list[Die], words: str) -> None:
    assert dice_words(dice) == words


def test_a_die_named_by_a_person_stands_by_its_name() -> None:
    assert die_words(TUG) == "tug (cube)"
    assert "two times tug" in die_words(TUG, 2)


def brief(lines: str) -> str:
    return f'title = "t"\nread = "total"\n{lines}\n'


@pytest.mark.parametrize(
    ("target", "words"),
    [
        ('like = "2d6"', "the totals of two ordinary 6-face dice"),
        ('like = "d6 + d6"', "the totals of two ordinary 6-face dice"),
        ('like = "d8 + d12"', "the totals of an ordinary 8-face and 12-face die"),
        ('like = "2d4 + d8"', "the totals of two 4-face and one 8-face ordinary dice"),
        ('like = "2d6 + 1"', "the chances of 2d6 + 1"),
        ('like = "highest of 2d20"', "the chances of the highest of 2d20"),
        ("ways = { 2 = 1, 3 = 2, 4 = 1 }", "the chances of the 4 ways in the brief"),
    ],
)
def test_targets_in_words(target: str, words: str) -> None:
    assert target_words(parse(brief(f"{target}\ndice = [6, 6]"), "test")) == words


@pytest.mark.parametrize(
    ("dice", "start"),
    [
        ("[6, 6]", "Which labels on two cubes, rolled together, give"),
        ("[36]", "Which labels on an 18-gonal bipyramid give"),
        ('"2 of 4 6 9"', "Which sets of dice (2 of 4 6 9), and which labels on them, give"),
        (
            "[{ exactly = [1, 2] }, { exactly = [1, 3] }]",
            "Do a coin with 1 2 and a coin with 1 3, rolled together, give",
        ),
    ],
)
def test_the_question_in_words(dice: str, start: str) -> None:
    asked = ask(parse(brief(f'like = "2d6"\ndice = {dice}'), "test"))
    assert asked.startswith(start) and asked.endswith("?")


@pytest.mark.parametrize(
    ("rules", "words"),
    [
        (LabelRules(1, 9), "whole numbers from 1 up"),
        (LabelRules(-2, 9), "whole numbers from -2 up"),
        (LabelRules(0, 9, given=frozenset({"highest"})), "whole numbers from 0 to 9"),
        (LabelRules(1, 5, only=(1, 3, 5)), "only the labels 1, 3 or 5"),
        (LabelRules(1, 9, avoid=(6,)), "whole numbers from 1 up and without 6"),
        (LabelRules(1, 9, repeats=1), "whole numbers from 1 up and no label more than once on a die"),
        (LabelRules(1, 9, repeats=2, avoid=(6, 9)),
         "whole numbers from 1 up, without 6 or 9 and no label more than twice on a die"),
        (LabelRules(1, 9, repeats=4), "whole numbers from 1 up and no label more than four times on a die"),
    ],
)  # fmt: skip
def test_rules_in_words(rules: LabelRules, words: str) -> None:
    assert rules_words(rules) == words


BEST = "With `stop.designs` in the brief the best are listed."


def test_verdicts_agree_in_number() -> None:
    question = parse(brief('like = "2d6"\ndice = [6, 6]'), "test")
    where = "With whole numbers from 1 up on two cubes"
    assert completed(question, 2, 2) == f"Two numberings do it. {where} there are no others."
    assert completed(question, 1, 1) == f"One numbering does it. {where} there is no other."
    assert (
        completed(question, 20, 3)
        == f"20 numberings do it; the first 3 found are listed. {where} there are no others. {BEST}"
    )
    assert BEST not in completed(replace(question, stop=StopRule(designs=3)), 20, 3)
    assert BEST not in completed(question, 20, 3, "the best 3 are listed")
    assert BEST not in completed(question, MOST_SCORED + 1, 3)
    assert (
        completed(question, 2, 0)
        == f"Two numberings do it, counted but not listed. {where} there are no others."
    )
    assert completed(question, 2, 1).startswith("Two numberings do it; the first one found is listed.")
    assert first_found(1200) == "the first 1,200 found are listed"
    assert conditions(question) == where


def test_a_search_cut_short_claims_nothing() -> None:
    assert (
        stopped(0, "why") == "No numbering was found before the search ended early (why); there may be some."
    )
    assert stopped(1, "why") == "One numbering found before the search ended early (why); there may be more."
    assert stopped(1200, "why").startswith("1,200 numberings found before")
