"""Dice drawn with their labels, in any size, and a coin beside them for scale."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

import numpy as np
from facewright.search.make.pages import GREY, INK
from facewright.search.report.figures_marked import ABOVE, ASIDE, Side
from facewright.search.report.figures_solids import shade_of, view_of

if TYPE_CHECKING:
    from facewright.search.artwork.marks import Artwork
    from facewright.search.make.sizing import Sized
    from facewright.search.sheets.canvas import Canvas

COIN_MM = 24.0
"""A coin of a usual size: pieces of one unit of a currency are 20 to 27 mm wide (common practice, no source)."""

COIN_FACE, LIT = "#e6dfca", "#f2d98c"
GAP_MM = 6.0
NAMED = 0.6
"""A coin drawn smaller than at this scale is too small for words."""

LEAST_FACING = 0.1
"""Numerals on faces that turn away farther (cosine to the eye) are left out."""


def side_for(artwork: Artwork, rest: int, lit: Collection[str] = ()) -> Side:
    """Whence to draw a die that lies on a rest, so that the sites that are read face the eye as far as they can."""
    faces = [mark.face for mark in artwork.marks if mark.site in lit]

    def shown(side: Side) -> float:
        facing = view_of(artwork.solid, side.rest, side.aside, ABOVE).facing
        return sum(facing[face] for face in faces)

    return max((Side(rest, aside) for aside in ASIDE), key=shown)


def extent(artwork: Artwork, side: Side) -> tuple[float, float]:
    """How wide and how high a die is as it is seen, in inradii."""
    wide, high = np.ptp(view_of(artwork.solid, side.rest, side.aside, ABOVE).points, axis=0).tolist()
    return wide, high


def draw_die(
    canvas: Canvas,
    artwork: Artwork,
    side: Side,
    middle: tuple[float, float],
    times: float,
    lit: Collection[str] = (),
) -> None:
    """Draws a die with its labels.

    Params:
        canvas: what it is drawn on.
        side: whence it is seen.
        middle: the middle of its picture.
        times: millimetres of an inradius.
        lit: sites whose labels are underlaid.
    """
    from facewright.constraints.solids.frames import face_frame
    from facewright.search.artwork.badges import placed

    solid = artwork.solid
    view = view_of(solid, side.rest, side.aside, ABOVE)
    centre = (view.points.max(axis=0) + view.points.min(axis=0)) / 2
    corners = np.array(middle) + times * (view.points - centre)
    for face, seen, light in zip(solid.faces, view.seen, view.light, strict=True):
        if seen:
            canvas.area([corners[list(face)]], fill=shade_of(light))
    for a, b in (
        edge
        for edge, faces in zip(solid.edges, solid.edge_faces, strict=True)
        if any(view.seen[face] for face in faces)
    ):
        canvas.lines([corners[[a, b]]], wide_mm=0.2)
    for mark in artwork.marks:
        if view.facing[mark.face] > LEAST_FACING:
            frame = face_frame(solid, mark.face)
            rings = [
                np.array(middle) + times * (frame.in_space(np.asarray(ring)) @ view.axes - centre)
                for ring in placed(mark)
            ]
            if mark.site in lit:
                canvas.area(rings[:1], fill=LIT, edge=LIT, wide_mm=max(0.8, 0.16 * times * mark.height * 3))
            canvas.area(rings, fill=INK)


def draw_coin(canvas: Canvas, left: float, foot: float, scale: float = 1.0) -> None:
    """A coin lying flat, its left and its lower rim at these places."""
    radius = COIN_MM / 2 * scale
    middle = (left + radius, foot + radius)
    canvas.area([disc(middle, radius)], fill=COIN_FACE, edge=GREY, wide_mm=0.25)
    canvas.lines([ring(middle, radius * 0.86)], wide_mm=0.15, colour=GREY)
    if scale > NAMED:
        for words, y in (("coin", 0.4), (f"{COIN_MM:g} mm", -3.4)):
            canvas.text(
                middle[0],
                middle[1] + y * scale,
                words,
                size_mm=3.0 * scale,
                colour=GREY,
                align="center",
            )


def together(dice: Sequence[Sized]) -> tuple[float, float]:
    """How wide and how high all dice beside a coin are, in true size, in millimetres."""
    boxes = [_box(one) for one in _each(dice)]
    wide = sum(box[0] for box in boxes) + COIN_MM + GAP_MM * len(boxes)
    return wide, max(COIN_MM, *(box[1] for box in boxes))


def draw_together(
    canvas: Canvas, dice: Sequence[Sized], left: float, foot: float, scale: float = 1.0
) -> None:
    """All dice in one size, side by side, and the coin at their right."""
    for one in _each(dice):
        wide, high = _box(one)
        middle = (left + scale * wide / 2, foot + scale * high / 2)
        draw_die(canvas, one.die.artwork, side_for(one.die.artwork, 0), middle, one.inradius_mm * scale)
        left += scale * (wide + GAP_MM)
    draw_coin(canvas, left, foot, scale)


def _each(dice: Sequence[Sized]) -> list[Sized]:
    """Every die once, those that are made alike too."""
    return [one for one in dice for _ in one.die.positions]


def _box(one: Sized) -> tuple[float, float]:
    wide, high = extent(one.die.artwork, side_for(one.die.artwork, 0))
    return wide * one.inradius_mm, high * one.inradius_mm


def disc(middle: tuple[float, float], radius: float) -> list[tuple[float, float]]:
    """A circle as a polygon."""
    turns = (math.tau * at / 64 for at in range(64))
    return [(middle[0] + radius * math.cos(turn), middle[1] + radius * math.sin(turn)) for turn in turns]


def ring(middle: tuple[float, float], radius: float) -> list[tuple[float, float]]:
    """A circle as a closed line."""
    points = disc(middle, radius)
    return [*points, points[0]]
