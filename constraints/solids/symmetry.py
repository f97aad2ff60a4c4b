"""All symmetries of a convex solid, by its flags.

A flag is a face, an edge of it and an end of that edge. An isometry is known from the image of one flag, so that each
flag that looks like the first one is tried: the isometry that takes the one to the other either keeps the solid or not.
Nothing is assumed about the group that built the solid: the result may have more symmetry.
"""

from __future__ import annotations

import numpy as np
from facewright.constraints.solids.solid import Action
from facewright.constraints.solids.tolerance import SAME
from numpy.typing import NDArray


def symmetries(
    vertices: NDArray[np.float64],
    faces: tuple[tuple[int, ...], ...],
    edges: tuple[tuple[int, int], ...],
) -> tuple[Action, ...]:
    """The full symmetry group, rotations first, the identity first of all.

    Params:
        vertices: shape (V, 3), the centre of mass at the origin.
        faces: vertex numbers, counter-clockwise seen from outside.
        edges: pairs of vertex numbers, sorted.
    """
    frames = _frames(vertices, faces)
    grams = frames @ frames.transpose(0, 2, 1)
    alike = np.all(np.abs(grams - grams[0]) < SAME, axis=(1, 2))
    matrices = frames[alike].transpose(0, 2, 1) @ np.linalg.inv(frames[0]).T
    images = matrices @ vertices.T
    reach = np.einsum("vi,vi->v", vertices, vertices)
    goes = np.argmin(reach[:, None] - 2 * (vertices @ images), axis=1)
    off = np.abs(vertices[goes] - images.transpose(0, 2, 1)).max(axis=(1, 2))
    goes = goes[off < SAME]
    # from the permutation the matrix again, without the rounding of a small frame
    matrices = vertices[goes].transpose(0, 2, 1) @ vertices @ np.linalg.inv(vertices.T @ vertices)
    proper = np.linalg.det(matrices) > 0
    face_images = _faces(goes, proper, faces, len(vertices))
    edge_images = _edges(goes, edges, len(vertices))
    order = np.lexsort((*face_images.T[::-1], ~proper))
    columns = (face_images[order].tolist(), goes[order].tolist(), edge_images[order].tolist())
    return tuple(
        Action(tuple(on_faces), tuple(on_vertices), tuple(on_edges), matrix)
        for on_faces, on_vertices, on_edges, matrix in zip(*columns, matrices[order], strict=True)
    )


def _frames(vertices: NDArray[np.float64], faces: tuple[tuple[int, ...], ...]) -> NDArray[np.float64]:
    """For each flag its vertex, the middle of its edge and the middle of its face, shape (flags, 3, 3)."""
    at, other, face_of = [], [], []
    for number, face in enumerate(faces):
        after = (*face[1:], face[0])
        at += [*face, *after]
        other += [*after, *face]
        face_of += [number] * (2 * len(face))
    middles = np.stack([vertices[list(face)].mean(axis=0) for face in faces])
    return np.stack([vertices[at], (vertices[at] + vertices[other]) / 2, middles[face_of]], axis=1)


def _faces(
    goes: NDArray[np.int64], proper: NDArray[np.bool_], faces: tuple[tuple[int, ...], ...], many: int
) -> NDArray[np.int64]:
    """Where each symmetry takes each face: the face to the left of the image of its first side."""
    left = np.full(many * many, -1, dtype=np.int64)
    for number, face in enumerate(faces):
        for a, b in zip(face, (*face[1:], face[0]), strict=True):
            left[a * many + b] = number
    first = goes[:, [face[0] for face in faces]]
    second = goes[:, [face[1] for face in faces]]
    # a reflection turns the side's direction about
    start, end = np.where(proper[:, None], first, second), np.where(proper[:, None], second, first)
    return np.asarray(left[start * many + end], dtype=np.int64)


def _edges(goes: NDArray[np.int64], edges: tuple[tuple[int, int], ...], many: int) -> NDArray[np.int64]:
    """Where each symmetry takes each edge."""
    pairs = np.array(edges)
    images = np.sort(goes[:, pairs], axis=2)
    return np.searchsorted(pairs[:, 0] * many + pairs[:, 1], images[..., 0] * many + images[..., 1])
