"""Dice that beat one another and fair orders against values found by others, or once by a separate program."""

from __future__ import annotations

import csv
import json
from fractions import Fraction
from itertools import combinations_with_replacement, permutations
from math import factorial, prod
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.contest import BEATS, ORDERS, Contest
from facewright.constraints.duels import (
    beaten_pairs,
    chance,
    least_chance,
    ring,
    symmetries,
    two_beaten_by_one,
)
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.orders import EVERY, is_fair, order_ways
from facewright.search.answer import Answering
from facewright.search.engines import CONTEST_ENGINES
from facewright.search.engines.duels.graph import Ring, winning
from facewright.search.engines.orders.mirror import fair_words
from facewright.search.progress import silent
from facewright.search.stop import never

HERE = Path(__file__).resolve().parent


def rows(*about: str) -> list[Any]:
    """The rows about something: its case and its value."""
    with (HERE / "contests.csv").open(encoding="utf-8", newline="") as file:
        found = [row for row in csv.DictReader(file) if row["about"] in about]
    return [pytest.param(row["case"], row["value"], id=f"{row['about']} {row['case']}") for row in found]


def known(name: str) -> Any:
    """A design, its labels a tuple a die."""
    entry = json.loads((HERE / "contest_designs.json").read_text(encoding="utf-8"))[name]
    if "word" in entry:
        return ["ABCD".index(letter) for letter in entry["word"].replace(" ", "")]
    return [tuple(map(int, die.split())) for die in entry["dice"]]


def answered(question: Contest, limit: int) -> tuple[Answering, list[list[tuple[int, ...]]]]:
    answering = CONTEST_ENGINES[question.read].answer(question, limit, never, 0, silent)
    designs = [[die.labels for die in design.dice] for design in answering]
    return answering, designs


def duels(case: str) -> Contest:
    told = dict(part.split("=") for part in case.split())
    repeats = int(told["repeats"]) if "repeats" in told else None
    faces = int(told["faces"])
    die = Die(faces, f"solid {faces}", 1, LabelRules(1, int(told["highest"]), repeats))
    beyond = Fraction(told["beyond"]) if "beyond" in told else None
    return Contest(
        BEATS,
        ((die,) * int(told["dice"]),),
        ties=told.get("ties", "lose"),
        chance_at_least=beyond,
        strictly=beyond is not None,
    )


def orders(case: str) -> Contest:
    faces = [int(count) for count in case.split()]
    rules = LabelRules(1, sum(faces))
    return Contest(ORDERS, (tuple(Die(count, f"solid {count}", 1, rules) for count in faces),))


@pytest.mark.parametrize(("case", "value"), rows("rings"))
def test_rings_counted_up_to_rotation(case: str, value: str) -> None:
    answering, _ = answered(duels(case), 0)
    closing = answering.closing
    verdict = "complete" if int(value) else "none"
    assert (closing.verdict, closing.count, closing.count_is) == (verdict, int(value), "all")


@pytest.mark.parametrize(("case", "value"), rows("best"))
def test_the_greatest_least_chance(case: str, value: str) -> None:
    answering, [dice] = answered(duels(case), 1)
    assert answering.closing.verdict == "best"
    least = least_chance(dice, ring(len(dice)))
    assert least == Fraction(value)
    # S. Trybula (1961, 1965), Z. Usiskin (1964), from memory: below (√5 − 1)/2 for three, 2/3 at most for four
    assert least <= Fraction(2, 3) if len(dice) == 4 else least * least + least < 1


@pytest.mark.parametrize(("case", "value"), rows("level"))
def test_two_dice_that_win_equally_often(case: str, value: str) -> None:
    faces = int(case.removeprefix("faces="))
    answering, _ = answered(orders(f"{faces} {faces}"), 0)
    assert answering.closing.count == int(value)
    die = Die(faces, "solid", 1, LabelRules(1, 2 * faces, 1))
    level = Contest(BEATS, ((die, die),), ties="none", chance_at_least=Fraction(1, 2))
    assert answered(level, 0)[0].closing.count == int(value)


def proper(faces: int) -> list[tuple[int, ...]]:
    """The dice whose labels lie in 1..faces and add up to what those of the ordinary die do."""
    total = faces * (faces + 1) // 2
    return [one for one in combinations_with_replacement(range(1, faces + 1), faces) if sum(one) == total]


@pytest.mark.parametrize(("case", "value"), rows("proper"))
def test_proper_dice(case: str, value: str) -> None:
    assert len(proper(int(case.removeprefix("faces=")))) == int(value)


@pytest.mark.parametrize(("case", "value"), rows("proper rings"))
def test_rings_of_three_proper_dice(case: str, value: str) -> None:
    # proper dice may tie: one beats another where it wins more often than it loses
    dice = proper(int(case.removeprefix("faces=")))
    beats = _more_often(dice)
    # each ring is walked from each of its dice
    assert Ring([dice] * 3, [beats] * 3).count() == 3 * int(value)


def _more_often(dice: list[tuple[int, ...]]) -> Any:
    """Whether a die wins against another more often than it loses, from tables of wins for every need."""
    import numpy as np

    won = sum(winning(dice, dice, need, False).astype(int) for need in range(1, len(dice[0]) ** 2 + 1))
    return np.asarray(won > np.asarray(won).T)


@pytest.mark.parametrize(("case", "value"), rows("orders"))
def test_fair_orders(case: str, value: str) -> None:
    answering, designs = answered(orders(case), 1000)
    assert answering.closing.verdict == ("complete" if int(value) else "none")
    assert len(designs) == answering.closing.count == int(value)


@pytest.mark.parametrize(("case", "value"), rows("spread"))
def test_the_least_spread_of_orders(case: str, value: str) -> None:
    least = least_spread([int(count) for count in case.split()])
    assert least == int(value)
    verdict = answered(orders(case), 0)[0].closing.verdict
    assert verdict == ("none" if least else "complete")


def least_spread(faces: list[int]) -> int:
    """The least difference between the most common and the rarest order, over all words; without the engine.

    A word is grown letter by letter, with the ways of every order of some of the dice among its letters so far.
    """
    import numpy as np

    dice = len(faces)
    orders_of = [order for size in range(dice + 1) for order in permutations(range(dice), size)]
    at = {order: place for place, order in enumerate(orders_of)}
    adds = [
        (
            np.array([at[order] for order in orders_of if die not in order]),
            np.array([at[(*order, die)] for order in orders_of if die not in order]),
        )
        for die in range(dice)
    ]
    whole = len(orders_of) - factorial(dice)
    least = prod(faces)

    def grow(left: list[int], ways: Any) -> None:
        nonlocal least
        if not any(left):
            least = min(least, int(ways[whole:].max() - ways[whole:].min()))
            return
        for die in range(dice):
            # the first letter of equal dice comes in their order
            early = left[die] == faces[die] and any(
                left[other] == faces[other] == faces[die] for other in range(die)
            )
            if left[die] and not early:
                without, with_it = adds[die]
                more = ways.copy()
                more[with_it] += ways[without]
                left[die] -= 1
                grow(left, more)
                left[die] += 1

    start = np.zeros(len(orders_of), np.int64)
    start[0] = 1
    grow(list(faces), start)
    return least


@pytest.mark.parametrize("faces", [1, 2, 3, 4, 5, 7, 8, 9, 10, 11])
def test_four_dice_of_fewer_than_twelve_faces_but_six_are_ruled_out_by_division(faces: int) -> None:
    # OEIS A362633, comment (seen): the least sizes of two, three, four dice are 2, 6, 12; six faces are searched above
    answering, designs = answered(orders(" ".join([str(faces)] * 4)), 1)
    assert (answering.closing.verdict, designs) == ("none", [])
    assert answering.closing.proof == ("By a division of whole numbers alone.",)


@pytest.mark.parametrize(("dice", "least"), [(2, 2), (3, 6)])
def test_the_least_size_of_fair_dice(dice: int, least: int) -> None:
    # OEIS A362633, comment (seen)
    verdicts = [
        answered(orders(" ".join([str(n)] * dice)), 0)[0].closing.verdict for n in range(1, least + 1)
    ]
    assert verdicts == ["none"] * (least - 1) + ["complete"]


def test_four_dice_with_two_thirds_each() -> None:
    dice = known("four six-face dice, 2/3 each")
    assert {chance(dice[one], dice[other]) for one, other in ring(4)} == {Fraction(2, 3)}


def test_seven_dice_of_which_any_two_are_beaten() -> None:
    dice = known("seven six-face dice, any two beaten by a third, 20 to 16")
    arcs = tuple(
        (one, other)
        for one in range(7)
        for other in range(7)
        if chance(dice[one], dice[other]) > Fraction(1, 2)
    )
    assert {chance(dice[one], dice[other]) for one, other in arcs} == {Fraction(20, 36)}
    assert beaten_pairs(7, arcs)
    assert len(symmetries("a" * 7, arcs)) == len(symmetries("a" * 7, two_beaten_by_one(7) or ())) == 21


def test_the_smallest_ring_of_proper_dice() -> None:
    dice = known("the smallest ring of proper dice")
    assert set(dice) <= set(proper(4))
    turned = [
        chance(a, b) > chance(b, a) for a, b in ((dice[0], dice[1]), (dice[1], dice[2]), (dice[2], dice[0]))
    ]
    assert len(set(turned)) == 1


def test_some_die_of_three_needs_six_faces() -> None:
    # own computation by a separate program: fewest faces in all 12, and only with 2 + 4 + 6; one has six or more
    for faces in combinations_with_replacement(range(1, 6), 3):
        assert answered(orders(" ".join(map(str, faces))), 0)[0].closing.verdict == "none"
    small = [one for one in combinations_with_replacement(range(1, 11), 3) if sum(one) <= 12 and one[2] > 5]
    fair = [one for one in small if answered(orders(" ".join(map(str, one))), 0)[0].closing.count]
    assert fair == [(2, 4, 6)]


def test_four_twelve_face_dice() -> None:
    # own construction: sixteen of six blocks and the same backwards
    listed = known("four twelve-face dice, every order")
    assert is_fair(order_ways(listed, 4), 4, EVERY)
    found = []
    for word in fair_words("aaaa", (12,) * 4, 0):
        blocks = [set(word[at : at + 4]) for at in range(0, 48, 4)]
        if any(len(block) < 4 for block in blocks):
            break
        found.append(word)
    assert len(found) == len(set(found)) == 16
    assert tuple(listed) in found


def test_six_face_dice_have_no_such_blocks() -> None:
    # own computation: 3 + 3 blocks allow nothing
    assert not [word for word in fair_words("aaaa", (6,) * 4, 0) if len(set(word[:4])) == 4]


def test_the_eleven_sets_are_six_up_to_reversing_the_labels() -> None:
    # own computation by a separate program
    _, designs = answered(orders("6 6 6"), 100)
    pairs = {
        frozenset({_sorted(dice), _sorted([tuple(19 - x for x in die) for die in dice])}) for dice in designs
    }
    assert len(pairs) == 6


def _sorted(dice: Any) -> tuple[tuple[int, ...], ...]:
    return tuple(sorted(tuple(sorted(die)) for die in dice))
