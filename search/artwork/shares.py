"""Shares of a face: the face's own mark and the copies of vertex and edge marks that are cut into the same face.

Faces that a symmetry carries onto each other with their marks are worked out once, and their copies are alike.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from facewright.constraints.solids.frames import face_frame
from facewright.constraints.solids.tolerance import SAME
from facewright.search.artwork.wishes import Place, Size, angles_to_try, starts, wishes_of

if TYPE_CHECKING:
    from facewright.constraints.solids.boxes import Box
    from facewright.constraints.solids.solid import Action, Solid


@dataclass(frozen=True)
class Spot:
    """Where a mark stands on a face: the middle of its box in the face's frame, the height of its characters there.

    `rise` is how far the middle of the box is above that of the characters, over their height.
    """

    site: str
    face: int
    readout: int
    centre: tuple[float, float]
    height: float
    angle: float
    rise: float


def spots(solid: Solid, carried: Sequence[Mapping[str, Size]], *, any_angle: bool = False) -> list[Spot]:
    """The spots of all copies of all marks, face by face.

    Params:
        solid: the solid.
        carried: for each readout its sites with the box that each of their marks needs.
        any_angle: whether marks of faces may be turned freely.
    """
    from facewright.constraints.solids.boxes import carried as carried_by

    here: dict[int, list[Place]] = {}
    for readout, sites in enumerate(carried):
        for site in sites:
            for face in _faces(solid, site[0], int(site[1:]) - 1):
                here.setdefault(face, []).append((site[0], int(site[1:]) - 1, readout))
    largest = tuple(Size.around(set(sites.values())) for sites in carried)
    different = [frozenset(sites.values()) for sites in carried]
    found = []
    for face, places in sorted(here.items()):
        first, action, pattern = _from_first(solid, face, places)
        alone = len(pattern) == 1 and pattern[0][0] == "f"
        if alone:
            boxes = _alone(solid, first, different[pattern[0][2]], any_angle)
        else:
            shared = _shared(solid, first, pattern, largest, any_angle)
            back = {_image(action, place): box for place, box in zip(pattern, shared, strict=True)}
        for place in places:
            site, readout = f"{place[0]}{place[1] + 1}", place[2]
            size = carried[readout][site] if alone else largest[readout]
            box = carried_by(solid, first, boxes[size] if alone else back[place], action.matrix, face)
            found.append(Spot(site, face, readout, box.centre, box.height, box.angle, size.middle))
    return found


@lru_cache(maxsize=4096)
def _alone(solid: Solid, face: int, sizes: frozenset[Size], any_angle: bool) -> Mapping[Size, Box]:
    """The boxes of marks of one readout of which each has its face for itself; all at one angle and equally high.

    The angle is the one at which the mark with the least room is largest. The height of a box is that of its
    characters.
    """
    import numpy as np
    from facewright.constraints.solids.boxes import Box, largest_at, largest_box, middle_at

    polygon = face_frame(solid, face).polygon
    steps = np.roll(polygon, -1, axis=0) - polygon
    angles = np.arctan2(steps[:, 1], steps[:, 0])
    if any_angle:
        turned = [largest_box(polygon, size.wide, any_angle=True) for size in sorted(sizes, key=_by_size)]
        angles = np.array([*angles, *(box.angle for box in turned if box is not None)])
    heights = np.min([largest_at(polygon, size.wide, angles) / size.tall for size in sizes], axis=0)
    at = int(np.flatnonzero(heights >= heights.max() * (1 - SAME))[0])
    angle, height = float(angles[at]), float(heights[at])
    edge = at if at < len(polygon) else None
    return {
        size: Box(middle_at(polygon, size.wide, height * size.tall, angle), height, size.wide, angle, edge)
        for size in sizes
    }


def _by_size(size: Size) -> tuple[float, float, float]:
    return size.half, size.low, size.high


def _faces(solid: Solid, kind: str, number: int) -> tuple[int, ...]:
    """The faces into which the mark of a site is cut."""
    if kind == "f":
        return (number,)
    return solid.vertex_faces[number] if kind == "v" else solid.edge_faces[number]


def _image(action: Action, place: Place) -> Place:
    """Where a symmetry takes a mark."""
    kind, number, readout = place
    images = {"f": action.faces, "v": action.vertices, "e": action.edges}[kind]
    return kind, images[number], readout


def _from_first(solid: Solid, face: int, places: Sequence[Place]) -> tuple[int, Action, tuple[Place, ...]]:
    """The first face of a face's orbit, a symmetry that takes it there, and the marks seen from that first face.

    Among all such symmetries that one is taken whose marks come first in order, so that faces with marks in
    symmetric places have the same ones.
    """
    first, actions = _bringing(solid)[face]
    found = []
    for number, action in enumerate(actions):
        back = {_image(action, (kind, at, 0))[:2]: (kind, at) for kind, at in _sites_of(solid, first)}
        pattern = tuple(sorted((*back[kind, at], readout) for kind, at, readout in places))
        found.append((pattern, number))
    pattern, number = min(found)
    return first, actions[number], pattern


@lru_cache(maxsize=64)
def _bringing(solid: Solid) -> tuple[tuple[int, tuple[Action, ...]], ...]:
    """For each face the first of its orbit under all symmetries, and every symmetry that takes that one to it."""
    found: dict[int, tuple[int, list[Action]]] = {}
    for face in range(len(solid.faces)):
        if face not in found:
            for action in solid.symmetry:
                found.setdefault(action.faces[face], (face, []))[1].append(action)
    return tuple((found[face][0], tuple(found[face][1])) for face in range(len(solid.faces)))


@lru_cache(maxsize=4096)
def _sites_of(solid: Solid, face: int) -> tuple[tuple[str, int], ...]:
    """A face, its vertices and its edges."""
    edges = [number for number, faces in enumerate(solid.edge_faces) if face in faces]
    return (("f", face), *(("v", vertex) for vertex in solid.faces[face]), *(("e", edge) for edge in edges))


@lru_cache(maxsize=4096)
def _shared(
    solid: Solid, face: int, pattern: tuple[Place, ...], sizes: tuple[Size, ...], any_angle: bool
) -> tuple[Box, ...]:
    """The boxes of the marks on one face; the height of each is that of its characters."""
    from facewright.constraints.solids.boxes import Box
    from facewright.constraints.solids.rooms import share

    polygon = face_frame(solid, face).polygon
    best: list[Box] = []
    for angle in angles_to_try(solid, face, pattern, sizes, any_angle):
        for beside in (True, False) if len({place[:2] for place in pattern}) < len(pattern) else (True,):
            asked = wishes_of(solid, face, pattern, sizes, angle, beside)
            rooms = share(polygon, asked, starts(polygon, pattern, asked))
            tried = [Box(r.centre, r.size, 1.0, w.angle) for r, w in zip(rooms, asked, strict=True)]
            if not best or _fairness(tried) > _fairness(best):
                best = tried
    return tuple(best)


def _fairness(boxes: Sequence[Box]) -> list[float]:
    """What makes one sharing better than another: the least height, then the next; rounding decides nothing."""
    return [round(height, 6) for height in sorted(box.height for box in boxes)]
