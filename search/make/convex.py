"""Convex polygons in a plane: whether they overlap, and crowds of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

APART = 1e-7
"""Polygons that overlap no farther than this share of the smaller one's reach lie side by side.

Rounding moves corners by some 1e-13 of a polygon's size."""


def reach(polygon: Floats) -> float:
    """How far the corners of a polygon, shape (n, 2), are from their mean, at most."""
    return float(np.linalg.norm(polygon - polygon.mean(axis=0), axis=1).max())


def overlap(one: Floats, other: Floats) -> bool:
    """Whether two convex polygons, counter-clockwise, shapes (n, 2) and (m, 2), overlap by more than a hair (`APART`).

    They do not where some side of one has all of the other beyond it (separating axes of convex bodies).

    Example:
        >>> square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
        >>> overlap(square, square + [1.0, 0.5]), overlap(square, square + [0.999, 0.5])
        (False, True)
    """
    slack = APART * min(reach(one), reach(other))
    return not (_parts(one, other, slack) or _parts(other, one, slack))


def _parts(one: Floats, other: Floats, slack: float) -> bool:
    """Whether a side of a polygon has all of another polygon on its outer side."""
    steps = np.roll(one, -1, axis=0) - one
    normals = np.stack([steps[:, 1], -steps[:, 0]], axis=1) / np.linalg.norm(steps, axis=1, keepdims=True)
    outside = normals @ other.T - np.einsum("ki,ki->k", normals, one)[:, None]
    return bool((outside.min(axis=1) >= -slack).any())


class Crowd:
    """Convex polygons that lie in a plane, and whether another one would overlap any of them."""

    def __init__(self) -> None:
        self._polygons: list[Floats] = []
        self._circles = np.empty((0, 3))

    def add(self, polygon: Floats) -> None:
        """Takes in a polygon, counter-clockwise, shape (n, 2)."""
        self._polygons.append(polygon)
        self._circles = np.concatenate([self._circles, [[*polygon.mean(axis=0), reach(polygon)]]])

    def overlaps(self, polygon: Floats) -> bool:
        """Whether a polygon overlaps one that is there."""
        x, y = polygon.mean(axis=0)
        far = np.hypot(self._circles[:, 0] - x, self._circles[:, 1] - y)
        near = np.flatnonzero(far < self._circles[:, 2] + reach(polygon))
        return any(overlap(self._polygons[number], polygon) for number in near.tolist())
