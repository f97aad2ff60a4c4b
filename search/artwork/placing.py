"""Where marks go: from labels on sites to copies on faces, each with room of its own."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from facewright.constraints.readouts import Label
from facewright.constraints.solids.frames import FaceFrame, face_frame
from facewright.search.artwork.marks import Artwork, Mark

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid

ROOM = 0.8
"""How much of the room between its neighbours a mark takes."""

WIDE = 0.75
"""Width of a character over its height, the gap to the next one included."""


def artwork_of(solid: Solid, carried: Sequence[Mapping[str, Label]], *, several: bool = False) -> Artwork:
    """The artwork of a solid whose sites carry labels.

    Params:
        solid: the solid.
        carried: for each readout (one for a plain numbering) its sites ("f3", "v2", "e7") with their labels.
        several: whether the readouts must be told apart; a plain numbering has only one.
    """
    wanted = [
        (site, str(label), number if several else None)
        for number, sites in enumerate(carried)
        for site, label in sites.items()
    ]
    marks: list[Mark] = []
    for face in range(len(solid.faces)):
        marks += _on_face(solid, face, wanted)
    return Artwork(solid, tuple(marks))


def _on_face(solid: Solid, face: int, wanted: Sequence[tuple[str, str, int | None]]) -> list[Mark]:
    """The copies that are cut into one face, each as large as its neighbours and the edges of the face allow."""
    frame = face_frame(solid, face)
    places = [
        (_place(solid, face, site, frame), site, text, number)
        for site, text, number in wanted
        if _meets(solid, face, site)
    ]
    marks = []
    for place, (centre, site, text, number) in enumerate(places):
        near = [math.dist(centre, other[0]) / 2 for at, other in enumerate(places) if at != place]
        room = min([_to_edges(frame, centre), *near])
        height = 2 * ROOM * room / math.hypot(1, WIDE * max(1, len(text)))
        marks.append(Mark(site, face, text, centre, height, _angle(site, centre), number))
    return marks


def _meets(solid: Solid, face: int, site: str) -> bool:
    number = int(site[1:]) - 1
    if site[0] == "f":
        return number == face
    return face in (solid.vertex_faces[number] if site[0] == "v" else solid.edge_faces[number])


def _place(solid: Solid, face: int, site: str, frame: FaceFrame) -> tuple[float, float]:
    """The middle of a copy: that of the face, or on the way from a vertex or an edge to it."""
    number = int(site[1:]) - 1
    middle = frame.polygon.mean(axis=0)
    if site[0] == "f":
        return float(middle[0]), float(middle[1])
    if site[0] == "v":
        corner = frame.polygon[solid.faces[face].index(number)]
        point = corner + 0.4 * (middle - corner)
    else:
        a, b = (frame.polygon[solid.faces[face].index(corner)] for corner in solid.edges[number])
        point = (a + b) / 2 + 0.3 * (middle - (a + b) / 2)
    return float(point[0]), float(point[1])


def _to_edges(frame: FaceFrame, point: tuple[float, float]) -> float:
    """How far a point of the drawing is from the nearest edge of the face."""
    corners = [(float(x), float(y)) for x, y in frame.polygon]
    distances = []
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        distances.append(
            ((bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)) / math.hypot(bx - ax, by - ay)
        )
    return min(distances)


def _angle(site: str, centre: tuple[float, float]) -> float:
    """The turn of a copy: a face's mark upright, others with their heads towards their own vertex or edge."""
    return 0.0 if site[0] == "f" else math.atan2(centre[1], centre[0]) - math.pi / 2


@lru_cache(maxsize=8)
def numbered(solid: Solid) -> Artwork:
    """A solid with the faces on which it can rest numbered 1, 2, 3, … in the order of its sites."""
    faces = solid.sites("faces")
    return artwork_of(solid, [{faces[rest.below]: place for place, rest in enumerate(solid.rests, 1)}])
