"""Questions of contests: canonical designs, identity, and back from plain values."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from itertools import permutations

import pytest
from facewright.constraints.contest import BEATS, ORDERS, Contest
from facewright.constraints.duels import symmetries, two_beaten_by_one
from facewright.constraints.errors import UsageError
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question_form import any_from_form, any_to_form

CUBE = Die(6, "cube", 1, LabelRules(1, 9))
COIN = Die(2, "coin", 1, LabelRules(1, 9))
A, B, C = (1, 1, 4, 4, 4, 7), (3, 3, 3, 3, 3, 6), (2, 2, 2, 5, 5, 5)


def test_rotations_make_no_new_design_of_a_ring_and_turning_round_does() -> None:
    question = Contest(BEATS, ((CUBE,) * 3,))
    ids = {order: question.design((CUBE,) * 3, order).id for order in permutations((A, B, C))}
    assert ids[A, B, C] == ids[B, C, A] == ids[C, A, B]
    assert ids[C, B, A] == ids[B, A, C] == ids[A, C, B] != ids[A, B, C]
    assert [die.labels for die in question.design((CUBE,) * 3, (B, C, A)).dice] == [A, B, C]


def test_unlike_dice_stay_where_they_are() -> None:
    dice = (CUBE, COIN, CUBE)
    design = Contest(BEATS, (dice,)).design(dice, (B, (1, 2), A))
    assert [die.labels for die in design.dice] == [B, (1, 2), A]


def test_the_exchanges_of_a_pattern_make_no_new_design() -> None:
    arcs = two_beaten_by_one(7)
    assert arcs is not None
    dice = (COIN,) * 7
    question = Contest(BEATS, (dice,), beats=arcs)
    labels = [(at, at + 1) for at in range(1, 8)]
    turns = symmetries(dice, arcs)
    assert len(turns) == 21
    assert len({question.design(dice, [labels[at] for at in turn]).id for turn in turns}) == 1


def test_in_orders_any_exchange_makes_no_new_design() -> None:
    dice = (COIN, COIN)
    question = Contest(ORDERS, (dice,))
    assert question.design(dice, ((2, 3), (1, 4))) == question.design(dice, ((1, 4), (2, 3)))


def test_back_from_plain_values() -> None:
    asked = Contest(
        BEATS,
        ((CUBE,) * 3, (CUBE, COIN, CUBE)),
        ties="none",
        chance_at_least=Fraction(5, 9),
        strictly=True,
        beats=((0, 1), (1, 2)),
        title="Tugs",
        choice="3 of 2 6",
    )
    form = json.loads(json.dumps(any_to_form(asked)))
    back = any_from_form(form)
    assert isinstance(back, Contest)
    assert back == asked
    assert (back.title, back.choice, back.fingerprint()) == (asked.title, asked.choice, asked.fingerprint())


def test_what_tells_questions_apart() -> None:
    asked = Contest(BEATS, ((CUBE,) * 3,))
    others = [
        replace(asked, read=ORDERS),
        replace(asked, ties="none"),
        replace(asked, chance_at_least=Fraction(1, 2)),
        replace(asked, chance_at_least=Fraction(1, 2), strictly=True),
        replace(asked, beats=((0, 1),)),
        replace(asked, fair="first"),
        replace(asked, sets=((CUBE,) * 4,)),
    ]
    prints = [one.fingerprint() for one in [asked, *others]]
    assert len(set(prints)) == len(prints)
    assert replace(asked, title="other").fingerprint() == asked.fingerprint()


@pytest.mark.parametrize("part", ["sets", "ties", "beats", "stop"])
def test_a_form_that_lacks_a_part_is_refused(part: str) -> None:
    form = any_to_form(Contest(BEATS, ((CUBE,) * 3,)))
    del form[part]
    with pytest.raises(UsageError, match="stored question"):
        any_from_form(form)
