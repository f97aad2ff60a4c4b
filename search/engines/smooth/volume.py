"""Small bodies of constant width: steps to ever smaller ones, and a bound that no body goes below.

By Blaschke's relation the smallest volume goes with the smallest surface, π(1 − 2 Σ (n − 1)(n + 2)c²m). That is a
concave function of the coefficients, so a linear programme cannot find its least value: each step takes the body
that is least for its tangent at the last one, which never makes it larger, and ends where no step helps. A smaller
one elsewhere is not ruled out; which body of a given constant width has the least volume is an open question (E.
Meissner's bodies are thought to have it; from memory).
"""

from __future__ import annotations

from math import pi

import numpy as np
from facewright.constraints.smooth import Smooth
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES
from facewright.search.engines.smooth.grid import Grid
from facewright.search.engines.smooth.programme import Solved, solve
from facewright.search.progress import Progress
from facewright.search.stop import Stop

BALL = pi / 6
"""The volume of a ball of width 1."""
MOST_STEPS = 20
ENOUGH = 1e-4
"""As a share of what the volume has lost against the ball: a step that gains less is the last."""


def smaller(grid: Grid, solved: Solved, stop: Stop, report: Progress, fall: float) -> Solved:
    """The body to which steps from this one lead.

    Params:
        grid: the grid.
        solved: where a programme came to, whatever its goal.
        stop: asked whether to stop early; then the last step counts.
        report: told of the progress.
        fall: as for `solve`.
    """
    squares = np.array([float(one.mean_square) for one in grid.harmonics]) / grid.steps
    lost = float(squares @ solved.best**2)
    for _ in range(MOST_STEPS):
        step = solve(grid, squares * solved.best, stop, report, fall)
        if step is None or float(squares @ step.best**2) < lost * (1 + ENOUGH):
            break
        solved, lost = step, float(squares @ step.best**2)
    return solved


def least_volume(question: Smooth) -> float:
    """What no body of a question is smaller than, in units of the width cubed.

    The sum of both q is between −(1 − 2r) and 1 − 2r, so Σ c²(n − 1)²(n + 2)² m is at most (1 − 2r)²; the sum in the
    surface is at most that over (k − 1)(k + 2), k the least degree.
    """
    degree = SYMMETRIES[question.symmetry].least_degree
    most = float(question.room) ** 2 / ((degree - 1) * (degree + 2))
    return pi / 2 * (1 - 2 * most) - pi / 3
