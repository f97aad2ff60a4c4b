"""Chances of results given one die's label, by hand and by going through all rolls."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import product
from math import prod

import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.layout import Roll
from facewright.constraints.roll_chances import chances_given
from hypothesis import given
from hypothesis import strategies as st

dice = st.lists(st.integers(-3, 6), min_size=1, max_size=4).map(tuple)
RESULT = {"total": sum, "highest": max, "lowest": min}


@given(read=st.sampled_from(sorted(RESULT)), labels=dice, others=st.lists(dice, max_size=3).map(tuple))
def test_all_rolls(read: str, labels: tuple[int, ...], others: tuple[tuple[int, ...], ...]) -> None:
    found = chances_given(labels, Roll(read, others))
    assert set(found) == set(labels)
    for label, chances in found.items():
        counted = Counter(RESULT[read]((label, *rest)) for rest in product(*others))
        outcomes = prod(map(len, others))
        assert chances == {result: Fraction(ways, outcomes) for result, ways in counted.items()}


def test_a_die_alone_may_carry_words() -> None:
    assert chances_given(["ebb", "flow", "ebb"], Roll()) == {"ebb": {"ebb": 1}, "flow": {"flow": 1}}


def test_words_are_not_added() -> None:
    with pytest.raises(UsageError, match=r"found 'ebb' on a die rolled with others; accepted: whole numbers"):
        chances_given([1, "ebb"], Roll("total", ((1, 2),)))


def test_a_reading_that_is_not_known() -> None:
    with pytest.raises(UsageError, match=r"found 'loudest'; .*highest, lowest, product.*total"):
        chances_given([1, 2], Roll("loudest", ((1, 2),)))
