"""Layouts on which a small flaw of the solid has little effect: the guards, and the goals that come after them.

How far a flaw moves a roll is a real number, worked out in floating point. Where few layouts are left, all of them are
judged and compared; else annealing makes the sum of squares of all that moves small, and the best that it meets are
judged.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np
from facewright.constraints.guards import GUARDS, Shift, flaws
from facewright.constraints.layout import Layout
from facewright.constraints.layout_measures import numeric
from facewright.constraints.model.units import Limits
from facewright.constraints.readouts import Label
from facewright.constraints.solids import solid
from facewright.search.engines.laying.arrays import columns_of
from facewright.search.engines.laying.attempts import HOT, SLICE, Annealing, Ground, Guard, Variant, usual_gap
from facewright.search.engines.laying.descent import Found
from facewright.search.engines.laying.listing import Labels, Tally, every_layout
from facewright.search.engines.laying.values import PARTS, Value, values_after
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped
from numpy.typing import NDArray

JUDGED = 600
"""So many layouts, or fewer, are all judged."""
NODES = 20_000_000
"""How far a walk goes to see whether there are so few."""
RUNS = 4
"""Runs of annealing on each variant."""
STEPS = 150_000
"""Steps of a run."""
LIVELY = 20.0
"""What all that moves is scaled to for labels laid anyhow, in temperatures."""
LATER = 0.1
"""What each guard weighs beside the one before it, while annealing."""
DIGITS = 5
"""Significant digits of shifts that are compared: their proved bounds are as near."""
BESIDE = {"results": 1.0, "highest": 0.5, "mean": 0.25}
"""What is made small together: each result, the higher of two rolls, the mean; the first counts most."""

Key = tuple[float, ...]
"""What layouts are compared by, less is better: what each guard and each goal after it came to."""


@dataclass
class Judged:
    """The layouts as good as the best, how many were judged, and whether these were all."""

    best: list[Labels]
    key: Key
    judged: int
    every: bool
    stopped: str | None = None


def guarded(question: Layout) -> tuple[str, ...]:
    """The goals from the first guard on."""
    for at, goal in enumerate(question.goals):
        if goal in GUARDS:
            return question.goals[at:]
    return ()


class Judge:
    """Judges layouts by the guards of a question and the goals after them."""

    def __init__(self, question: Layout, ground: Ground) -> None:
        self.question, self.ground = question, ground
        self.goals = guarded(question)
        self.units = ground.free()
        self.body = solid(question.solid, question.shape)
        self._values: dict[str, list[Value]] = {}
        for goal, value in values_after(question, ground.faces):
            self._values.setdefault(goal, []).append(value)

    def key(self, labels: Labels) -> Key:
        """What a layout comes to."""
        found: list[float] = []
        measured = self.units.found([self.units.scale.number(label) for label in labels])
        for goal in self.goals:
            if goal in PARTS:
                found += [value.of(measured) for value in self._values.get(goal, [])]
            else:
                found += self._told(self.shift(goal, labels))
        return tuple(found)

    def shift(self, goal: str, labels: Labels) -> Shift:
        """How far a flaw moves the roll."""
        question = self.question
        return flaws().shift(goal, self.body, labels, question.roll, question.draw)

    @staticmethod
    def _told(shift: Shift) -> list[float]:
        parts = [shift.worst, shift.parts.get("highest_of_two") or 0.0, shift.parts.get("mean") or 0.0]
        return [float(f"{part:.{DIGITS - 1}e}") for part in parts]


def judged(question: Layout, ground: Ground, found: Found, stop: Stop, report: Progress) -> Judged:
    """The best layouts by the guards among those that keep the limits found so far."""
    judge = Judge(question, ground)
    few = _few(question, ground, found.limits, stop, report)
    tried = few if few is not None else _annealed(question, ground, found, judge, stop, report)
    best: list[Labels] = []
    least: Key = ()
    stopped: str | None = None
    seen = 0
    for labels in dict.fromkeys(tried):
        stopped = stop() if best else None
        if stopped is not None:
            break
        report("layouts judged", seen, len(tried))
        seen += 1
        key = judge.key(labels)
        if not best or key < least:
            best, least = [labels], key
        elif key == least:
            best.append(labels)
    return Judged(best, least, seen, few is not None and stopped is None, stopped)


def _few(
    question: Layout, ground: Ground, limits: Limits, stop: Stop, report: Progress
) -> list[Labels] | None:
    """All layouts within limits, where they are few."""

    def soon() -> str | None:
        return stop() or ("far enough" if told[0] > NODES else None)

    told = [0]

    def watch(doing: str, done: int, of: int | None) -> None:
        told[0] = done
        report(doing, done, of)

    tally = Tally()
    try:
        some = list(
            islice(every_layout(question, ground, limits, tally, JUDGED + 1, soon, watch), JUDGED + 1)
        )
    except Stopped:
        return None
    return some if len(some) <= JUDGED else None


def _annealed(
    question: Layout, ground: Ground, found: Found, judge: Judge, stop: Stop, report: Progress
) -> list[Labels]:
    """Layouts within limits that annealing makes good, the one found so far among them."""
    units = judge.units
    met = [units.labels(found.numbers)]
    for at, variant in enumerate(ground.variants(found.limits)):
        guard = _pulls(question, ground, judge, variant)
        for number in range(RUNS):
            run = Annealing(variant, found.limits, ground.seed * 1_000_003 + number * 101 + at, STEPS, guard)
            while run.made < STEPS:
                if stop() is not None:
                    return met
                run.on(min(SLICE, STEPS - run.made))
                report("swaps tried", number * STEPS + run.made, RUNS * STEPS)
            if run.excess <= 0:
                met.append(variant.units.labels(run.best))
    return met


def _pulls(question: Layout, ground: Ground, judge: Judge, variant: Variant) -> Guard:
    """What annealing is told of the guards."""
    units = variant.units
    order = tuple(dict.fromkeys(ground.labels))
    effects = _effects(order, flaws().rolled(ground.labels, question.roll), ground.labels)
    parts, weight = [], 1.0
    for goal in judge.goals:
        if goal in GUARDS:
            moved = flaws().moved(goal, judge.body, question.draw)
            size = float(np.sqrt((moved**2).sum())) or 1.0
            parts.append(moved * (weight / size))
            weight *= LATER
    moved = np.concatenate(parts, axis=1)
    pulls = np.zeros((units.many, 2, moved.shape[1]))
    for face, (unit, sign) in enumerate(units.faces):
        pulls[unit, 0 if sign == 1 else 1] = moved[face]
    columns = columns_of(units, order)
    columns_on = [order.index(label) for label in ground.labels]
    usual = _usual(effects[:, columns_on], moved, ground.seed)
    scale = float(np.sqrt(LIVELY * HOT / usual)) * usual_gap(units) if usual > 0 else 0.0
    return np.ascontiguousarray(pulls * scale), columns, np.ascontiguousarray(effects)


def _usual(of_face: NDArray[np.float64], moved: NDArray[np.float64], seed: int) -> float:
    """What the squares of all that moves come to for labels laid anyhow: the mean of a few."""
    random = np.random.default_rng(seed)
    return float(
        np.mean([((of_face[:, random.permutation(len(moved))] @ moved) ** 2).sum() for _ in range(16)])
    )


def _effects(
    order: Sequence[Label], rolled: NDArray[np.float64], labels: Sequence[Label]
) -> NDArray[np.float64]:
    """The chance of each result given a label; the same for the higher of two rolls; and the mean result.

    Where F is the chance of a result or a lower one, the higher of two is at most that with chance F², which moves by
    2F times what F moves by.
    """
    rows = [BESIDE["results"] * rolled]
    if numeric(labels):
        often = np.array([labels.count(label) for label in order]) / len(labels)
        up_to = np.cumsum(rolled, axis=0)
        squares = 2 * (up_to @ often)[:, None] * up_to
        rows.append(BESIDE["highest"] * np.diff(squares, axis=0, prepend=0.0))
        steps = np.linspace(-1, 1, len(rolled)) if len(rolled) > 1 else np.zeros(1)
        rows.append(BESIDE["mean"] * len(rolled) ** 0.5 * (steps @ rolled)[None, :])
    return np.concatenate(rows, axis=0)
