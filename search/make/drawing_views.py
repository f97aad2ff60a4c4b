"""The views of a moulder's drawing: three square to each other and one aside, with sizes and the parting line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.solids.sizes import MM_PER_INCH
from facewright.search.make.pages import GREY, INK

if TYPE_CHECKING:
    from facewright.search.make.mould import Mould
    from facewright.search.make.pages import Page
    from facewright.search.make.sizing import Sized
    from facewright.search.report.figures_solids import View
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

VIEW_MM = 50.0
"""The square into which each view fits."""

BESIDE_MM, BELOW_MM = 16.0, 13.0
"""Room to the left of a view and below it, for its sizes and its name."""

SCALES = (0.1, 0.2, 0.25, 0.4, 0.5, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 4.0, 5.0)

TURNS = (
    ("front", 0.0, 0.0),
    ("left side", -90.0, 0.0),
    ("top", 0.0, 90.0),
    ("from above, aside", 20.0, 28.0),
)
"""Each view: its name, degrees aside of the front, degrees above the table."""

LINE = "#1f5fa8"
"""The colour of parting line, gate and draw."""

SMALL_MM = 2.5
CLEAR = 0.12
"""Numerals on faces that turn away farther (cosine to the eye) are left out: they would be blots."""


@dataclass(frozen=True, eq=False)
class Picture:
    """A view on the page: `middle` is where the middle of the body's box is, `times` the millimetres of an inradius."""

    name: str
    view: View
    middle: tuple[float, float]
    times: float

    @property
    def half(self) -> tuple[float, float]:
        """Half the width and half the height of the body as it is seen, in millimetres on the page."""
        wide, high = (np.ptp(self.view.points, axis=0) * self.times / 2).tolist()
        return wide, high

    def seen(self, points: Floats) -> Floats:
        """Points of the view, shape (n, 2) in inradii, on the page."""
        centre = (self.view.points.max(axis=0) + self.view.points.min(axis=0)) / 2
        there: Floats = np.array(self.middle) + self.times * (points - centre)
        return there

    def at(self, points: Floats) -> Floats:
        """Points in space, shape (n, 3) in inradii, on the page."""
        return self.seen(points @ self.view.axes)


def scale_words(scale: float) -> str:
    """A scale as drawings write it.

    Example:
        >>> scale_words(2.5), scale_words(0.25)
        ('2.5 : 1', '1 : 4')
    """
    return f"{scale:g} : 1" if scale >= 1 else f"1 : {1 / scale:g}"


def pictures_of(one: Sized, left: float, top: float) -> tuple[float, tuple[Picture, ...]]:
    """The views in two rows, in first-angle projection: the top below the front, the left side to its right.

    Params:
        one: the die in its size; it lies on its first rest.
        left, top: the upper left corner of the views, in millimetres.
    Returns: the scale and the views.
    """
    from facewright.search.report.figures_solids import view_of

    body = one.die.artwork.solid
    views = [view_of(body, 0, math.radians(aside), math.radians(above)) for _, aside, above in TURNS]
    most = max(float(np.ptp(view.points, axis=0).max()) for view in views) * one.inradius_mm
    scale = max((one for one in SCALES if one * most <= VIEW_MM), default=SCALES[0])
    pictures = []
    for place, (view, (name, _, _)) in enumerate(zip(views, TURNS, strict=True)):
        x = left + place % 2 * (VIEW_MM + 2 * BESIDE_MM) + BESIDE_MM + VIEW_MM / 2
        y = top - place // 2 * (VIEW_MM + BELOW_MM) - VIEW_MM / 2
        pictures.append(Picture(name, view, (x, y), scale * one.inradius_mm))
    return scale, tuple(pictures)


def draw_views(page: Page, one: Sized, mould: Mould, left: float, top: float) -> tuple[float, float]:
    """Draws the views.

    Params:
        page: the page.
        one: the die in its size.
        mould: its parting line, draw and gate.
        left, top: the upper left corner of the views, in millimetres.
    Returns: the scale, and how far down the views reach.
    """
    scale, pictures = pictures_of(one, left, top)
    for place, picture in enumerate(pictures):
        _body(page, one, picture)
        _parting(page, one, mould, picture)
        (x, y), (_, half) = picture.middle, picture.half
        page.text(x, y - half - 11.5, picture.name, size_mm=SMALL_MM, colour=GREY, align="center")
        if place < 3:
            _sizes(page, picture, scale)
            _draw(page, mould, picture)
    return scale, pictures[-1].middle[1] - VIEW_MM / 2 - BELOW_MM + 1.0


def _body(page: Page, one: Sized, picture: Picture) -> None:
    """Edges that are seen, and numerals."""
    from facewright.constraints.solids.frames import face_frame
    from facewright.search.artwork.badges import placed

    artwork, view = one.die.artwork, picture.view
    for mark in artwork.marks:
        rings = placed(mark)
        if rings and view.facing[mark.face] > CLEAR:
            frame = face_frame(artwork.solid, mark.face)
            page.area([picture.at(frame.in_space(np.asarray(ring))) for ring in rings], fill=INK)
    page.lines(
        [
            picture.seen(view.points[list(edge)])
            for edge, faces in zip(artwork.solid.edges, artwork.solid.edge_faces, strict=True)
            if any(view.seen[face] for face in faces)
        ],
        wide_mm=0.25,
    )


def _parting(page: Page, one: Sized, mould: Mould, picture: Picture) -> None:
    """The parting line where it is seen, and the gate on it."""
    body, view = one.die.artwork.solid, picture.view
    runs = []
    for segment in mould.plan.parting.segments:
        faces = (segment.face,) if segment.edge is None else body.edge_faces[segment.edge]
        if any(face is not None and view.seen[face] for face in faces):
            runs.append(picture.at(np.array([segment.start, segment.end])))
    page.lines(runs, wide_mm=0.6, colour=LINE, dashed=True)
    if any(view.seen[face] for face in mould.gate.faces):
        [point] = picture.at(np.array([mould.gate.point]))
        gate_sign(page, point.tolist())


def gate_sign(page: Page, at: Sequence[float]) -> None:
    """The sign of the gate, a ring."""
    page.area([_disc(np.array(at), 1.3)], fill=LINE)
    page.area([_disc(np.array(at), 0.6)], fill="#ffffff")


def _sizes(page: Page, picture: Picture, scale: float) -> None:
    """Overall width and height, over sharp edges."""
    (x, y), (wide, high) = picture.middle, picture.half
    foot, side = y - high - 4.5, x - wide - 4.5
    page.lines(
        [[(x + at, y - high - 1), (x + at, foot - 1)] for at in (-wide, wide)], wide_mm=0.12, colour=GREY
    )
    page.lines(
        [[(x - wide - 1, y + at), (side - 1, y + at)] for at in (-high, high)], wide_mm=0.12, colour=GREY
    )
    arrow(page, (x - wide, foot), (x + wide, foot))
    arrow(page, (side, y - high), (side, y + high))
    page.text(x, foot - 3.2, _length(2 * wide / scale), size_mm=SMALL_MM, align="center")
    page.text(side - 1.0, y, _length(2 * high / scale), size_mm=SMALL_MM, align="center", turn=90)


def _length(mm: float) -> str:
    return f"{mm:.2f} ({mm / MM_PER_INCH:.3f} in)"


def _draw(page: Page, mould: Mould, picture: Picture) -> None:
    """The direction of the draw, as it is seen, in the upper right corner of the view."""
    x, y = picture.middle[0] + VIEW_MM / 2 + 8, picture.middle[1] + VIEW_MM / 2 - 6
    step = np.array(mould.plan.axis) @ picture.view.axes
    length = float(np.linalg.norm(step))
    if length > 0.2:
        dx, dy = (step * 5).tolist()
        arrow(page, (x - dx, y - dy), (x + dx, y + dy), colour=LINE)
    else:
        page.area([_disc(np.array([x, y]), 1.6)], edge=LINE)
        page.area([_disc(np.array([x, y]), 0.4)], fill=LINE)
    page.text(x, y - 9.0, "draw", size_mm=SMALL_MM, colour=LINE, align="center")


def arrow(page: Page, start: Sequence[float], end: Sequence[float], colour: str = GREY) -> None:
    """A line with a head at either end."""
    a, b = np.array(start), np.array(end)
    along = (b - a) / max(float(np.linalg.norm(b - a)), 1e-9)
    aside = np.array([-along[1], along[0]])
    page.lines([[a, b]], wide_mm=0.15, colour=colour)
    for tip, way in ((a, along), (b, -along)):
        page.area([[tip, tip + 1.8 * way + 0.35 * aside, tip + 1.8 * way - 0.35 * aside]], fill=colour)


def _disc(middle: Floats, radius: float) -> Floats:
    turns = np.linspace(0, math.tau, 33)[:-1]
    return middle + radius * np.stack([np.cos(turns), np.sin(turns)], axis=1)
