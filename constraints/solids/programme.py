"""Small linear programmes: the simplex method on the dual, without loading a solver that is larger than the question.

Least g·x subject to A·x ≤ b, x free, is as much as the most −b·y with Aᵀ·y = −g, y ≥ 0. A basis of the dual is a set of
rows of A that fix a corner x; it is optimal where x keeps all other rows (G. B. Dantzig, Linear Programming and
Extensions, 1963, chapters 5 and 6, from memory). Ties are broken by the least number once nothing improves, so that no
round is run twice (R. G. Bland, New finite pivoting rules for the simplex method, 1977, from memory).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

TINY = 1e-10
"""Numbers of a tableau with rows of unit length below this are rounding."""

REFRESHED = 8
"""How often a tableau is worked out anew, where rounding made it wrong; once is usual."""

KEPT = 1e-9
"""A corner keeps a row that it oversteps by no more than this."""


def minimum(goal: Floats, rows: Floats, limits: Floats) -> Floats | None:
    """The point at which a linear goal is least.

    Params:
        goal: shape (n,).
        rows, limits: the conditions rows · x ≤ limits, shapes (m, n) and (m,); together they bound the goal.
    Returns: a corner of what they leave, shape (n,); None where they leave nothing, or too little to be found.
    Raises: ArithmeticError where the goal is not bounded.

    Example:
        >>> square = np.array([[1.0, 0], [-1, 0], [0, 1], [0, -1]])
        >>> minimum(np.array([-1.0, -2.0]), square, np.array([3.0, 0, 4, 0])).tolist()
        [3.0, 4.0]
    """
    lengths = np.sqrt((rows**2).sum(axis=1))
    some = lengths > TINY
    if (limits[~some] < -KEPT).any():
        return None
    rows, limits = rows[some] / lengths[some, None], limits[some] / lengths[some]
    first, basis = _start(goal, rows)
    tableau, many = first.copy(), len(rows)
    artificial = np.concatenate([np.zeros(many), np.ones(len(goal))])
    _pivot(tableau, basis, artificial, many + len(goal))
    if artificial[basis] @ tableau[:, -1] > KEPT:
        raise ArithmeticError("a linear programme without a bound")
    _drive_out(tableau, basis, many)
    costs = np.concatenate([limits, np.zeros(len(goal))])
    for _ in range(REFRESHED):
        if not _pivot(tableau, basis, costs, many):
            return None
        # the same basis from the beginning: rounding may have built up
        tableau = _solved(first[:, basis], first)
        corner = _solved(rows[basis], limits[basis])
        if (rows @ corner <= limits + KEPT).all() and (tableau[:, -1] >= -KEPT).all():
            return corner
        _mend(tableau, basis, costs, many)
    return None


def _solved(matrix: Floats, right: Floats) -> Floats:
    return np.asarray(np.linalg.solve(matrix, right), dtype=np.float64)


def _start(goal: Floats, rows: Floats) -> tuple[Floats, NDArray[np.int64]]:
    """The tableau of the dual with an artificial variable for each of its equations, and those as the basis."""
    sign = np.where(goal > 0, -1.0, 1.0)
    many, n = rows.shape
    tableau = np.concatenate([rows.T * sign[:, None], np.eye(n), (-goal * sign)[:, None]], axis=1)
    return tableau, np.arange(many, many + n)


def _pivot(tableau: Floats, basis: NDArray[np.int64], costs: Floats, columns: int) -> bool:
    """Pivots to the least cost among the first columns; False where the cost falls without end."""
    stalled, before = 0, np.inf
    while True:
        reduced = costs[:columns] - costs[basis] @ tableau[:, :columns]
        falling = np.flatnonzero(reduced < -TINY)
        if not len(falling):
            return True
        careful = stalled > len(basis)
        enters = int(falling[0] if careful else falling[reduced[falling].argmin()])
        column = tableau[:, enters]
        rising = np.flatnonzero(column > TINY)
        if not len(rising):
            return False
        ratios = tableau[rising, -1] / column[rising]
        tied = rising[ratios <= ratios.min() + TINY]
        leaves = int(tied[basis[tied].argmin()] if careful else tied[column[tied].argmax()])
        _exchange(tableau, basis, leaves, enters)
        cost = float(costs[basis] @ tableau[:, -1])
        stalled, before = (0, cost) if cost < before - TINY else (stalled + 1, before)


def _mend(tableau: Floats, basis: NDArray[np.int64], costs: Floats, columns: int) -> None:
    """Makes a solution of the dual that rounding let fall below 0 feasible again, by steps of the dual method."""
    for _ in range(len(basis)):
        leaves = int(tableau[:, -1].argmin())
        row = tableau[leaves, :columns]
        falling = np.flatnonzero(row < -TINY)
        if tableau[leaves, -1] >= 0 or not len(falling):
            return
        reduced = costs[falling] - costs[basis] @ tableau[:, falling]
        _exchange(tableau, basis, leaves, int(falling[(np.maximum(reduced, 0) / -row[falling]).argmin()]))


def _drive_out(tableau: Floats, basis: NDArray[np.int64], many: int) -> None:
    """Exchanges the artificial variables that are left in the basis, at 0, for others."""
    for place in np.flatnonzero(basis >= many).tolist():
        _exchange(tableau, basis, place, int(np.abs(tableau[place, :many]).argmax()))


def _exchange(tableau: Floats, basis: NDArray[np.int64], leaves: int, enters: int) -> None:
    tableau[leaves] /= tableau[leaves, enters]
    factors = tableau[:, enters].copy()
    factors[leaves] = 0.0
    tableau -= factors[:, None] * tableau[leaves]
    basis[leaves] = enters
