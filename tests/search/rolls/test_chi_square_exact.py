"""Chi-square, exact and simulated p, the largest deviation: against plain enumeration and against one another."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from math import comb, factorial, prod

import numpy as np
import pytest
from facewright.search.rolls.chi_square import BY_SIMULATION, DISTRIBUTION, EXACT, alike, chi_square, pearson
from facewright.search.rolls.deviation import largest, ranges
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest, chi2_contingency


def compositions(rolls: int, cells: int) -> Iterator[tuple[int, ...]]:
    """Every way to spread rolls over cells."""
    if cells == 1:
        yield (rolls,)
        return
    for first in range(rolls + 1):
        for rest in compositions(rolls - first, cells - 1):
            yield (first, *rest)


def enumerated(counts: tuple[int, ...], ways: tuple[int, ...]) -> float:
    """The chance of counts at least as far off, by adding up all of them."""
    from fractions import Fraction

    rolls, outcomes = sum(counts), sum(ways)
    expected = [Fraction(rolls * way, outcomes) for way in ways]
    found = pearson(counts, expected)
    return float(
        sum(
            Fraction(factorial(rolls), prod(map(factorial, other)))
            * prod(Fraction(way, outcomes) ** n for way, n in zip(ways, other, strict=True))
            for other in compositions(rolls, len(counts))
            if pearson(other, expected) >= found
        )
    )


@given(st.lists(st.tuples(st.integers(0, 4), st.integers(1, 4)), min_size=2, max_size=4))
def test_exact_p_is_the_sum_over_all_counts(cells: list[tuple[int, int]]) -> None:
    counts, ways = zip(*cells, strict=True)
    if not sum(counts):
        return
    found = chi_square(counts, ways)
    if found.p_is == EXACT:
        assert found.p == pytest.approx(enumerated(counts, ways), abs=1e-9)


def test_where_p_comes_from() -> None:
    assert chi_square([3, 1, 2], [1, 1, 1]).p_is == EXACT
    assert chi_square([30, 10, 20], [1, 1, 1]).p_is == DISTRIBUTION
    many = chi_square([3] * 120, [1] * 120)
    assert (many.p_is, many.p) == (BY_SIMULATION, 1.0)
    near = chi_square([40] * 5 + [4] + [40] * 5, [10] * 5 + [1] + [10] * 5)
    assert near.p_is == BY_SIMULATION
    assert near.p > 0.99


def test_simulation_agrees_with_enumeration() -> None:
    from facewright.search.rolls.chi_square import _simulated

    counts, ways = (9, 3, 2, 1), (1, 1, 1, 1)
    assert _simulated(counts, ways, 1) == pytest.approx(enumerated(counts, ways), abs=0.006)


def test_rows_alike_against_a_general_library() -> None:
    table = [[30, 41, 29], [25, 50, 60], [33, 35, 44]]
    found = alike([*table, [0, 0, 0]])
    statistic, p, degrees, _ = chi2_contingency(table)
    assert found is not None
    assert (found.statistic, found.p, found.degrees) == pytest.approx((statistic, p, degrees))
    assert alike([[3, 4]]) is None
    small = alike([[3, 0, 1], [0, 4, 1]])
    assert small is not None
    # every table with these row and column sums, in proportion to its arrangements, as likely as it is
    assert small.p_is == BY_SIMULATION
    assert small.p == pytest.approx(with_these_sums([3, 0, 1], [0, 4, 1]), abs=0.004)


def with_these_sums(one: list[int], other: list[int]) -> float:
    """The chance of a statistic as great as this, among all tables of two rows with these sums."""
    columns = [a + b for a, b in zip(one, other, strict=True)]
    rows, total = (sum(one), sum(other)), sum(columns)

    def statistic(first: tuple[int, ...]) -> float:
        cells = zip(first, columns, strict=True)
        return sum(
            (seen - n * row / total) ** 2 / (n * row / total)
            for a, n in cells
            for seen, row in ((a, rows[0]), (n - a, rows[1]))
        )

    found = {
        first: prod(comb(n, a) for n, a in zip(columns, first, strict=True))
        for first in product(*(range(n + 1) for n in columns))
        if sum(first) == rows[0]
    }
    limit = statistic(tuple(one)) - 1e-9
    return sum(ways for first, ways in found.items() if statistic(first) >= limit) / sum(found.values())


def test_the_largest_deviation_is_the_exact_binomial_one_times_the_cells() -> None:
    counts = [12, 3, 5, 4, 6, 6]
    found = largest(counts, [1] * 6)
    below = binomtest(12, 36, 1 / 6, "greater").pvalue
    assert found.place == 0
    assert found.p == pytest.approx(6 * 2 * below)
    assert largest([6] * 6, [1] * 6).p == 1.0


@pytest.mark.parametrize("ways", [[1] * 6, [1, 2, 3, 4, 5, 6, 5, 4, 3, 2, 1]])
def test_false_alarms_of_every_p_keep_to_the_level(ways: list[int]) -> None:
    draws = np.random.default_rng(7)
    chances = np.array(ways) / sum(ways)
    counts = draws.multinomial(60, chances, size=400).tolist()
    chi = np.mean([chi_square(one, ways).p <= 0.05 for one in counts])
    most = np.mean([largest(one, ways).p <= 0.05 for one in counts])
    inside = []
    low, high = ranges(60, ways, 0.05)
    for one in counts:
        inside.append(bool(((one >= low) & (one <= high)).all()))
    # 400 logs: three standard errors are 3.3 %
    assert chi < 0.083
    assert most < 0.083
    assert np.mean(inside) > 0.917
