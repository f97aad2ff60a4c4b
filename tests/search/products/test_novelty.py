"""How far from ordinary, and what is known in print."""

from __future__ import annotations

import pytest
from facewright.search.products.novelty import known_in_print, published, strange_faces
from hypothesis import given
from hypothesis import strategies as st

labels = st.lists(st.integers(-9, 30), min_size=1, max_size=10)


@given(labels)
def test_strange_faces_against_every_ordinary_die(die: list[int]) -> None:
    faces = len(die)
    fewest = faces
    for first in range(min(die) - faces, max(die) + 2):
        left = list(die)
        kept = 0
        for label in range(first, first + faces):
            if label in left:
                left.remove(label)
                kept += 1
        fewest = min(fewest, faces - kept)
    assert strange_faces(die) == fewest


@given(st.integers(-5, 5), st.integers(-5, 5))
def test_totals_in_print_up_to_shifts_and_order(one: int, other: int) -> None:
    dice = [[1 + one, 3 + one, 4 + one, 5 + one, 6 + one, 8 + one], [x + other for x in (1, 2, 2, 3, 3, 4)]]
    found = known_in_print("total", dice)
    assert found is not None
    assert "1978" in found.source
    assert known_in_print("difference", dice) is None
    assert known_in_print("total", [[1, 2, 3, 4, 5, 6], [1, 2, 3, 4, 5, 6]]) is None


def test_dice_that_beat_each_other_up_to_the_order_of_their_labels() -> None:
    dice = [[10, 10, 20, 20, 20, 20], [15] * 6, [12, 12, 12, 12, 30, 30], [11, 11, 11, 25, 25, 25]]
    found = known_in_print("each-beats-next", dice)
    assert found is not None
    assert "1970" in found.source
    assert known_in_print("each-beats-next", [*dice[:3], [11, 11, 11, 11, 25, 25]]) is None


@pytest.mark.parametrize("entry", published(), ids=lambda one: one.says)
def test_what_stands_in_the_table_does_what_it_says(entry: object) -> None:
    read, dice = entry.read, entry.dice  # type: ignore[attr-defined]
    if read == "total":
        faces = len(dice[0])
        totals = sorted(a + b for a in dice[0] for b in dice[1])
        assert totals == sorted(a + b for a in range(1, faces + 1) for b in range(1, faces + 1))
    else:
        for one, other in zip(dice, [*dice[1:], dice[0]], strict=True):
            assert sum(a > b for a in one for b in other) == 24  # of 36
