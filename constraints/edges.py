"""Edges and vertices by kind: how sharp they are, the radii to round them with, and how they wear.

A kind is what the solid's symmetries take into one another. Every edge of a kind gets the same radius, and every
vertex, so that the symmetries stay, and with them the equal chances. Wear that treats a kind alike keeps them
too.

Wear, as a model: convex bodies that tumble or roll wear at a speed that grows with the curvature (F. J. Bloore,
"The shape of pebbles", Mathematical Geology 9 (1977) 113 ff., a constant, a term in the mean and one in the
Gaussian curvature; W. J. Firey, "Shapes of worn stones", Mathematika 21 (1974) 1–11, the last alone; both from
memory). So the sharpest edges go first. In the section across an edge, speed and curvature in proportion, a wedge
keeps its shape and its radius grows as the square root of time: wear that gives a sharp edge the radius w brings
one rounded to r beforehand to √(r² + w²).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from facewright.constraints.moulding import Moulding, moulding
from facewright.constraints.solids.rests import outward
from facewright.constraints.solids.solid import Solid, orbits
from facewright.constraints.solids.tolerance import SAME


@dataclass(frozen=True)
class EdgeKind:
    """Edges that the symmetries take into one another; `edges` are their numbers.

    `dihedral_deg` is the angle between the two faces, inside the solid; `length_mm` an edge's length while sharp.
    `radius_mm` is proposed; it takes `setback_mm` from each of the two faces, and `lost_mm` from the edge itself.
    `limited` says that the faces leave no room for the radius wanted.
    """

    edges: tuple[int, ...]
    dihedral_deg: float
    length_mm: float
    radius_mm: float
    setback_mm: float
    lost_mm: float
    limited: bool


@dataclass(frozen=True)
class VertexKind:
    """Vertices that the symmetries take into one another; `vertices` are their numbers.

    `tip_deg` is the opening of the widest round cone that fits into the tip. A ball of `radius_mm` that touches
    the faces takes `lost_mm` from the tip. `sharp` marks a tip that can hurt.
    """

    vertices: tuple[int, ...]
    tip_deg: float
    radius_mm: float
    lost_mm: float
    sharp: bool


@dataclass(frozen=True)
class Rounding:
    """How a solid of a given size is rounded.

    `edges` stand in the order in which they wear, the sharpest first; `vertices` likewise. `settles` is how far,
    in inradii, the centre of mass must rise before the solid tips, with sharp edges and with these; rounding
    lowers it, on all but flat discs. `too_small` says that some edge cannot have the least radius that tumbling
    leaves.
    """

    edges: tuple[EdgeKind, ...]
    vertices: tuple[VertexKind, ...]
    settles: tuple[float, float]
    too_small: bool


def dihedral_angles(solid: Solid) -> tuple[float, ...]:
    """The angle between the two faces of each edge, inside the solid, in degrees."""
    normals, _ = outward(solid.vertices, solid.faces)
    pairs = np.array(solid.edge_faces)
    turn = np.linalg.norm(np.cross(normals[pairs[:, 0]], normals[pairs[:, 1]]), axis=1)
    cosine = np.einsum("ei,ei->e", normals[pairs[:, 0]], normals[pairs[:, 1]])
    return tuple(float(180 - angle) for angle in np.degrees(np.arctan2(turn, cosine)))


def rounding(solid: Solid, inradius_mm: float, values: Moulding | None = None) -> Rounding:
    """Radii for every kind of edges and vertices of a solid, and what they cost.

    An edge gets a share of the inradius, at least what tumbling leaves, at most what its faces can spare; a
    vertex at least the radius of the edges that meet there.

    Params:
        solid: the solid.
        inradius_mm: its inradius, in millimetres, above 0.
        values: of moulding; None: those shipped.
    """
    limits = (values or moulding()).rounding
    angles, rooms = dihedral_angles(solid), _rooms(solid)
    ends = np.array([solid.vertices[list(edge)] for edge in solid.edges])
    lengths = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) * inradius_mm
    wanted = max(limits.edge_of_inradius * inradius_mm, limits.edge_least_mm)
    kinds, radii = [], [0.0] * len(solid.edges)
    for edges in orbits(action.edges for action in solid.symmetry):
        half = math.radians(angles[edges[0]]) / 2
        most = limits.most_of_margin * min(rooms[edge] for edge in edges) * inradius_mm * math.tan(half)
        radius = min(wanted, most)
        for edge in edges:
            radii[edge] = radius
        kinds.append(
            EdgeKind(
                edges,
                angles[edges[0]],
                float(lengths[edges[0]]),
                radius,
                radius / math.tan(half),
                radius * (1 / math.sin(half) - 1),
                most < wanted,
            )
        )
    tips = []
    for vertices in orbits(action.vertices for action in solid.symmetry):
        half = _tip(solid, vertices[0])
        meeting = max(radius for radius, edge in zip(radii, solid.edges, strict=True) if vertices[0] in edge)
        radius = max(meeting, min(limits.vertex_least_mm, inradius_mm * limits.most_of_margin))
        lost = radius * (1 / math.sin(half) - 1)
        tips.append(
            VertexKind(
                vertices,
                2 * math.degrees(half),
                radius,
                lost,
                2 * math.degrees(half) < limits.sharp_below_deg,
            )
        )
    return Rounding(
        tuple(sorted(kinds, key=lambda kind: (round(kind.dihedral_deg, 6), kind.edges))),
        tuple(sorted(tips, key=lambda kind: (round(kind.tip_deg, 6), kind.vertices))),
        (min(rest.settle for rest in solid.rests), _settles(solid, angles, radii, inradius_mm)),
        any(kind.radius_mm < limits.edge_least_mm for kind in kinds),
    )


def worn(radius_mm: float, wear_mm: float) -> float:
    """The radius of an edge after wear that would give a sharp one the radius `wear_mm`.

    Example:
        >>> worn(0.0, 0.3), round(worn(0.4, 0.3), 6)
        (0.3, 0.5)
    """
    return math.hypot(radius_mm, wear_mm)


def _rooms(solid: Solid) -> list[float]:
    """For each edge how near it comes to the middles of its two faces, in inradii.

    The middle of a face is the point under the centre of mass where the face is a rest, else the mean of its
    corners.
    """
    normals, distances = outward(solid.vertices, solid.faces)
    resting = {rest.below for rest in solid.rests}
    rooms = []
    for (a, b), faces in zip(solid.edges, solid.edge_faces, strict=True):
        start, along = solid.vertices[a], solid.vertices[b] - solid.vertices[a]
        along = along / np.linalg.norm(along)
        near = []
        for face in faces:
            corners = solid.vertices[list(solid.faces[face])]
            middle = normals[face] * distances[face] if face in resting else corners.mean(axis=0)
            near.append(float(np.linalg.norm(np.cross(middle - start, along))))
        rooms.append(min(near))
    return rooms


def _tip(solid: Solid, vertex: int) -> float:
    """Half the opening, in radians, of the widest round cone that fits into the tip at a vertex.

    About the axis u, pointing outwards, it is asin(min n · u) over the faces' normals n; the best u is a normal,
    or has one smallest n · u with two or three of them.
    """
    normals = outward(solid.vertices, solid.faces)[0][list(solid.vertex_faces[vertex])]
    a, b, c = (normals[numbers] for numbers in np.array(list(combinations(range(len(normals)), 3))).T)
    one, other = np.triu_indices(len(normals), k=1)
    threes = np.cross(a - b, a - c)
    found = np.concatenate([normals, normals[one] + normals[other], threes, -threes])
    lengths = np.linalg.norm(found, axis=1)
    axes = found[lengths > SAME] / lengths[lengths > SAME, None]
    return math.asin(float((axes @ normals.T).min(axis=1).max()))


def _settles(solid: Solid, angles: tuple[float, ...], radii: list[float], inradius_mm: float) -> float:
    """The least rise of the centre of mass that tips the rounded solid, in inradii.

    A rounded edge rolls about its axis, which lies its radius above the table and its setback within the sharp
    edge; the centre of mass passes over it at its distance from the axis and the radius.
    """
    normals, distances = outward(solid.vertices, solid.faces)
    numbers = {edge: number for number, edge in enumerate(solid.edges)}
    rises = []
    for rest in solid.rests:
        face = solid.faces[rest.below]
        height = float(distances[rest.below])
        foot = normals[rest.below] * height
        for a, b in zip(face, (*face[1:], face[0]), strict=True):
            edge = numbers[min(a, b), max(a, b)]
            along = solid.vertices[b] - solid.vertices[a]
            margin = float(np.linalg.norm(np.cross(foot - solid.vertices[a], along)) / np.linalg.norm(along))
            radius = radii[edge] / inradius_mm
            setback = radius / math.tan(math.radians(angles[edge]) / 2)
            rises.append(math.hypot(margin - setback, height - radius) + radius - height)
    return min(rises)
