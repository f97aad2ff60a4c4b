"""FROZEN: the plain CP-SAT model of nearest totals of two dice; it stays as it is.

Label counts, a product for each pair of labels, the deviation of each total, their sum minimised; the solver's
parameters untouched but for workers and time.
"""

from __future__ import annotations

import time
from fractions import Fraction

from ortools.sat.python import cp_model


def run(
    faces: tuple[int, int], ways: dict[int, int], highest: int, seconds: float, workers: int
) -> tuple[Fraction | None, Fraction, Fraction, float]:
    """The proved least distance (None where the time ran out), the best found, the bound, and the seconds."""
    started = time.perf_counter()
    outcomes, product = sum(ways.values()), faces[0] * faces[1]
    model = cp_model.CpModel()
    labels = range(1, highest + 1)
    counts = [[model.new_int_var(0, n, f"{n}[{v}]") for v in labels] for n in faces]
    for n, one in zip(faces, counts, strict=True):
        model.add(sum(one) == n)
    totals: dict[int, list[cp_model.IntVar]] = {}
    for u in labels:
        for v in labels:
            both = model.new_int_var(0, product, f"q[{u},{v}]")
            model.add_multiplication_equality(both, [counts[0][u - 1], counts[1][v - 1]])
            totals.setdefault(u + v, []).append(both)
    deviations = []
    for total in sorted(set(totals) | set(ways)):
        deviation = model.new_int_var(0, product * outcomes, f"d[{total}]")
        gap = outcomes * sum(totals.get(total, [])) - product * ways.get(total, 0)
        model.add(deviation >= gap)
        model.add(deviation >= -gap)
        deviations.append(deviation)
    model.minimize(sum(deviations))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    best = Fraction(round(solver.objective_value), 2 * product * outcomes)
    bound = Fraction(max(0, round(solver.best_objective_bound)), 2 * product * outcomes)
    return (best if status == cp_model.OPTIMAL else None), best, bound, time.perf_counter() - started
