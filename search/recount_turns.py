"""The rotations of a solid worked out again, from its corners and faces alone, for those who recount.

Shares no code with the groups from which solids are built: a rotation is found as a relabelling of the corners that
takes one face's first edge to some face's edge, keeps every face a face and every distance.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Sequence
from functools import lru_cache

NEAR = 1e-7
"""Inradii: lengths that differ by less are equal. Coordinates are good to about 1e-12."""

Faces = tuple[tuple[int, ...], ...]
Corner = tuple[float, float, float]


@lru_cache(maxsize=64)
def vertex_turns(corners: tuple[Corner, ...], faces: Faces) -> tuple[tuple[int, ...], ...]:
    """Every rotation of a convex body, as the corner to which each corner goes; the identity among them.

    Args:
        corners: coordinates, in inradii.
        faces: corner numbers, counter-clockwise seen from outside.
    """
    beyond = {
        (a, b): (number, at)
        for number, face in enumerate(faces)
        for at, (a, b) in enumerate(zip(face, (*face[1:], face[0]), strict=True))
    }
    found = []
    for number, face in enumerate(faces):
        if len(face) == len(faces[0]):
            for at in range(len(face)):
                image = _followed(faces, beyond, (number, at))
                if image is not None and _keeps_distances(corners, image):
                    found.append(image)
    return tuple(found)


def _followed(
    faces: Faces, beyond: dict[tuple[int, int], tuple[int, int]], start: tuple[int, int]
) -> tuple[int, ...] | None:
    """Where each corner goes if the first edge of the first face goes to an edge; None where faces do not match."""
    image: dict[int, int] = {}
    met = {0: start}
    waiting = deque([(0, start)])
    while waiting:
        number, (to, shift) = waiting.popleft()
        face, other = faces[number], faces[to]
        if len(face) != len(other):
            return None
        size = len(face)
        for at, corner in enumerate(face):
            goes = other[(at + shift) % size]
            if image.setdefault(corner, goes) != goes:
                return None
        for at, corner in enumerate(face):
            after = face[(at + 1) % size]
            beside, place = beyond[after, corner]
            goes_to, goes_at = beyond[image[after], image[corner]]
            target = (goes_to, (goes_at - place) % len(faces[goes_to]))
            if beside not in met:
                met[beside] = target
                waiting.append((beside, target))
    return tuple(image[corner] for corner in range(len(image)))


def _keeps_distances(corners: Sequence[Corner], image: Sequence[int]) -> bool:
    """Whether each corner keeps its distance from the centre and from three corners that span space."""
    if any(
        abs(math.hypot(*one) - math.hypot(*corners[to])) > NEAR
        for one, to in zip(corners, image, strict=True)
    ):
        return False
    return all(
        abs(math.dist(corners[a], corners[b]) - math.dist(corners[image[a]], corners[image[b]])) < NEAR
        for a in range(len(corners))
        for b in range(a)
    )


def same_orbit(
    sites: Sequence[str],
    corners: tuple[Corner, ...],
    faces: Faces,
    edges: Sequence[tuple[int, int]],
) -> bool:
    """Whether the rotations take the first of some vertices ("v1" …) or edges ("e1" …) to each of the others.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> body = solid("rhombic dodecahedron")
        >>> corners = tuple(tuple(one) for one in body.vertices.tolist())
        >>> three = [site for site, at in zip(body.sites("vertices"), body.vertex_faces) if len(at) == 3]
        >>> same_orbit(three, corners, body.faces, body.edges)
        True
        >>> same_orbit(body.sites("vertices"), corners, body.faces, body.edges)
        False
    """
    places = {f"v{number}": frozenset((number - 1,)) for number in range(1, len(corners) + 1)}
    places |= {f"e{number}": frozenset(edge) for number, edge in enumerate(edges, 1)}
    reached = {
        frozenset(turn[corner] for corner in places[sites[0]]) for turn in vertex_turns(corners, faces)
    }
    return all(places[site] in reached for site in sites)
