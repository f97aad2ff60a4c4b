"""A walk through all layouts that keep given limits, each once up to the symmetries of the solid, or nearly so."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from facewright.constraints.model.symmetry import Ranking, first_number, rankings
from facewright.constraints.model.units import Limits, Units
from facewright.search.engines.laying.arrays import Arrays, pair_limits
from numpy.typing import NDArray

Whole = NDArray[np.int64]

CLOSE = 4
"""How much sooner a row is closed that has one unit fewer left."""


class Walk:
    """A walk that can pause: `on` makes so many nodes; `units` holds the layout just found.

    Args:
        units: what is to be laid.
        arrays: the same as arrays.
        limits: what a layout must keep.
    """

    OVER, FOUND, PAUSED = 0, 1, 2
    """How `on` ended: nothing is left; a layout was found; the nodes were used up."""

    def __init__(self, units: Units, arrays: Arrays, limits: Limits) -> None:
        self.units = units
        many = units.many
        self.order = order_of(units)
        rank = np.zeros(many, np.int64)
        for depth, unit in enumerate(self.order):
            rank[unit] = depth
        values = [value for value, _ in units.choices]
        signed = sorted({sign * value for value in values for sign in ((1, -1) if units.paired else (1,))})
        number = first_number(units)
        self._given = (
            np.array(self.order, np.int64),
            rank,
            arrays.rows,
            _behind(units, arrays, rank),
            arrays.row_limits(limits),
            arrays.near,
            pair_limits(limits),
            units.scale.step,
            np.array(values, np.int64),
            np.array(signed, np.int64),
            np.array([values.index(abs(one) if units.paired else one) for one in signed], np.int64),
            -1 if number is None else signed.index(number),
            _ranks(many, rankings(units) if number is not None else (), rank),
            units.paired,
        )
        self.x = np.zeros(many, np.int64)
        self._state = (
            self.x,
            np.array([times for _, times in units.choices], np.int64),
            np.zeros(arrays.lines, np.int64),
            np.zeros(3, np.int64),
            np.zeros(many, np.int64),
            np.zeros(many, np.int64),
            np.array([0, 1, 0], np.int64),
        )

    def on(self, nodes: int) -> int:
        """Makes up to so many nodes; gives OVER, FOUND or PAUSED."""
        from facewright.search.engines.laying.walk_kernel import walk

        return int(walk(*self._given, *self._state, nodes))

    @property
    def nodes(self) -> int:
        """How many nodes were made so far: numbers put on a unit."""
        return int(self._state[-1][2])

    @property
    def found(self) -> tuple[int, ...]:
        """The numbers on the units of the layout just found."""
        return tuple(int(one) for one in self.x)


def order_of(units: Units) -> tuple[int, ...]:
    """The order in which units are laid: from the first one on, so that rows fill up soon."""
    rows = [[unit for unit, _ in row] for row in (*units.opposite, *units.vertices)]
    beside: list[set[int]] = [set() for _ in range(units.many)]
    for a, b in units.edges:
        one, other = units.faces[a][0], units.faces[b][0]
        beside[one].add(other)
        beside[other].add(one)
    order, waiting = [0], set(range(1, units.many))

    def worth(unit: int) -> tuple[float, int, int]:
        filled = sum(
            float(CLOSE) ** -sum(other in waiting and other != unit for other in row)
            for row in rows
            if unit in row
        )
        return filled, sum(other not in waiting for other in beside[unit]), -unit

    while waiting:
        unit = max(waiting, key=worth)
        order.append(unit)
        waiting.discard(unit)
    return tuple(order)


def _behind(units: Units, arrays: Arrays, rank: Whole) -> Whole:
    lines = [*units.opposite, *units.vertices]
    found = np.zeros(arrays.rows.shape, np.int64)
    for unit in range(units.many):
        for at, (line, _) in enumerate(arrays.rows[unit].tolist()):
            if line < 0:
                break
            later = [abs(times) for other, times in lines[line] if rank[other] > rank[unit]]
            found[unit, at] = (len(later), max(later, default=0))
    return found


def _ranks(many: int, orders: Sequence[Ranking], rank: Whole) -> Whole:
    """Orders between numbers, each kept at the unit that is laid later."""
    kept: list[list[tuple[int, int, int, int]]] = [[] for _ in range(many)]
    for less, (other, sign) in orders:
        if rank[less] >= rank[other]:
            kept[less].append((other, 1, sign, 1))
        else:
            kept[other].append((less, sign, 1, 0))
    most = max(1, *(len(one) for one in kept))
    found = np.full((many, most, 4), -1, np.int64)
    for unit, entries in enumerate(kept):
        for at, entry in enumerate(entries):
            found[unit, at] = entry
    return found
