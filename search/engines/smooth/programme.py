"""The linear programme: the best coefficients for all half-spaces met so far, and more half-spaces where it errs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from facewright.search.engines.smooth.grid import Cut, Grid
from facewright.search.progress import Progress
from facewright.search.stop import Stop

HALF = 0.5
GAP = 2e-4
"""As a share of the value: closer to its bound the search ends."""
MOST_ROUNDS = 200
SLACK = 0.15
"""A half-space that a body keeps with more room than this is dropped; the first ones stay."""
RISE = 1e-3
"""How far above 0 f is held on the meridian from tip to pole, over sinᵐθ, where the greatest |q| is ½."""
FALLS = (1e-3, 1e-2, 1e-1)
"""So far above 0 is held how f falls off from the tips, tried in turn until other rests are ruled out."""
INWARDS = (0.1, 0.25, 0.5, 0.75)
"""Points between the best body so far and the programme's, as shares of the way, that are tried too."""
CUT_INWARDS = (0.1, 0.5)
"""Those at which half-spaces are added."""


@dataclass(frozen=True)
class Solved:
    """Where the programme came to.

    `best` are the coefficients, in the grid's units, of a body whose greatest |q| on the grid is ½, `value` what it
    comes to; `above` is the value of the last programme, whose half-spaces are `cuts` with the multipliers
    `weights`, all ≥ 0. `stopped` says why it ended early, where it did.
    """

    best: np.ndarray
    value: float
    above: float
    cuts: Cut
    weights: np.ndarray
    rounds: int
    stopped: str = ""


def solve(
    grid: Grid, goal: np.ndarray, stop: Stop, report: Progress, fall: float = FALLS[0]
) -> Solved | None:
    """Maximises goal·x over bodies with |q| ≤ ½ on the grid; None where stopped before the first body.

    The cutting-plane method of J. E. Kelley (1960), with points between the best body and the programme's, as
    W. Ben-Ameur and J. Neto (2007) advise; both from memory. Moreover f is held above 0 on the meridian from tip to
    pole, so that the way between rests is known, and with rests around it is made to fall off from the tips, so that no
    other rest arises. That no body need keep, and the proved bound makes no use of it.

    Params:
        goal: what each coefficient adds to the value, shape (harmonics,), in the grid's units.
        stop, report: asked whether to stop, told of the progress.
        fall: one of `FALLS`.
    """
    cuts = grid.first_cuts()
    rows, way = grid.rows(cuts), np.concatenate([grid.way_rows(), grid.fall_rows() * (RISE / fall)])
    first = len(rows)
    best: np.ndarray | None = None
    value = 0.0
    solved: Solved | None = None
    for turn in range(MOST_ROUNDS):
        if asked := stop():
            return None if solved is None else _ended(solved, asked)
        x, weights = _programme(goal, rows, way)
        above = float(goal @ x)
        new: list[Cut] = []
        for share in (1.0, *INWARDS):
            if best is None and share < 1:
                continue
            y = x if best is None or share == 1 else best + share * (x - best)
            bent = grid.bent(y)
            most = float(bent.most.max())
            if best is None or float(goal @ y) * HALF / most > value:
                value, best = float(goal @ y) * HALF / most, y * (HALF / most)
            if share == 1 or share in CUT_INWARDS:
                new.append(grid.cuts_at(bent, HALF * (1 + GAP / 4)))
        assert best is not None
        solved = Solved(best, value, above, cuts, weights, turn + 1)
        gap = 1 - value / above
        report(f"gap {gap:.2%}", turn + 1, 0)
        added = [one for one in new if len(one.sign)]
        if gap <= GAP or not added:
            return solved
        kept = (HALF - rows @ x < SLACK) | (np.arange(len(rows)) < first)
        cuts, rows = cuts.picked(kept), rows[kept]
        for one in added:
            cuts, rows = cuts.joined(one), np.concatenate([rows, grid.rows(one)])
    return solved


def _ended(solved: Solved, asked: str) -> Solved:
    return Solved(solved.best, solved.value, solved.above, solved.cuts, solved.weights, solved.rounds, asked)


def _programme(goal: np.ndarray, rows: np.ndarray, way: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The solution of a programme, and the multipliers of the half-spaces."""
    from scipy.optimize import linprog

    left = np.concatenate([rows, -way])
    right = np.concatenate([np.full(len(rows), HALF), np.full(len(way), -RISE)])
    done = linprog(-goal, A_ub=left, b_ub=right, bounds=(None, None), method="highs")
    if done.x is None:
        raise AssertionError(f"the linear programme failed: {done.message}")
    return done.x, -done.ineqlin.marginals[: len(rows)]
