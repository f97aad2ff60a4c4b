"""FROZEN: a plain CP-SAT model of readouts on a solid, the yardstick of the benchmarks; it stays as it is.

A boolean a readout, kind of site, site and label; what a rest shows of each readout; a product of booleans a rest and
combination; absolute values of the counts less their aim, minimised by all workers. No bound, no readout left out, no
symmetry broken. It uses nothing of the engine; of the program only the geometry of the solids.
"""

from __future__ import annotations

import sys
import time
from fractions import Fraction
from itertools import product
from math import prod
from typing import Any

from facewright.constraints.solids import solid
from ortools.sat.python import cp_model

PLACES = ("faces", "vertices", "edges")


def sites_of(name: str) -> tuple[list[list[tuple[str, int]]], list[set[tuple[str, int]]]]:
    """The kinds of site, each a list of sites, and the sites that each rest shows."""
    body = solid(name)
    shown = [{(place, site) for place in PLACES for site in rest.shows[place]} for rest in body.rests]
    kinds = [[(place, site) for site in orbit] for place in PLACES for orbit in body.orbits[place]]
    faces = [site for kind in kinds if kind[0][0] == "faces" for site in kind]
    if all(sum(site in rest for site in faces) == 1 for rest in shown):
        kinds = [faces, *(kind for kind in kinds if kind[0][0] != "faces")]
    return kinds, shown


def model(name: str, sizes: tuple[int, ...]) -> tuple[cp_model.CpModel, Any]:
    """The model, and the sum that is minimised: 2 · rests · combinations times the total variation distance."""
    kinds, shown = sites_of(name)
    rests, together = len(shown), prod(sizes)
    made = cp_model.CpModel()
    seen: list[list[list[Any]]] = []
    load: dict[tuple[str, int], list[Any]] = {}
    for size in sizes:
        chosen = [made.new_bool_var("") for _ in kinds]
        made.add_exactly_one(chosen)
        marks: dict[tuple[str, int], list[Any]] = {}
        for kind, used in zip(kinds, chosen, strict=True):
            for site in kind:
                marks[site] = [made.new_bool_var("") for _ in range(size)]
                made.add(sum(marks[site]) <= used)
                load.setdefault(site, []).extend(marks[site])
        rows = []
        for rest in shown:
            labels = []
            for label in range(size):
                shows = made.new_bool_var("")
                made.add(sum(marks[site][label] for site in rest) == shows)
                labels.append(shows)
            made.add_exactly_one(labels)
            rows.append(labels)
        for label in range(size):
            made.add(sum(row[label] for row in rows) * size == rests)
        seen.append(rows)
    for marks_there in load.values():
        made.add(sum(marks_there) <= 1)
    gaps = []
    for combination in product(*(range(size) for size in sizes)):
        products = []
        for rest in range(rests):
            both = made.new_bool_var("")
            made.add_multiplication_equality(
                both, [seen[at][rest][label] for at, label in enumerate(combination)]
            )
            products.append(both)
        gap = made.new_int_var(0, rests * together, "")
        made.add_abs_equality(gap, together * sum(products) - rests)
        gaps.append(gap)
    total = sum(gaps)
    made.minimize(total)
    return made, total


def run(name: str, sizes: tuple[int, ...], seconds: float, workers: int) -> tuple[Fraction | None, float]:
    """The least dependence, None where it was not proved in time, and the seconds taken."""
    started = time.perf_counter()
    made, _ = model(name, sizes)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds
    status: Any = solver.solve(made)
    taken = time.perf_counter() - started
    if status != cp_model.OPTIMAL:
        return None, taken
    return Fraction(round(solver.objective_value), 2 * len(solid(name).rests) * prod(sizes)), taken


if __name__ == "__main__":
    print(*run(sys.argv[1], tuple(int(one) for one in sys.argv[2].split(",")), 300, 2))
