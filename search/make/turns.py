"""Turns in space: cells that cover all directions and turns, and their matrices."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def squares_of(many: int) -> Floats:
    """The squares of a grid on each side of a cube, (number of the side, x and y of the middle), shape (n, 3)."""
    middles = (np.arange(many) + 0.5) * 2 / many - 1
    x, y = (grid.ravel() for grid in np.meshgrid(middles, middles))
    return np.concatenate([np.c_[np.full(len(x), side), x, y] for side in range(6)])


def quartered(cells: Floats, width: float) -> Floats:
    """Each square in four; a square `width` wide seen from the cube's middle is at most `width`/√2 from its middle."""
    steps = np.array([(-1, -1), (-1, 1), (1, -1), (1, 1)]) * width / 4
    quarters = np.repeat(cells, 4, axis=0)
    quarters[:, 1:3] += np.tile(steps, (len(cells), 1))
    return quarters


def directions(cells: Floats) -> Floats:
    """The unit vectors towards the middles of squares, shape (n, 3)."""
    side = cells[:, 0].astype(int)
    towards = np.empty((len(cells), 3))
    rows = np.arange(len(cells))
    towards[rows, side % 3] = np.where(side < 3, 1.0, -1.0)
    towards[rows, (side + 1) % 3] = cells[:, 1]
    towards[rows, (side + 2) % 3] = cells[:, 2]
    unit: Floats = towards / np.linalg.norm(towards, axis=1, keepdims=True)
    return unit


def about(vector: Floats) -> Floats:
    """The rotation by a vector: its direction is the axis, its length the angle (Rodrigues)."""
    angle = float(np.linalg.norm(vector))
    if angle < 1e-12:
        return np.eye(3)
    x, y, z = vector / angle
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    matrix: Floats = np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * cross @ cross
    return matrix


def matrices_of(axes: Floats, turns: Floats) -> Floats:
    """Rotations that take axes upright, then turn about the vertical, shape (n, 3, 3)."""
    least = np.eye(3)[np.abs(axes).argmin(axis=1)]
    first = np.cross(axes, least)
    first /= np.linalg.norm(first, axis=1, keepdims=True)
    second = np.cross(axes, first)
    cos, sin = np.cos(turns)[:, None], np.sin(turns)[:, None]
    matrices: Floats = np.stack([cos * first - sin * second, sin * first + cos * second, axes], axis=1)
    return matrices
