"""How fine an outline is: its narrowest stroke, and the smallest island that its strokes enclose."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from facewright.search.artwork.marks import Ring

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

STEP = 0.02
"""How far apart the points of an outline are that are looked at, over the height of a figure."""

FACING = math.cos(math.radians(165))
"""Two sides of a stroke face each other where their normals differ by 165 degrees at least.

At its narrowest a stroke has parallel sides; the rest is for curves in straight pieces. So corners, blunt ends and
tips of more than 15 degrees are no narrow strokes, and needles are."""

FAN = math.radians(6)
"""A corner that points into the ink is looked at in directions so far apart: a notch may be what narrows a stroke."""

AT_ONCE = 256
"""Points whose distances to all others are worked out together."""


@dataclass(frozen=True)
class Fineness:
    """Widths over the height of a figure; infinite where there is none.

    `stroke` is the narrowest place between two sides of a stroke. `island` is the diameter of the largest disc that
    lies within the smallest patch of the face that a stroke encloses, as within 0, 4, 6, 8 and 9: what stands between
    the recesses of a numeral, and what chips first.
    """

    stroke: float
    island: float


@lru_cache(maxsize=4096)
def fineness(rings: tuple[Ring, ...]) -> Fineness:
    """How fine some outlines are.

    Params:
        rings: closed outlines for the even-odd rule that cross neither themselves nor each other, one unit high.

    Example:
        >>> frame = (((0, 0), (2, 0), (2, 2), (0, 2)), ((0.3, 0.3), (0.3, 1.7), (1.7, 1.7), (1.7, 0.3)))
        >>> found = fineness(frame)
        >>> round(found.stroke, 3), round(found.island, 2)
        (0.3, 1.4)
    """
    depths = _depths(rings)
    parts = [_fineness_of(part) for part in _parts(rings, depths)]
    return Fineness(
        min((part.stroke for part in parts), default=math.inf),
        min((part.island for part in parts), default=math.inf),
    )


@lru_cache(maxsize=4096)
def _fineness_of(rings: tuple[Ring, ...]) -> Fineness:
    depths = _depths(rings)
    return Fineness(_stroke(rings, depths), _island(rings, depths))


def _parts(rings: tuple[Ring, ...], depths: list[int]) -> list[tuple[Ring, ...]]:
    """The rings outermost, each with those within it, moved to one place: a character is measured once in all texts."""
    from shapely import Point, Polygon

    parts = []
    for ring, depth in zip(rings, depths, strict=True):
        if depth:
            continue
        outer, (left, foot) = Polygon(ring), ring[0]
        held = [one for one in rings if one is ring or outer.contains(Point(one[0]))]
        parts.append(tuple(tuple((round(x - left, 9), round(y - foot, 9)) for x, y in one) for one in held))
    return parts


def _depths(rings: tuple[Ring, ...]) -> list[int]:
    """Within how many of the others each ring lies."""
    from shapely import Point, Polygon

    areas = [Polygon(ring) for ring in rings]
    return [
        sum(place != other and area.contains(Point(ring[0])) for other, area in enumerate(areas))
        for place, ring in enumerate(rings)
    ]


def _stroke(rings: tuple[Ring, ...], depths: list[int]) -> float:
    """The diameter of the smallest disc that touches both sides of a stroke.

    With p a point of the outline, n its normal into the ink and q another point, |q − p|² / (2 n·(q − p)) is the radius
    of the disc that touches the outline at p and passes through q.
    """
    import numpy as np

    if not rings:
        return math.inf
    sampled = [_sampled(ring, inside=depth % 2 == 0) for ring, depth in zip(rings, depths, strict=True)]
    points = np.concatenate([one for one, _ in sampled])
    normals = np.concatenate([one for _, one in sampled])
    found = math.inf
    for start in range(0, len(points), AT_ONCE):
        some = slice(start, start + AT_ONCE)
        away = points[None] - points[some, None]
        ahead = (away * normals[some, None]).sum(axis=2)
        across = (ahead > 0) & (normals[some] @ normals.T <= FACING)
        radii = (away**2).sum(axis=2) / np.where(across, 2 * ahead, 1.0)
        found = min(found, 2 * float(np.min(radii, where=across, initial=math.inf)))
    return found


def _sampled(ring: Ring, *, inside: bool) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Points along a ring, `STEP` apart at most, and its corners into the ink, with normals that point into the ink.

    Params:
        ring: the outline.
        inside: whether the ink lies within it.
    """
    import numpy as np

    corners = np.array(
        [one for one, before in zip(ring, ring[-1:] + ring[:-1], strict=True) if one != before]
    )
    steps = np.roll(corners, -1, axis=0) - corners
    if (float((corners[:, 0] * steps[:, 1] - corners[:, 1] * steps[:, 0]).sum()) > 0) != inside:
        corners = corners[::-1]
        steps = np.roll(corners, -1, axis=0) - corners
    # the ink is on the left now
    lengths = np.linalg.norm(steps, axis=1)
    facing = np.arctan2(steps[:, 1], steps[:, 0]) + math.pi / 2
    points, normals = [], []
    for place, (corner, step, length) in enumerate(zip(corners, steps, lengths, strict=True)):
        many = max(1, math.ceil(length / STEP))
        share = (np.arange(many) + 0.5) / many
        turn = math.remainder(facing[place] - facing[place - 1], math.tau)
        fan = (
            facing[place] - turn * np.arange(1, math.ceil(-turn / FAN)) / math.ceil(-turn / FAN)
            if turn < -FAN
            else []
        )
        points += [corner + share[:, None] * step, np.tile(corner, (len(fan), 1))]
        normals += [np.full(many, facing[place]), np.asarray(fan)]
    angles = np.concatenate(normals)
    return np.concatenate(points), np.stack([np.cos(angles), np.sin(angles)], axis=1)


def _island(rings: tuple[Ring, ...], depths: list[int]) -> float:
    """The diameter of the largest disc within the smallest enclosed patch."""
    from shapely import Polygon, maximum_inscribed_circle

    found = math.inf
    for ring, depth in zip(rings, depths, strict=True):
        if depth % 2 == 0:
            continue
        patch = Polygon(ring)
        for other, deeper in zip(rings, depths, strict=True):
            if deeper == depth + 1 and patch.contains(Polygon(other)):
                patch = patch.difference(Polygon(other))
        found = min(found, 2 * float(maximum_inscribed_circle(patch, tolerance=1e-3).length))
    return found
