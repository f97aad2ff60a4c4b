"""Packing: flat pieces side by side in rows on as few sheets as that takes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from facewright.search.make.unfolding import fits, turning

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

GAP_MM = 4.0
"""Between the boxes of two pieces, for scissors."""


@dataclass(frozen=True, eq=False)
class OnSheet:
    """Where a piece lies: on which sheet, from 0, turned by `turn` radians, then moved by `shift`, in millimetres.

    The origin of a sheet is the lower left corner of its room.
    """

    sheet: int
    turn: float
    shift: Floats

    def moved(self, points: Floats) -> Floats:
        """Points of the piece, shape (n, 2), as points of the sheet's room."""
        there: Floats = points @ turning(self.turn).T + self.shift
        return there


@dataclass
class _Row:
    """A row of pieces on a sheet: its foot, its height, how far it is filled."""

    sheet: int
    foot: float
    height: float
    filled: float


def packed(items: Sequence[Floats], room: tuple[float, float]) -> tuple[tuple[OnSheet, ...], int]:
    """A place for each item: the highest first, each into the first row with room for it.

    Params:
        items: the points of each, shape (n, 2), in millimetres.
        room: width and height of the sheets' rooms.
    Returns: the places, in the order of the items, and the number of sheets.
    Raises: ValueError for an item that fits on no sheet.
    """
    turned = [_turned(points, room) for points in items]
    order = sorted(range(len(items)), key=lambda at: (-turned[at][1][1], -turned[at][1][0], at))
    rows: list[_Row] = []
    filled: list[float] = []
    places: dict[int, OnSheet] = {}
    for at in order:
        turn, (width, height), low = turned[at]
        row = next((one for one in rows if one.height >= height and one.filled + width <= room[0]), None)
        if row is None:
            row = _new_row(filled, height, room[1])
            rows.append(row)
        # rows begin at the top of the sheet
        corner = np.array([row.filled, room[1] - row.foot - height])
        places[at] = OnSheet(row.sheet, turn, corner - low)
        row.filled += width + GAP_MM
    return tuple(places[at] for at in range(len(items))), len(filled)


def _turned(points: Floats, room: tuple[float, float]) -> tuple[float, tuple[float, float], Floats]:
    """The turn of an item, the width and height that it then has, and its lower left corner."""
    turn = fits(points, room)
    if turn is None:
        raise ValueError("an item is larger than the sheet")
    there = points @ turning(turn).T
    low, high = there.min(axis=0), there.max(axis=0)
    return turn, (float(high[0] - low[0]), float(high[1] - low[1])), low


def _new_row(filled: list[float], height: float, most: float) -> _Row:
    """A row on the first sheet that has room below its other rows, or on a new one."""
    for sheet, foot in enumerate(filled):
        if foot + height <= most:
            filled[sheet] = foot + height + GAP_MM
            return _Row(sheet, foot, height, 0.0)
    filled.append(height + GAP_MM)
    return _Row(len(filled) - 1, 0.0, height, 0.0)


def centred(
    places: Sequence[OnSheet], items: Sequence[Floats], room: tuple[float, float]
) -> tuple[OnSheet, ...]:
    """The same places, where everything on a sheet is moved together to the middle of its room."""
    moved = list(places)
    for sheet in {place.sheet for place in places}:
        here = [at for at, place in enumerate(places) if place.sheet == sheet]
        points = np.concatenate([places[at].moved(items[at]) for at in here])
        step = np.array(room) / 2 - (points.min(axis=0) + points.max(axis=0)) / 2
        for at in here:
            moved[at] = OnSheet(sheet, math.remainder(places[at].turn, math.tau), places[at].shift + step)
    return tuple(moved)
