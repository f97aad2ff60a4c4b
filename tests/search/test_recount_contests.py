"""The recount of contests: it passes what is right and names what is wrong; two ways to count orders agree."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from facewright.constraints.contest import BEATS, ORDERS, Contest
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.labels import Die, LabelRules
from facewright.search import recount_contests
from facewright.search.recount_contests import orders_of, recount_contest
from hypothesis import given
from hypothesis import strategies as st

CUBE = Die(6, "cube", 1, LabelRules(1, 9))
A, B, C = (1, 1, 4, 4, 4, 7), (3, 3, 3, 3, 3, 6), (2, 2, 2, 5, 5, 5)
TUGS = Contest(BEATS, ((CUBE,) * 3,))
SIX = Die(6, "cube", 1, LabelRules(1, 18))
FERRIES = Contest(ORDERS, ((SIX,) * 3,))
FAIR = ((1, 5, 10, 11, 13, 17), (2, 6, 8, 9, 14, 18), (3, 4, 7, 12, 15, 16))


def design(*labels: tuple[int, ...]) -> NumberingDesign:
    return NumberingDesign(tuple(DesignDie(len(one), "cube", one) for one in labels))


def faults(question: Contest, *labels: tuple[int, ...]) -> str:
    return "; ".join(recount_contest(question, design(*labels)).faults)


def test_a_ring_that_is_right() -> None:
    finding = recount_contest(TUGS, design(A, B, C))
    assert finding.agrees
    assert finding.chance == Fraction(7, 12)
    assert recount_contest(FERRIES, design(*FAIR)).agrees


@pytest.mark.parametrize(
    ("question", "labels", "told"),
    [
        (TUGS, (B, C, A), "may be exchanged, and do not stand in order"),
        (TUGS, (A, C, B), "die 1 beats die 2 with a chance of 5/12, wanted more than 1/2"),
        (replace(TUGS, chance_at_least=Fraction(3, 5)), (A, B, C), "7/12, wanted at least 3/5"),
        (replace(TUGS, chance_at_least=Fraction(7, 12), strictly=True), (A, B, C), "wanted more than 7/12"),
        (replace(TUGS, beats=((1, 0),)), (A, B, C), "die 2 beats die 1 with a chance of 5/12"),
        (replace(TUGS, beats=((0, 5),)), (A, B, C), "fewer than those"),
        (replace(TUGS, ties="none"), ((1, 1, 4, 4, 4, 7), (3, 3, 3, 3, 3, 6), (1, 2, 2, 5, 5, 5)), "can tie"),
        (TUGS, ((1, 1, 4, 4, 4, 10), B, C), "the highest allowed is 9"),
        (TUGS, (A, B), "the question asks for"),
        (FERRIES, (FAIR[1], FAIR[0], FAIR[2]), "may be exchanged"),
        (FERRIES, ((1, 5, 10, 11, 13, 18), (2, 6, 8, 9, 14, 17), FAIR[2]), "not equally often"),
        (FERRIES, ((1, 5, 10, 11, 13, 17), (2, 6, 8, 9, 14, 17), FAIR[2]), "not 1 to 18"),
        (replace(FERRIES, fair="first"), ((1, 5, 10, 11, 13, 18), (2, 6, 8, 9, 14, 17), FAIR[2]), "place 1"),
        (replace(FERRIES, fair="places"), ((1, 5, 10, 11, 13, 18), (2, 6, 8, 9, 14, 17), FAIR[2]), "place 1"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_named(question: Contest, labels: tuple[tuple[int, ...], ...], told: str) -> None:
    assert told in faults(question, *labels)


def test_no_set_of_dice_at_all() -> None:
    assert not recount_contest(TUGS, NumberingDesign(())).agrees


@given(st.permutations(range(1, 10)), st.integers(1, 4), st.integers(5, 8))
def test_both_ways_to_count_orders_agree(labels: list[int], first: int, second: int) -> None:
    dice = [labels[:first], labels[first:second], labels[second:]]
    visited = orders_of(dice)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(recount_contests, "VISITED", 0)
        assert orders_of(dice) == visited
