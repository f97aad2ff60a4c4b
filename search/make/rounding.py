"""The surface of a rounded solid in flat pieces: faces, parts of cylinders along edges, parts of spheres at corners.

Every piece is cut alike from either side: an arc between two faces in so many steps, the part of a sphere from its
middle in sectors whose three sides all have as many steps. So the flat pieces have all symmetries of the solid, except
within the planes of faces, where no cut changes the shape.
"""

from __future__ import annotations

from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid

MOST_STEPS = 64
"""Steps of one arc; at this fineness the flat pieces of any edge lie within a thousandth of its radius."""

Floats = NDArray[np.float64]
Numbers = NDArray[np.int64]


def tessellated(
    solid: Solid, core: Floats, normals: Floats, radius_mm: float, chord_mm: float
) -> tuple[Floats, Numbers]:
    """The surface of the body that a ball makes when it rolls about a shrunken solid.

    Params:
        solid: gives faces, edges and how they meet.
        core: the corners of the shrunken solid, shape (V, 3), in millimetres.
        normals: outward, shape (F, 3).
        radius_mm: the ball's.
        chord_mm: how far a flat piece may lie inside the true surface.
    Returns: points, shape (n, 3), in millimetres, and triangles, shape (m, 3), counter-clockwise seen from outside.
    """
    rings = [faces_around(solid, vertex) for vertex in range(len(core))]
    middles = np.array([normals[ring].sum(axis=0) for ring in rings])
    middles /= np.linalg.norm(middles, axis=1, keepdims=True)
    sectors = np.concatenate(
        [
            np.stack(
                [np.broadcast_to(middle, (len(ring), 3)), normals[ring], normals[np.roll(ring, -1)]], axis=1
            )
            for middle, ring in zip(middles, rings, strict=True)
        ]
    )
    grid = _grid_for(sectors, chord_mm / radius_mm)
    directions = grid.on(sectors)
    owners = np.repeat(np.arange(len(core)), [len(ring) for ring in rings])
    points = core[owners][:, None] + radius_mm * directions
    shared = _Shared(grid, rings)
    pieces = [shared.numbers[:, grid.triangles].reshape(-1, 3)]
    pieces += [_strip(shared, solid, edge) for edge in range(len(solid.edges))]
    pieces += [_face(shared, solid, face) for face in range(len(solid.faces))]
    return shared.gathered(points), np.concatenate(pieces)


class _Grid:
    """A spherical triangle in steps² smaller ones; point (i, j) has the weights steps − i − j, i and j."""

    def __init__(self, steps: int) -> None:
        self.steps = steps
        self.points = [(i, j) for i in range(steps + 1) for j in range(steps + 1 - i)]
        at = {point: number for number, point in enumerate(self.points)}
        upright = [(at[i, j], at[i + 1, j], at[i, j + 1]) for i, j in self.points if i + j < steps]
        hanging = [
            (at[i + 1, j], at[i + 1, j + 1], at[i, j + 1]) for i, j in self.points if i + j < steps - 1
        ]
        self.triangles = np.array(upright + hanging)
        self.spoke_to_one = [at[i, 0] for i in range(steps + 1)]
        self.spoke_to_other = [at[0, j] for j in range(steps + 1)]
        self.arc = [at[steps - j, j] for j in range(steps + 1)]

    @cached_property
    def weights(self) -> Floats:
        """Shape (points, 3)."""
        return np.array([(self.steps - i - j, i, j) for i, j in self.points], dtype=np.float64)

    def on(self, sectors: Floats) -> Floats:
        """The points, as directions, of sectors given by their three corners, shape (s, 3, 3): shape (s, points, 3)."""
        points: Floats = self.weights @ sectors
        points /= np.linalg.norm(points, axis=2, keepdims=True)
        return points

    def depth(self, sectors: Floats) -> float:
        """How far inside a sphere of radius 1 the flat pieces lie at the most."""
        a, b, c = (self.on(sectors)[:, self.triangles[:, corner]] for corner in range(3))
        normal = np.cross(b - a, c - a)
        normal /= np.linalg.norm(normal, axis=2, keepdims=True)
        return 1 - float(np.einsum("spi,spi->sp", normal, a).min())


def _grid_for(sectors: Floats, chord: float) -> _Grid:
    """The coarsest grid whose flat pieces lie no deeper than `chord`, on a sphere of radius 1."""
    kinds = np.unique(np.round(_sides(sectors), 6), axis=0, return_index=True)[1]
    for steps in range(1, MOST_STEPS):
        grid = _Grid(steps)
        if grid.depth(sectors[kinds]) <= chord:
            return grid
    return _Grid(MOST_STEPS)


def _sides(sectors: Floats) -> Floats:
    """The cosines of the three sides of sectors: all sectors with the same are cut alike."""
    return np.stack(
        [np.einsum("si,si->s", sectors[:, a], sectors[:, b]) for a, b in ((0, 1), (0, 2), (1, 2))], axis=1
    )


class _Shared:
    """Which points of the sectors are one: those on the spoke between two of them, and the middle of each corner."""

    def __init__(self, grid: _Grid, rings: list[list[int]]) -> None:
        self.grid, many = grid, len(grid.points)
        self.sector: dict[tuple[int, int], int] = {}
        own = np.arange(sum(map(len, rings)) * many).reshape(-1, many)
        begin = 0
        for vertex, ring in enumerate(rings):
            for place, face in enumerate(ring):
                this, after = begin + place, begin + (place + 1) % len(ring)
                self.sector[vertex, face] = this
                own[after, grid.spoke_to_one] = own[this, grid.spoke_to_other]
            own[begin : begin + len(ring), grid.spoke_to_one[0]] = own[begin, grid.spoke_to_one[0]]
            begin += len(ring)
        self._kept, numbers = np.unique(own, return_inverse=True)
        self.numbers = numbers.reshape(own.shape)

    def gathered(self, points: Floats) -> Floats:
        """The points of all sectors, shape (s, points, 3), each only once, shape (n, 3)."""
        kept: Floats = points.reshape(-1, 3)[self._kept]
        return kept

    def arc(self, vertex: int, face: int) -> Numbers:
        """The points from a face to the next one about a corner, counter-clockwise."""
        found: Numbers = self.numbers[self.sector[vertex, face], self.grid.arc]
        return found


def _strip(shared: _Shared, solid: Solid, edge: int) -> Numbers:
    """The part of a cylinder along an edge."""
    a, b = solid.edges[edge]
    face = next(
        face
        for face in solid.edge_faces[edge]
        if (a, b) in pairwise((*solid.faces[face], solid.faces[face][0]))
    )
    # seen from outside, the face on the left of the edge comes after the one on its right about a, before it about b
    other = sum(solid.edge_faces[edge]) - face
    near, far = shared.arc(a, other)[::-1], shared.arc(b, face)
    return np.concatenate(
        [
            np.stack([near[:-1], near[1:], far[:-1]], axis=1),
            np.stack([far[:-1], near[1:], far[1:]], axis=1),
        ]
    )


def _face(shared: _Shared, solid: Solid, face: int) -> Numbers:
    """The flat part of a face, from its first corner."""
    corners = [int(shared.arc(vertex, face)[0]) for vertex in solid.faces[face]]
    return np.array([(corners[0], b, c) for b, c in pairwise(corners[1:])])


def faces_around(solid: Solid, vertex: int) -> list[int]:
    """The faces at a corner in order, counter-clockwise seen from outside."""
    after = {}
    for number in solid.vertex_faces[vertex]:
        # the edge that leaves the corner separates this face from the one before it
        after[solid.neighbours[number][solid.faces[number].index(vertex)]] = number
    ring = [solid.vertex_faces[vertex][0]]
    while len(ring) < len(after):
        ring.append(after[ring[-1]])
    return ring
