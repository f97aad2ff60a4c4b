"""A smooth body as a surface of triangles: a finely divided icosahedron, each direction taken to its surface point."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from facewright.constraints.solids.smooth.body import SmoothBody

if TYPE_CHECKING:
    import numpy as np


def surface(body: SmoothBody, halvings: int = 5) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Points, shape (n, 3), triangles with their corners counter-clockwise from outside, shape (m, 3), and normals.

    Points lie on the surface, where it has the normals, shape (n, 3). With k halvings m is 20·4ᵏ.
    """
    directions, triangles = sphere(halvings)
    return body.points(directions), triangles, directions


@lru_cache(maxsize=8)
def sphere(halvings: int) -> tuple[np.ndarray, np.ndarray]:
    """Directions, shape (n, 3), and triangles, shape (m, 3): an icosahedron with its edges halved so many times."""
    import numpy as np

    golden = (1 + 5**0.5) / 2
    corners = [
        tuple(np.roll((0.0, one, other * golden), turn))
        for turn in range(3)
        for one in (-1, 1)
        for other in (-1, 1)
    ]
    points = [np.array(corner) / np.linalg.norm(corner) for corner in corners]
    near = 1.1 * min(float(np.linalg.norm(points[0] - one)) for one in points[1:])
    beside = {
        (a, b)
        for a in range(12)
        for b in range(12)
        if a != b and float(np.linalg.norm(points[a] - points[b])) < near
    }
    triangles = [
        (a, b, c) if np.dot(np.cross(points[a], points[b]), points[c]) > 0 else (a, c, b)
        for a in range(12)
        for b in range(a + 1, 12)
        for c in range(b + 1, 12)
        if {(a, b), (b, c), (a, c)} <= beside
    ]
    for _ in range(halvings):
        middles: dict[tuple[int, int], int] = {}

        def middle(a: int, b: int, middles: dict[tuple[int, int], int] = middles) -> int:
            key = (min(a, b), max(a, b))
            if key not in middles:
                one = points[a] + points[b]
                middles[key] = len(points)
                points.append(one / np.linalg.norm(one))
            return middles[key]

        smaller = []
        for a, b, c in triangles:
            ab, bc, ca = middle(a, b), middle(b, c), middle(c, a)
            smaller += [(a, ab, ca), (b, bc, ab), (c, ca, bc), (ab, bc, ca)]
        triangles = smaller
    found = np.array(points)
    found.setflags(write=False)
    return found, np.array(triangles)
