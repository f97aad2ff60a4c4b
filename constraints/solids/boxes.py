"""The largest box for characters on a face: upright to an edge or at any angle, anywhere or about the rest point.

A box of a fixed shape at a fixed angle is a linear programme in its place and height. By duality its height is the
least, over sets of sides whose outward normals close (three about a point, or two parallel ones), of a ratio: the room
that the sides leave over the room that a box of height 1 takes. The room taken is, between the angles at which a side
of the box is parallel to a side of the face, a sum of a cosine and a sine of one angle, and positive: a concave
function. So the tightest angle of each pair of sets lies where their ratios are equal, or at such a parallel: a finite
list of angles, each in closed form, and the best of them is the optimum up to rounding. Own derivation.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.solids.frames import face_frame
from facewright.constraints.solids.tolerance import SAME
from numpy.typing import NDArray

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid

DIGIT = 0.6
"""The width of a figure over its height in a box for so many figures (common practice for sans-serif, no source)."""

EQUAL = 1e-12
"""Two boxes whose heights differ by a smaller share are equally large; the more upright one is taken."""

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Box:
    """A rectangle for characters in the frame of a face (`face_frame(solid, face)`); lengths in inradii.

    `wide` is its width over its height. `angle` turns the direction of reading counter-clockwise from the frame's
    `across`, in radians. `edge` is the number of the face's edge on which the box stands upright (from corner `edge`
    to the next), None where it was turned freely.
    """

    centre: tuple[float, float]
    height: float
    wide: float
    angle: float
    edge: int | None = None

    def corners(self) -> Floats:
        """The four corners, counter-clockwise from the foot on the left, shape (4, 2)."""
        across = np.array([math.cos(self.angle), math.sin(self.angle)]) * self.wide * self.height / 2
        up = np.array([-math.sin(self.angle), math.cos(self.angle)]) * self.height / 2
        signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
        return np.array([np.array(self.centre) + i * across + j * up for i, j in signs])


@lru_cache(maxsize=4096)
def boxes(
    solid: Solid, wide: float, *, any_angle: bool = False, centred: bool = False
) -> tuple[Box | None, ...]:
    """The largest box on each face of a solid.

    Worked out once for each orbit of faces under all symmetries, and carried to the others, so that symmetric faces
    have symmetric boxes.

    Params:
        solid: the solid.
        wide: width over height.
        any_angle: whether the box may be turned freely; else it stands upright on the edge that serves best.
        centred: whether the middle of the box must be the face's rest point, the foot of the centre of mass.
    Returns: a box a face; None for a face whose rest point lies outside it, where the box must be centred.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> round(boxes(solid("cube"), 1.2)[0].height, 6)
        1.666667
    """
    found: dict[int, Box | None] = {}
    for face in range(len(solid.faces)):
        if face in found:
            continue
        first = largest_box(face_frame(solid, face).polygon, wide, any_angle=any_angle, centred=centred)
        for action in solid.symmetry:
            image = action.faces[face]
            if image not in found:
                found[image] = first and carried(solid, face, first, action.matrix, image)
    return tuple(found[face] for face in range(len(solid.faces)))


def largest_box(
    polygon: Floats, wide: float, *, any_angle: bool = False, centred: bool = False
) -> Box | None:
    """The largest box in a convex polygon.

    Params:
        polygon: its corners, counter-clockwise, shape (n, 2); the origin is its rest point.
        wide: width over height.
        any_angle, centred: as in `boxes`.
    Returns: the box; where it can be moved without becoming smaller, it lies as near to the origin as it can. None
        where it must be centred and the origin is not inside.
    """
    normals, rooms = sides_of(polygon)
    if centred and rooms.min() <= SAME:
        return None
    sets = np.eye(len(normals)) if centred else closing(normals)
    if any_angle:
        angle, height = _best_turn(normals, rooms, sets, wide)
        edge = None
    else:
        steps = np.roll(polygon, -1, axis=0) - polygon
        angles = np.arctan2(steps[:, 1], steps[:, 0])
        found = heights(angles, normals, rooms, sets, wide)
        edge = int(np.flatnonzero(found >= found.max() * (1 - SAME))[0])
        angle, height = float(angles[edge]), float(found[edge])
    reach = height * _reach(np.array([angle]), normals, wide)[0]
    centre = (0.0, 0.0) if centred else _nearest(normals, rooms - reach)
    return Box(centre, height, wide, angle, edge)


def largest_at(polygon: Floats, wide: float, angles: Floats) -> Floats:
    """For each angle the height of the largest box in a convex polygon, shape (n, 2)."""
    normals, rooms = sides_of(polygon)
    return heights(angles, normals, rooms, closing(normals), wide)


def middle_at(polygon: Floats, wide: float, height: float, angle: float) -> tuple[float, float]:
    """Where the middle of a box that fits is as near to the origin, the rest point, as it can be."""
    normals, rooms = sides_of(polygon)
    return _nearest(normals, rooms - height * _reach(np.array([angle]), normals, wide)[0])


def largest_height(polygon: Floats, wide: float) -> float:
    """The height alone of the largest box at any angle in a convex polygon, shape (n, 2), wherever its origin is."""
    normals, rooms = sides_of(polygon)
    return _best_turn(normals, rooms, closing(normals), wide)[1]


def cost_of_centring(solid: Solid, wide: float, *, any_angle: bool = False) -> float:
    """The share of its height that a box on the first rest's face loses when its middle must be the rest point.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> round(cost_of_centring(solid("cube"), 0.6), 9)
        0.0
    """
    below = solid.rests[0].below
    free = boxes(solid, wide, any_angle=any_angle)[below]
    middle = boxes(solid, wide, any_angle=any_angle, centred=True)[below]
    assert free is not None and middle is not None
    return 1 - middle.height / free.height


def carried(solid: Solid, face: int, box: Box, matrix: Floats, image: int) -> Box:
    """A box carried by a symmetry to another face; characters in it stay the right way round under a reflection."""
    frame, other = face_frame(solid, face), face_frame(solid, image)
    centre = other.in_face(frame.in_space(np.array([box.centre])) @ matrix.T)[0]
    up = -math.sin(box.angle) * frame.across + math.cos(box.angle) * frame.up
    up = matrix @ up
    # the direction of reading follows from `up` alone: a mirrored one would mirror the characters
    angle = math.atan2(float(up @ other.up), float(up @ other.across)) - math.pi / 2
    edge = box.edge
    if edge is not None:
        steps = np.roll(other.polygon, -1, axis=0) - other.polygon
        off = np.abs(np.exp(1j * (np.arctan2(steps[:, 1], steps[:, 0]) - angle)) - 1)
        edge = int(off.argmin())
    return Box((float(centre[0]), float(centre[1])), box.height, box.wide, _turn(angle), edge)


def sides_of(polygon: Floats) -> tuple[Floats, Floats]:
    """A convex polygon's sides: outward unit normals, shape (n, 2), and distances from the origin, shape (n,)."""
    steps = np.roll(polygon, -1, axis=0) - polygon
    normals = np.stack([steps[:, 1], -steps[:, 0]], axis=1)
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    return normals, np.einsum("ki,ki->k", normals, polygon)


def closing(normals: Floats) -> Floats:
    """Weights ≥ 0 with Σ weight × normal = 0, one row for each least set of sides that has such, shape (sets, n)."""
    k = len(normals)
    cross = normals[:, None, 0] * normals[None, :, 1] - normals[:, None, 1] * normals[None, :, 0]
    cross[np.abs(cross) < SAME] = 0.0
    rows = []
    for i, j in itertools.combinations(range(k), 2):
        if cross[i, j] == 0 and normals[i] @ normals[j] < 0:
            rows.append([1.0 if side in (i, j) else 0.0 for side in range(k)])
    for i, j, m in itertools.combinations(range(k), 3):
        three = (cross[j, m], cross[m, i], cross[i, j])
        if min(three) > 0:
            row = [0.0] * k
            row[i], row[j], row[m] = three
            rows.append(row)
    return np.array(rows)


def heights(angles: Floats, normals: Floats, rooms: Floats, sets: Floats, wide: float) -> Floats:
    """For each angle the height of the largest box, shape (angles,)."""
    least: Floats = ((sets @ rooms) / (_reach(angles, normals, wide) @ sets.T)).min(axis=1)
    return least


def _reach(angles: Floats, normals: Floats, wide: float) -> Floats:
    """How far a box of height 1 reaches from its middle towards each side, shape (angles, sides)."""
    cos, sin = np.cos(angles)[:, None], np.sin(angles)[:, None]
    along = np.abs(cos * normals[:, 0] + sin * normals[:, 1])
    up = np.abs(cos * normals[:, 1] - sin * normals[:, 0])
    reach: Floats = (wide * along + up) / 2
    return reach


def _best_turn(normals: Floats, rooms: Floats, sets: Floats, wide: float) -> tuple[float, float]:
    """The angle, from −π/2 to π/2, at which the box is largest, and its height."""
    facing = np.arctan2(normals[:, 1], normals[:, 0])
    kinks = np.sort(np.concatenate([facing, facing + math.pi / 2]) % math.pi)
    kinks = kinks[np.diff(kinks, prepend=-1.0) > SAME]
    ends = np.append(kinks[1:], kinks[0] + math.pi)
    middles, halves = (kinks + ends) / 2, np.tan((ends - kinks) / 2)
    # each set's ratio, turned upside down, is constant · cos + slope · sin of the angle from the middle of its piece
    constants, slopes = _sinusoids(middles, normals, rooms, sets, wide)
    ratios = sets @ rooms
    taken = (_reach(kinks, normals, wide) @ sets.T) / ratios
    most = float(taken.max(axis=1).min())
    # a concave function is least at an end of its piece: pieces that stay above what is reached are passed over
    low = np.minimum(taken, np.roll(taken, -1, axis=0)).max(axis=1)
    candidates = [kinks]
    for piece in np.flatnonzero(low < most).tolist():
        crossings = _crossings(constants[piece], slopes[piece], float(halves[piece]))
        candidates.append(middles[piece] + np.arctan(np.array(crossings)))
    angles = np.concatenate(candidates)
    angles = math.pi / 2 - (math.pi / 2 - angles) % math.pi
    found = heights(angles, normals, rooms, sets, wide)
    best = np.flatnonzero(found >= found.max() * (1 - EQUAL))
    upright = min(best.tolist(), key=lambda at: (round(abs(float(angles[at])), 9), -float(angles[at])))
    return float(angles[upright]), float(found[upright])


def _sinusoids(
    middles: Floats, normals: Floats, rooms: Floats, sets: Floats, wide: float
) -> tuple[Floats, Floats]:
    """For each piece and set the factors of cosine and sine of the angle from the piece's middle, (pieces, sets)."""
    cos, sin = np.cos(middles)[:, None], np.sin(middles)[:, None]
    along = cos * normals[:, 0] + sin * normals[:, 1]
    up = cos * normals[:, 1] - sin * normals[:, 0]
    constant = (wide * np.abs(along) + np.abs(up)) / 2
    slope = (wide * np.sign(along) * up - np.sign(up) * along) / 2
    ratios = sets @ rooms
    return (constant @ sets.T) / ratios, (slope @ sets.T) / ratios


def _crossings(constants: Floats, slopes: Floats, half: float) -> list[float]:
    """Where the upper envelope of the lines constant + slope · t bends, for t between −half and half."""
    order = np.lexsort((constants, slopes))
    lines: list[tuple[float, float]] = []
    for constant, slope in zip(constants[order].tolist(), slopes[order].tolist(), strict=True):
        if lines and slope - lines[-1][1] < EQUAL:
            if constant <= lines[-1][0]:
                continue
            lines.pop()
        while len(lines) > 1 and _hidden(lines[-2], lines[-1], (constant, slope)):
            lines.pop()
        lines.append((constant, slope))
    bends = ((a[0] - b[0]) / (b[1] - a[1]) for a, b in itertools.pairwise(lines))
    return [bend for bend in bends if -half < bend < half]


def _hidden(before: tuple[float, float], line: tuple[float, float], after: tuple[float, float]) -> bool:
    """Whether a line lies nowhere above both of its neighbours by slope."""
    return (before[0] - after[0]) * (line[1] - before[1]) <= (before[0] - line[0]) * (after[1] - before[1])


def _nearest(normals: Floats, rooms: Floats) -> tuple[float, float]:
    """The point nearest to the origin among those within all sides; there may be only one."""
    corners = [
        np.linalg.solve(normals[[i, j]], rooms[[i, j]])
        for i, j in itertools.combinations(range(len(normals)), 2)
        if abs(normals[i, 0] * normals[j, 1] - normals[i, 1] * normals[j, 0]) > SAME
    ]
    points = np.array([np.zeros(2), *(normals * rooms[:, None]), *corners])
    over = (points @ normals.T - rooms).max(axis=1)
    within = points[over < max(SAME, float(over.min()) + SAME)]
    near = within[np.linalg.norm(within, axis=1).argmin()]
    return float(near[0]), float(near[1])


def _turn(angle: float) -> float:
    """An angle between −π and π."""
    return math.remainder(angle, math.tau)
