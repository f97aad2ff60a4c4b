"""The best layout, goal by goal: each value of each goal as small as can be, once those before it are."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from facewright.constraints.model.units import Limits, Units
from facewright.search.engines.laying.attempts import ROUNDS, Attempt, Ground
from facewright.search.engines.laying.values import Value
from facewright.search.progress import Progress
from facewright.search.stop import Stop

How = Literal["arithmetic", "search", "open"]


@dataclass(frozen=True)
class Reached:
    """The value that a goal's part reached: `least` is a bound below it, `how` says what proved it, if anything did."""

    goal: str
    value: Value
    reached: int
    least: int
    how: How
    by: str = ""

    @property
    def proved(self) -> bool:
        """Whether nothing better exists."""
        return self.reached == self.least


@dataclass
class Found:
    """The best layout so far as numbers on faces, what its goals reached, and the limits that keep it as good."""

    numbers: tuple[int, ...]
    limits: Limits = field(default_factory=Limits)
    reached: list[Reached] = field(default_factory=list)
    stopped: str | None = None
    nodes: int = 0

    @property
    def proved(self) -> bool:
        """Whether nothing better exists, goal by goal."""
        return self.stopped is None and all(one.proved for one in self.reached)


def best_of(
    ground: Ground, values: tuple[tuple[str, Value], ...], least: dict[str, int], stop: Stop, report: Progress
) -> Found:
    """The best layout for values in their order, each proved as far as the effort went.

    Args:
        ground: faces and labels.
        values: what is to be small, what matters most first, each with its goal.
        least: bounds from arithmetic by part, beside those of divisibility.
        stop: asked whether to stop.
        report: told of the progress.
    """
    units = ground.free()
    found = Found(units.on_faces(units.numbers))
    for goal, value in values:
        _descend(ground, units, found, goal, value, max(value.least, least.get(value.part, 0)), stop, report)
        if found.stopped:
            break
    return found


def _descend(
    ground: Ground,
    units: Units,
    found: Found,
    goal: str,
    value: Value,
    least: int,
    stop: Stop,
    report: Progress,
) -> None:
    """Makes one value small: what arithmetic allows first, then halfway up, with more and more effort."""
    low, high = least, value.of(units.found(found.numbers))
    attempts: dict[int, Attempt] = {}
    refuted = ""
    for _ in range(ROUNDS):
        floor = low
        limit = low
        while low < high and floor < high and found.stopped is None:
            attempt = attempts.setdefault(limit, Attempt(ground, value.limited(found.limits, limit)))
            before = attempt.nodes
            status = attempt.round(stop, report)
            found.nodes += attempt.nodes - before
            if status == "found":
                found.numbers = attempt.found
                high = value.of(units.found(attempt.found))
            elif status == "none":
                low = value.after(limit)
                floor = max(floor, low)
                refuted = attempt.by
            elif status == "stopped":
                found.stopped = attempt.stopped
            else:
                floor = value.after(limit)
            limit = low if floor <= low else max(floor, (floor + high) // 2)
            if limit >= high:
                limit = floor
        if low >= high or found.stopped is not None:
            break
    how: How = "open" if low < high else "search" if refuted and high > least else "arithmetic"
    found.reached.append(Reached(goal, value, high, min(low, high), how, refuted))
    found.limits = value.limited(found.limits, high)
