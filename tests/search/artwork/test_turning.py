"""Labels upside down: figures, letters, words; which of them need a mark on one die."""

from __future__ import annotations

import pytest
from facewright.search.artwork.turning import FIGURES, LETTERS, half_turn, mistaken, turned
from hypothesis import given
from hypothesis import strategies as st


@pytest.mark.parametrize(
    ("label", "image"),
    [
        (6, 9),
        (9, 6),
        (66, 99),
        (68, 89),
        (86, 98),
        (69, 69),
        (96, 96),
        (8, 8),
        (0, 0),
        (88, 88),
        (80, None),
        (60, None),
        (2, None),
        (16, None),
        (91, None),
        (11, None),
        (-6, None),
        (106, None),
    ],
)
def test_half_turns_where_the_1_has_a_flag(label: int, image: int | None) -> None:
    assert half_turn(label) == image


@pytest.mark.parametrize(
    ("label", "image"), [(16, 91), (18, 81), (19, 61), (1, 1), (11, 11), (101, 101), (10, None)]
)
def test_half_turns_where_the_1_has_none(label: int, image: int | None) -> None:
    assert half_turn(label, flag_on_one=False) == image


def test_the_labels_up_to_120_that_read_as_another() -> None:
    """Derived by hand: figures that a half turn makes figures, without a leading 0."""

    def pairs(flag: bool) -> set[tuple[int, int]]:
        images = {label: half_turn(label, flag) for label in range(121)}
        return {(low, high) for low, high in images.items() if high is not None and low < high <= 120}

    assert pairs(True) == {(6, 9), (66, 99), (68, 89), (86, 98)}
    assert pairs(False) == pairs(True) | {(16, 91), (18, 81), (19, 61)}


@given(st.integers(0, 100_000), st.booleans())
def test_two_half_turns_give_the_number_back(label: int, flag: bool) -> None:
    image = half_turn(label, flag)
    assert image is None or half_turn(image, flag) == label


@given(st.text("".join([*FIGURES, *LETTERS, "1aE"]), max_size=6), st.booleans())
def test_two_half_turns_give_the_text_back(text: str, flag: bool) -> None:
    image = turned(text, flag)
    assert image is None or turned(image, flag) == text


def test_words_that_read_as_words() -> None:
    assert turned("NO") == "ON"
    assert turned("pod") == "pod"
    assert turned("MOW") == "MOW"
    assert turned("un") == "un"
    assert turned("yes") is None


@pytest.mark.parametrize(
    ("labels", "found"),
    [
        ([1, 2, 3, 4, 5, 6], set()),  # a 6 and no 9, nor could there be one
        (range(1, 9), set()),
        (range(1, 11), {6, 9}),
        ([69, 96], set()),  # each reads as itself
        ([68, 89, 1], {68, 89}),
        ([2, 4, 6, 8, 10, 12], {6}),  # no 9, but a player may well believe in one
        ([6, 9, 9], {6, 9}),
        (["N", "Z"], set()),
        (["NO", "ON", "X"], {"NO", "ON"}),
        (["b", "q", "n"], {"b", "q"}),
        (["6", "9"], {"6", "9"}),
        ([0, 8, 88, 808], set()),
        ([-9, -6, 6], set()),
    ],
)
def test_what_can_be_mistaken_on_one_die(labels: list[int | str], found: set[int | str]) -> None:
    assert set(mistaken(labels)) == found


def test_without_a_flag_more_can_be_mistaken() -> None:
    labels = [16, 91, 18, 61]
    assert mistaken(labels) == {}
    assert mistaken(labels, flag_on_one=False) == {16: 91, 91: 16, 18: 81, 61: 19}
    assert mistaken(labels, flag_on_one=False, within_range=False) == {16: 91, 91: 16}
