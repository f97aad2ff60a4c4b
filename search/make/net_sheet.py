"""What lies on one sheet of a net: lines to cut and to fold, numerals, and the numbers by which it is glued."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from facewright.search.artwork.badges import placed
from facewright.search.make.convex import Crowd
from facewright.search.make.pages import width_of

if TYPE_CHECKING:
    from pathlib import Path

    from facewright.search.artwork.marks import Artwork
    from facewright.search.make.nets import Net
    from facewright.search.make.packing import OnSheet
    from facewright.search.make.tabs import Slip, Tab
    from facewright.search.make.unfolding import Laid
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

CAPITAL = 0.73
"""The height of figures over the size of the font."""

NUMBER_MM = 2.4
"""The size of numbers; smaller where there is little room."""

LEAST_NUMBER_MM = 1.2

SHARES = (0.5, 0.38, 0.62, 0.26, 0.74)
"""Where along an edge its number is tried."""

TRIED = (
    ("beside", NUMBER_MM),
    ("beside", 1.6),
    ("inside", 1.6),
    ("beside", LEAST_NUMBER_MM),
    ("inside", LEAST_NUMBER_MM),
    ("under", LEAST_NUMBER_MM),
)
"""Where the number of an edge is tried, and how large."""

FREE_MM = 0.4
"""Kept free about a number."""


@dataclass(frozen=True, eq=False)
class Number:
    """Characters on a sheet: the middle of their baseline, how they are turned, in degrees, and their size in mm.

    `role` says where they stand: "on" a tab or slip, "beside" an edge, "inside" of it where there is no room beside it,
    "under" numerals where there is no room at all.
    """

    at: Floats
    turn: float
    words: str
    size_mm: float
    role: str


@dataclass
class Sheet:
    """All that is drawn on a sheet, in millimetres from its lower left corner; each numeral is a list of rings."""

    cuts: list[Floats] = field(default_factory=list)
    folds: list[Floats] = field(default_factory=list)
    numerals: list[list[Floats]] = field(default_factory=list)
    numbers: list[Number] = field(default_factory=list)

    @cached_property
    def paper(self) -> Crowd:
        """Faces, tabs and slips."""
        return Crowd()

    @cached_property
    def written(self) -> Crowd:
        """Numerals and numbers."""
        return Crowd()

    @cached_property
    def numbered(self) -> Crowd:
        """Numbers."""
        return Crowd()


def sheets_of(net: Net, artwork: Artwork, font: Path | None = None) -> list[Sheet]:
    """The sheets of a net.

    Params:
        net: the net.
        artwork: what stands on its solid's faces.
        font: a font file for the numerals; without it the usual one.
    """
    sheets = [_Drawing(net) for _ in range(net.sheets)]
    pieces = list(zip(net.pieces, net.places, strict=True))
    for piece, place in pieces:
        for one in piece.faces:
            sheets[place.sheet].face(one, place, artwork, font)
    for tab in net.tabs:
        place = net.places[tab.piece]
        sheets[place.sheet].tab(tab, place)
    for slip, place in zip(net.slips, net.slip_places, strict=True):
        sheets[place.sheet].slip(slip, place)
    for piece, place in pieces:
        for one in piece.faces:
            sheets[place.sheet].mates(one, place)
    return [one.sheet for one in sheets]


class _Drawing:
    """Draws one sheet."""

    def __init__(self, net: Net) -> None:
        self.sheet = Sheet()
        self._net = net
        self._corner = np.array(net.paper.corner_mm)
        self._tabs = {tab.edge: tab for tab in net.tabs}
        self._folds = set(net.folds)

    def face(self, one: Laid, place: OnSheet, artwork: Artwork, font: Path | None) -> None:
        """A face with its sides and its numerals; sides with a tab are the tab's."""
        points = place.moved(one.corners) + self._corner
        self.sheet.paper.add(points)
        for at, edge in enumerate(self._net.solid.face_edges[one.face]):
            ends = points[[at, (at + 1) % len(points)]]
            if edge in self._folds:
                if one.face == self._net.solid.edge_faces[edge][0]:
                    self.sheet.folds.append(ends)
            elif edge not in self._tabs or self._tabs[edge].face != one.face:
                self.sheet.cuts.append(ends)
            else:
                shape = place.moved(self._tabs[edge].corners) + self._corner
                # where the tab begins beyond the end of the edge, the rest of the edge is cut
                self.sheet.cuts.append(np.concatenate([ends[:1], shape[[1, 2, 3, 0]], ends[1:]]))
        for mark in artwork.on_face(one.face):
            rings = [place.moved(one.on_sheet(np.array(ring))) + self._corner for ring in placed(mark, font)]
            if rings:
                self.sheet.numerals.append(rings)
                way = place.turn + one.turn + mark.angle
                self.sheet.written.add(_around(np.concatenate(rings), way))

    def tab(self, tab: Tab, place: OnSheet) -> None:
        """The fold and the number of a tab; its outline is drawn with its face."""
        shape = place.moved(tab.corners) + self._corner
        self.sheet.paper.add(shape)
        self.sheet.folds.append(shape[[1, 0]])
        self._on(shape, shape[0] - shape[1], str(tab.number))

    def slip(self, slip: Slip, place: OnSheet) -> None:
        """A slip with its fold, and its number on both halves."""
        shape = place.moved(slip.corners) + self._corner
        self.sheet.paper.add(shape)
        self.sheet.cuts.append(np.concatenate([shape, shape[:1]]))
        self.sheet.folds.append(shape[[0, 3]])
        for half in (shape[:4], shape[[3, 4, 5, 0]]):
            self._on(half, shape[3] - shape[0], str(slip.number))

    def mates(self, one: Laid, place: OnSheet) -> None:
        """Numbers at the sides to which tabs and slips are glued."""
        points = place.moved(one.corners) + self._corner
        for at, edge in enumerate(self._net.solid.face_edges[one.face]):
            number = self._net.joints.get(edge)
            own = edge in self._tabs and self._tabs[edge].face == one.face
            if number is not None and not own:
                self._mate(points[at], points[(at + 1) % len(points)], str(number))

    def _on(self, shape: Floats, along: Floats, words: str) -> None:
        """A number in the middle of a trapezium."""
        along = along / np.linalg.norm(along)
        across = shape @ np.array([-along[1], along[0]])
        size = max(LEAST_NUMBER_MM, min(NUMBER_MM, 0.85 * float(np.ptp(across))))
        self._write(shape.mean(axis=0), along, words, size, "on")

    def _mate(self, start: Floats, end: Floats, words: str) -> None:
        """A number beside a side, else inside of it, else there although a numeral may cover it."""
        along = (end - start) / np.linalg.norm(end - start)
        out = np.array([along[1], -along[0]])
        for role, size in TRIED:
            wide, side = width_of(words, size), 1 if role == "beside" else -1
            for share in SHARES:
                middle = start + share * (end - start) + side * (CAPITAL * size / 2 + FREE_MM) * out
                box = _box(middle, along, wide + FREE_MM, CAPITAL * size + FREE_MM)
                if role == "beside" and self.sheet.paper.overlaps(box):
                    continue
                taken = self.sheet.numbered if role == "under" else self.sheet.written
                if not taken.overlaps(box):
                    self._write(middle, along, words, size, role)
                    self.sheet.written.add(box)
                    self.sheet.numbered.add(box)
                    return
        self._write((start + end) / 2, along, words, LEAST_NUMBER_MM, "under")

    def _write(self, middle: Floats, along: Floats, words: str, size: float, role: str) -> None:
        """Characters about a point, read along a direction, turned so that they do not stand on their heads."""
        turn = float(np.degrees(np.arctan2(along[1], along[0])))
        if not -90 < turn <= 90:
            turn += 180 if turn < 0 else -180
        up = np.array([-np.sin(np.radians(turn)), np.cos(np.radians(turn))])
        self.sheet.numbers.append(Number(middle - CAPITAL * size / 2 * up, turn, words, size, role))


def _around(points: Floats, turn: float) -> Floats:
    """The box about points whose sides are turned, counter-clockwise."""
    across, up = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    x, y = points @ across, points @ up
    middle = (x.min() + x.max()) / 2 * across + (y.min() + y.max()) / 2 * up
    return _box(middle, across, float(np.ptp(x)), float(np.ptp(y)))


def _box(middle: Floats, along: Floats, wide: float, tall: float) -> Floats:
    up = np.array([-along[1], along[0]])
    signs: Sequence[tuple[float, float]] = ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5))
    return np.array([middle + x * wide * along + y * tall * up for x, y in signs])
