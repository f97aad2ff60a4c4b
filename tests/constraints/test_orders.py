"""Finishing orders by visiting every outcome; senses of fairness; the division that rules dice out."""

from __future__ import annotations

from itertools import permutations, product
from math import prod

import pytest
from facewright.constraints.orders import (
    EVERY,
    FIRST,
    PLACES,
    among,
    fairness,
    impossible,
    is_fair,
    labels_of,
    order_ways,
    place_ways,
    spread,
    subsets,
    word,
)
from hypothesis import given
from hypothesis import strategies as st

LETTERS = st.integers(2, 4).flatmap(
    lambda dice: (
        st.lists(st.integers(0, dice - 1), min_size=dice, max_size=10)
        .filter(lambda letters: set(letters) == set(range(dice)))
        .map(tuple)
    )
)


def visited(letters: tuple[int, ...]) -> dict[tuple[int, ...], int]:
    """The ways of every order, outcome by outcome."""
    dice = labels_of(letters, max(letters) + 1)
    ways = dict.fromkeys(permutations(range(len(dice))), 0)
    for shown in product(*dice):
        ways[tuple(sorted(range(len(dice)), key=lambda die: -shown[die]))] += 1
    return ways


@given(LETTERS)
def test_a_word_and_its_labels_are_one_thing(letters: tuple[int, ...]) -> None:
    assert word(labels_of(letters, max(letters) + 1)) == letters


@given(LETTERS)
def test_order_ways_by_visiting_every_outcome(letters: tuple[int, ...]) -> None:
    ways = order_ways(letters, max(letters) + 1)
    assert ways == visited(letters)
    assert spread(ways) == max(ways.values()) - min(ways.values())


@given(LETTERS)
def test_places_and_subsets_from_the_orders(letters: tuple[int, ...]) -> None:
    dice = max(letters) + 1
    ways = order_ways(letters, dice)
    table = place_ways(ways, dice)
    assert all(sum(row) == sum(ways.values()) for row in table)
    for some, fair in subsets(ways, dice):
        alone = order_ways([some.index(die) for die in letters if die in some], len(some))
        scale = prod(letters.count(die) for die in range(dice) if die not in some)
        assert among(ways, some) == {order: count * scale for order, count in alone.items()}
        assert fair == fairness(alone, len(some))


def test_senses_of_fairness_from_strict_to_weak() -> None:
    mirrored = order_ways((0, 1, 1, 0), 2)
    assert all(is_fair(mirrored, 2, fair) for fair in (EVERY, PLACES, FIRST))
    never = dict.fromkeys(permutations(range(3)), 0)
    assert fairness(never | {(0, 1, 2): 1, (1, 2, 0): 1, (2, 0, 1): 1}, 3) == PLACES
    assert fairness(never | {(0, 1, 2): 1, (1, 0, 2): 1, (2, 0, 1): 1}, 3) == FIRST
    assert fairness({(0, 1): 2, (1, 0): 1}, 2) is None


@given(LETTERS)
def test_fair_in_every_order_is_fair_in_every_sense_and_subset(letters: tuple[int, ...]) -> None:
    dice = max(letters) + 1
    ways = order_ways(letters, dice)
    if is_fair(ways, dice, EVERY):
        assert is_fair(ways, dice, PLACES)
        assert all(fair == EVERY for _, fair in subsets(ways, dice))
    if is_fair(ways, dice, PLACES):
        assert is_fair(ways, dice, FIRST)


@given(LETTERS)
def test_what_a_division_rules_out_is_never_fair(letters: tuple[int, ...]) -> None:
    dice = max(letters) + 1
    ways = order_ways(letters, dice)
    faces = [letters.count(die) for die in range(dice)]
    for fair in (EVERY, PLACES, FIRST):
        if impossible(faces, fair) is not None:
            assert not is_fair(ways, dice, fair)


@pytest.mark.parametrize(
    ("faces", "fair", "told"),
    [
        ((4, 4, 4), EVERY, "64 outcomes cannot be shared equally among six orders"),
        ((3, 3), EVERY, "9 outcomes cannot be shared equally among two orders"),
        (
            (3, 3, 4),
            EVERY,
            "9 outcomes of the dice with 3 and 3 faces cannot be shared equally among two orders",
        ),
        ((4, 4, 4), FIRST, "64 outcomes cannot be shared equally among three dice"),
        ((4, 4, 4), PLACES, "64 outcomes cannot be shared equally among three dice"),
        ((6, 6, 6), EVERY, None),
        ((2, 5), EVERY, None),
    ],
)
def test_divisions(faces: tuple[int, ...], fair: str, told: str | None) -> None:
    assert impossible(faces, fair) == told
