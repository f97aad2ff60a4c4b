"""Units of a layout as the flat arrays that the compiled loops take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from facewright.constraints.model.units import Limits, Units
from facewright.constraints.readouts import Label
from numpy.typing import NDArray

Whole = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Arrays:
    """Rows and neighbours of units; see `kernels.anneal` for shapes.

    `opposite` says how many of the rows are opposite faces: they come first.
    """

    rows: Whole
    near: Whole
    opposite: int
    lines: int

    def row_limits(self, limits: Limits) -> Whole:
        """How far each row may be from 0, shape (rows,)."""
        found = np.full(self.lines, limits.vertices, np.int64)
        found[: self.opposite] = limits.opposite
        return found


def arrays_of(units: Units) -> Arrays:
    """The arrays of some units."""
    rows: list[list[tuple[int, int]]] = [[] for _ in range(units.many)]
    lines = [*units.opposite, *units.vertices]
    for number, line in enumerate(lines):
        for unit, times in line:
            rows[unit].append((number, times))
    near: list[list[tuple[int, int, int]]] = [[] for _ in range(units.many)]
    for edge, pairs in ((1, units.edges), (0, units.corners)):
        for a, b in pairs:
            (one, sign), (other, turned) = units.faces[a], units.faces[b]
            near[one].append((other, sign * turned, edge))
            if one != other:
                near[other].append((one, sign * turned, edge))
    return Arrays(_padded(rows, 2), _padded(near, 3), len(units.opposite), len(lines))


def _padded(lists: Sequence[Sequence[tuple[int, ...]]], width: int) -> Whole:
    most = max(1, *(len(one) for one in lists))
    padded = np.full((len(lists), most, width), -1, np.int64)
    for at, one in enumerate(lists):
        for place, entry in enumerate(one):
            padded[at, place] = entry
    return padded


def pair_limits(limits: Limits) -> Whole:
    """The limits on clashing pairs, shape (3,)."""
    return np.array([limits.across, limits.corner, limits.consecutive], np.int64)


def columns_of(units: Units, order: Sequence[Label]) -> Whole:
    """For each number, from minus the greatest up, the place of its label in `order`; 0 where no label has it."""
    reach = max(abs(number) for number in units.scale.numbers)
    columns = np.zeros(2 * reach + 1, np.int64)
    for label, number in zip(units.scale.labels, units.scale.numbers, strict=True):
        columns[reach + number] = order.index(label)
    return columns
