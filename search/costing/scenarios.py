"""Ranges: every rate at its likely value, then one rate after another at its least and at its greatest.

A figure that depends on rates is an array with one value a scenario. Its range takes the rates as independent: the
shifts that single rates cause are squared, added, and the root drawn, downwards and upwards apart. That is first order,
as for small errors of measurement; for rates that double it is a fair guide and no more. Two figures of the same rates
are compared by the range of their difference, in which what they share cancels.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.rates import Rates

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Figures = NDArray[np.float64]


@dataclass(frozen=True)
class Range:
    """A figure with its likely value and the range that the rates leave it."""

    low: float
    likely: float
    high: float

    def as_json(self) -> dict[str, float]:
        """Its three values."""
        return {"low": self.low, "likely": self.likely, "high": self.high}


@dataclass(frozen=True, eq=False)
class Scenarios:
    """Rates by key, each an array with one value a scenario: first all likely, then two scenarios a rate.

    Scenario 1 + 2k has rate k (in the order of `keys`) at its least value, 2 + 2k at its greatest.
    """

    rates: Rates
    keys: tuple[str, ...]
    values: Mapping[str, Figures]

    @classmethod
    def of(cls, rates: Rates) -> Scenarios:
        """The scenarios of some rates; fixed quotes need none."""
        known = rates.by_key
        keys = tuple(key for key, rate in known.items() if not rate.sure)
        values = {}
        for key, rate in known.items():
            column = np.full(1 + 2 * len(keys), rate.likely, dtype=np.float64)
            if key in keys:
                at = keys.index(key)
                column[1 + 2 * at], column[2 + 2 * at] = rate.low, rate.high
            values[key] = column
        return cls(rates, keys, values)

    def __getitem__(self, key: str) -> Figures:
        return self.values[key]

    def moved_by(self, figures: Figures) -> tuple[str, ...]:
        """The rates that move a figure, in the order of the file; fixed quotes are not among them."""
        moved = np.abs(figures - figures[0])[1:].reshape(-1, 2).max(axis=1, initial=0.0)
        floor = 1e-12 * max(1.0, abs(float(figures[0])))
        return tuple(key for key, by in zip(self.keys, moved.tolist(), strict=True) if by > floor)


def range_of(figures: Figures) -> Range:
    """The likely value of a figure and its range.

    Example:
        >>> range_of(np.array([10.0, 7.0, 14.0, 6.0, 13.0]))
        Range(low=5.0, likely=10.0, high=15.0)
    """
    likely = float(figures[0])
    shifts = (figures[1:] - likely).reshape(-1, 2)
    down = np.minimum(shifts.min(axis=1), 0.0) if shifts.size else np.zeros(0)
    up = np.maximum(shifts.max(axis=1), 0.0) if shifts.size else np.zeros(0)
    return Range(
        likely - float(np.sqrt(np.square(down).sum())), likely, likely + float(np.sqrt(np.square(up).sum()))
    )


def really_less(one: Figures, other: Figures) -> bool:
    """Whether one figure is less than another beyond doubt: the range of their difference leaves out 0."""
    return range_of(other - one).low > 0


@dataclass(frozen=True)
class Mover:
    """One rate that moves a figure: the figure with that rate at its least and at its greatest value."""

    key: str
    at_low: float
    at_high: float

    @property
    def swing(self) -> float:
        """How far apart the two are."""
        return abs(self.at_high - self.at_low)


def movers(scenarios: Scenarios, figures: Figures, most: int = 3) -> tuple[Mover, ...]:
    """The rates that move a figure most, one at a time, the strongest first."""
    pairs = figures[1:].reshape(-1, 2).tolist()
    found = [Mover(key, low, high) for key, (low, high) in zip(scenarios.keys, pairs, strict=True)]
    return tuple(
        sorted((one for one in found if one.swing > 0), key=lambda one: (-one.swing, one.key))[:most]
    )
