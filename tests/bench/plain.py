"""FROZEN: a plain CP-SAT model of two n-face dice like 2dn, the yardstick of the benchmarks; it stays as it is.

Count variables, their products, the order between the two dice, and the parameters that served it best among those
tried: docs/decisions/0003-plain-model.md has the timings. It uses nothing of the engines.
"""

from __future__ import annotations

import sys
import time
from concurrent.futures import ThreadPoolExecutor
from itertools import product
from typing import Any

from ortools.sat.python import cp_model


class Counter(cp_model.CpSolverSolutionCallback):
    """Counts the solutions."""

    def __init__(self) -> None:
        super().__init__()
        self.found = 0

    def on_solution_callback(self) -> None:
        self.found += 1


def model(n: int) -> tuple[cp_model.CpModel, list[list[cp_model.IntVar]]]:
    """The model, and for each die how often it carries the labels 1 … 2n - 1."""
    ways = {total: n - abs(total - n - 1) for total in range(2, 2 * n + 1)}
    made = cp_model.CpModel()
    dice = [[made.new_int_var(0, n, "") for _ in range(2 * n - 1)] for _ in range(2)]
    for counts in dice:
        made.add(sum(counts) == n)
    products: dict[int, list[cp_model.IntVar]] = {}
    for (u, one), (v, other) in product(enumerate(dice[0], 1), enumerate(dice[1], 1)):
        both = made.new_int_var(0, ways.get(u + v, 0), "")
        made.add_multiplication_equality(both, [one, other])
        products.setdefault(u + v, []).append(both)
    for total, parts in products.items():
        made.add(sum(parts) == ways.get(total, 0))
    alike = made.new_constant(1)
    for one, other in zip(*dice, strict=True):
        still = made.new_bool_var("")
        made.add(one >= other).only_enforce_if(alike)
        made.add(one == other).only_enforce_if(still)
        made.add(one > other).only_enforce_if(alike, ~still)
        made.add_implication(still, alike)
        alike = still
    return made, dice


def part(n: int, fixed: dict[int, int], deadline: float) -> int | None:
    """The number of designs whose first die carries some labels so many times; None where time was short."""
    made, dice = model(n)
    for label, count in fixed.items():
        made.add(dice[0][label - 1] == count)
    in_turn = [count for pair in zip(*dice, strict=True) for count in pair]
    made.add_decision_strategy(in_turn, cp_model.CHOOSE_FIRST, cp_model.SELECT_MAX_VALUE)
    solver = cp_model.CpSolver()
    solver.parameters.enumerate_all_solutions = True
    solver.parameters.num_workers = 1
    solver.parameters.linearization_level = 0
    solver.parameters.search_branching = cp_model.FIXED_SEARCH
    solver.parameters.max_time_in_seconds = max(0.0, deadline - time.perf_counter())
    counter = Counter()
    status: Any = solver.solve(made, counter)
    return counter.found if status in (cp_model.OPTIMAL, cp_model.INFEASIBLE) else None


def run(n: int, seconds: float, workers: int) -> tuple[int | None, float]:
    """Counts the pairs of n-face dice with positive labels that total like 2dn.

    Args:
        n: the face count, at least 2.
        seconds: the time allowed.
        workers: threads. CP-SAT lists all solutions on one thread only, so that more of them share out the ways in
            which the first die carries the labels 2 and 3.

    Returns:
        The count, or None where the time ran out, and the seconds taken.
    """
    started = time.perf_counter()
    deadline = started + seconds
    cases: list[dict[int, int]] = [{}]
    if workers > 1 and n > 2:
        # the total 3 has two ways, the total 4 three, and each die carries one 1
        cases = [{2: twos, 3: threes} for twos, threes in product((1, 2), (0, 1, 2, 3))]
    with ThreadPoolExecutor(workers) as pool:
        counts = list(pool.map(lambda fixed: part(n, fixed, deadline), cases))
    whole = [count for count in counts if count is not None]
    taken = time.perf_counter() - started
    return (sum(whole) if len(whole) == len(counts) else None), taken


if __name__ == "__main__":
    print(*run(int(sys.argv[1]), 600, int(sys.argv[2]) if len(sys.argv) > 2 else 1))
