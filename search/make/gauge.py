"""Small parts: whether a die fits, entirely and in any orientation, into the cylinder that small parts are tested with.

The cylinder is round, upright and cut off askew below: its depth grows from one side to the other. A body fits if some
turn and shift take it inside. Its corners decide, each as a ball of the rounding's radius.

*Fits* is shown by a turn and a shift, or by a ball about the body that fits. *Does not fit* is shown by covering all
turns with cells: a turn by an angle δ moves no corner farther than δ times its distance from the turning point, so a
cell is settled if its middle misses by more than that. Two figures that cannot exceed the cylinder's, whatever the
shift, bound how far a turn misses: the radius of the smallest circle about the body seen along the axis, and the sum of
its extents upwards, downwards askew and sideways. What then remains, close to the limit, is undecided, and is to be
taken for a small part.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations_with_replacement
from typing import TYPE_CHECKING, Literal

import numpy as np
from facewright.search.make.turns import about, directions, matrices_of, quartered, squares_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

CLOSE_MM = 0.1
"""Millimetres below which cells are not divided any further; about what a die's size varies by."""

STARTS, STEPS = 8, 120
"""Turns from which a better one is looked for, and how often each search may look."""

SIMPLEX = np.array([[0.0, 0.0, 0.0], [0.2, 0.0, 0.0], [0.0, 0.2, 0.0], [0.0, 0.0, 0.2]])
"""The turns about the start with which such a search begins, as rotation vectors, in radians."""

MOST_CELLS = 200_000
"""With more cells than this the answer stays undecided."""

AT_ONCE = 8192
"""Turns that are worked out together."""

LEANING = (-75, -60, -45, -30, -15, 0, 15, 30, 45, 60, 75)
"""Horizontal directions in which extents are taken, in degrees from that towards the deep side."""

SIDES = 64
"""The round cylinder counts as a prism inscribed into it, with so many sides, where a shift is looked for."""

Fits = Literal["fits", "does not fit", "undecided"]


@dataclass(frozen=True)
class Cylinder:
    """The cylinder: its inner diameter, and its least and greatest depth, in millimetres."""

    diameter_mm: float
    shallow_mm: float
    deep_mm: float

    @property
    def slope(self) -> float:
        """How much deeper it is for each millimetre across."""
        return (self.deep_mm - self.shallow_mm) / self.diameter_mm

    @property
    def slant(self) -> Floats:
        """The outward unit normal of its floor."""
        normal: Floats = np.array([-self.slope, 0.0, -1.0]) / math.hypot(1.0, self.slope)
        return normal

    @property
    def below(self) -> float:
        """How far its floor is from the middle of its mouth."""
        return (self.shallow_mm + self.deep_mm) / 2 / math.hypot(1.0, self.slope)

    def ball_mm(self) -> float:
        """The diameter of the largest ball that fits."""
        # its middle on the axis, its top in the mouth: it touches the floor, or the wall
        lean = 1 / math.hypot(1.0, self.slope)
        return 2 * min(self.diameter_mm / 2, self.below / (1 + lean))


@dataclass(frozen=True, eq=False)
class Gauged:
    """The answer: by how much it fits at least (negative: misses), in millimetres, as far as that was looked into.

    Where it fits, `turn`, shape (3, 3), and `shift`, shape (3,), take the body inside: the middle of the cylinder's
    mouth is the origin, z points upwards, the floor is lowest where x is greatest.
    """

    fits: Fits
    by_mm: float
    turn: Floats | None = None
    shift: Floats | None = None


def gauged(corners: Floats, radius_mm: float, cylinder: Cylinder) -> Gauged:
    """Whether a body fits into the cylinder in some orientation.

    Params:
        corners: shape (V, 3), in millimetres: the corners of the body's core.
        radius_mm: the radius of the ball about each corner; 0 where the body has sharp edges.
        cylinder: the cylinder.
    """
    middle = _middle(corners)
    points = corners - middle
    far = float(np.linalg.norm(points, axis=1).max())
    ball = cylinder.ball_mm() / 2 - far - radius_mm
    if ball >= 0:
        return Gauged("fits", ball, np.eye(3), -middle - [0, 0, cylinder.ball_mm() / 2])
    cover = _Cover(points, radius_mm, far, cylinder)
    missed = cover.axes()
    if missed is None:
        found = _searched(points, radius_mm, cylinder)
        if found.turn is not None and found.shift is not None:
            return Gauged("fits", found.by_mm, found.turn, found.shift - found.turn @ middle)
        missed = cover.turns()
        if missed is None:
            return found
    return Gauged("does not fit", -missed)


def _middle(corners: Floats) -> Floats:
    """A point from which the farthest corner is about as near as can be (steps towards the farthest, ever shorter)."""
    middle = corners.mean(axis=0)
    for step in range(1, 200):
        away = corners - middle
        middle = middle + away[int(np.einsum("vi,vi->v", away, away).argmax())] / (step + 1)
    start = corners.mean(axis=0)
    spans = [float(np.linalg.norm(corners - one, axis=1).max()) for one in (start, middle)]
    better: Floats = start if spans[0] <= spans[1] else middle
    return better


def _searched(points: Floats, radius: float, cylinder: Cylinder) -> Gauged:
    """The turn and the shift that miss least, among those found downhill from a few turns."""
    from scipy.optimize import minimize

    squares, turns = squares_of(4), (np.arange(8) + 0.5) * math.tau / 8
    axes = np.repeat(directions(squares), len(turns), axis=0)
    matrices = matrices_of(axes, np.tile(turns, len(squares)))
    best: Gauged | None = None
    for number in np.argsort(_missing(points, radius, matrices, cylinder), kind="stable")[:STARTS].tolist():
        start = matrices[number]

        def miss(vector: Floats, start: Floats = start) -> float:
            return _shift(points @ (about(vector) @ start).T, radius, cylinder)[0]

        found = minimize(
            miss, np.zeros(3), method="Nelder-Mead", options={"initial_simplex": SIMPLEX, "maxfev": STEPS}
        )
        turn = about(found.x) @ start
        missed, shift = _shift(points @ turn.T, radius, cylinder)
        if best is None or -missed > best.by_mm:
            best = Gauged("fits", -missed, turn, shift) if missed <= 0 else Gauged("undecided", -missed)
        if best.by_mm >= 0:
            break
    assert best is not None
    return best


class _Cover:
    """A cover of all turns by cells, which shows that a body misses in each of them, or fails to show it.

    Directions of the axis come first, then turns about those that are left. What is shown is by how much it misses.
    """

    def __init__(self, points: Floats, radius: float, far: float, cylinder: Cylinder) -> None:
        self._points, self._radius, self._far, self._cylinder = points, radius, far, cylinder
        self._squares, self._width = squares_of(8), 2 / 8

    def axes(self) -> float | None:
        """The cover of directions."""
        while True:
            circles = _circles(self._points, directions(self._squares))
            misses = circles - (self._cylinder.diameter_mm / 2 - self._radius)
            moved = self._far * self._width / math.sqrt(2)
            open_ = misses - moved <= 0
            if not open_.any():
                return float((misses - moved).min())
            self._squares = self._squares[open_]
            if moved < CLOSE_MM or (misses + moved <= 0).any():
                return None
            self._squares, self._width = quartered(self._squares, self._width), self._width / 2

    def turns(self) -> float | None:
        """The cover of turns about the directions that are left."""
        many = math.ceil(math.tau / self._width)
        turns = (np.arange(many) + 0.5) * math.tau / many
        cells = np.concatenate([np.c_[self._squares, np.full(len(self._squares), turn)] for turn in turns])
        width, half = self._width, math.pi / many
        while len(cells) <= MOST_CELLS:
            matrices = matrices_of(directions(cells[:, :3]), cells[:, 3])
            parts = np.array_split(matrices, math.ceil(len(matrices) / AT_ONCE))
            misses = np.concatenate(
                [_missing(self._points, self._radius, part, self._cylinder) for part in parts]
            )
            moved = self._far * (width / math.sqrt(2) + half)
            open_ = misses - moved <= 0
            if not open_.any():
                return float((misses - moved).min())
            if moved < CLOSE_MM:
                break
            cells = cells[open_]
            quarters, turned = quartered(cells[:, :3], width), np.repeat(cells[:, 3], 4)
            cells = np.concatenate([np.c_[quarters, turned + sign * half / 2] for sign in (-1, 1)])
            width, half = width / 2, half / 2
        return None


def _circles(points: Floats, axes: Floats) -> Floats:
    """The radius of the smallest circle about points seen along each axis, shape (axes,)."""
    import shapely

    matrices = matrices_of(axes, np.zeros(len(axes)))
    seen = np.einsum("nij,vj->nvi", matrices[:, :2], points)
    return np.asarray(shapely.minimum_bounding_radius(shapely.multipoints(seen)), dtype=np.float64)


def _missing(points: Floats, radius: float, matrices: Floats, cylinder: Cylinder) -> Floats:
    """How far turned bodies miss at least, shape (turns,).

    With h the body's extent in a direction, a sum of extents in directions that cancel does not change with a shift. So
    the cylinder's own sum bounds it: h(up) + √(1 + s²) h(askew) and, to cancel the s sideways, with s the slope of the
    floor, h of one horizontal direction towards the deep side or of two to either side of it, of which the pair that
    misses most counts.
    """
    slope, lean = cylinder.slope, math.hypot(1.0, cylinder.slope)
    angles = np.radians(LEANING)
    askew = cylinder.slant[0] * matrices[:, 0] + cylinder.slant[2] * matrices[:, 2]
    walls = [math.cos(angle) * matrices[:, 0] + math.sin(angle) * matrices[:, 1] for angle in angles]
    rows = np.stack([matrices[:, 2], askew, *walls], axis=1)
    extents = (rows @ points.T).max(axis=2) + radius
    upright = extents[:, 0] + lean * extents[:, 1]
    misses = _circles(points, matrices[:, 2]) - (cylinder.diameter_mm / 2 - radius)
    for one, other in combinations_with_replacement(range(len(angles)), 2):
        if angles[one] == angles[other] == 0:
            weights = np.array([slope / 2, slope / 2])
        elif angles[one] <= 0 <= angles[other]:
            turned = math.sin(angles[other] - angles[one])
            weights = slope * np.array([math.sin(angles[other]), -math.sin(angles[one])]) / turned
        else:
            continue
        found = upright + extents[:, [2 + one, 2 + other]] @ weights
        allowed = lean * cylinder.below + float(weights.sum()) * cylinder.diameter_mm / 2
        misses = np.maximum(misses, (found - allowed) / (1 + lean + float(weights.sum())))
    result: Floats = misses
    return result


def _shift(points: Floats, radius: float, cylinder: Cylinder) -> tuple[float, Floats]:
    """How far a turned body misses after the best shift, in millimetres (0 and less: it fits), and that shift."""
    from scipy.optimize import linprog

    angles = np.arange(SIDES) * math.tau / SIDES
    walls = np.stack([np.cos(angles), np.sin(angles), np.zeros(SIDES)], axis=1)
    rows = np.concatenate([walls, [[0.0, 0.0, 1.0]], [cylinder.slant]])
    limits = [cylinder.diameter_mm / 2 * math.cos(math.pi / SIDES)] * SIDES + [0.0, cylinder.below]
    extents = (rows @ points.T).max(axis=1) + radius
    found = linprog(
        [0, 0, 0, 1],
        A_ub=np.c_[rows, -np.ones(len(rows))],
        b_ub=np.array(limits) - extents,
        bounds=[(None, None)] * 4,
        method="highs",
    )
    return float(found.fun), found.x[:3]
