"""Lines of a calculation, each of them quantity × rates = amount; and curves, their sums over the number of sets."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal

import numpy as np
from facewright.search.costing.scenarios import Scenarios

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Figures = NDArray[np.float64]

Per = Literal["once", "a set", "renewed"]
"""Whether a line is paid once, for each set, or once and anew whenever what it buys is worn out."""

HOUR = 3600.0
"""Seconds in an hour."""


@dataclass(frozen=True, eq=False)
class Line:
    """One line: `count` × the rates of `keys` × `scale` = `amount`, an array over the scenarios.

    `count` says how many of `what` there are: in all where the line is paid `once` or is `renewed`, else in one set.
    `life` of a renewed line is the number of sets that it lasts; beyond, the amount grows in proportion. `scale` turns
    units into each other (1/3600 from seconds to hours).
    """

    name: str
    what: str
    count: Figures
    keys: tuple[str, ...]
    amount: Figures
    per: Per
    scale: float = 1.0
    life: Figures | None = None

    def times(self, sets: float) -> Figures:
        """By what the amount is multiplied for so many sets."""
        if self.per == "once":
            return np.ones_like(self.amount)
        if self.life is None:
            return np.full_like(self.amount, sets)
        return np.maximum(1.0, sets / self.life)

    def at(self, sets: float) -> Figures:
        """What it comes to for so many sets."""
        return self.amount * self.times(sets)


class Ledger:
    """Takes down lines; a helper for the routes."""

    def __init__(self, rates: Scenarios) -> None:
        self.rates = rates
        self.lines: list[Line] = []

    def add(
        self,
        name: str,
        what: str,
        count: Figures | float,
        *keys: str,
        per: Per = "a set",
        scale: float = 1.0,
        life: Figures | None = None,
    ) -> None:
        """A line; one that comes to nothing is left out."""
        counted = count + np.zeros_like(self.rates[keys[0]])
        amount = counted * scale
        for key in keys:
            amount = amount * self.rates[key]
        if amount.any():
            self.lines.append(Line(name, what, counted, keys, amount, per, scale, life))


@dataclass(frozen=True, eq=False)
class Curve:
    """What a route costs by the number of sets: a route, the way in which it is gone, its lines, remarks and checks."""

    route: str
    way: str
    lines: tuple[Line, ...]
    remarks: tuple[str, ...] = ()

    def total(self, sets: float) -> Figures:
        """What so many sets cost, an array over the scenarios."""
        return _sum((line.at(sets) for line in self.lines), self.lines)

    def unit(self, sets: float) -> Figures:
        """What one of so many sets costs."""
        return self.total(sets) / sets

    def likely(self, sets: float) -> float:
        """What so many sets cost at the likely rates."""
        fixed, running, renewed = self._likely
        return fixed + running * sets + sum(amount * max(1.0, sets / life) for amount, life in renewed)

    def slope(self, sets: float) -> float:
        """What one set more costs at the likely rates, just above so many sets."""
        _, running, renewed = self._likely
        return running + sum(amount / life for amount, life in renewed if sets >= life)

    @property
    def kinks(self) -> tuple[float, ...]:
        """The numbers of sets at which something is worn out for the first time, at the likely rates."""
        return tuple(sorted({life for _, life in self._likely[2]}))

    @cached_property
    def _likely(self) -> tuple[float, float, tuple[tuple[float, float], ...]]:
        """What is paid once and for each set, and pairs (amount, life in sets) of what is renewed."""
        once = sum(float(line.amount[0]) for line in self.lines if line.per == "once")
        running = sum(float(line.amount[0]) for line in self.lines if line.per == "a set")
        renewed = tuple(
            (float(line.amount[0]), float(line.life[0])) for line in self.lines if line.life is not None
        )
        return once, running, renewed


def _sum(parts: Iterable[Figures], lines: Sequence[Line]) -> Figures:
    total = np.zeros_like(lines[0].amount)
    for part in parts:
        total = total + part
    return total
