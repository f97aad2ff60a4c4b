"""FROZEN: plain models of layouts and of text boxes; they stay as they are.

Layouts: CP-SAT with a whole number a face, all different, the sums of opposite faces and of the faces about a vertex,
the largest deviation from the ideal minimised; the label 1 is given to the first face, since all faces are alike. The
solver's parameters are untouched but for workers and time. Boxes: for each angle of a sweep the largest box in a face
as a linear programme of scipy, then the peaks refined; one face of a solid, since all are alike.
"""

from __future__ import annotations

import math
import time
from fractions import Fraction
from typing import Any

import numpy as np
from ortools.sat.python import cp_model

SWEEP = 90
"""Angles tried in half a turn, before those that beat their neighbours are refined."""


def layout(
    solid: Any, *, opposite: bool, seconds: float, workers: int
) -> tuple[Fraction | None, Fraction | None, Fraction, float]:
    """Labels 1 to n: the proved least deviation (None where the time ran out), the best found, the bound, seconds."""
    started = time.perf_counter()
    many = len(solid.faces)
    model = cp_model.CpModel()
    label = [model.new_int_var(1, many, f"l{face}") for face in range(many)]
    model.add_all_different(label)
    model.add(label[0] == 1)
    if opposite:
        for face, other in enumerate(solid.opposite):
            if face < other:
                model.add(label[face] + label[other] == many + 1)
    worst = model.new_int_var(0, 2 * many * many, "worst")  # twice the largest deviation
    for faces in solid.vertex_faces:
        off = 2 * sum(label[face] for face in faces) - len(faces) * (many + 1)
        model.add(off <= worst)
        model.add(-off <= worst)
    model.minimize(worst)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    bound = Fraction(max(0, math.ceil(solver.best_objective_bound - 1e-6)), 2)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, None, bound, time.perf_counter() - started
    best = Fraction(round(solver.objective_value), 2)
    return (best if status == cp_model.OPTIMAL else None), best, bound, time.perf_counter() - started


def box(polygon: Any, wide: float) -> float:
    """The height of the largest box, `wide` times as wide as high, at any angle in a convex polygon, shape (n, 2)."""
    from scipy.optimize import minimize_scalar

    step = math.pi / SWEEP
    found = [_at(polygon, wide, at * step) for at in range(SWEEP)]
    tops = [at for at in range(SWEEP) if found[at] >= max(found[at - 1], found[(at + 1) % SWEEP]) - 1e-12]
    best = max(found)
    for at in tops:
        fine = minimize_scalar(
            lambda angle: -_at(polygon, wide, angle),
            bounds=((at - 1) * step, (at + 1) * step),
            method="bounded",
            options={"xatol": 1e-6},
        )
        best = max(best, -float(fine.fun))
    return best


def _at(polygon: Any, wide: float, angle: float) -> float:
    """The same at one angle, as a linear programme in the middle and the height."""
    from scipy.optimize import linprog

    steps = np.roll(polygon, -1, axis=0) - polygon
    normals = np.stack([steps[:, 1], -steps[:, 0]], axis=1)
    rooms = (normals * polygon).sum(axis=1)
    across, up = np.array([math.cos(angle), math.sin(angle)]), np.array([-math.sin(angle), math.cos(angle)])
    rows, right = [], []
    for x, y in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
        corner = (x * wide * across + y * up) / 2
        rows.append(np.column_stack([normals, normals @ corner]))
        right.append(rooms)
    done = linprog(
        [0, 0, -1], np.vstack(rows), np.concatenate(right), bounds=[(None, None), (None, None), (0, None)]
    )
    return float(-done.fun)
