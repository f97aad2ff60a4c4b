"""Nets: a solid as paper to cut out, fold and glue, in true size, on as many sheets as it takes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.errors import UsageError
from facewright.search.make.packing import OnSheet, centred, packed
from facewright.search.make.tabs import DEPTH_MM, Slip, Tab, tabs_of
from facewright.search.make.unfolding import Piece, fits, largest_scale, unfolded

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid
    from facewright.search.make.paper import Paper
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

BESIDE_MM = 3.0
"""Kept free beyond tabs and edges for the numbers that say what is glued to what."""

SPARE_MM = DEPTH_MM + BESIDE_MM
"""What tabs and numbers may need about the faces of a piece."""


class NetTooLarge(UsageError):
    """A solid of which one face with its tabs is larger than the sheet."""


EVERYWHERE = (math.inf, math.inf)


@dataclass(frozen=True, eq=False)
class Net:
    """A solid laid flat, with tabs, on sheets; lengths in millimetres.

    `mm` is the length of one inradius. `places` says where each piece lies, `slip_places` where each slip.
    `whole_mm` is the largest length of one inradius at which everything hangs together on one sheet (faces and tabs;
    slips may need a second one).
    """

    solid: Solid
    mm: float
    paper: Paper
    pieces: tuple[Piece, ...]
    tabs: tuple[Tab, ...]
    slips: tuple[Slip, ...]
    places: tuple[OnSheet, ...]
    slip_places: tuple[OnSheet, ...]
    sheets: int
    whole_mm: float

    @cached_property
    def folds(self) -> tuple[int, ...]:
        """The numbers of all edges that are folded, piece by piece."""
        return tuple(edge for piece in self.pieces for edge in piece.folds)

    @cached_property
    def joints(self) -> dict[int, int]:
        """For each edge that is glued the number of its tab or slip."""
        return {edge: one.number for edge, one in self._joining.items()}

    @property
    def least_tab_mm(self) -> float:
        """The depth of the shallowest tab or slip."""
        return min((_depth(one) for one in self._joining.values()), default=0.0)

    @cached_property
    def _joining(self) -> dict[int, Tab | Slip]:
        tabs: dict[int, Tab | Slip] = {tab.edge: tab for tab in self.tabs}
        return tabs | {slip.edge: slip for slip in self.slips}


def net_of(solid: Solid, mm: float, paper: Paper) -> Net:
    """The net of a solid.

    Of a few ways to choose the folds that one is taken which gives the fewest pieces, then the fewest slips, then the
    smallest sheet.

    Params:
        solid: the solid.
        mm: the length of one inradius, in millimetres.
        paper: the sheets.
    Raises: NetTooLarge where a single face with its tabs is larger than a sheet, with the size that fits.
    """
    room = paper.room_mm
    whole = 0.0
    tried = []
    for place, worth in enumerate(_worths(solid)):
        all_round = unfolded(solid, 1.0, worth, 0, EVERYWHERE)
        if len(all_round) == 1:
            inner = (room[0] - 2 * SPARE_MM, room[1] - 2 * SPARE_MM)
            whole = max(whole, largest_scale(all_round[0].points, inner))
        try:
            pieces = unfolded(solid, mm, worth, 0, room, SPARE_MM)
        except ValueError as wrong:
            raise NetTooLarge(_too_large(solid, mm, paper)) from wrong
        tabs, slips = tabs_of(solid, pieces)
        tried.append(((len(pieces), len(slips), _area(pieces, tabs, room), place), pieces, tabs, slips))
    _, pieces, tabs, slips = min(tried, key=lambda one: one[0])
    items = [_with_border(piece, number, tabs) for number, piece in enumerate(pieces)]
    items += [_grown(slip.corners, 0.0) for slip in slips]
    places, sheets = packed(items, room)
    places = centred(places, items, room)
    cut = len(pieces)
    return Net(solid, mm, paper, pieces, tabs, slips, places[:cut], places[cut:], sheets, whole)


def largest_face_mm(solid: Solid, paper: Paper) -> float:
    """The largest length of one inradius at which each face of a solid fits on a sheet, with its tabs, in mm."""
    from facewright.constraints.solids.frames import face_frame

    inner = (paper.room_mm[0] - 2 * SPARE_MM, paper.room_mm[1] - 2 * SPARE_MM)
    return min(largest_scale(face_frame(solid, face).polygon, inner) for face in range(len(solid.faces)))


def _too_large(solid: Solid, mm: float, paper: Paper) -> str:
    most = math.floor(20 * largest_face_mm(solid, paper)) / 10
    return (
        f"paper net: found a {solid.name} of {2 * mm:g} mm (twice its inradius), of which one face is larger than "
        f"{paper.name}; accepted: up to {most:g} mm, or a larger paper"
    )


def _worths(solid: Solid) -> Iterator[list[float]]:
    """Ways to choose folds: in rings about a face, wide open corners whole first, long edges whole first."""
    yield [0.0] * len(solid.edges)
    opening = _openings(solid)
    yield [round(min(opening[a], opening[b]), 6) for a, b in solid.edges]
    ends = solid.vertices[[list(edge) for edge in solid.edges]]
    yield np.round(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1), 6).tolist()


def _openings(solid: Solid) -> list[float]:
    """For each vertex by how much its faces, laid flat, fall short of a full turn, in radians."""
    left = [math.tau] * len(solid.vertices)
    for face in solid.faces:
        corners = solid.vertices[list(face)]
        before, after = np.roll(corners, 1, axis=0) - corners, np.roll(corners, -1, axis=0) - corners
        lengths = np.linalg.norm(before, axis=1) * np.linalg.norm(after, axis=1)
        angles = np.arccos(np.clip(np.einsum("ki,ki->k", before, after) / lengths, -1, 1))
        for vertex, angle in zip(face, angles.tolist(), strict=True):
            left[vertex] -= angle
    return left


def _area(pieces: tuple[Piece, ...], tabs: tuple[Tab, ...], room: tuple[float, float]) -> float:
    """The area of the boxes of all pieces, each in its best turn, in square millimetres."""
    total = 0.0
    for number, piece in enumerate(pieces):
        points = _with_border(piece, number, tabs)
        turn = fits(points, room) or 0.0
        there = points @ np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
        total += float(np.prod(np.ptp(there, axis=0)))
    return round(total, 3)


def _with_border(piece: Piece, number: int, tabs: tuple[Tab, ...]) -> Floats:
    """All points of a piece and its tabs, and a border for numbers."""
    points = np.concatenate([piece.points, *(tab.corners for tab in tabs if tab.piece == number)])
    return _grown(points, BESIDE_MM)


def _grown(points: Floats, border: float) -> Floats:
    """Points about each of some points, at the distance of a border."""
    around = border * np.array(
        [(math.cos(turn), math.sin(turn)) for turn in np.linspace(0, math.tau, 13)[:-1]]
    )
    return (points[:, None] + around[None]).reshape(-1, 2)


def _depth(one: Tab | Slip) -> float:
    """How deep a tab, or the shallower half of a slip, is."""
    if isinstance(one, Slip):
        return float(min(one.corners[:, 1].max(), -one.corners[:, 1].min()))
    start, end, top = one.corners[1], one.corners[0], one.corners[2]
    along = (end - start) / np.linalg.norm(end - start)
    return float(abs(along[0] * (top - start)[1] - along[1] * (top - start)[0]))
