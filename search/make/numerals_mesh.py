"""The numerals of a die as bodies that are cut out of it or set on it, and whether they can be made at that size."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.errors import UsageError
from facewright.constraints.solids.frames import face_frame
from facewright.search.artwork.badges import placed, shape_of
from facewright.search.artwork.strokes import fineness
from facewright.search.make.body import fineness_mm, most_radius, rounded, usual_radius_mm

if TYPE_CHECKING:
    from pathlib import Path

    from facewright.search.artwork.marks import Artwork, Mark, Ring
    from facewright.search.make.body import Body
    from manifold3d import CrossSection, Manifold

BEYOND_MM = 0.3
"""How far the body of a numeral stands out of the face that it is cut into, or into the die that it stands on.

If it ended in the plane of the face, the two surfaces would coincide, and files of the result would have gaps."""

NAMED = 4
"""How many marks an error names; it counts the others."""


class TooSmall(UsageError):
    """A die too small for its numerals: `needs_inradius_mm` is the half distance across flats that would do."""

    def __init__(self, text: str, needs_inradius_mm: float) -> None:
        super().__init__(text)
        self.needs_inradius_mm = needs_inradius_mm


@dataclass(frozen=True)
class Room:
    """How the numerals stand on the flat parts of rounded faces.

    `beyond` names the sites of marks that reach over the very edges of their faces, `over` those of the others that
    reach into the rounding, in the order of the marks. `most_mm` is the largest radius that leaves all but the former
    on the flat.
    """

    most_mm: float
    over: tuple[str, ...]
    beyond: tuple[str, ...]


def require_strokes(artwork: Artwork, inradius_mm: float, least_mm: float, font: Path | None = None) -> None:
    """Refuses a die whose numerals have thinner strokes than a route of making can cut.

    Params:
        artwork: the marks.
        inradius_mm: half the distance across flats.
        least_mm: the smallest stroke of the route.
        font: a font file; without it the usual one.
    Raises: TooSmall, which names the marks and the size that works.
    """
    strokes = [mark.height * fineness(shape_of(mark, font)).stroke for mark in artwork.marks]
    thin = [
        (wide, mark)
        for wide, mark in zip(strokes, artwork.marks, strict=True)
        if wide * inradius_mm < least_mm
    ]
    if not thin:
        return
    narrowest = min(wide for wide, _ in thin)
    # rounded up, so that the size named does work
    needs = math.ceil(least_mm / narrowest * 100) / 100
    named = ", ".join(
        f"{mark.text!r} on f{mark.face + 1} ({wide * inradius_mm:.2f} mm)"
        for wide, mark in sorted(thin, key=lambda pair: pair[0])[:NAMED]
    )
    more = f" and {len(thin) - NAMED} more" if len(thin) > NAMED else ""
    raise TooSmall(
        f"{artwork.solid.name} of {2 * inradius_mm:g} mm across flats: strokes too thin: {named}{more}; accepted: "
        f"{least_mm:g} mm and more, that is {2 * needs:.2f} mm across flats and more, larger numerals or fewer",
        needs,
    )


def room(artwork: Artwork, body: Body, font: Path | None = None) -> Room:
    """Whether the roundings of a body leave its numerals on the flat.

    Along an edge whose faces turn by θ a rounding of radius r takes r·tan(θ/2) off either face.
    """
    most = math.inf
    over: list[str] = []
    beyond: list[str] = []
    for mark in artwork.marks:
        outline = _rings(mark, body.inradius_mm, font)
        if not outline:
            continue
        points = np.concatenate([np.array(ring) for ring in outline])
        frame = face_frame(body.solid, mark.face)
        corners = frame.polygon * body.inradius_mm
        face = body.solid.faces[mark.face]
        allowed = math.inf
        for (a, b), (start, end) in zip(
            pairwise((*face, face[0])), pairwise([*corners, corners[0]]), strict=True
        ):
            along = (end - start) / np.linalg.norm(end - start)
            clear = float((along[0] * (points[:, 1] - start[1]) - along[1] * (points[:, 0] - start[0])).min())
            bend = body.bends[body.edge_numbers[min(a, b), max(a, b)]]
            allowed = min(allowed, clear / math.tan(bend / 2))
        if allowed < 0:
            beyond.append(mark.site)
            continue
        most = min(most, allowed)
        if allowed < body.radius_mm:
            over.append(mark.site)
    return Room(most, tuple(dict.fromkeys(over)), tuple(dict.fromkeys(beyond)))


def flat_radius_mm(artwork: Artwork, inradius_mm: float, font: Path | None = None) -> float:
    """The radius of all edges and corners: the usual one, or a smaller one that leaves the numerals on the flat.

    Smaller only down to the least radius of a corner; below that the rounding may reach into numerals, which
    `die_mesh` says.
    """
    from facewright.constraints.moulding import moulding

    solid = artwork.solid
    radius = min(usual_radius_mm(solid, inradius_mm), most_radius(solid) * inradius_mm)
    allowed = room(artwork, rounded(solid, inradius_mm, radius), font)
    if not allowed.over:
        return radius
    most = math.floor(allowed.most_mm * 100) / 100
    least = moulding().rounding.vertex_least_mm
    return max(most, min(least, radius))


def flat_marks(
    artwork: Artwork, inradius_mm: float, font: Path | None = None
) -> Iterator[tuple[Mark, CrossSection]]:
    """Each mark that shows anything, with its area in the frame of its face, in millimetres."""
    for mark in artwork.marks:
        rings = _rings(mark, inradius_mm, font)
        if rings:
            yield mark, _area(rings).simplify(fineness_mm(inradius_mm))


def tools(
    artwork: Artwork, inradius_mm: float, low_mm: float, high_mm: float, font: Path | None = None
) -> list[tuple[Mark, Manifold]]:
    """Each mark that shows anything, with its body: from one height above its face to another, in millimetres."""
    from manifold3d import Manifold

    made = []
    for mark, area in flat_marks(artwork, inradius_mm, font):
        frame = face_frame(artwork.solid, mark.face)
        foot = frame.origin * inradius_mm + low_mm * frame.normal
        place = np.column_stack([frame.across, frame.up, frame.normal, foot])
        made.append((mark, Manifold.extrude(area, high_mm - low_mm).transform(place)))
    return made


def meeting(numerals: list[tuple[Mark, Manifold]]) -> list[tuple[Mark, Mark]]:
    """The pairs of marks whose bodies have space in common."""
    found = []
    boxes = np.array([body.bounding_box() for _, body in numerals])
    for place, (mark, body) in enumerate(numerals):
        apart = (boxes[:, :3] > boxes[place, 3:]).any(axis=1) | (boxes[:, 3:] < boxes[place, :3]).any(axis=1)
        for other in np.flatnonzero(~apart).tolist():
            if other > place and (body ^ numerals[other][1]).volume() > 0:
                found.append((mark, numerals[other][0]))
    return found


def _area(rings: tuple[Ring, ...]) -> CrossSection:
    """The area within closed rings by the even-odd rule."""
    from manifold3d import CrossSection, FillRule

    return CrossSection([np.ascontiguousarray(ring) for ring in rings], FillRule.EvenOdd)


def _rings(mark: Mark, inradius_mm: float, font: Path | None) -> tuple[Ring, ...]:
    """The outlines of a mark in the frame of its face, in millimetres."""
    return tuple(tuple((x * inradius_mm, y * inradius_mm) for x, y in ring) for ring in placed(mark, font))
