"""A marked solid in parallel projection, from as many sides as it takes to see every mark, as SVG text."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

from facewright.search.report.figures_solids import INK, View, path_of, shade_of, view_of

if TYPE_CHECKING:
    from facewright.search.artwork.marks import Artwork, Mark

CLEAR = 0.42
"""A face is seen clearly when the cosine between its normal and the eye's direction is at least this."""

MOST_VIEWS = 6
"""How many pictures one solid gets at most."""

LONGEST = 12.0
"""Pixels: corners so far from the one before are kept, whatever the line."""

ABOVE = math.radians(35)
"""From so far above the table the pictures are taken."""

ASIDE = tuple(math.radians(degrees) for degrees in (20, 110, 200, 290))
"""Turns about the vertical that are tried."""


@dataclass(frozen=True)
class Side:
    """Whence a marked solid is drawn: the rest on which it lies, and the turn about the vertical, in radians."""

    rest: int
    aside: float


def sides(artwork: Artwork, most: int = MOST_VIEWS) -> tuple[Side, ...]:
    """Few sides from which every marked face is seen clearly, the first the solid's first rest.

    Each next side is the one that shows most of what is still unseen (greedy cover).
    """
    solid = artwork.solid
    waiting = {mark.face for mark in artwork.marks}
    first = Side(0, ASIDE[0])
    tried = [first, *(Side(rest, aside) for rest in range(len(solid.rests)) for aside in ASIDE)]
    faces = {side: clear(artwork, side) for side in tried}
    chosen = [first]
    waiting -= faces[first]
    while waiting and len(chosen) < most:
        best = max(faces, key=lambda side: (len(faces[side] & waiting), -side.rest, -side.aside))
        if not faces[best] & waiting:
            break
        chosen.append(best)
        waiting -= faces[best]
    return tuple(chosen)


def clear(artwork: Artwork, side: Side) -> set[int]:
    """The faces that are seen clearly from a side."""
    return {face for face, facing in enumerate(_view(artwork, side).facing) if facing >= CLEAR}


def marked_svg(
    artwork: Artwork,
    side: Side | None = None,
    *,
    size: int = 220,
    lit: Sequence[str] = (),
    colours: Mapping[int, str] | None = None,
    title: str = "",
) -> str:
    """Draws a solid with its marks in place.

    Params:
        artwork: the solid with everything that stands on it.
        side: whence; without it the first of `sides`.
        size: pixels of the longer side of the picture.
        lit: sites whose marks are underlaid, such as those that the rest shows.
        colours: a colour for the marks of each readout; without it all are in one ink.
        title: what the picture shows, for those who cannot see it; without it the solid and its marks.
    Returns: SVG text without fonts, the same for the same input.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> from facewright.search.artwork.placing import numbered
        >>> marked_svg(numbered(solid("cube"))).count('class="mark"')
        3
    """
    solid = artwork.solid
    seen_from = side or Side(0, ASIDE[0])
    view = _view(artwork, seen_from)
    low, high = view.points.min(axis=0), view.points.max(axis=0)
    scale = (size - 8) / float((high - low).max())
    width, height = ((high - low) * scale + 8).tolist()

    def at(point: Sequence[float]) -> tuple[float, float]:
        return 4 + (float(point[0]) - low[0]) * scale, 4 + (high[1] - float(point[1])) * scale

    corners = [at(point) for point in view.points]
    parts = [
        f'<path d="{path_of([corners[corner] for corner in face], closed=True)}" fill="{shade_of(light)}"/>'
        for face, seen, light in zip(solid.faces, view.seen, view.light, strict=True)
        if seen
    ]
    whole = [
        path_of([corners[a], corners[b]])
        for (a, b), faces in zip(solid.edges, solid.edge_faces, strict=True)
        if any(view.seen[face] for face in faces)
    ]
    parts.append(f'<path d="{"".join(whole)}" fill="none" stroke="{INK}" stroke-width="1.1"/>')
    for mark in artwork.marks:
        if view.facing[mark.face] > 0.1:
            rings = [[at(point) for point in ring] for ring in _projected(artwork, view, mark)]
            shape = "".join(path_of(_thinned(ring), closed=True) for ring in rings)
            ink = INK if colours is None or mark.readout is None else colours.get(mark.readout, INK)
            underlaid = ' stroke="#f2d98c" stroke-width="5" paint-order="stroke"' if mark.site in lit else ""
            parts.append(
                f'<path class="mark" data-site="{mark.site}" data-face="f{mark.face + 1}" d="{shape}" fill="{ink}" '
                f'fill-rule="evenodd"{underlaid}/>'
            )
    words = title or f"{solid.name}, {len({mark.site for mark in artwork.marks})} marks"
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" width="{width:.0f}" '
        f'height="{height:.0f}" role="img" aria-label={quoteattr(words)} stroke-linejoin="round">'
    )
    return f"{head}<title>{escape(words)}</title>\n" + "\n".join(parts) + "\n</svg>\n"


def _view(artwork: Artwork, side: Side) -> View:
    return view_of(artwork.solid, side.rest, side.aside, ABOVE)


def _thinned(ring: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The ring without corners that lie within a fraction of a pixel of the line between their neighbours."""
    kept = list(ring)
    for near in (0.08, 0.16, 0.3):
        here: list[tuple[float, float]] = []
        for at, point in enumerate(kept):
            before, after = here[-1] if here else kept[-1], kept[(at + 1) % len(kept)]
            long = math.dist(before, after)
            height = (after[0] - before[0]) * (point[1] - before[1]) - (after[1] - before[1]) * (
                point[0] - before[0]
            )
            if long == 0 or abs(height) > near * long or math.dist(before, point) > LONGEST:
                here.append(point)
        kept = here if len(here) > 3 else kept
    return kept


def _projected(artwork: Artwork, view: View, mark: Mark) -> list[list[list[float]]]:
    """The rings of a mark on the picture, in inradii."""
    import numpy as np
    from facewright.constraints.solids.frames import face_frame
    from facewright.search.artwork.badges import placed

    frame = face_frame(artwork.solid, mark.face)
    return [(frame.in_space(np.asarray(ring)) @ view.axes).tolist() for ring in placed(mark)]
