"""Briefs with other readings than the total: what they become, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.errors import BriefRefused
from facewright.constraints.question import Numbering
from facewright.constraints.question_form import from_form, to_form


def asked(read: str, lines: str) -> Numbering:
    """The question of a brief with this reading."""
    question = parse(f'title = "t"\nread = "{read}"\n{lines}\n', "test")
    assert isinstance(question, Numbering)
    return question


def highest_labels(read: str, lines: str) -> list[int]:
    """The highest label of each die."""
    return [die.rules.highest for die in asked(read, lines).dice]


@pytest.mark.parametrize(
    ("read", "lines", "highest"),
    [
        ("highest", 'like = "highest of 2d8"\ndice = [8, 8]', [8, 8]),
        ("lowest", 'like = "lowest of 2d8"\ndice = [8, 8]', [8, 8]),
        # the second die may start up to 5 above the first, and end 5 above where the first ends
        ("difference", 'like = "difference of 2d6"\ndice = [6, 6]', [11, 11]),
        ("difference", 'like = "difference of 2d6"\ndice = [{ exactly = [8, 9] }, 6]', [9, 13]),
        ("signed-difference", 'like = "d6 - d8"\ndice = [6, 8]', [13, 13]),
        ("signed-difference", 'like = "d6 - d6 + 20"\ndice = [6, 6]', [26, 11]),
        ("product", "ways = { 1 = 1, 12 = 1 }\ndice = [2, { faces = 2, labels = { lowest = 3 } }]", [4, 12]),
        (
            "product",
            "ways = { -20 = 1, 12 = 1 }\ndice = [2, 2]\nlabels = { lowest = -9 }".replace("-20", '"-20"'),
            [20, 20],
        ),
        ("side-by-side", 'ways = { "1 9" = 1, "4 -2" = 1 }\ndice = [2, 2]\nlabels = { lowest = -2 }', [4, 9]),
        (
            "total-modulo",
            'like = "d4 - 1"\nmodulo = 4\ndice = [3, { faces = 6, labels = { lowest = 0 } }]',
            [4, 5],
        ),
        ("middle", 'like = "d5"\ndice = [6, 6, 6]', [5, 5, 5]),
        (
            "total-of-highest",
            'keep = 2\nlike = "highest 2 of 3d6"\ndice = [6, 6, { exactly = [3, 4] }]',
            [9, 9, 4],
        ),
        (
            "total-of-lowest",
            'keep = 2\nlike = "lowest 2 of 3d6"\ndice = [6, 6, { exactly = [3, 4] }]',
            [11, 11, 4],
        ),
        ("how-many", 'at_least = 9\nlike = "2d2 - 2"\ndice = [6, 12]', [9, 12]),
    ],
)
def test_the_highest_label_where_none_is_stated(read: str, lines: str, highest: list[int]) -> None:
    assert highest_labels(read, lines) == highest


def test_dice_are_told_apart_where_their_order_matters() -> None:
    first, second = asked("signed-difference", 'like = "d6 - d6"\ndice = [6, 6]').dice
    assert first != second and replace(first, place=1) == second
    one, other = asked("difference", 'like = "difference of 2d6"\ndice = [6, 6]').dice
    assert one == other


def test_shifts_for_ever_are_barred() -> None:
    assert asked("difference", 'like = "difference of 2d6"\ndice = [6, 6]\nlabels = { highest = 9 }').anchored
    assert asked("signed-difference", 'like = "d6 - d6"\ndice = [6, 6]').anchored
    assert not asked(
        "signed-difference", 'like = "d6 - d6"\ndice = [6, 6]\nlabels = { highest = 9 }'
    ).anchored
    assert not asked("total", 'like = "2d6"\ndice = [6, 6]').anchored


@pytest.mark.parametrize(
    ("read", "lines"),
    [
        ("total-modulo", 'like = "d4 - 1"\nmodulo = 4\ndice = [6, 6]'),
        ("side-by-side", 'ways = { "1 2" = 1, "2 1" = 3 }\ndice = [2, 2]'),
        ("signed-difference", 'like = "d6 - d6"\ndice = [6, 6]'),
        ("total", 'like = "2d6"\nreroll = [2, 1, 2]\ndice = [6, 6]'),
    ],
)
def test_a_question_is_kept_and_told_from_others(read: str, lines: str) -> None:
    question = asked(read, lines)
    again = from_form(to_form(question))
    assert again == question and again.fingerprint() == question.fingerprint()
    others: list[dict[str, Any]] = [{"how": (("modulo", 5),)}, {"anchored": not question.anchored}]
    assert len({question.fingerprint(), *(replace(question, **other).fingerprint() for other in others)}) == 3


def test_ways_side_by_side_are_labels_in_the_order_of_the_dice() -> None:
    question = asked(
        "side-by-side", 'ways = { "1 -2" = 1, "0 3" = 2 }\ndice = [2, 2]\nlabels = { lowest = -2 }'
    )
    assert question.target.ways == {(0, 3): 2, (1, -2): 1}


@pytest.mark.parametrize(
    ("read", "lines", "key", "found", "accepted"),
    [
        ("difference", 'like = "2d6"\ndice = [6, 6]\nmodulo = 3', "modulo",
         'a key that goes with read = "total-modulo"', 'no such key beside read = "difference"'),
        ("difference", 'like = "difference of 2d6"\ndice = [6, 6, 6]', "dice",
         '3 dice beside read = "difference"', "two dice"),
        ("signed-difference", 'like = "2d6"\ndice = "2 to 3 of 4 6"', "dice",
         '3 dice beside read = "signed-difference"', "two dice"),
        ("difference", 'like = "d6 - 2"\ndice = [6, 6]', "like", "the result -1",
         "results of 0 and above: a difference is never negative"),
        ("side-by-side", 'like = "2d6"\ndice = [6, 6]', "like", 'a target in numbers beside read = "side-by-side"',
         'ways = { "1 1" = 1, "1 2" = 2 }: the labels in the order of the dice'),
        ("side-by-side", "dice = [6, 6]", "ways", "nothing: the key is missing",
         'ways = { "1 1" = 1, "1 2" = 2 }: the labels in the order of the dice'),
        ("side-by-side", 'ways = { "1 2" = 1, "3" = 1 }\ndice = [2, 2]', "ways", '"3", 1 label for 2 dice',
         "one label a die, in the order of the dice"),
        ("side-by-side", 'ways = { "1 b" = 1 }\ndice = [2, 2]', 'ways."1 b"', '"1 b" for labels side by side',
         'labels from -1,000,000 to 1,000,000 with spaces between, one a die, such as "1 2"'),
        ("total-modulo", 'like = "d4"\nmodulo = 4\ndice = [4]', "like", "the result 4",
         'remainders from 0 to 3; like = "d4 - 1" makes all equally likely'),
        ("total-modulo", 'like = "d4"\ndice = [4]', "modulo", "nothing: the key is missing",
         'a whole number from 2 to 1,000,000: read = "total-modulo" needs it'),
        ("middle", 'like = "d6"\ndice = [6, 6]', "dice", '2 dice beside read = "middle"',
         "an odd number of dice, such as three"),
        ("total-of-highest", 'keep = 3\nlike = "2d6"\ndice = [6, 6]', "dice", '2 dice beside read = "total-of-highest"',
         "at least 3 dice, as many as are kept"),
        ("total", 'keep = 3\nlike = "2d6"\ndice = [6, 6]', "keep",
         'a key that goes with read = "total-of-highest" or "total-of-lowest"', 'no such key beside read = "total"'),
        ("how-many", 'like = "2d2"\nat_least = 5\ndice = [6, 6]', "like", "the result 3",
         "how many of 2 dice: results from 0 to 2"),
        ("how-many", 'like = "2d2 - 2"\ndice = [6, 6]', "at_least", "nothing: the key is missing", None),
        ("total", 'like = "2d6"\nreroll = []\ndice = [6, 6]', "reroll", "an empty list", None),
        ("total", 'ways = { "1 2" = 1 }\ndice = [4]', 'ways."1 2"', '"1 2" for a result', None),
        ("side-by-side", 'ways = { "1 2" = 1 }\ndice = [2, 2]\naccept = "nearest"\nnearest = "moments-first"',
         "nearest",
         '"moments-first" beside read = "side-by-side"',
         '"total-variation" or "largest": labels side by side have no mean'),
    ],
)  # fmt: skip
def test_what_does_not_go_together(read: str, lines: str, key: str, found: str, accepted: str | None) -> None:
    with pytest.raises(BriefRefused) as refused:
        asked(read, lines)
    [fault] = refused.value.faults
    assert (fault.key, fault.found) == (key, found)
    assert accepted is None or fault.accepted == accepted
