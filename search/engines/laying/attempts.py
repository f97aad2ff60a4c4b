"""Attempts at a layout within given limits: a walk through all, annealing, the solver; each with more and more effort.

A layout may be sought among all, or only among those in which a symmetry of the solid turns every number to its
negative. There are far fewer of these, vertices on a mirror plane come out even by themselves, and one of them is a
layout like any other: so they are searched too, for finding. Only the search among all can refute.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from facewright.constraints.face_map import FaceMap
from facewright.constraints.model.units import Limits, Units, opposite_pairing, pairings, units_of
from facewright.constraints.readouts import Label
from facewright.search.engines.laying.arrays import Arrays, Whole, arrays_of, pair_limits
from facewright.search.engines.laying.walk import Walk
from facewright.search.progress import PREPARING, Progress
from facewright.search.stop import Stop
from numpy.typing import NDArray

Guard = tuple[NDArray[np.float64], Whole, NDArray[np.float64]]
"""How a flaw moves each unit, the column of each number, and the chance of each result given a label."""

Status = Literal["found", "none", "open", "stopped"]

ROUNDS = 5
"""How often the effort is raised before an attempt is given up."""
NODES, MORE_NODES = 200_000, 4
"""Nodes of a walk in the first round, and how many times more in each later one."""
STEPS, MORE_STEPS = 1_600_000, 3
"""The same for annealing."""
WORK, MORE_WORK = 1.0, 3
"""The same for the solver, in its own units of about a second; it begins in the third round."""
SLICE = 500_000
"""Nodes or steps between two questions whether to stop."""
HOT, COLD = 1.6, 1.0
"""Temperatures of annealing, in squares of the usual gap between numbers."""
GUARDED = 0.004
"""The lower temperature where a guard is made small too, which has no least step."""
PAIR_WEIGHTS = (2.0, 1.0, 2.0)
"""What a clashing pair weighs, in the same: equal across an edge, equal at a corner, consecutive."""
RANDOM = 0x9E3779B97F4A7C15
"""Where random numbers begin; the seed is added."""


@dataclass(frozen=True, eq=False)
class Variant:
    """Units to search: all layouts, or those that a symmetry turns about. `whole`: nothing is missing from them."""

    units: Units
    arrays: Arrays
    whole: bool


@dataclass
class Ground:
    """The faces and labels of a question, with the variants that a search can use, made when first needed."""

    faces: FaceMap
    labels: tuple[Label, ...]
    seed: int
    _variants: dict[bool, tuple[Variant, ...]] = field(default_factory=dict)

    def variants(self, limits: Limits) -> tuple[Variant, ...]:
        """What to search under these limits, what has nothing missing first."""
        constant = limits.opposite == 0 and bool(self.faces.opposite)
        if constant not in self._variants:
            self._variants[constant] = self._made(constant)
        return self._variants[constant]

    def free(self) -> Units:
        """All layouts as units: a face each."""
        units = units_of(self.faces, self.labels)
        assert units is not None
        return units

    def _made(self, constant: bool) -> tuple[Variant, ...]:
        opposite = units_of(self.faces, self.labels, opposite_pairing(self.faces)) if constant else None
        if opposite is not None:
            return (Variant(opposite, arrays_of(opposite), True),)
        free = self.free()
        found = [Variant(free, arrays_of(free), True)]
        for pairing in pairings(self.faces):
            units = units_of(self.faces, self.labels, pairing)
            if units is not None:
                found.append(Variant(units, arrays_of(units), False))
        return tuple(found)


class Attempt:
    """The search for one layout within limits; it can be gone on with, each round with more effort.

    `found` holds the numbers of all faces once a layout was found; `nodes` counts the nodes walked, `by` says what
    settled the attempt.
    """

    def __init__(self, ground: Ground, limits: Limits) -> None:
        self.ground, self.limits = ground, limits
        self.status: Status = "open"
        self.found: tuple[int, ...] = ()
        self.nodes = 0
        self.by = ""
        self.rounds = 0
        self.stopped: str | None = None
        self._variants = ground.variants(limits)
        self._walks: list[Walk | None] = [None] * len(self._variants)
        self._over = [False] * len(self._variants)

    def round(self, stop: Stop, report: Progress) -> Status:
        """One more round; nothing happens once the attempt is settled."""
        number, self.rounds = self.rounds, self.rounds + 1
        if not number:
            report(PREPARING, 0, None)
        for at in range(len(self._variants)):
            if self.status != "open":
                return self.status
            self._walk(at, NODES * MORE_NODES**number, stop, report)
        for at in range(len(self._variants)):
            if self.status == "open" and not self._over[at]:
                self._anneal(at, number, STEPS * MORE_STEPS**number, stop, report)
        if number >= 2 and self.status == "open":
            self._solve(WORK * MORE_WORK ** (number - 2), stop, report)
        return self.status

    def _walk(self, at: int, nodes: int, stop: Stop, report: Progress) -> None:
        variant = self._variants[at]
        if self._over[at]:
            return
        walk = self._walks[at] = self._walks[at] or Walk(variant.units, variant.arrays, self.limits)
        for _ in range(0, nodes, SLICE):
            if self._asked(stop):
                return
            before = walk.nodes
            ended = walk.on(min(nodes, SLICE))
            self.nodes += walk.nodes - before
            report("layouts walked through", self.nodes, None)
            if ended == Walk.FOUND:
                self._settle(variant, walk.found, "a walk through the layouts")
                return
            if ended == Walk.OVER:
                self._over[at] = True
                if variant.whole:
                    self.status, self.by = "none", "a walk through all layouts"
                return

    def _anneal(self, at: int, number: int, steps: int, stop: Stop, report: Progress) -> None:
        variant = self._variants[at]
        seed = self.ground.seed * 1_000_003 + number * 101 + at
        run = Annealing(variant, self.limits, seed, steps)
        while run.made < steps:
            if self._asked(stop):
                return
            run.on(min(SLICE, steps - run.made))
            report("swaps tried", run.made, steps)
            if run.excess <= 0:
                self._settle(variant, run.best, "annealing")
                return

    def _solve(self, work: float, stop: Stop, report: Progress) -> None:
        from facewright.constraints.model.layout import LayoutModel
        from facewright.search.engines.readouts_solver import solved

        variant = self._variants[0]
        report("solver at work", self.rounds, None)
        model = LayoutModel(variant.units, self.limits)
        result = solved(model.cp, model.wanted, seed=self.ground.seed, stop=stop, effort=work)
        if result.status in ("best", "found"):
            self._settle(variant, model.decoded(result.values), "the solver")
        elif result.status == "none":
            self.status, self.by = "none", "the solver"
        elif result.stopped:
            self.status, self.stopped = "stopped", result.stopped

    def _settle(self, variant: Variant, numbers: Sequence[int], by: str) -> None:
        self.found, self.status, self.by = variant.units.on_faces(numbers), "found", by

    def _asked(self, stop: Stop) -> bool:
        asked = stop()
        if asked is not None:
            self.status, self.stopped = "stopped", asked
        return asked is not None


class Annealing:
    """One run of annealing on a variant, from hot to cold in so many steps.

    Args:
        variant: what is to be laid.
        limits: what a layout should keep.
        seed: of the first layout and of every choice.
        steps: from hot to cold.
        guard: what a flaw does; see `kernels.anneal`.
    """

    def __init__(
        self,
        variant: Variant,
        limits: Limits,
        seed: int,
        steps: int,
        guard: Guard | None = None,
    ) -> None:
        units = variant.units
        numbers = np.array(units.numbers, np.int64)
        self._x = np.random.default_rng(seed).permutation(numbers)
        self._best = self._x.copy()
        self._random = np.array([(RANDOM + seed) % 2**64 or 1], np.uint64)
        unit = usual_gap(units) ** 2
        empty = (np.zeros((units.many, 2, 0)), np.zeros(1, np.int64), np.zeros((0, 1)))
        self._given = (
            variant.arrays.rows,
            variant.arrays.row_limits(limits),
            variant.arrays.near,
            pair_limits(limits),
            np.array(PAIR_WEIGHTS) * unit,
            units.scale.step or -1,
            units.paired,
            *(guard or empty),
        )
        self._heat = (HOT * unit, (COLD if guard is None else GUARDED) * unit)
        self.steps, self.made = steps, 0
        self.excess, self.pull = float("inf"), float("inf")

    def on(self, steps: int) -> None:
        """Goes on for so many steps."""
        from facewright.search.engines.laying.kernels import anneal

        before = (self.excess, self.pull, self._best.copy())
        run: Callable[..., tuple[float, float, int]] = anneal
        self.excess, self.pull, made = run(
            self._x, self._best, *self._given, self._random, self.made, steps, self.steps, *self._heat
        )
        if before[:2] < (self.excess, self.pull):
            self.excess, self.pull = before[:2]
            self._best[:] = before[2]
        self.made += max(1, int(made))

    @property
    def best(self) -> tuple[int, ...]:
        """The best numbers so far."""
        return tuple(int(one) for one in self._best)


def usual_gap(units: Units) -> float:
    """The usual gap between neighbouring numbers."""
    numbers = units.scale.numbers
    return float(max(1, (numbers[-1] - numbers[0]) // max(1, len(numbers) - 1)))
