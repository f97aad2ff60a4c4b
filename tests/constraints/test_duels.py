"""Duels by plain counting; patterns of who beats whom; two of each."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations, product

import pytest
from facewright.constraints.duels import (
    beaten_pairs,
    chance,
    doubled_chance,
    least_chance,
    ring,
    symmetries,
    ties,
    two_beaten_by_one,
    wins,
)
from hypothesis import given
from hypothesis import strategies as st

DIE = st.lists(st.integers(-3, 6), min_size=1, max_size=6).map(lambda labels: tuple(sorted(labels)))


@given(DIE, DIE)
def test_wins_and_ties_by_plain_counting(one: tuple[int, ...], other: tuple[int, ...]) -> None:
    pairs = list(product(one, other))
    assert wins(one, other) == sum(a > b for a, b in pairs)
    assert ties(one, other) == sum(a == b for a, b in pairs)
    assert wins(one, other) + ties(one, other) + wins(other, one) == len(pairs)


@given(DIE, DIE)
def test_two_of_each_by_plain_counting(one: tuple[int, ...], other: tuple[int, ...]) -> None:
    outcomes = list(product(one, one, other, other))
    won = sum(a + b > c + d for a, b, c, d in outcomes)
    assert doubled_chance(one, other) == Fraction(won, len(outcomes))


def test_a_ring_that_turns_round_when_doubled() -> None:
    # 4 beats 3 in 5 · 5 outcomes; 3 beats 2 in 5 · 3, 6 all of 6; 2 beats 1 in 3 · 1, 5 all of 3 · 6
    dice = [(1, 4, 4, 4, 4, 4), (3, 3, 3, 3, 3, 6), (2, 2, 2, 5, 5, 5)]
    assert chance(dice[0], dice[1]) == Fraction(25, 36)
    assert chance(dice[1], dice[2]) == Fraction(21, 36)
    assert chance(dice[2], dice[0]) == Fraction(21, 36)
    assert least_chance(dice, ring(3)) == Fraction(7, 12)
    assert doubled_chance(dice[1], dice[2]) < Fraction(1, 2)


def test_the_exchanges_of_a_ring_are_its_rotations() -> None:
    assert symmetries("aaaa", ring(4)) == [(0, 1, 2, 3), (1, 2, 3, 0), (2, 3, 0, 1), (3, 0, 1, 2)]
    assert symmetries("abab", ring(4)) == [(0, 1, 2, 3), (2, 3, 0, 1)]
    assert symmetries("aab", ring(3)) == [(0, 1, 2)]


@given(
    st.integers(2, 5).flatmap(
        lambda dice: st.tuples(
            st.lists(st.sampled_from("ab"), min_size=dice, max_size=dice),
            st.sets(st.tuples(st.integers(0, dice - 1), st.integers(0, dice - 1)), min_size=1),
        )
    )
)
def test_exchanges_are_those_that_keep_dice_and_pattern(
    asked: tuple[list[str], set[tuple[int, int]]],
) -> None:
    dice, pattern = asked
    arcs = sorted(arc for arc in pattern if arc[0] != arc[1])
    kept = [
        turn
        for turn in permutations(range(len(dice)))
        if all(dice[at] == dice[to] for at, to in enumerate(turn))
        and {(turn[one], turn[other]) for one, other in arcs} == set(arcs)
    ]
    assert sorted(symmetries(dice, arcs)) == kept


@pytest.mark.parametrize("dice", range(2, 31))
def test_any_two_are_beaten_by_a_third(dice: int) -> None:
    arcs = two_beaten_by_one(dice)
    if dice < 7:
        assert arcs is None
    if arcs is not None:
        assert beaten_pairs(dice, arcs)
        assert len(set(arcs)) == len(arcs)
        assert not any((other, one) in arcs for one, other in arcs)


def test_the_pattern_of_seven() -> None:
    assert two_beaten_by_one(7) is not None
    assert not beaten_pairs(3, ring(3))
