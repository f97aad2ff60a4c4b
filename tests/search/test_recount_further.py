"""Recounting of further rules: dice that keep them agree, and dice that break one are told why."""

from __future__ import annotations

from fractions import Fraction

import pytest
from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.further import (
    AlsoRead,
    Distinct,
    EqualLabels,
    Further,
    SameMean,
    Symmetric,
    keeps,
)
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.like import parse_like
from facewright.constraints.question import Numbering
from facewright.search.recount import recount
from hypothesis import given
from hypothesis import strategies as st

from tests import brute

ORDINARY = ((1, 2, 3, 4, 5, 6), (1, 2, 3, 4, 5, 6))
CROOKED = ((1, 2, 2, 3, 3, 4), (1, 3, 4, 5, 6, 8))
CUBE = Die(6, "cube", 1, LabelRules(1, 11))


def asking(rule: Further, again: tuple[int, ...] = ()) -> Numbering:
    """A question with one further rule, which accepts any totals."""
    how = (("reroll", again),) if again else ()
    return Numbering("total", parse_like("2d6"), ((CUBE, CUBE),), accept="nearest", how=how, also=(rule,))


# (rule, labels, what is wrong with them; nothing where they keep the rule), worked out by hand
JUDGED: list[tuple[Further, tuple[tuple[int, ...], ...], str]] = [
    (EqualLabels(Fraction(1, 6)), ORDINARY, ""),
    # 1·1, 2·0, 3·2·1, 4·1·1: 1 + 2 + 1 = 4 of 36
    (EqualLabels(Fraction(1, 9)), CROOKED, ""),
    (EqualLabels(Fraction(1, 6)), CROOKED, "found equal labels with a chance of 1/9, wanted 1/6"),
    (SameMean(), ORDINARY, ""),
    (SameMean(), CROOKED, "found the means 5/2, 9/2"),
    (Symmetric(), CROOKED, ""),
    (Symmetric(), ((1, 2, 3, 4, 5, 6), (1, 2, 3, 4, 5, 7)), "die 2 is not symmetric"),
    (Distinct(6), CROOKED, ""),
    (Distinct(5), CROOKED, "die 2 carries 6 different labels, at most 5 are allowed"),
    (AlsoRead("highest", parse_like("highest of 2d6")), ORDINARY, ""),
    (AlsoRead("highest", parse_like("highest of 2d6")), CROOKED, "result 2: found 2 in 36, wanted 3 in 36"),
    (AlsoRead("total-modulo", parse_like("d2 - 1"), (("modulo", 2),)), CROOKED, ""),
]


@pytest.mark.parametrize(("rule", "labels", "fault"), JUDGED)
def test_by_hand(rule: Further, labels: tuple[tuple[int, ...], ...], fault: str) -> None:
    finding = recount(asking(rule), NumberingDesign.of((CUBE, CUBE), labels))
    assert finding.agrees == (not fault)
    assert keeps(rule, labels) == (not fault)
    if fault:
        assert f"further rule 1 ({rule.rule}): {fault}" in finding.faults


labels = st.lists(st.integers(1, 5), min_size=6, max_size=6).map(lambda one: tuple(sorted(one)))


@given(labels, labels, st.sampled_from(((), (1,), (2, 5))), st.data())
def test_recount_values_and_brute_force_agree(
    one: tuple[int, ...], other: tuple[int, ...], again: tuple[int, ...], data: st.DataObject
) -> None:
    told = {"reroll": again} if again else {}
    ways = brute.results_of("side-by-side", told, (one, other))
    alike = sum(times for shown, times in ways.items() if shown[0] == shown[1])
    rule = data.draw(
        st.sampled_from(
            [
                EqualLabels(Fraction(alike + data.draw(st.integers(0, 1)), sum(ways.values()) + 1)),
                EqualLabels(Fraction(alike, sum(ways.values()))),
                SameMean(),
                Symmetric(),
                Distinct(data.draw(st.integers(2, 5))),
                AlsoRead("product", Distribution.of(brute.results_of("product", told, (one, other)))),
                AlsoRead("lowest", Distribution.of(brute.results_of("lowest", told, ORDINARY))),
            ]
        )
    )
    question = asking(rule, again)
    kept = brute.further(question, (one, other))
    assert keeps(rule, (one, other), again) == kept
    assert recount(question, NumberingDesign.of((CUBE, CUBE), (one, other))).agrees == kept
