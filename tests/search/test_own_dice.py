"""Dice that somebody has: what they do, what they are compared with, and the brief that keeps them."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.errors import UsageError
from facewright.search.finding import find
from facewright.search.own_dice import again_of, own_dice
from facewright.search.report.scores import load_scores


def test_dice_that_are_as_good_as_two_ordinary_cubes() -> None:
    dice = own_dice(("1 2 2 3 3 4", "1 3 4 5 6 8"), like="2d6")
    assert dice.sentence.startswith(
        "Exactly the chances of 2d6. 36 equally likely outcomes give results from 2 to 12"
    )
    assert "mean 7, standard deviation 2.415" in dice.sentence
    told = dice.as_json(load_scores(None))
    assert (told["same"], told["distance"], told["mean"], told["variance"]) == (True, "0", "7", "35/6")
    assert told["ways"] == [[r, 6 - abs(7 - r)] for r in range(2, 13)]
    assert told["design"]["dice"][1]["labels"] == [1, 3, 4, 5, 6, 8]


def test_dice_that_are_not() -> None:
    dice = own_dice(("1 2 3", "1..3"), like="2d6")
    # worked out by hand: 2 to 6 have 1 2 3 2 1 ways in 9; what they have too much adds up to 11/18
    assert "Not the chances of 2d6: total variation distance 11/18 (61.11%)." in dice.sentence
    assert dice.distribution.distance(dice.question.target) == Fraction(11, 18)
    assert dice.question.accept == "nearest"


def test_without_a_target_their_own_chances_are_the_target() -> None:
    dice = own_dice(("-1 0 1", "0, 0, 5"))
    assert "chances of" not in dice.sentence
    told = dice.as_json(load_scores(None))
    assert "same" not in told and told["outcomes"] == 9
    assert (dice.question.accept, dice.question.target) == ("exact", dice.distribution)


@pytest.mark.parametrize(
    ("labels", "like"),
    [
        (("1 2 2 3 3 4", "1 3 4 5 6 8"), "2d6"),
        (("1..6", "1..6"), "2d6 − 0"),
        (("-3 -1", "0 5 5"), None),
        (("1 2",), None),
        (("1..6", "1 1 1 1 1 1"), "2d6"),
        (("1..20",) * 3, None),
    ],
)
def test_the_brief_asks_the_same_question(labels: tuple[str, ...], like: str | None) -> None:
    dice = own_dice(labels, like=like)
    again = parse(dice.brief, "test")
    assert again == dice.question
    assert again.title == dice.question.title and len(again.title) <= 80
    answer = find(again)
    assert [one.design for one in answer.found] == [dice.design]
    assert answer.verdict == ("complete" if dice.question.accept == "exact" else "best")


def test_every_fault_at_once() -> None:
    with pytest.raises(UsageError) as refused:
        own_dice(("1 2 x", "7", "", "3..1", "1-6"), read="backwards", like="2x6")
    text = str(refused.value)
    assert all(f"die {place}: found" in text for place in (1, 2, 3, 4, 5))
    assert "--like: found" in text and "--read: found 'backwards'" in text
    assert text.count("\n") == 6


@pytest.mark.parametrize("labels", [("1..1000",) * 60, ("1 1000000",) * 30])
def test_dice_that_would_take_too_long_are_refused(labels: tuple[str, ...]) -> None:
    with pytest.raises(UsageError, match="too many different results"):
        own_dice(labels)


OTHERWISE: list[tuple[str, dict[str, object], tuple[str, ...], list[list[object]]]] = [
    ("highest", {}, ("1 2", "1 3"), [[1, 1], [2, 1], [3, 2]]),
    ("signed-difference", {}, ("1 2", "1 3"), [[-2, 1], [-1, 1], [0, 1], [1, 1]]),
    ("side-by-side", {}, ("2 1", "-3 3"), [[[1, -3], 1], [[1, 3], 1], [[2, -3], 1], [[2, 3], 1]]),
    ("total-modulo", {"modulo": 2}, ("1 2", "1 3"), [[0, 2], [1, 2]]),
    ("total-of-highest", {"keep": 1}, ("1 2", "1 3"), [[1, 1], [2, 1], [3, 2]]),
    ("how-many", {"at_least": 2}, ("1 2", "1 3"), [[0, 1], [1, 2], [2, 1]]),
    ("total", {"reroll": (1,)}, ("1 2", "3 3"), [[4, 4], [5, 12]]),
]


@pytest.mark.parametrize(("read", "told", "labels", "ways"), OTHERWISE)
def test_other_readings(
    read: str, told: dict[str, object], labels: tuple[str, ...], ways: list[list[object]]
) -> None:
    given = {"modulo": None, "keep": None, "at_least": None, "reroll": None, **told}
    dice = own_dice(labels, read, told=given)
    shown = dice.as_json(load_scores(None))
    assert shown["ways"] == ways and shown["read"] == read
    assert (shown["mean"] is None) == (read == "side-by-side")
    again = parse(dice.brief, "test")
    assert again == dice.question and find(again).verdict == "complete"


@pytest.mark.parametrize(
    ("read", "told", "dice", "words"),
    [
        ("total-modulo", {}, 2, "--modulo: found none; accepted: a value, which --read total-modulo needs"),
        (
            "highest",
            {"modulo": 3},
            2,
            "--modulo: found beside --read highest; accepted: no such option there",
        ),
        ("how-many", {}, 2, "--at-least: found none"),
        ("difference", {}, 3, "found 3 dice read as the difference; accepted: two dice"),
        ("middle", {}, 2, "found 2 dice read as the middle; accepted: an odd number of dice"),
    ],
)
def test_readings_that_do_not_fit(read: str, told: dict[str, object], dice: int, words: str) -> None:
    with pytest.raises(UsageError, match=re.escape(words)):
        own_dice(("1 2",) * dice, read, told=told)


def test_a_target_that_a_reading_never_gives() -> None:
    with pytest.raises(UsageError, match="--like: found the result 4; accepted: remainders from 0 to 3"):
        own_dice(("1..4",), "total-modulo", "d4", {"modulo": 4})


def test_labels_that_are_rolled_again() -> None:
    assert again_of(None) is None
    assert again_of("2, 1 1") == (1, 2)
    assert again_of("-3") == (-3,)
    for text in ("", "1..3", "x", "1.5"):
        with pytest.raises(UsageError, match="--reroll: found"):
            again_of(text)


def test_many_small_dice_are_no_trouble() -> None:
    assert own_dice(("1..6",) * 60).distribution.outcomes == 6**60
