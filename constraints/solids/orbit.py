"""The one construction of every fair solid: a seed direction, its orbit as face normals, its polar dual."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from facewright.constraints.solids.tolerance import SAME
from numpy.typing import NDArray

Points = NDArray[np.float64]
"""Shape (number, 3)."""

SLANT = 0.3819
"""Slope of the line along which points of a plane are sorted; no side of a face here is square to it."""


@dataclass(frozen=True, eq=False)
class Orbit:
    """The images of a seed direction, each once, and for each one element of the group that takes the seed there.

    `normals` has shape (F, 3), unit vectors, the seed first; `carriers` shape (F, 3, 3).
    """

    normals: Points
    carriers: NDArray[np.float64]


def orbit(matrices: NDArray[np.float64], seed: NDArray[np.float64]) -> Orbit:
    """The orbit of a direction.

    Params:
        matrices: the group's elements, shape (order, 3, 3), the identity first.
        seed: shape (3,), any length but zero.
    """
    seed = seed / np.linalg.norm(seed)
    images = matrices @ seed
    first = _first_equal(images)
    kept = np.flatnonzero(first == np.arange(len(images)))
    return Orbit(images[kept], matrices[kept])


def face_polygon(normals: Points) -> Points:
    """The face of the polar dual that belongs to the first normal.

    The solid is all x with n·x ≤ 1 for each normal n. In the plane of the first face the other planes are lines; each
    is a point of the plane's own polar dual, whose convex hull has one corner for each edge of the face.

    Params:
        normals: unit vectors, shape (F, 3), no two equal.
    Returns: the corners in order, counter-clockwise seen from outside, shape (k, 3).
    Raises: ValueError where the face has no bound.
    """
    normal = normals[0]
    frame = _frame(normal)
    across = normals[1:] @ frame.T
    room = 1 - normals[1:] @ normal
    poles = [(x, y, j) for j, (x, y) in enumerate((across / room[:, None]).tolist())]
    sides = [j for _, _, j in _hull(poles)]
    if len(sides) < 3:
        raise ValueError("the planes of this orbit bound no solid")
    a = across[sides]
    b = room[sides]
    after_a, after_b = np.roll(a, -1, axis=0), np.roll(b, -1)
    det = a[:, 0] * after_a[:, 1] - a[:, 1] * after_a[:, 0]
    if np.any(det < SAME):
        raise ValueError("the planes of this orbit bound no solid")
    x = (b * after_a[:, 1] - after_b * a[:, 1]) / det
    y = (a[:, 0] * after_b - after_a[:, 0] * b) / det
    return np.asarray(normal + np.stack([x, y], axis=1) @ frame, dtype=np.float64)


def polar_dual(found: Orbit) -> tuple[Points, list[list[int]]]:
    """The solid whose faces touch the unit sphere at the orbit's directions.

    Returns: its vertices, shape (V, 3), and for each direction its face: vertex numbers, counter-clockwise seen
        from outside.
    Raises: ValueError where the planes bound no solid.
    """
    polygon = face_polygon(found.normals)
    corners = found.carriers[:, None] @ polygon[None, :, :, None]
    corners = corners[..., 0]
    mirrored = np.linalg.det(found.carriers) < 0
    corners[mirrored] = corners[mirrored, ::-1]
    points = corners.reshape(-1, 3)
    first = _first_equal(points)
    kept = np.flatnonzero(first == np.arange(len(points)))
    numbers = np.searchsorted(kept, first).tolist()
    sides = len(polygon)
    return points[kept], [numbers[start : start + sides] for start in range(0, len(numbers), sides)]


def _frame(normal: NDArray[np.float64]) -> NDArray[np.float64]:
    """Two unit vectors that make a right-handed frame with the normal, shape (2, 3)."""
    aside = np.zeros(3)
    aside[np.argmin(np.abs(normal))] = 1.0
    first = np.cross(normal, aside)
    first /= np.linalg.norm(first)
    return np.stack([first, np.cross(normal, first)])


def _first_equal(points: Points) -> NDArray[np.int64]:
    """For each point the number of the first one that lies at the same place."""
    apart = np.zeros((len(points), len(points)), dtype=np.bool_)
    for axis in points.T:
        apart |= np.abs(axis[:, None] - axis[None, :]) > SAME
    return np.asarray(np.argmin(apart, axis=1), dtype=np.int64)


def _hull(points: list[tuple[float, float, int]]) -> list[tuple[float, float, int]]:
    """The corners of the convex hull of points of a plane, counter-clockwise; points on a side are left out."""
    # sorted along a slanting line, lest rounding decide the order of points that stand upright over each other
    points = sorted(points, key=lambda point: point[0] + SLANT * point[1])
    lower = _chain(points)
    upper = _chain(points[::-1])
    return lower[:-1] + upper[:-1]


def _chain(points: list[tuple[float, float, int]]) -> list[tuple[float, float, int]]:
    chain: list[tuple[float, float, int]] = []
    for point in points:
        while len(chain) > 1 and not _left(chain[-2], chain[-1], point):
            chain.pop()
        chain.append(point)
    return chain


def _left(a: tuple[float, float, int], b: tuple[float, float, int], c: tuple[float, float, int]) -> bool:
    """Whether the way from a over b to c turns left by more than rounding."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    return ux * vy - uy * vx > SAME * math.hypot(ux, uy) * math.hypot(vx, vy)
