"""The parting line: where the two halves of a mould meet on a solid, seen along the draw."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal

import numpy as np
from facewright.constraints.solids.rests import outward
from facewright.constraints.solids.solid import Solid
from facewright.constraints.solids.tolerance import SAME
from numpy.typing import NDArray

Vectors = NDArray[np.float64]
Point = tuple[float, float, float]

Where = Literal["middle", "upper", "lower"]
"""Where the line runs on faces along the draw: across their middle, or along the edges of the upper or lower half."""


@dataclass(frozen=True)
class Segment:
    """A straight part of a parting line, in inradii: along an edge, or across a face that lies along the draw.

    Of `edge` and `face` one is a number and the other None.
    """

    start: Point
    end: Point
    edge: int | None
    face: int | None

    @property
    def length(self) -> float:
        """Its length, in inradii."""
        return float(np.linalg.norm(np.subtract(self.end, self.start)))


@dataclass(frozen=True)
class PartingLine:
    """One closed line about the solid: every segment begins where the one before it ends, the last ends at the
    start.

    `heights` are the least and the greatest height along the draw, in inradii, the centre of mass at 0; `area` is
    what the solid covers seen along the draw, in square inradii.
    """

    segments: tuple[Segment, ...]
    heights: tuple[float, float]
    area: float

    @property
    def flat(self) -> bool:
        """Whether the line lies in one plane square to the draw, so that the halves meet in a flat face."""
        return self.heights[1] - self.heights[0] < SAME

    @cached_property
    def edges(self) -> tuple[int, ...]:
        """The edges along which it runs, in its order."""
        return tuple(segment.edge for segment in self.segments if segment.edge is not None)

    @cached_property
    def crossed(self) -> tuple[int, ...]:
        """The faces that it crosses, in its order."""
        return tuple(segment.face for segment in self.segments if segment.face is not None)

    @cached_property
    def length(self) -> float:
        """Its length, in inradii."""
        return sum(segment.length for segment in self.segments)


def parting_line(solid: Solid, axis: Vectors, where: Where = "middle") -> PartingLine:
    """The parting line of a solid for a mould that opens along `axis`, a unit vector of shape (3,).

    It is the solid's outline seen along the draw, so that neither half holds the body back. The outline runs
    along edges between a face that looks up the draw and one that looks down it. A face along the draw is seen as
    a line: there the halves can meet anywhere, and `where` decides.
    """
    heights = solid.vertices @ axis
    across = np.cross(axis, np.eye(3)[int(np.abs(axis).argmin())])
    across /= np.linalg.norm(across)
    flat = np.stack([solid.vertices @ across, solid.vertices @ np.cross(axis, across)], axis=1)
    corners = _outline(flat)
    stacks = [_stack(flat, heights, flat[corner]) for corner in corners]
    points = [_point(solid, heights, stack, where, _level(heights, stacks)) for stack in stacks]
    normals, _ = outward(solid.vertices, solid.faces)
    along = [face for face in range(len(solid.faces)) if abs(float(normals[face] @ axis)) < SAME]
    segments: list[Segment] = []
    for at in range(len(corners)):
        after = (at + 1) % len(corners)
        here, there = set(stacks[at]), set(stacks[after])
        side = next((f for f in along if here & set(solid.faces[f]) and there & set(solid.faces[f])), None)
        if side is not None and where != "middle":
            segments += _chain(solid, side, stacks[at], stacks[after], where)
        else:
            segments.append(_segment(solid, stacks[at], stacks[after], points[at], points[after], side))
    levels = [float(np.array(segment.start) @ axis) for segment in segments]
    ring = flat[corners]
    after_ring = np.roll(ring, -1, axis=0)
    area = float((ring[:, 0] * after_ring[:, 1] - ring[:, 1] * after_ring[:, 0]).sum()) / 2
    return PartingLine(tuple(segments), (min(levels), max(levels)), area)


def _outline(flat: Vectors) -> list[int]:
    """The corners of the convex outline of points in a plane, counter-clockwise; one point of those that
    coincide.

    Source: A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions", Information Processing
    Letters 9 (1979) 216–219 (from memory).
    """
    order = np.lexsort((np.round(flat[:, 1], 9), np.round(flat[:, 0], 9))).tolist()

    def half(numbers: list[int]) -> list[int]:
        found: list[int] = []
        for number in numbers:
            while found and np.abs(flat[number] - flat[found[-1]]).max() < SAME:
                found.pop()
            while len(found) > 1 and _turn(flat[found[-2]], flat[found[-1]], flat[number]) < SAME:
                found.pop()
            found.append(number)
        return found

    lower, upper = half(order), half(order[::-1])
    return lower[:-1] + upper[:-1]


def _turn(a: Vectors, b: Vectors, c: Vectors) -> float:
    """Twice the area of a triangle, positive where a, b, c turn counter-clockwise."""
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def _stack(flat: Vectors, heights: Vectors, corner: Vectors) -> list[int]:
    """The vertices seen at one corner of the outline, the lowest first: one, or two ends of an edge along the draw."""
    seen = np.flatnonzero(np.abs(flat - corner).max(axis=1) < SAME)
    return [int(vertex) for vertex in seen[np.argsort(heights[seen])]]


def _level(heights: Vectors, stacks: list[list[int]]) -> float:
    """The height at which the line would like to run where it is free: that of the rest of it, or of the middle."""
    fixed = [float(heights[stack[0]]) for stack in stacks if len(stack) == 1]
    return sum(fixed) / len(fixed) if fixed else 0.0


def _point(solid: Solid, heights: Vectors, stack: list[int], where: Where, level: float) -> Vectors:
    """The point of the line at one corner of the outline."""
    low, high = stack[0], stack[-1]
    least, most = float(heights[low]), float(heights[high])
    share = 1.0 if where == "upper" else 0.0
    if where == "middle" and low != high:
        share = (min(max(level, least), most) - least) / (most - least)
    point: Vectors = solid.vertices[low] + share * (solid.vertices[high] - solid.vertices[low])
    return point


def _segment(
    solid: Solid, here: list[int], there: list[int], start: Vectors, end: Vectors, side: int | None
) -> Segment:
    """The straight part between neighbouring corners of the outline."""
    edge = None
    if len(here) == len(there) == 1:
        pair = (min(here[0], there[0]), max(here[0], there[0]))
        edge = solid.edges.index(pair) if pair in solid.edges else None
    return Segment(_plain(start), _plain(end), edge, side if edge is None else None)


def _chain(solid: Solid, side: int, here: list[int], there: list[int], where: Where) -> list[Segment]:
    """The edges of a face along the draw from one corner of the outline to the next, the upper or the lower ones.

    The outline runs counter-clockwise seen down the draw, so from left to right seen from outside: as the lower
    edges of a face do, its corners being counter-clockwise, and against the order of the upper ones.
    """
    face = solid.faces[side] if where == "lower" else solid.faces[side][::-1]
    start, end = (here[0], there[0]) if where == "lower" else (here[-1], there[-1])
    at = face.index(start)
    around = face[at:] + face[:at]
    return [
        Segment(
            _plain(solid.vertices[a]),
            _plain(solid.vertices[b]),
            solid.edges.index((min(a, b), max(a, b))),
            None,
        )
        for a, b in pairwise(around[: around.index(end) + 1])
    ]


def _plain(point: Vectors) -> Point:
    x, y, z = (float(number) for number in point)
    return (x, y, z)
