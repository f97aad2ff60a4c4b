"""The small linear programmes against scipy's solver, by hand, and where nothing is left."""

from __future__ import annotations

import numpy as np
import pytest
from facewright.constraints.solids.programme import minimum


def test_a_corner_by_hand() -> None:
    """Most of x + y with x + 2y ≤ 4, 3x + y ≤ 6, x, y ≥ 0: the lines cross at (8/5, 6/5)."""
    rows = np.array([[1.0, 2], [3, 1], [-1, 0], [0, -1]])
    assert minimum(np.array([-1.0, -1]), rows, np.array([4.0, 6, 0, 0])) == pytest.approx([8 / 5, 6 / 5])


def test_conditions_that_leave_nothing_or_no_bound() -> None:
    rows = np.array([[1.0, 0], [-1, 0], [0, 1], [0, -1]])
    assert minimum(np.array([1.0, 1]), rows, np.array([1.0, -2, 1, 1])) is None
    with pytest.raises(ArithmeticError, match="without a bound"):
        minimum(np.array([-1.0, 0]), rows[1:], np.array([0.0, 1, 1]))
    zero = np.concatenate([rows, np.zeros((1, 2))])
    assert minimum(np.array([1.0, 1]), zero, np.array([1.0, 1, 1, 1, -1])) is None
    assert minimum(np.array([1.0, 1]), zero, np.array([1.0, 1, 1, 1, 0])) == pytest.approx([-1, -1])


@pytest.mark.parametrize("seed", range(60))
def test_scipy_finds_no_other_optimum(seed: int) -> None:
    """Random ones, every third with rows that repeat or meet in one corner, some without a solution."""
    from scipy.optimize import linprog

    source = np.random.default_rng(seed)
    n, m = int(source.integers(1, 12)), int(source.integers(0, 40))
    rows = np.concatenate([np.eye(n), -np.eye(n), source.normal(size=(m, n))])
    inside = source.uniform(-0.5, 0.5, n)
    limits = np.concatenate([np.ones(2 * n), rows[2 * n :] @ inside + source.uniform(-0.02, 1, m)])
    if seed % 3 == 0:
        limits[2 * n :] = rows[2 * n :] @ inside
        rows, limits = (
            np.concatenate([rows, rows[: n + m // 2]]),
            np.concatenate([limits, limits[: n + m // 2]]),
        )
    goal = source.normal(size=n)
    found = minimum(goal, rows, limits)
    other = linprog(goal, A_ub=rows, b_ub=limits, bounds=(None, None), method="highs")
    if other.status == 2:
        assert found is None
        return
    assert found is not None and other.status == 0
    assert (rows @ found <= limits + 1e-8).all()
    assert goal @ found == pytest.approx(other.fun, abs=1e-6)
