"""Reasons for none: the lowest label, the smallest set of rules that cannot stand together, each set checked."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.design import NumberingDesign
from facewright.constraints.labels import Die
from facewright.constraints.question import Numbering
from facewright.search import clash
from facewright.search.clash import possible, rules_of, smallest, with_rules
from facewright.search.finding import find
from facewright.search.stop import never
from hypothesis import event, given, settings

from tests import brute
from tests.properties.test_readings_brute import questions

CUBES = 'read = "total"\nlike = "2d6"\ndice = [6, 6]\n'
SYMMETRIC, MEAN = '{ rule = "symmetric" }', '{ rule = "same-mean" }'
PAIR = '{ rule = "equal-labels", chance = "1/6" }'

# (brief, cause, words of the reason); by hand: the numberings for 2d6 from 1 up are the ordinary pair, which has equal
# labels with a chance of 1/6 and one mean, and 1 2 2 3 3 4 + 1 3 4 5 6 8, which has 1/9 and the means 5/2 and 9/2
REASONS = {
    "a division": ('read = "highest"\nlike = "highest of 2d6"\ndice = [4, 10]', "division", "40 outcomes"),
    "a division of a further rule": (
        CUBES + 'also = [{ rule = "equal-labels", chance = "1/5" }]',
        "division",
        "36/5",
    ),
    "a factor": (
        'read = "highest"\nways = { 1 = 2, 2 = 5, 3 = 9 }\ndice = [4, 4]',
        "factor",
        "7 of the 16 ways",
    ),
    "a factor of a total": (
        'read = "total"\nlike = "2d6"\ndice = [3, 12]\nlabels = { highest = 2 }',
        "clash",
        "your highest label of 2",
    ),
    "paths that cannot rise": (
        'read = "highest"\nways = { 1 = 5, 2 = 4, 3 = 27 }\ndice = [6, 6]',
        "factor",
        "cannot rise from value to value",
    ),
    "one rule": (
        CUBES + 'also = [{ rule = "distinct", at_most = 3 }]',
        "clash",
        "one rule rules every numbering out: at most three different labels on a die. Without it",
    ),
    "a rule that clashes with a label rule": (
        CUBES + 'labels = { repeats = 1 }\nalso = [{ rule = "equal-labels", chance = "1/9" }]',
        "clash",
        "these two rules cannot stand together: no label more than once on a die and a chance of 1/9 of equal labels. "
        "Either alone can be kept, other rules aside.",
    ),
    "a clash that leaves a third rule out": (
        CUBES + f'also = [{SYMMETRIC}, {{ rule = "equal-labels", chance = "1/9" }}, {MEAN}]',
        "clash",
        "these two rules cannot stand together: a chance of 1/9 of equal labels and the same mean on every die.",
    ),
    "a fixed die": (
        'read = "total"\nlike = "2d6"\ndice = [{ exactly = [1, 2, 2, 3, 3, 4] }, 6]\n' + f"also = [{PAIR}]",
        "clash",
        "die 1 fixed to 1 2 2 3 3 4 and a chance of 1/6 of equal labels",
    ),
    "the lowest label": (
        'read = "highest"\nways = { "-2" = 1, 0 = 3 }\ndice = [2, 2]',
        "clash",
        "With lowest = -2 there are some.",
    ),
    "the lowest label of products": (
        'read = "product"\nways = { 0 = 3, 1 = 1 }\ndice = [2, 2]',
        "clash",
        "With lowest = 0 there are some.",
    ),
    "a highest label": (
        'read = "highest"\nlike = "highest of 2d6"\ndice = [6, 6]\nlabels = { highest = 5 }',
        "clash",
        "no label above 5",
    ),
    "a bar": (
        'read = "product"\nways = { 1 = 1, 2 = 2, 4 = 1 }\ndice = [2, 2]\nlabels = { avoid = [2] }',
        "clash",
        "no label 2",
    ),
    # 0 once asks for one label in common, and the other labels would have to differ by 1 from it and from each other
    "no rule at all": (
        'read = "difference"\nways = { 0 = 1, 1 = 3 }\ndice = [2, 2]',
        "search",
        "every choice of labels was ruled out",
    ),
}


@pytest.mark.parametrize(("lines", "cause", "words"), REASONS.values(), ids=REASONS)
def test_why_there_is_none(lines: str, cause: str | None, words: str | None) -> None:
    answer = find(parse(f'title = "t"\n{lines}\n', "test"))
    assert answer.verdict == "none"
    assert cause is None or answer.cause == cause
    assert words is None or words in answer.reason


def test_a_search_that_ends_early_leaves_the_engines_reason(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clash, "REASON_SECONDS", 0.0)
    answer = find(parse(f'title = "t"\n{CUBES}also = [{{ rule = "distinct", at_most = 3 }}]\n', "test"))
    assert (answer.verdict, answer.cause) == ("none", "search")
    assert "none keeps them all" in answer.reason


def test_the_nearest_that_cannot_keep_its_rules() -> None:
    text = (
        'title = "t"\nread = "total"\nlike = "2d3"\ndice = [3, 3]\naccept = "nearest"\n'
        'labels = { highest = 4, repeats = 1 }\nalso = [{ rule = "distinct", at_most = 2 }]\n'
    )
    answer = find(parse(text, "test"))
    assert (answer.verdict, answer.cause) == ("none", "clash")
    assert "no label more than once on a die and at most two different labels on a die" in answer.reason


def stated(question: Numbering) -> Numbering:
    """The question with every part of its label rules stated, as a brief would have them."""

    def told(die: Die) -> Die:
        parts = {
            "lowest",
            "highest",
            *(["repeats"] if die.rules.repeats else []),
            *(["avoid"] if die.rules.avoid else []),
        }
        return replace(die, rules=replace(die.rules, given=frozenset(parts)))

    return replace(question, sets=(tuple(map(told, question.dice)),))


def brute_designs(question: Numbering) -> set[NumberingDesign]:
    """Every design of an exact question, by brute force."""
    return brute.designs_read(question)


@settings(max_examples=150, deadline=None)
@given(questions().map(stated).filter(lambda one: bool(rules_of(one)) and brute.work(one) <= 500))
def test_every_set_of_rules_is_judged_as_by_brute_force(question: Numbering) -> None:
    if brute_designs(question):
        return
    wide = with_rules(question, ())
    if question.anchored or brute.work(wide) > 3_000:
        return
    tried = list(smallest(question, 0, never))
    event(f"{len(tried)} sets tried")
    for one in tried:
        kept = with_rules(question, one.rules)
        assert possible(kept, 0, never) == one.possible == bool(brute_designs(kept))
    clashing = tried[-1].rules
    assert not tried[-1].possible
    assert all(one.possible for one in tried[:-1])
    smaller = {subset for size in range(len(clashing)) for subset in combinations(rules_of(question), size)}
    assert smaller <= {one.rules for one in tried}


@settings(max_examples=100, deadline=None)
@given(questions().map(stated).filter(lambda one: brute.work(one) <= 300))
def test_fewer_rules_leave_every_design(question: Numbering) -> None:
    rules = rules_of(question)
    whole = brute_designs(question)
    for size in range(len(rules) + 1):
        for kept in combinations(rules, size):
            loose = with_rules(question, kept)
            for design in whole:
                labels = [die.labels for die in design.dice]
                assert all(die.keeps(one) for die, one in zip(loose.dice, labels, strict=True))
                assert brute.further(loose, labels)
