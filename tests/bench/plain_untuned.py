"""FROZEN: the plain CP-SAT model as first written, with the solver's parameters untouched; it stays as it is.

The same count variables, products and order as in plain.py, before anybody was asked to make it fast. CP-SAT lists all
solutions on one thread only, so `workers` changes nothing.
"""

from __future__ import annotations

import time
from typing import Any

import plain
from ortools.sat.python import cp_model


def run(n: int, seconds: float, workers: int) -> tuple[int | None, float]:
    """Counts the pairs of n-face dice with positive labels that total like 2dn; None where the time ran out."""
    started = time.perf_counter()
    made, _ = plain.model(n)
    solver = cp_model.CpSolver()
    solver.parameters.enumerate_all_solutions = True
    solver.parameters.max_time_in_seconds = seconds
    counter = plain.Counter()
    status: Any = solver.solve(made, counter)
    done = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return (counter.found if done else None), time.perf_counter() - started
