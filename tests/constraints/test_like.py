"""The `like` line: against enumeration of every roll, its bounds, its refusals."""

from __future__ import annotations

import itertools
import time
from collections import Counter

import pytest
from facewright.constraints.like import FORMS, parse_like
from facewright.constraints.texts import TextError
from hypothesis import given
from hypothesis import strategies as st


def enumerated(faces: list[int], result: object) -> dict[int, int]:
    """Ways of each result, by rolling everything."""
    rolls = itertools.product(*(range(1, n + 1) for n in faces))
    return dict(Counter(result(roll) for roll in rolls))  # type: ignore[operator]


@pytest.mark.parametrize(
    ("text", "faces", "result"),
    [
        ("d6", [6], sum),
        ("2d6", [6, 6], sum),
        ("d8 + d12", [8, 12], sum),
        ("d8+d12", [8, 12], sum),
        ("3d4 - d6 + 2", [4, 4, 4, 6], lambda r: r[0] + r[1] + r[2] - r[3] + 2),
        ("-2d3", [3, 3], lambda r: -sum(r)),
        ("10 - d10", [10], lambda r: 10 - r[0]),
        ("D6 − 1", [6], lambda r: r[0] - 1),
        ("highest of 2d20", [20, 20], max),
        ("highest of d6", [6], max),
        ("lowest of 2d6", [6, 6], min),
        ("lowest of 3d5", [5, 5, 5], min),
        ("difference of 2d6", [6, 6], lambda r: abs(r[0] - r[1])),
        ("  Highest 3 of 4d6 ", [6] * 4, lambda r: sum(sorted(r)[1:])),
        ("lowest 2 of 4d6", [6] * 4, lambda r: sum(sorted(r)[:2])),
        ("highest 2 of 2d6", [6, 6], sum),
        ("highest 2 of 5d3", [3] * 5, lambda r: sum(sorted(r)[3:])),
        ("highest 4 of 5d4", [4] * 5, lambda r: sum(sorted(r)[1:])),
        ("lowest 4 of 6d3", [3] * 6, lambda r: sum(sorted(r)[:4])),
        ("highest 2 of 3d7", [7] * 3, lambda r: sum(sorted(r)[1:])),
    ],
)
def test_agrees_with_every_roll(text: str, faces: list[int], result: object) -> None:
    assert parse_like(text).ways == enumerated(faces, result)


@given(
    st.lists(
        st.tuples(st.sampled_from((1, -1)), st.integers(1, 2), st.integers(2, 5)), min_size=1, max_size=3
    ),
    st.integers(-9, 9),
)
def test_random_terms_agree_with_every_roll(terms: list[tuple[int, int, int]], constant: int) -> None:
    text = " ".join(f"{'+' if sign > 0 else '-'} {times}d{faces}" for sign, times, faces in terms)
    text += f" {'+' if constant >= 0 else '-'} {abs(constant)}"
    dice = [(sign, faces) for sign, times, faces in terms for _ in range(times)]
    signs = [sign for sign, _ in dice]
    wanted = enumerated(
        [faces for _, faces in dice],
        lambda roll: constant + sum(s * x for s, x in zip(signs, roll, strict=True)),
    )
    assert parse_like(text).ways == wanted


@given(st.data(), st.integers(1, 5), st.integers(2, 5))
def test_random_picks_agree_with_every_roll(data: st.DataObject, many: int, faces: int) -> None:
    keep = data.draw(st.integers(1, many))
    rolled = [faces] * many
    assert parse_like(f"highest {keep} of {many}d{faces}").ways == enumerated(
        rolled, lambda roll: sum(sorted(roll)[-keep:])
    )
    assert parse_like(f"lowest {keep} of {many}d{faces}").ways == enumerated(
        rolled, lambda roll: sum(sorted(roll)[:keep])
    )
    assert parse_like(f"difference of 2d{faces}").ways == enumerated(
        [faces] * 2, lambda roll: abs(roll[0] - roll[1])
    )


def test_a_whole_number_is_a_certain_result() -> None:
    assert parse_like("7").ways == {7: 1}
    assert parse_like("-7 + 2").ways == {-5: 1}


@pytest.mark.parametrize(
    ("text", "outcomes"),
    [("20d20", 20**20), ("highest 10 of 20d20", 20**20), ("highest of 100d1000", 1000**100)],
    ids=["20d20", "ten of twenty", "highest of a hundred"],
)
def test_large_targets_are_quick_and_exact(text: str, outcomes: int) -> None:
    began = time.process_time()
    assert parse_like(text).outcomes == outcomes
    assert time.process_time() - began < 2


def test_highest_and_lowest_mirror_each_other() -> None:
    high, low = parse_like("highest 7 of 12d10"), parse_like("lowest 7 of 12d10")
    assert high.outcomes == 10**12
    assert {7 * 11 - result: ways for result, ways in high.pairs} == low.ways


@pytest.mark.parametrize(
    ("text", "found", "accepted"),
    [
        ("", "an empty text", FORMS),
        ("   ", "an empty text", FORMS),
        ("2x6", '"2x6"', FORMS),
        ("2d6 d8", '"d8" after "2d6"', FORMS),
        ("2d6 +", '"+" after "2d6"', FORMS),
        ("2d6d8", '"2d6d8"', FORMS),
        ("2d6 * 3", '"* 3" after "2d6"', FORMS),
        ("1.5", '".5" after "1"', FORMS),
        ("d", '"d"', FORMS),
        ("highest", '"highest"', FORMS),
        ("highest of d8 + d12", '"+ d12" after "highest of d8"', '"highest of d8" alone'),
        ("highest 3 of 4d6 + 1", '"+ 1" after "highest 3 of 4d6"', '"highest 3 of 4d6" alone'),
        ("highest 5 of 4d6", '"highest 5 of 4d6"', "1 to 4 of 4 dice"),
        ("lowest 0 of 4d6", '"lowest 0 of 4d6"', "1 to 4 of 4 dice"),
        ("highest 2 of d6", '"highest 2 of d6"', "1 of 1 dice"),
        ("difference of 3d6", "a difference of 3 dice", 'two dice: "difference of 2d6"'),
        ("difference 2 of 2d6", '"difference 2 of"', 'two dice: "difference of 2d6"'),
        ("999999d999999", "a die with 999,999 faces", "dice with 2 to 1,000 faces"),
        ("2d1", "a die with 1 face", "dice with 2 to 1,000 faces"),
        ("0d6", '"0d6"', "at least one die, or no such term"),
        ("101d6", "101 dice", "up to 100 dice together"),
        ("60d6 + 60d6", "more than 60 dice", "up to 100 dice together"),
        ("d6 + 1000001", "1,000,001", "whole numbers up to 1,000,000"),
        ("9" * 300, "a number of 300 digits", "whole numbers up to 1,000,000"),
        ("d6" + " + d6" * 200, "1,002 characters", f"at most 500: {FORMS}"),
        ("highest 50 of 99d1000", "50 of 99 dice with 1,000 faces kept", "dice kept × faces up to 6,324: more "
         "takes too long to count"),
    ],
)  # fmt: skip
def test_refusals_say_what_was_found_and_what_would_be_accepted(text: str, found: str, accepted: str) -> None:
    began = time.process_time()
    with pytest.raises(TextError) as refused:
        parse_like(text)
    assert (refused.value.found, refused.value.accepted) == (found, accepted)
    assert isinstance(refused.value, ValueError)
    assert time.process_time() - began < 0.5


def test_a_refusal_shows_nothing_that_a_terminal_obeys() -> None:
    with pytest.raises(TextError) as refused:
        parse_like("2d6\x1b[31m")
    assert "\x1b" not in str(refused.value)
