"""From corners and faces to a solid: scale, order of the sites, edges, symmetries, rests."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import tau

import numpy as np
from facewright.constraints.solids.groups import schoenflies
from facewright.constraints.solids.rests import margins, outward, rests_of
from facewright.constraints.solids.solid import Solid
from facewright.constraints.solids.symmetry import symmetries
from facewright.constraints.solids.tolerance import SAME
from numpy.typing import NDArray

ROUNDED = 6
"""Decimals of the heights and angles by which sites are put in order, so that rounding errors do not decide."""


def assemble(
    name: str,
    vertices: NDArray[np.float64],
    faces: Sequence[Sequence[int]],
    shape: Mapping[str, float] | None = None,
) -> Solid:
    """A solid from its corners and faces.

    Rests come first among the faces; then, as among the vertices, from the top down and round about the z axis.

    Params:
        name: the solid's name.
        vertices: shape (V, 3), the centre of mass at the origin, any scale.
        faces: vertex numbers, counter-clockwise seen from outside.
        shape: the free proportions by name.
    Raises: ValueError where corners and faces make no convex solid (Euler's formula), or one without a rest.
    """
    _, distances = outward(vertices, faces)
    vertices = vertices / distances.min()
    standing = margins(vertices, faces) > SAME
    if not standing.any():
        raise ValueError(f"{name}: it has no rest")
    place = _ordered(vertices)
    vertices = np.ascontiguousarray(vertices[place])
    vertices[np.abs(vertices) < SAME] = 0.0
    vertices.setflags(write=False)
    number = np.argsort(place).tolist()
    middles = np.stack([vertices[[number[v] for v in face]].mean(axis=0) for face in faces])
    in_order = _ordered(middles, ~standing).tolist()
    ordered = tuple(_from_least([number[v] for v in faces[f]]) for f in in_order)
    sides = {
        (min(a, b), max(a, b)) for face in ordered for a, b in zip(face, (*face[1:], face[0]), strict=True)
    }
    edges = tuple(sorted(sides))
    if len(vertices) - len(edges) + len(ordered) != 2:
        raise ValueError(f"{name}: its corners lie too close together for a solid of its own")
    actions = symmetries(vertices, ordered, edges)
    rotations = tuple(action for action in actions if np.linalg.det(action.matrix) > 0)
    return Solid(
        name=name,
        vertices=vertices,
        faces=ordered,
        edges=edges,
        symmetry=actions,
        rotations=rotations,
        rests=rests_of(vertices, ordered, edges),
        point_group=schoenflies(np.stack([action.matrix for action in actions])),
        shape=dict(shape or {}),
    )


def _ordered(points: NDArray[np.float64], last: NDArray[np.bool_] | None = None) -> NDArray[np.int64]:
    """The order of points from the top down, those of one height by angle about z; those marked `last` after all."""
    heights = np.round(points[:, 2], ROUNDED)
    angles = np.round(np.round(np.arctan2(points[:, 1], points[:, 0]), ROUNDED) % tau, ROUNDED)
    on_axis = np.hypot(points[:, 0], points[:, 1]) < SAME
    angles[on_axis] = 0.0
    keys = (angles, -heights) if last is None else (angles, -heights, last)
    return np.lexsort(keys)


def _from_least(face: list[int]) -> tuple[int, ...]:
    """A face's corners in the same turn, the least number first."""
    start = face.index(min(face))
    return tuple(face[start:] + face[:start])
