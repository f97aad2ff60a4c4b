"""Distances from independent and the arithmetic bound, against slow definitions."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import product

import pytest
from facewright.constraints.dependence import arithmetic_bound, distance, information, pair_distances
from hypothesis import given
from hypothesis import strategies as st


def counts_with_sum(places: int, total: int) -> Iterator[tuple[int, ...]]:
    if places == 1:
        yield (total,)
        return
    for first in range(total + 1):
        for rest in counts_with_sum(places - 1, total - first):
            yield (first, *rest)


@given(
    st.lists(st.lists(st.integers(1, 3), min_size=2, max_size=2).map(tuple), min_size=2, max_size=2),
    st.integers(1, 9),
)
def test_no_counts_are_nearer_than_the_bound_and_some_reach_it(
    weights: list[tuple[int, int]], rests: int
) -> None:
    combinations = list(product(range(2), repeat=2))
    least = min(
        distance(dict(zip(combinations, counts, strict=True)), weights, rests)
        for counts in counts_with_sum(4, rests)
    )
    assert arithmetic_bound(weights, rests) == least


@pytest.mark.parametrize("rests", [6, 12, 24, 30, 60])
@pytest.mark.parametrize("sizes", [(2, 3), (2, 4), (3, 4), (4, 5)])
def test_the_bound_of_equally_likely_combinations_is_its_formula(rests: int, sizes: tuple[int, int]) -> None:
    together = sizes[0] * sizes[1]
    left = rests % together
    weights = [(1,) * size for size in sizes]
    assert arithmetic_bound(weights, rests) == Fraction(left * (together - left), rests * together)


def test_distances_of_a_table_by_hand() -> None:
    # a two-way and a four-way answer on twelve rests: one count of two instead of one and a half in each column
    joint = {(0, 0): 2, (1, 0): 1, (0, 1): 1, (1, 1): 2, (0, 2): 2, (1, 2): 1, (0, 3): 1, (1, 3): 2}
    weights = [(1, 1), (1, 1, 1, 1)]
    assert distance(joint, weights, 12) == Fraction(1, 6)
    assert pair_distances(joint, weights, 12) == {(0, 1): Fraction(1, 6)}
    # source: own computation, by a separate program
    assert information(joint, weights, 12) == pytest.approx(0.081704, abs=5e-7)


def test_independent_readouts_tell_nothing() -> None:
    joint = {(a, b): 2 for a in range(2) for b in range(3)}
    assert information(joint, [(1, 1), (1, 1, 1)], 12) == 0
    assert distance(joint, [(1, 1), (1, 1, 1)], 12) == 0
