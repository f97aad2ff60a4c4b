"""A surface as files hold it: coordinates rounded off, no triangle without area, in an order of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from facewright.search.make.mesh_check import merged

if TYPE_CHECKING:
    from numpy.typing import NDArray

DECIMALS = 5
"""Of coordinates in millimetres: far finer than can be made, and coarse enough for files to hold them exactly apart."""

THIN_MM = 5e-5
"""A triangle so low has no area to speak of: its corners lie on a line to within what rounding off moves them."""


def settled(
    points: NDArray[np.float64], triangles: NDArray[np.int64]
) -> tuple[NDArray[np.float32], NDArray[np.int64]]:
    """A closed surface with rounded coordinates, equal corners made one and triangles without area turned away.

    Params:
        points: shape (n, 3), in millimetres.
        triangles: shape (m, 3), numbers of points.
    Returns: points in order, and triangles, each from its first point on, in order: the same surface gives the same.
    """
    rounded_off = np.round(points, DECIMALS).astype(np.float32) + np.float32(0)
    kept, numbers = merged(rounded_off)
    joined = numbers[triangles]
    joined = joined[(joined != np.roll(joined, 1, axis=1)).all(axis=1)]
    return kept, _in_order(_turned(kept.astype(np.float64), joined))


def _turned(points: NDArray[np.float64], triangles: NDArray[np.int64]) -> NDArray[np.int64]:
    """Triangles without area done away with.

    Each shares its longest edge with a neighbour, and the other diagonal of the two divides them better. Where several
    lie side by side, one may have to wait for another. One that has no such neighbour stays, and harms nobody.
    """
    thin = np.flatnonzero(_heights(points, triangles) < THIN_MM).tolist()
    if not thin:
        return triangles
    # an exchange asks only for edges at corners of thin triangles
    near = np.flatnonzero(np.isin(triangles, triangles[thin]).any(axis=1)).tolist()
    rows = dict(zip(near, triangles[near].tolist(), strict=True))
    owner = {(row[i], row[(i + 1) % 3]): number for number, row in rows.items() for i in range(3)}
    left = thin
    while left:
        waiting = [number for number in left if not _exchanged(points, rows, owner, number)]
        if len(waiting) == len(left):
            break
        left = waiting
    turned = triangles.copy()
    turned[near] = [rows[number] for number in near]
    return turned


def _exchanged(
    points: NDArray[np.float64], rows: dict[int, list[int]], owner: dict[tuple[int, int], int], number: int
) -> bool:
    """Whether a triangle could exchange its longest edge for the other diagonal; rows and owners follow."""
    a, b, c = _longest_last(points, rows[number])
    neighbour = owner.get((a, c))
    if neighbour is None:
        return False
    [d] = [corner for corner in rows[neighbour] if corner not in (a, c)]
    better = [[a, b, d], [b, c, d]]
    if (b, d) in owner or (d, b) in owner or _heights(points, np.array(better)).min() < THIN_MM:
        return False
    rows[number], rows[neighbour] = better
    del owner[a, c], owner[c, a]
    owner |= {(a, b): number, (b, d): number, (d, a): number}
    owner |= {(b, c): neighbour, (c, d): neighbour, (d, b): neighbour}
    return True


def _longest_last(points: NDArray[np.float64], triangle: list[int]) -> list[int]:
    """A triangle, turned so that its longest edge runs from the last corner to the first."""
    corners = points[triangle]
    longest = int(np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=1).argmax())
    return [triangle[(longest + 1 + place) % 3] for place in range(3)]


def _heights(points: NDArray[np.float64], triangles: NDArray[np.int64]) -> NDArray[np.float64]:
    """The height of each triangle over its longest edge."""
    corners = points[triangles]
    edges = np.roll(corners, -1, axis=1) - corners
    double = np.linalg.norm(np.cross(edges[:, 0], edges[:, 1]), axis=1)
    heights: NDArray[np.float64] = double / np.linalg.norm(edges, axis=2).max(axis=1)
    return heights


def _in_order(triangles: NDArray[np.int64]) -> NDArray[np.int64]:
    """Each triangle from its lowest number on, the triangles by their numbers."""
    first = triangles.argmin(axis=1)[:, None]
    turned = np.take_along_axis(triangles, (first + np.arange(3)) % 3, axis=1)
    ordered: NDArray[np.int64] = turned[np.lexsort(turned.T[::-1])]
    return ordered
