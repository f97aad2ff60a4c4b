"""How a solid comes to lie still: on which faces, what is then on top, what is seen, how firmly it lies.

A face is a rest where the point under the centre of mass lies inside it. Statics alone: how a throw ends is decided by
symmetry, not here.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from facewright.constraints.solids.solid import Kind, Read, Rest
from facewright.constraints.solids.tolerance import SAME
from numpy.typing import NDArray

COCKED_ABOVE = 30
"""Past so many rests a solid rolls far and may come to lie cocked (common practice, no source)."""

FIRM = 0.01
"""Inradii: a solid whose centre of mass need not rise so far to tip lies loosely (our choice)."""

Faces = Sequence[Sequence[int]]
ABOVE: dict[Kind, Read] = {"faces": "face above", "vertices": "vertex above", "edges": "edge above"}


def outward(vertices: NDArray[np.float64], faces: Faces) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """For each face its outward unit normal, shape (F, 3), and its distance from the origin, shape (F,)."""
    corners = np.stack([vertices[[face[0], face[1], face[2]]] for face in faces])
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    return normals, np.einsum("fi,fi->f", normals, corners[:, 0])


def margins(vertices: NDArray[np.float64], faces: Faces) -> NDArray[np.float64]:
    """For each face how far inside it the point under the centre of mass lies, shape (F,); negative: outside.

    The distance is that to the nearest edge. The face is a rest where it is positive.
    """
    normals, distances = outward(vertices, faces)
    many = [len(face) for face in faces]
    start = vertices[[corner for face in faces for corner in face]]
    end = vertices[[corner for face in faces for corner in (*face[1:], face[0])]]
    normal = np.repeat(normals, many, axis=0)
    foot = normal * np.repeat(distances, many)[:, None]
    inward = np.cross(normal, end - start)
    inward /= np.linalg.norm(inward, axis=1, keepdims=True)
    inside = np.einsum("si,si->s", inward, foot - start)
    return np.minimum.reduceat(inside, np.cumsum([0, *many[:-1]]))


def opposite_faces(vertices: NDArray[np.float64], faces: Faces) -> tuple[int | None, ...]:
    """For each face the number of the one whose outward direction is the opposite; None where there is none."""
    normals, _ = outward(vertices, faces)
    sums = np.abs(normals[:, None] + normals[None, :]).max(axis=2)
    nearest = sums.argmin(axis=1).tolist()
    return tuple(j if sums[i, j] < SAME else None for i, j in enumerate(nearest))


def rests_of(
    vertices: NDArray[np.float64], faces: Faces, edges: Sequence[tuple[int, int]]
) -> tuple[Rest, ...]:
    """Every rest of a solid, in the order of its faces.

    Where several rests have the same site on top, the top does not tell them apart, and all are read from the face
    below; so are rests with different kinds of tops.
    """
    normals, distances = outward(vertices, faces)
    inside = margins(vertices, faces)
    below = np.flatnonzero(inside > SAME).tolist()
    numbers = {frozenset(face): i for i, face in enumerate(faces)}
    edge_numbers = {frozenset(edge): i for i, edge in enumerate(edges)}
    tops: list[tuple[Kind, int]] = []
    for height in -(normals[below] @ vertices.T):
        highest = np.flatnonzero(height > height.max() - SAME).tolist()
        if len(highest) == 1:
            tops.append(("vertices", highest[0]))
        elif len(highest) == 2:
            tops.append(("edges", edge_numbers[frozenset(highest)]))
        else:
            tops.append(("faces", numbers[frozenset(highest)]))
    told = len(set(tops)) == len(tops) and len({kind for kind, _ in tops}) == 1
    found = []
    for face, (kind, top) in zip(below, tops, strict=True):
        read: Read = ABOVE[kind] if told else "face below"
        shows = _shown(kind, top, faces, edges) if told else _shown("faces", face, faces, edges)
        margin, rest = float(inside[face]), float(distances[face])
        # over an edge the centre of mass passes at its distance from the edge's line
        settle = float(np.hypot(margin, rest)) - rest
        found.append(Rest(face, read, top if told else None, shows, margin, settle))
    return tuple(found)


def _shown(
    kind: Kind, site: int, faces: Faces, edges: Sequence[tuple[int, int]]
) -> dict[Kind, tuple[int, ...]]:
    """The sites seen where a face, a vertex or an edge is read: itself and what it touches directly."""
    if kind == "faces":
        corners = set(faces[site])
        sides = _sides(faces[site])
        return {
            "faces": (site,),
            "vertices": tuple(sorted(corners)),
            "edges": tuple(i for i, edge in enumerate(edges) if edge in sides),
        }
    if kind == "vertices":
        return {
            "faces": tuple(i for i, face in enumerate(faces) if site in face),
            "vertices": (site,),
            "edges": tuple(i for i, edge in enumerate(edges) if site in edge),
        }
    return {
        "faces": tuple(i for i, face in enumerate(faces) if edges[site] in _sides(face)),
        "vertices": edges[site],
        "edges": (site,),
    }


def _sides(face: Sequence[int]) -> set[tuple[int, int]]:
    """The edges of a face, as sorted pairs."""
    return {(min(a, b), max(a, b)) for a, b in zip(face, [*face[1:], face[0]], strict=True)}


def warning(rests: Sequence[Rest]) -> str:
    """What a maker should know about how this solid lies; empty where there is nothing to say."""
    said = []
    if len(rests) > COCKED_ABOVE:
        said.append(
            f"more than {COCKED_ABOVE} rests: it rolls far and may come to lie cocked (common practice, no source)"
        )
    if min(rest.settle for rest in rests) < FIRM:
        said.append("it lies loosely: a small knock turns it to a neighbouring rest")
    return "; ".join(said)
