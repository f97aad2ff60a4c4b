"""Unfolding: the faces of a solid laid flat about the edges along which they stay together, in few pieces.

A piece grows from one face. Across the edge that is worth most the next face is laid beside it, unless it would come to
lie on a face that is there already or the piece would outgrow the sheet; faces left over begin further pieces.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.solids.frames import face_frame
from facewright.search.make.convex import Crowd

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

TURNS = np.radians(np.arange(0.0, 180.0, 3.0))
"""Turns of a piece that are tried to make it fit a sheet."""


@dataclass(frozen=True, eq=False)
class Laid:
    """A face in a piece: turned by `turn` radians and moved by `shift` from its own frame, in millimetres.

    `corners` has shape (n, 2), in the order of the solid's face, counter-clockwise: the face is seen from outside.
    `mm` is the length of one inradius.
    """

    face: int
    turn: float
    shift: Floats
    corners: Floats
    mm: float

    def on_sheet(self, points: Floats) -> Floats:
        """Points of the face's frame, shape (n, 2) in inradii, as points of the piece in millimetres."""
        moved: Floats = points @ turning(self.turn).T * self.mm + self.shift
        return moved


@dataclass(frozen=True, eq=False)
class Piece:
    """Faces that stay together: `faces` in the order in which they were laid; `folds` are the numbers of edges."""

    faces: tuple[Laid, ...]
    folds: tuple[int, ...]

    @cached_property
    def points(self) -> Floats:
        """All corners, shape (n, 2)."""
        return np.concatenate([one.corners for one in self.faces])


def unfolded(
    solid: Solid,
    mm: float,
    worth: Sequence[float],
    root: int,
    room: tuple[float, float],
    spare_mm: float = 0.0,
) -> tuple[Piece, ...]:
    """A solid laid flat.

    Params:
        solid: the solid.
        mm: the length of one inradius, in millimetres.
        worth: for each edge how much it is worth to keep it whole; those worth most stay folds where they can.
        root: the face that is laid first.
        room: width and height into which each piece must fit, in some turn, in millimetres.
        spare_mm: what must stay free of that room about the faces, for tabs.
    Returns: the pieces, none of whose faces overlap.
    Raises: ValueError for a face that is larger than the room.
    """
    waiting = set(range(len(solid.faces)))
    pieces = []
    width, height = room[0] - 2 * spare_mm, room[1] - 2 * spare_mm
    while waiting:
        first = root if root in waiting else min(waiting)
        pieces.append(_grown(solid, mm, worth, first, waiting, (width, height)))
    return tuple(pieces)


def fits(points: Floats, room: tuple[float, float]) -> float | None:
    """The first of `TURNS` in which points fit into a room, upright or lying, in radians; None where none does."""
    spans = _spans(points)
    wide, tall = max(room), min(room)
    good = (spans.max(axis=1) <= wide) & (spans.min(axis=1) <= tall)
    if not good.any():
        return None
    areas = np.where(good, spans[:, 0] * spans[:, 1], np.inf)
    best = int(areas.argmin())
    turn = float(TURNS[best])
    upright = (spans[best, 0] > spans[best, 1]) == (room[0] > room[1])
    return turn if upright or spans[best, 0] == spans[best, 1] else turn + math.pi / 2


def largest_scale(points: Floats, room: tuple[float, float]) -> float:
    """By how much points may be scaled so that they just fit into a room in one of `TURNS`."""
    spans = np.sort(_spans(points), axis=1)
    tall, wide = sorted(room)
    return float(np.minimum(tall / spans[:, 0], wide / spans[:, 1]).max())


def _spans(points: Floats) -> Floats:
    """Width and height of points in each of `TURNS`, shape (turns, 2)."""
    cos, sin = np.cos(TURNS), np.sin(TURNS)
    x = points[:, :1] * cos - points[:, 1:] * sin
    y = points[:, :1] * sin + points[:, 1:] * cos
    return np.stack([np.ptp(x, axis=0), np.ptp(y, axis=0)], axis=1)


def _grown(
    solid: Solid,
    mm: float,
    worth: Sequence[float],
    first: int,
    waiting: set[int],
    room: tuple[float, float],
) -> Piece:
    """One piece; takes its faces out of those that wait."""
    start = face_frame(solid, first).polygon * mm
    if fits(start, room) is None:
        raise ValueError(f"face f{first + 1} is larger than the sheet")
    laid = {first: Laid(first, 0.0, np.zeros(2), start, mm)}
    shapes, points = Crowd(), start
    shapes.add(start)
    folds: list[int] = []
    waiting.discard(first)
    # among edges worth equally much the one that was met first: the piece grows in rings
    heap: list[tuple[float, int, int, int]] = []
    met = 0

    def meet(face: int) -> None:
        nonlocal met
        for corner, beyond in enumerate(solid.neighbours[face]):
            if beyond in waiting:
                heapq.heappush(heap, (-worth[solid.face_edges[face][corner]], met, face, corner))
                met += 1

    meet(first)
    while heap:
        _, _, face, corner = heapq.heappop(heap)
        beyond = solid.neighbours[face][corner]
        if beyond not in waiting:
            continue
        new = _beside(solid, laid[face], corner, beyond)
        together = np.concatenate([points, new.corners])
        if shapes.overlaps(new.corners) or fits(together, room) is None:
            continue
        shapes.add(new.corners)
        points = together
        laid[beyond] = new
        folds.append(solid.face_edges[face][corner])
        waiting.discard(beyond)
        meet(beyond)
    return Piece(tuple(laid.values()), tuple(folds))


def _beside(solid: Solid, one: Laid, corner: int, beyond: int) -> Laid:
    """The face beyond an edge, laid beside it in the plane."""
    a, b = side_of(solid, one.face, corner)
    polygon = face_frame(solid, beyond).polygon * one.mm
    places = solid.faces[beyond]
    start, end = polygon[places.index(a)], polygon[places.index(b)]
    to_start, to_end = one.corners[corner], one.corners[(corner + 1) % len(one.corners)]
    own, wanted = end - start, to_end - to_start
    turn = math.atan2(wanted[1], wanted[0]) - math.atan2(own[1], own[0])
    shift = (to_start + to_end) / 2 - turning(turn) @ ((start + end) / 2)
    return Laid(beyond, turn, shift, polygon @ turning(turn).T + shift, one.mm)


def side_of(solid: Solid, face: int, corner: int) -> tuple[int, int]:
    """The two vertices of a side of a face."""
    corners = solid.faces[face]
    return corners[corner], corners[(corner + 1) % len(corners)]


def turning(angle: float) -> Floats:
    """The matrix that turns column vectors counter-clockwise, shape (2, 2)."""
    return np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
