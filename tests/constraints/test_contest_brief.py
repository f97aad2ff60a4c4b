"""Briefs of dice rolled against one another: what they mean, and every fault of their own."""

from __future__ import annotations

from fractions import Fraction

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.contest import BEATS, ORDERS, Contest
from facewright.constraints.errors import BriefRefused

TUGS = 'title = "Tugs"\nread = "each-beats-next"\ndice = [6, 6, 6]\n'
FERRIES = 'title = "Ferries"\nread = "every-order"\ndice = [6, 6, 6]\n'


def asked(text: str) -> Contest:
    question = parse(text)
    assert isinstance(question, Contest)
    return question


def test_duels_by_default() -> None:
    question = asked(TUGS)
    assert (question.read, question.ties, question.chance_at_least, question.beats) == (
        BEATS,
        "lose",
        None,
        (),
    )
    assert question.best
    assert [(die.rules.lowest, die.rules.highest) for die in question.dice] == [(1, 18)] * 3


def test_every_key_of_duels() -> None:
    more = 'labels = { lowest = 0, highest = 9 }\nties = "none"\nchance_at_least = "10/18"\nbeats = [[1, 2], [3, 1]]\n'
    question = asked(TUGS + more)
    assert (question.ties, question.chance_at_least, question.strictly) == ("none", Fraction(5, 9), False)
    assert question.beats == ((0, 1), (2, 0))
    assert not question.best
    assert (question.dice[0].rules.lowest, question.dice[0].rules.highest) == (0, 9)


@pytest.mark.parametrize(
    ("text", "strictly"), [("more than 1/2", True), ("at least 1/2", False), (" 1 / 2 ", False)]
)
def test_a_chance_to_be_passed(text: str, strictly: bool) -> None:
    question = asked(TUGS + f'chance_at_least = "{text}"\n')
    assert (question.chance_at_least, question.strictly) == (Fraction(1, 2), strictly)


def test_any_two_beaten_by_a_third() -> None:
    question = asked('title = "Seven"\nread = "each-beats-next"\ndice = "7 of 6"\nbeats = "any-two"\n')
    assert len(question.beats) == 21


def test_orders_and_a_choice_whose_hopeless_sets_are_dropped() -> None:
    question = asked('title = "Ferries"\nread = "every-order"\ndice = "3 of 4 6 9"\nfair = "places"\n')
    assert (question.read, question.fair, question.choice) == (ORDERS, "places", "3 of 4 6 9")
    assert [one.faces for one in question.dropped] == [(4, 4, 4)]
    assert question.dropped[0].reason == "64 outcomes cannot be shared equally among three dice"
    assert len(question.sets) == 9
    assert {die.rules.highest for die in question.sets[0]} == {14}


FAULTS = [
    (TUGS, 'like = "2d6"', "like", "a distribution that is wanted"),
    (TUGS, "ways = { 1 = 1 }", "ways", "a distribution that is wanted"),
    (TUGS, 'accept = "nearest"', "accept", '"nearest" beside read = "each-beats-next"'),
    (TUGS, 'also = [{ rule = "symmetric" }]', "also", "further rules"),
    (TUGS, 'fair = "first"', "fair", 'a key that goes with read = "every-order"'),
    (TUGS, "reroll = [1]", "reroll", "labels that are rolled again"),
    (TUGS, "keep = 2", "keep", 'a key that goes with read = "total-of-highest" or "total-of-lowest"'),
    (TUGS, "modulo = 4", "modulo", 'a key that goes with read = "total-modulo"'),
    (TUGS, 'chance_at_least = "0.6"', "chance_at_least", '"0.6"'),
    (TUGS, 'chance_at_least = "1/0"', "chance_at_least", '"1/0"'),
    (TUGS, 'chance_at_least = "4/3"', "chance_at_least", '"4/3"'),
    (TUGS, 'ties = "win"', "ties", '"win"'),
    (TUGS, 'beats = "some"', "beats", '"some"'),
    (TUGS, 'beats = "any-two"', "beats", '"any-two" for 3 dice'),
    (TUGS, "beats = [[1, 1]]", "beats[1]", "a die that is to beat itself"),
    (TUGS, "beats = [[1, 2], [2, 4]]", "beats[2]", "[2, 4] for 3 dice"),
    (TUGS, "beats = [[1, 2], [1, 2]]", "beats[2]", "[1, 2] for the second time"),
    (TUGS, "beats = [[1, 2, 3]]", "beats[1]", "3 items"),
    (TUGS, 'beats = [[1, "2"]]', "beats[1][2]", '"2", a text (a number stands without quotation marks)'),
    (TUGS, "beats = []", "beats", "an empty list"),
    (TUGS, "labels = { lowest = 20, highest = 3 }", "labels.lowest", "lowest 20 and highest 3"),
    (FERRIES, "labels = { highest = 20 }", "labels", "rules for labels"),
    (FERRIES, 'ties = "lose"', "ties", 'a key that goes with read = "each-beats-next"'),
    (FERRIES, 'fair = "second"', "fair", '"second"'),
    ("", 'title = "T"\nread = "every-order"\ndice = [6]', "dice", '1 die beside read = "every-order"'),
    ("", 'title = "T"\nread = "every-order"\ndice = "1 to 2 of 6"', "dice",
     'sets of 1 die beside read = "every-order"'),
    ("", 'title = "T"\nread = "every-order"\ndice = "7 of 6"', "dice", 'sets of 7 dice beside read = "every-order"'),
    ("", 'title = "T"\nread = "every-order"\ndice = [6, { exactly = [1, 2] }]', "dice[2].exactly", "rules for labels"),
    ("", 'read = "each-beats-next"\ndice = [6, 6]', "title", "nothing: the key is missing"),
    ("", 'title = "T"\nread = "each-beats-next"', "dice", "nothing: the key is missing"),
    ("", 'title = "T"\nread = "each-beats-next"\ndice = "2 to 3 of 6"\nbeats = [[1, 2]]', "beats",
     "a pattern for sets of different sizes"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("brief", "line", "key", "found"), FAULTS, ids=[f"{f[2]}-{n}" for n, f in enumerate(FAULTS)]
)
def test_one_fault(brief: str, line: str, key: str, found: str) -> None:
    with pytest.raises(BriefRefused) as refused:
        parse(f"{brief}{line}\n")
    assert [(fault.key, fault.found) for fault in refused.value.faults] == [(key, found)]
    assert all(fault.accepted for fault in refused.value.faults)


def test_faults_inside_a_list_of_pairs_are_all_told() -> None:
    with pytest.raises(BriefRefused) as refused:
        parse(TUGS + 'beats = [[1], 3, [1, 2], ["a", 2]]\n')
    assert [fault.key for fault in refused.value.faults] == ["beats[1]", "beats[2]", "beats[4][1]"]
