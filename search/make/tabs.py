"""Tabs for glueing: a trapezium on one side of every cut, where the sheet has room for it.

A tab is glued inside the face from which its edge was cut. There it stays below the lines that halve that face's
corners, so that tabs of neighbouring edges never meet. Beside its own face it needs room on the sheet: where a cut
opens by a narrow angle the tab begins so far from the point of the angle as its depth asks for. An edge that has no
such room on either side gets a slip instead: a tab to either side of a fold, cut out on its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from facewright.search.make.convex import Crowd, reach
from facewright.search.make.unfolding import Laid, Piece, side_of

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

DEPTH_MM = 6.0
"""No tab is deeper: enough for a finger and for glue (our choice, as are the other shares here)."""

STEEP = math.radians(60)
"""The ends of a tab rise no more steeply."""

TOP = 0.25
"""The outer side of a tab is at least so long, as a share of its edge."""

CLEAR = 0.9
"""Of an angle that opens beside a tab it takes so much; of one that another tab may need as well, half of that."""

POOR = 0.4
"""A tab is too shallow below this share of the depth that its faces alone would allow."""

SHALLOWER = 0.85
"""Where something is in the way, depths are tried that are smaller by this factor each."""

TRIES = 7


@dataclass(frozen=True, eq=False)
class Tab:
    """A tab: its number, the edge that it joins, the piece and the face to which it belongs, the face it is glued to.

    `corners` has shape (4, 2), counter-clockwise, the first two on the edge; in the piece's millimetres.
    """

    number: int
    edge: int
    piece: int
    face: int
    mate: int
    corners: Floats


@dataclass(frozen=True, eq=False)
class Slip:
    """A slip for an edge without room for a tab: two trapezia about a fold; it is glued inside both faces.

    `corners` has shape (6, 2), counter-clockwise; the fold runs from the first to the fourth along y = 0.
    """

    number: int
    edge: int
    corners: Floats


@dataclass(frozen=True, eq=False)
class _Side:
    """A side of a face along a cut: where its tab would be, and how deep the faces and the sheet let it be."""

    edge: int
    piece: int
    face: int
    mate: int
    start: Floats
    end: Floats
    wanted: float
    depth: float
    feet: tuple[float, float]
    slopes: tuple[float, float]

    def trapezium(self, depth: float) -> Floats:
        """The tab at some depth, counter-clockwise."""
        along = self.end - self.start
        length = float(np.linalg.norm(along))
        along = along / length
        out = np.array([along[1], -along[0]])
        feet = [max(0.0, depth * (foot - slope)) for foot, slope in zip(self.feet, self.slopes, strict=True)]
        tops = [foot + depth * slope for foot, slope in zip(feet, self.slopes, strict=True)]
        low = [self.start + feet[0] * along, self.end - feet[1] * along]
        high = [self.start + tops[0] * along + depth * out, self.end - tops[1] * along + depth * out]
        return np.array([low[1], low[0], high[0], high[1]])


def tabs_of(solid: Solid, pieces: Sequence[Piece]) -> tuple[tuple[Tab, ...], tuple[Slip, ...]]:
    """The tabs and slips of a net; numbers run over both, in the order of the edges.

    Params:
        solid: the solid.
        pieces: its faces laid flat.
    """
    sides = _sides(solid, pieces)
    crowds = [Crowd() for _ in pieces]
    for crowd, piece in zip(crowds, pieces, strict=True):
        for one in piece.faces:
            crowd.add(one.corners)
    chosen: dict[int, tuple[_Side, Floats]] = {}
    # the edges with the least choice first
    for edge in sorted(sides, key=lambda edge: (max(one.depth / one.wanted for one in sides[edge]), edge)):
        for side in sorted(sides[edge], key=lambda one: (-round(one.depth / one.wanted, 6), one.face)):
            corners = _room_for(crowds[side.piece], side)
            if corners is not None:
                chosen[edge] = (side, corners)
                break
    tabs, slips = [], []
    for number, edge in enumerate(sorted(sides), start=1):
        if edge in chosen:
            side, corners = chosen[edge]
            tabs.append(Tab(number, edge, side.piece, side.face, side.mate, corners))
        else:
            slips.append(Slip(number, edge, _slip(sides[edge])))
    return tuple(tabs), tuple(slips)


def _slip(sides: Sequence[_Side]) -> Floats:
    """A slip that is the same whichever way round it is glued: it suits both faces at both ends."""
    length = float(np.linalg.norm(sides[0].end - sides[0].start))
    slope = max(slope for side in sides for slope in side.slopes)
    depth = min((1 - TOP) * length / (2 * slope), *(side.wanted for side in sides))
    far = depth * slope
    return np.array(
        [[0, 0], [far, -depth], [length - far, -depth], [length, 0], [length - far, depth], [far, depth]]
    )


def _sides(solid: Solid, pieces: Sequence[Piece]) -> dict[int, list[_Side]]:
    """For each edge that is cut its two sides."""
    faces = {one.face: (number, one) for number, piece in enumerate(pieces) for one in piece.faces}
    folds = {edge for piece in pieces for edge in piece.folds}
    found: dict[int, list[_Side]] = {edge: [] for edge in range(len(solid.edges)) if edge not in folds}
    for piece in range(len(pieces)):
        fans = _Fans(solid, pieces[piece])
        for one in pieces[piece].faces:
            for corner, edge in enumerate(solid.face_edges[one.face]):
                if edge in found:
                    mate = faces[solid.neighbours[one.face][corner]][1]
                    found[edge].append(_side(solid, piece, one, corner, edge, mate, fans))
    return found


def _side(solid: Solid, piece: int, one: Laid, corner: int, edge: int, mate: Laid, fans: _Fans) -> _Side:
    a, b = side_of(solid, one.face, corner)
    start, end = one.corners[corner], one.corners[(corner + 1) % len(one.corners)]
    length = float(np.linalg.norm(end - start))
    slopes = tuple(
        1 / math.tan(min(STEEP, _inside(mate.corners, solid.faces[mate.face].index(vertex)) / 2))
        for vertex in (a, b)
    )
    wanted = min(DEPTH_MM, (1 - TOP) * length / sum(slopes))
    at = solid.faces[mate.face].index(b)
    side = _Side(edge, piece, one.face, mate.face, start, end, wanted, wanted, slopes, slopes)  # type: ignore[arg-type]
    while not _within(side.trapezium(wanted), start, end, mate.corners, at):
        wanted *= SHALLOWER
    feet = tuple(
        max(slope, 1 / math.tan(min(STEEP, CLEAR * angle)))
        for slope, angle in zip(slopes, fans.beside(one, corner, edge), strict=True)
    )
    depth = min(wanted, (1 - TOP) * length / sum(feet))
    return _Side(edge, piece, one.face, mate.face, start, end, wanted, depth, feet, slopes)  # type: ignore[arg-type]


def _inside(polygon: Floats, corner: int) -> float:
    """The angle of a polygon at a corner, in radians."""
    there = polygon[corner]
    to = polygon[[corner - 1, (corner + 1) % len(polygon)]] - there
    cosine = to[0] @ to[1] / (np.linalg.norm(to[0]) * np.linalg.norm(to[1]))
    return math.acos(max(-1.0, min(1.0, float(cosine))))


def _within(trapezium: Floats, start: Floats, end: Floats, mate: Floats, corner: int) -> bool:
    """Whether a tab, folded over, lies within the face it is glued to, whose side from `corner` on is its edge."""
    along = (end - start) / np.linalg.norm(end - start)
    out = np.array([along[1], -along[0]])
    # in the mate, the edge runs from the side's end to its start, and inwards lies to the left
    first, after = mate[corner], mate[(corner + 1) % len(mate)]
    forward = (after - first) / np.linalg.norm(after - first)
    inward = np.array([-forward[1], forward[0]])
    back = (end - trapezium) @ along
    points = first + back[:, None] * forward + ((trapezium - start) @ out)[:, None] * inward
    steps = np.roll(mate, -1, axis=0) - mate
    left = steps[:, None, 0] * (points[None, :, 1] - mate[:, None, 1]) - steps[:, None, 1] * (
        points[None, :, 0] - mate[:, None, 0]
    )
    return bool((left >= -1e-9 * reach(mate) ** 2).all())


class _Fans:
    """How far the sheet is free beside the sides of a piece's faces, at their ends."""

    def __init__(self, solid: Solid, piece: Piece) -> None:
        self._solid = solid
        self._at: dict[int, list[tuple[Floats, Laid, int]]] = {}
        for one in piece.faces:
            for corner, vertex in enumerate(solid.faces[one.face]):
                self._at.setdefault(vertex, []).append((one.corners[corner], one, corner))

    def beside(self, one: Laid, corner: int, edge: int) -> Iterator[float]:
        """The angles that a tab may use at the start and at the end of a side, in radians."""
        after = (corner + 1) % len(one.corners)
        way = one.corners[after] - one.corners[corner]
        ahead = math.atan2(way[1], way[0])
        for place, vertex in zip((corner, after), side_of(self._solid, one.face, corner), strict=True):
            angles = []
            for point, other, at in self._at[vertex]:
                if float(np.linalg.norm(point - one.corners[place])) > 1e-6 * one.mm:
                    continue
                # clockwise from the start of the side to the side that comes in; from its end to the one that goes out
                to = (at - 1) % len(other.corners) if place == corner else (at + 1) % len(other.corners)
                facing = self._solid.face_edges[other.face][to if place == corner else at]
                heading = math.atan2(*(other.corners[to] - point)[::-1])
                turn = ahead - heading if place == corner else heading - ahead - math.pi
                angles.append((turn % math.tau or math.tau, 1.0 if facing == edge else 0.5))
            angle, share = min(angles)
            yield min(math.pi, angle * share)


def _room_for(crowd: Crowd, side: _Side) -> Floats | None:
    """The deepest tab that overlaps nothing, which joins the crowd; None where it would be too shallow."""
    depth = side.depth
    for _ in range(TRIES):
        if depth < POOR * side.wanted:
            return None
        corners = side.trapezium(depth)
        if not crowd.overlaps(corners):
            crowd.add(corners)
            return corners
        depth *= SHALLOWER
    return None
