"""Every reading: results by hand, and its distribution against going through all outcomes."""

from __future__ import annotations

from collections import Counter
from itertools import product
from typing import Any

import pytest
from facewright.constraints.distribution import Distribution
from facewright.constraints.readings import PARAMETERS, READINGS, How, reading_of
from facewright.constraints.readings.folding import folded
from hypothesis import given
from hypothesis import strategies as st

BY_HAND: list[tuple[str, How, tuple[int, ...], Any]] = [
    ("total", (), (3, -1, 4), 6),
    ("highest", (), (3, -1, 4), 4),
    ("lowest", (), (3, -1, 4), -1),
    ("difference", (), (3, 7), 4),
    ("difference", (), (7, -3), 10),
    ("signed-difference", (), (3, 7), -4),
    ("product", (), (3, -1, 4), -12),
    ("side-by-side", (), (3, -1, 4), (3, -1, 4)),
    ("total-modulo", (("modulo", 5),), (3, -1, 6), 3),
    ("total-modulo", (("modulo", 5),), (-3, -4), 3),
    ("middle", (), (3, -1, 4), 3),
    ("middle", (), (5, 2, 2, 9, 7), 5),
    ("total-of-highest", (("keep", 2),), (3, -1, 4, 3), 7),
    ("total-of-lowest", (("keep", 2),), (3, -1, 4, 3), 2),
    ("how-many", (("at_least", 3),), (3, -1, 4, 2), 2),
]
LESSER_OF_TWO_D3 = {1: 5, 2: 3, 3: 1}


def label_lists(dice: st.SearchStrategy[int]) -> st.SearchStrategy[list[list[int]]]:
    """Lists of dice, so many as are drawn, with a few labels each."""
    one = st.lists(st.integers(-4, 6), min_size=1, max_size=4)
    return dice.flatmap(lambda many: st.lists(one, min_size=many, max_size=many))


@pytest.mark.parametrize(("read", "how", "labels", "result"), BY_HAND)
def test_a_result_by_hand(read: str, how: How, labels: tuple[int, ...], result: Any) -> None:
    assert reading_of(read, how).result(labels) == result


def test_every_reading_is_worked_out_by_hand() -> None:
    assert {read for read, *_ in BY_HAND} == set(READINGS)


def test_the_lowest_of_two_ordinary_three_face_dice() -> None:
    assert reading_of("lowest").distribution([(1, 2, 3)] * 2).ways == LESSER_OF_TWO_D3


@given(st.data())
def test_a_distribution_is_that_of_all_outcomes(data: st.DataObject) -> None:
    read = data.draw(st.sampled_from(sorted(READINGS)))
    how = tuple((key, data.draw(st.integers(2, 4))) for key in PARAMETERS.get(read, ()))
    reading = reading_of(read, how)
    takes = [many for many in range(1, 5) if reading.takes(many) is None]
    dice = data.draw(label_lists(st.sampled_from(takes)))
    wanted = Distribution.of(Counter(reading.result(outcome) for outcome in product(*dice)))
    assert reading.distribution(dice) == wanted
    assert folded(reading, dice) == wanted
    assert reading.strange(wanted, len(dice)) is None


@given(label_lists(st.just(2)), st.integers(-5, 5))
def test_shifts_that_join_designs_change_no_result(dice: list[list[int]], by: int) -> None:
    for read in READINGS:
        reading = reading_of(read, tuple((key, 2) for key in PARAMETERS.get(read, ())))
        if reading.takes(2):
            continue
        before = reading.distribution(dice)
        both = [[label + by for label in labels] for labels in dice]
        apart = [[label + by for label in dice[0]], [label - by for label in dice[1]]]
        if reading.joins == "one for all":
            assert reading.distribution(both) == before
        if reading.joins == "sum zero":
            assert reading.distribution(apart) == before


@given(label_lists(st.just(2)))
def test_the_order_of_the_dice_matters_only_where_a_reading_says_so(dice: list[list[int]]) -> None:
    for read in READINGS:
        reading = reading_of(read, tuple((key, 2) for key in PARAMETERS.get(read, ())))
        if reading.takes(2):
            continue
        if not reading.ordered:
            assert reading.distribution(dice) == reading.distribution(dice[::-1])


def test_ordered_readings_heed_the_order() -> None:
    for read in ("signed-difference", "side-by-side"):
        reading = reading_of(read)
        assert reading.ordered
        assert reading.distribution([(1, 2), (1, 4)]) != reading.distribution([(1, 4), (1, 2)])


@given(label_lists(st.just(2)), st.sets(st.integers(-4, 6), min_size=1, max_size=3))
def test_labels_rolled_again_are_those_of_two_rolls(dice: list[list[int]], again: set[int]) -> None:
    pairs = [list(product(labels, labels)) for labels in dice]
    for read in ("total", "highest", "signed-difference"):
        reading = reading_of(read, (("reroll", tuple(sorted(again))),))
        wanted = Counter(
            reading.result([second if first in again else first for first, second in outcome])
            for outcome in product(*pairs)
        )
        assert reading.distribution(dice) == Distribution.of(wanted)


def test_a_six_face_die_on_which_1_is_rolled_again() -> None:
    again = reading_of("total", (("reroll", (1,)),))
    # 1 only after a 1: 1 in 36; the others at once 6 in 36, and 1 in 36 more after a 1
    assert again.distribution([range(1, 7)]).ways == {1: 1, **dict.fromkeys(range(2, 7), 7)}
