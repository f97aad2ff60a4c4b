"""Solid angles: how wide each face looks from the centre of mass, and how that changes, in closed form.

The change is an integral along the outline of a face alone. If the point r of the outline moves by w(r), the
solid angle grows by ∮ det(r, w, dr) / |r|³. Along the straight edge from a to b, with k = 1 / (|a||b| + a·b),

    ∫ dr / |r|³ taken as a scalar in its parameter  =  k (1/|a| + 1/|b|),
    ∫ r / |r|³ in the same parameter                =  k (a/|a| + b/|b|),

so that a constant or a linear w needs no quadrature. Source: own derivation; the first is the law of Biot and
Savart for a straight wire (any text on electromagnetism, from memory), of which the solid angle is the potential.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from facewright.constraints.solids.rests import outward
from facewright.constraints.solids.solid import Solid
from numpy.typing import NDArray

FULL = 4 * np.pi
"""The solid angle of all directions."""

Vectors = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class AngleChanges:
    """How the solid angles of F faces, each over 4π, change to first order; lengths in inradii.

    `shares` has shape (F,) and sums to 1. For a displacement c of the centre of mass the shares grow by `centre`
    @ c, shape (F, 3). If the solid is stretched by the factor 1 + ε along a unit vector d, they grow by ε dᵀ
    `stretch` d, shape (F, 3, 3), symmetric and without a trace. If the plane of face g moves outwards by δ, and
    the centre of mass with the shape, they grow by δ `planes`[:, g], shape (F, F).
    """

    shares: Vectors
    centre: Vectors
    stretch: Vectors
    planes: Vectors


def solid_angles(vertices: Vectors, faces: Sequence[Sequence[int]]) -> Vectors:
    """The solid angle of each face of a convex solid about the origin, a point inside it, shape (F,).

    Source: the angle between neighbouring planes through the origin at each corner; the area of a spherical
    polygon is the sum of its angles less (n − 2)π (Girard's theorem, from memory).
    """
    found = []
    for face in faces:
        corners = vertices[list(face)]
        sides = np.cross(corners, np.roll(corners, -1, axis=0))
        sides /= np.linalg.norm(sides, axis=1, keepdims=True)
        before = np.roll(sides, 1, axis=0)
        turn = np.arctan2(
            np.einsum("ci,ci->c", np.cross(before, sides), corners) / np.linalg.norm(corners, axis=1),
            np.einsum("ci,ci->c", before, sides),
        )
        found.append(2 * np.pi - float(turn.sum()))
    return np.array(found)


def angle_changes(solid: Solid) -> AngleChanges:
    """The shares of all faces of a solid and their derivatives, in the order of its faces."""
    many = len(solid.faces)
    face_of = np.array([number for number, face in enumerate(solid.faces) for _ in face])
    beyond = np.array([other for row in solid.neighbours for other in row])
    a = solid.vertices[[corner for face in solid.faces for corner in face]]
    b = solid.vertices[[corner for face in solid.faces for corner in (*face[1:], face[0])]]
    long_a, long_b = np.linalg.norm(a, axis=1), np.linalg.norm(b, axis=1)
    k = 1 / (long_a * long_b + np.einsum("ei,ei->e", a, b)) / FULL
    normal = np.cross(a, b)
    constant = normal * (k * (1 / long_a + 1 / long_b))[:, None]
    linear = k[:, None] * (a / long_a[:, None] + b / long_b[:, None])

    centre = np.zeros((many, 3))
    np.add.at(centre, face_of, constant)
    stretch = np.zeros((many, 3, 3))
    np.add.at(stretch, face_of, -np.einsum("ei,ej->eij", normal, linear))
    stretch = (stretch + stretch.transpose(0, 2, 1)) / 2
    planes = _planes(solid, face_of, beyond, constant) + centre @ _centroid_moves(solid)
    return AngleChanges(solid_angles(solid.vertices, solid.faces) / FULL, centre, stretch, planes)


def _planes(
    solid: Solid, face_of: NDArray[np.int64], beyond: NDArray[np.int64], constant: Vectors
) -> Vectors:
    """The change of each share for each plane that moves, the viewpoint staying where it is.

    The edge of two planes moves square to itself, by the w with n·w = δ for the one and n·w = 0 for the other.
    Where more than three planes meet, corners move apart, which is of second order.
    """
    many = len(solid.faces)
    normals, _ = outward(solid.vertices, solid.faces)
    own, other = normals[face_of], normals[beyond]
    cosine = np.einsum("ei,ei->e", own, other)
    scale = 1 / (1 - cosine**2)
    moved = np.zeros((many, many))
    for plane, w in (
        (face_of, (own - cosine[:, None] * other) * scale[:, None]),
        (beyond, (other - cosine[:, None] * own) * scale[:, None]),
    ):
        np.add.at(moved, (face_of, plane), -np.einsum("ei,ei->e", w, constant))
    return moved


def _centroid_moves(solid: Solid) -> Vectors:
    """How far the centre of mass of the even body moves for each plane that moves outwards, shape (3, F)."""
    moves, volume = [], 0.0
    _, distances = outward(solid.vertices, solid.faces)
    for face, distance in zip(solid.faces, distances, strict=True):
        corners = solid.vertices[list(face)]
        fan = np.cross(corners[1:-1] - corners[0], corners[2:] - corners[0])
        areas = np.linalg.norm(fan, axis=1) / 2
        moves.append(areas @ (corners[0] + corners[1:-1] + corners[2:]) / 3)
        volume += float(areas.sum() * distance) / 3
    result: Vectors = np.stack(moves, axis=1) / volume
    return result
