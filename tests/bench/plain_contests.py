"""FROZEN: plain CP-SAT models of contests; they stay as they are.

Duels: label counts, a product for each pair of labels of a duel, the least number of wins maximised. Orders: which die
carries each label, and for each beginning of a finishing order how many choices of labels make it, label by label. An
order is put between interchangeable dice. The solver's parameters are untouched but for workers and time.
"""

from __future__ import annotations

import time
from itertools import permutations
from math import factorial

from ortools.sat.python import cp_model


def duels(
    faces: int, dice: int, highest: int, seconds: float, workers: int
) -> tuple[int | None, int, int, float]:
    """A ring of equal dice, labels from 1: the proved greatest least number of wins, the best, the bound, seconds."""
    started = time.perf_counter()
    model = cp_model.CpModel()
    labels = range(highest)
    counts = [[model.new_int_var(0, faces, f"c[{die},{v}]") for v in labels] for die in range(dice)]
    for one in counts:
        model.add(sum(one) == faces)
    least = model.new_int_var(0, faces * faces, "least")
    for die in range(dice):
        won = []
        for u in labels:
            for v in range(u):
                both = model.new_int_var(0, faces * faces, f"q[{die},{u},{v}]")
                model.add_multiplication_equality(both, [counts[die][u], counts[(die + 1) % dice][v]])
                won.append(both)
        model.add(sum(won) >= least)
    for die in range(
        1, dice
    ):  # a rotation is no other ring: the first die carries the most of the least label
        model.add(counts[0][0] >= counts[die][0])
    model.maximize(least)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    best, bound = round(solver.objective_value), round(solver.best_objective_bound)
    return (best if status == cp_model.OPTIMAL else None), best, bound, time.perf_counter() - started


def orders(faces: int, dice: int, seconds: float, *, every: bool) -> tuple[int | None, float]:
    """Equal dice that come in in every order equally often: how many sets (or the first), None where time ran out."""
    started = time.perf_counter()
    model = cp_model.CpModel()
    places, most = faces * dice, faces**dice
    carries = [[model.new_bool_var(f"x[{at},{die}]") for die in range(dice)] for at in range(places)]
    for row in carries:
        model.add_exactly_one(row)
    for die in range(dice):
        model.add(sum(row[die] for row in carries) == faces)
    beginnings = [order for size in range(1, dice + 1) for order in permutations(range(dice), size)]
    ways = {order: model.new_constant(0) for order in beginnings}
    one = model.new_constant(1)
    for at, row in enumerate(carries):
        grown = {}
        for order in beginnings:
            before = ways[order[:-1]] if len(order) > 1 else one
            after = model.new_int_var(0, most, f"w[{at},{order}]")
            model.add(after == ways[order] + before).only_enforce_if(row[order[-1]])
            model.add(after == ways[order]).only_enforce_if(row[order[-1]].negated())
            grown[order] = after
        ways = grown
    for order in permutations(range(dice)):
        model.add(ways[order] * factorial(dice) == most)
    model.add(carries[0][0] == 1)  # dice may be exchanged: they stand in the order of their least labels
    for die in range(2, dice):
        for at in range(1, places):
            model.add(sum(row[die - 1] for row in carries[:at]) >= carries[at][die])
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1  # needed to list all
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.enumerate_all_solutions = every
    found = _Counter(carries)
    status = solver.solve(model, found)
    if not every:
        return (1 if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None), time.perf_counter() - started
    whole = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return (len(found.seen) if whole else None), time.perf_counter() - started


class _Counter(cp_model.CpSolverSolutionCallback):
    """Counts the words that were found."""

    def __init__(self, carries: list[list[cp_model.IntVar]]) -> None:
        super().__init__()
        self._carries = carries
        self.seen: set[tuple[int, ...]] = set()

    def on_solution_callback(self) -> None:
        """One solution more."""
        self.seen.add(tuple(next(die for die, x in enumerate(row) if self.value(x)) for row in self._carries))
