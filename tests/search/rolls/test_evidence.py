"""The e-value: its formula, row by row and at once; false alarms however often one looks."""

from __future__ import annotations

from math import lgamma, log

import numpy as np
import pytest
from facewright.search.rolls.evidence import CONCENTRATIONS, Evidence, log_e_values
from facewright.search.rolls.looking import rolls_looked
from scipy.stats import chi2

from tests.looks import looked_at


def by_definition(rolls: list[int], ways: list[int]) -> float:
    """The e-value by its definition, roll by roll."""
    outcomes, cells = sum(ways), len(ways)
    values = []
    for concentration in CONCENTRATIONS:
        whole, counts, value = concentration * cells, [0] * cells, 1.0
        for number, cell in enumerate(rolls):
            bet = (whole * ways[cell] / outcomes + counts[cell]) / (whole + number)
            value *= bet / (ways[cell] / outcomes)
            counts[cell] += 1
        values.append(value)
    return sum(values) / len(values)


@pytest.mark.parametrize("ways", [[1, 1, 1, 1, 1, 1], [1, 2, 3, 2, 1]])
def test_the_value_is_the_product_of_the_bets(ways: list[int]) -> None:
    rolls = np.random.default_rng(3).integers(0, len(ways), 200)
    by_rows = Evidence(ways)
    highest = 0.0
    for start in range(0, 200, 37):
        part = rolls[start : start + 37]
        by_rows.add(part, np.ones(len(part), dtype=np.int64))
    for number in range(1, 201):
        highest = max(highest, by_definition(rolls[:number].tolist(), ways))
    assert by_rows.log_value == pytest.approx(log(by_definition(rolls.tolist(), ways)))
    assert by_rows.log_highest == pytest.approx(max(0.0, log(highest)), abs=1e-9)
    counts = np.bincount(rolls, minlength=len(ways))
    assert log_e_values(counts[None, :], ways)[0] == pytest.approx(by_rows.log_value)
    at_once = Evidence(ways)
    at_once.add(np.arange(len(ways)), counts)
    assert at_once.log_value == pytest.approx(by_rows.log_value)
    assert by_rows.ordered
    assert not at_once.ordered


def test_one_concentration_against_the_closed_form() -> None:
    counts = np.array([[7, 1, 4]])
    c, k, n = CONCENTRATIONS[0], 3, 12
    beta = sum(lgamma(c + x) - lgamma(c) for x in (7, 1, 4)) - lgamma(k * c + n) + lgamma(k * c)
    least = (beta + n * log(k)) - log(len(CONCENTRATIONS))
    assert log_e_values(counts, [1, 1, 1])[0] > least


def test_sorted_rows_have_lost_their_order() -> None:
    found = Evidence([1, 1, 1])
    found.add(np.repeat([0, 1, 2], 10), np.ones(30, dtype=np.int64))
    assert not found.ordered
    short = Evidence([1, 1, 1])
    short.add(np.array([0, 1, 2]), np.ones(3, dtype=np.int64))
    assert short.ordered


def test_a_path_is_thinned_and_ends_at_the_end() -> None:
    found = Evidence([1, 1])
    draws = np.random.default_rng(1)
    for _ in range(5):
        found.add(draws.integers(0, 2, 3000), np.ones(3000, dtype=np.int64))
    path = found.path
    assert len(path) <= 1025
    assert path[0] == (0, 0.0)
    assert path[-1] == (15_000, found.log_value)
    assert [at for at, _ in path] == sorted({at for at, _ in path})


def test_false_alarms_however_often_one_looks() -> None:
    """At most 5 % by Ville's inequality; peeking at chi-square every 100 rolls up to 5,000 gives about a third."""
    alarms, peeked = looked_at(faces=6, runs=300, rolls=5000, every=100, seed=11)
    # three standard errors of 300 logs beside the level
    assert alarms <= 0.05 + 3 * 0.0126
    assert 0.2 < peeked < 0.45
    assert chi2.isf(0.05, 5) == pytest.approx(11.07, abs=0.001)


def test_planning_a_look_at_every_roll() -> None:
    moves = [1 / 6, *[-1 / 30] * 5]
    found = rolls_looked([1] * 6, moves, 0.5, 0.05, 0.8, 257, 0)
    assert found is not None
    assert found.half is not None
    assert found.wanted is not None
    assert 150 < found.half < found.wanted < 1000
    assert rolls_looked([1] * 6, moves, 6.0, 0.05, 0.8, 257, 0) is None
