"""What the marks of one face ask for: how large each is, where it would like to be, how it is turned."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from facewright.constraints.solids.frames import face_frame
from facewright.search.artwork.badges import badged, extent_of
from facewright.search.artwork.marks import Ring

if TYPE_CHECKING:
    from facewright.constraints.solids.boxes import Floats
    from facewright.constraints.solids.rooms import Wish
    from facewright.constraints.solids.solid import Solid

CLEAR = 0.1
"""The clear space about a mark over the height of its characters: so far it keeps from every edge of its face, and
twice so far from any other mark."""

OUTWARD = 0.4
"""The middle of a vertex or edge mark lies at least so far out from the middle of its face towards its site."""

LIKED = 0.6
"""Where it has a choice, it lies so far out."""

STARTS = ((0.6, 0.6), (0.4, 0.6), (0.4, 0.8))
"""How far out the marks of vertices and of edges stand where a sharing of the face starts; the fairest result is kept.

Found by trial: a hundred starts at random gain little over these three, and break the symmetry of the face."""

ON = 0.5
"""How far they are moved on in the last start, over their way out."""

MOST_EDGES = 8
"""On so many edges of a face, at most, its own mark is tried where it shares the face."""

TURNS = 24
"""Angles, besides those of the edges, that are tried for a mark at any angle that shares its face."""

Place = tuple[str, int, int]
"""A mark on a face: its kind of site ("f", "v", "e"), the number of the site, the number of the readout."""


Held = tuple[tuple[float, float, float], ...]
"""Half-planes for the middle of a box, as `rooms.Wish` takes them."""


@dataclass(frozen=True)
class Size:
    """The box of a mark, characters one unit high: half its width, its foot, its head, from the characters' middle."""

    half: float
    low: float
    high: float

    @classmethod
    def of(cls, rings: tuple[Ring, ...], readout: int | None = None) -> Size:
        """The box of the outlines of characters, with the badge of their readout; as wide left as right."""
        left, low, right, high = extent_of(badged(rings, readout))
        return cls(max(abs(left), abs(right)), low, high)

    @classmethod
    def around(cls, sizes: Collection[Size]) -> Size:
        """The box that holds each of some boxes; without any, that of a figure."""
        if not sizes:
            return cls.of(())
        return cls(max(s.half for s in sizes), min(s.low for s in sizes), max(s.high for s in sizes))

    @property
    def across(self) -> float:
        """The width of the box, with the clear space."""
        return 2 * (self.half + CLEAR)

    @property
    def tall(self) -> float:
        """The height of the box, with the clear space."""
        return self.high - self.low + 2 * CLEAR

    @property
    def wide(self) -> float:
        """The width of that box over its height."""
        return self.across / self.tall

    @property
    def middle(self) -> float:
        """How far the middle of the box is above that of the characters."""
        return (self.high + self.low) / 2


def angles_to_try(
    solid: Solid, face: int, pattern: Sequence[Place], sizes: Sequence[Size], any_angle: bool
) -> list[float]:
    """The angles to try for marks of the face itself."""
    import numpy as np
    from facewright.constraints.solids.boxes import boxes

    own = [sizes[readout] for kind, _, readout in pattern if kind == "f"]
    if not own:
        return [0.0]
    polygon = face_frame(solid, face).polygon
    steps = np.roll(polygon, -1, axis=0) - polygon
    angles: list[float] = np.arctan2(steps[:, 1], steps[:, 0]).tolist()[:MOST_EDGES]
    if any_angle:
        angles += [math.tau * turn / TURNS for turn in range(TURNS)]
        for size in own:
            alone = boxes(solid, size.wide, any_angle=True)[face]
            angles += [] if alone is None else [alone.angle]
    return angles


def wishes_of(
    solid: Solid, face: int, pattern: Sequence[Place], sizes: Sequence[Size], angle: float, beside: bool
) -> list[Wish]:
    """What the marks of a face ask for; marks of one site stand beside or above each other."""
    import numpy as np
    from facewright.constraints.solids.rooms import Wish

    polygon = face_frame(solid, face).polygon
    middle = polygon.mean(axis=0)
    groups = {readout: group for group, readout in enumerate(sorted({place[2] for place in pattern}))}
    many = Counter(place[:2] for place in pattern)
    met: Counter[tuple[str, int]] = Counter()
    wishes = []
    for kind, number, readout in pattern:
        held: Held = ()
        turn, near = angle, middle
        if kind == "v":
            turn, near, held = _at_vertex(polygon, solid.faces[face].index(number), middle)
        elif kind == "e":
            corner = _first_corner(solid, face, number)
            turn, near, held = _at_edge(polygon, corner, middle)
        together, place = many[kind, number], met[kind, number]
        met[kind, number] += 1
        if together > 1:
            # a start for the parting lines; the sizes then push the boxes as far apart as they need
            away = 0.2 * (place - (together - 1) / 2)
            step = (math.cos(turn), math.sin(turn)) if beside else (math.sin(turn), -math.cos(turn))
            near = near + away * np.array(step)
            held = ()
        size = sizes[readout]
        wishes.append(
            Wish(size.across, size.tall, turn, (float(near[0]), float(near[1])), groups[readout], held)
        )
    return wishes


def starts(
    polygon: Floats, pattern: Sequence[Place], wishes: Sequence[Wish]
) -> list[list[tuple[float, float]]]:
    """Places to start from: those that are liked, and others that lead to a fairer sharing of some faces.

    Where both vertices and edges have marks, these stand farther in or out; and once the marks stand as the wings of a
    wheel, each moved on in its direction of reading.
    """
    x, y = polygon.mean(axis=0).tolist()

    def moved(vertices: float, edges: float, on: float) -> list[tuple[float, float]]:
        out = {"f": 1.0, "v": vertices / LIKED, "e": edges / LIKED}
        found = []
        for (kind, _, _), wish in zip(pattern, wishes, strict=True):
            across, up = wish.near[0] - x, wish.near[1] - y
            far = 0.0 if kind == "f" else on * math.hypot(across, up)
            found.append(
                (
                    x + out[kind] * across + far * math.cos(wish.angle),
                    y + out[kind] * up + far * math.sin(wish.angle),
                )
            )
        return found

    both = {"v", "e"} <= {kind for kind, _, _ in pattern}
    tried = [moved(vertices, edges, 0.0) for vertices, edges in (STARTS if both else STARTS[:1])]
    return [*tried, moved(LIKED, LIKED, ON)]


def _at_vertex(polygon: Floats, corner: int, middle: Floats) -> tuple[float, Floats, Held]:
    """The angle of a mark of a vertex, where it would like to be, and what keeps it nearer to it than to others."""
    import numpy as np

    tip = polygon[corner]
    sides = polygon[[corner - 1, (corner + 1) % len(polygon)]] - tip
    sides = sides / np.linalg.norm(sides, axis=1, keepdims=True)
    head = -sides.sum(axis=0)
    head = head / np.linalg.norm(head)
    held = [_beyond(head, middle, tip)]
    for place, other in enumerate(polygon):
        if place != corner:
            away = other - tip
            held.append((float(away[0]), float(away[1]), float(away @ (other + tip)) / 2))
    return math.atan2(-head[0], head[1]), middle + LIKED * (tip - middle), tuple(held)


def _at_edge(polygon: Floats, corner: int, middle: Floats) -> tuple[float, Floats, Held]:
    """The angle of a mark of an edge, where it would like to be, and what keeps it nearer to it than to others."""
    from facewright.constraints.solids.boxes import sides_of

    normals, rooms = sides_of(polygon)
    head, foot = normals[corner], (polygon[corner] + polygon[(corner + 1) % len(polygon)]) / 2
    held = [_beyond(head, middle, foot)]
    for place in range(len(polygon)):
        if place != corner:
            away = normals[place] - head
            held.append((float(away[0]), float(away[1]), float(rooms[place] - rooms[corner])))
    return math.atan2(-head[0], head[1]), middle + LIKED * (foot - middle), tuple(held)


def _beyond(head: Floats, middle: Floats, site: Floats) -> tuple[float, float, float]:
    """The half-plane that lies far enough out towards a site."""
    start = middle + OUTWARD * (site - middle)
    return -float(head[0]), -float(head[1]), -float(head @ start)


def _first_corner(solid: Solid, face: int, edge: int) -> int:
    """The corner of a face from which one of its edges goes on to the next corner."""
    a, b = (solid.faces[face].index(vertex) for vertex in solid.edges[edge])
    return a if (a + 1) % len(solid.faces[face]) == b else b
