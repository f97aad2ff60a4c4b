"""Where marks go: from labels on sites to copies on faces, each as large as the shares of its face allow.

A mark of a face stands upright on one of its edges, or at any angle on request. A mark of a vertex or an edge is cut
on every face that meets there, its head towards it. All marks of one readout are equally high, as high as the one with
the least room: symmetric copies are alike, and no label looks more important than another.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from facewright.constraints.errors import UsageError
from facewright.constraints.readouts import Label
from facewright.search.artwork.glyphs import outlines
from facewright.search.artwork.lettering import USUAL, Lettering, says_up
from facewright.search.artwork.marks import Artwork, Mark, Ring
from facewright.search.artwork.shares import spots
from facewright.search.artwork.turning import mistaken
from facewright.search.artwork.wishes import Size

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid


def artwork_of(
    solid: Solid,
    carried: Sequence[Mapping[str, Label]],
    *,
    several: bool = False,
    any_angle: bool = False,
    lettering: Lettering = USUAL,
) -> Artwork:
    """The artwork of a solid whose sites carry labels.

    Params:
        solid: the solid.
        carried: for each readout (one for a plain numbering) its sites ("f3", "v2", "e7") with their labels. A label
            "" is a blank: nothing stands there.
        several: whether the readouts must be told apart; a plain numbering has only one.
        any_angle: whether marks of faces are turned as makes them largest; else they stand upright on an edge.
        lettering: how the labels are drawn.
    """
    drawings = [
        _drawings(sites, number if several else None, lettering) for number, sites in enumerate(carried)
    ]
    sizes = [
        {site: Size.of(rings, number if several else None) for site, rings in sites.items()}
        for number, sites in enumerate(drawings)
    ]
    placed = spots(solid, sizes, any_angle=any_angle)
    heights = {
        number: min(spot.height for spot in placed if spot.readout == number)
        for number in {spot.readout for spot in placed}
    }
    marks = []
    for spot in placed:
        height = heights[spot.readout]
        # the characters' middle below that of their box with its badge
        lower = height * spot.rise
        x, y = spot.centre[0] + lower * math.sin(spot.angle), spot.centre[1] - lower * math.cos(spot.angle)
        text = str(carried[spot.readout][spot.site])
        rings = drawings[spot.readout][spot.site]
        marks.append(
            Mark(
                spot.site,
                spot.face,
                text,
                (x, y),
                height,
                spot.angle,
                spot.readout if several else None,
                None if rings == outlines(text) else rings,
            )
        )
    return Artwork(solid, tuple(marks))


def _drawings(
    sites: Mapping[str, Label], readout: int | None, lettering: Lettering
) -> dict[str, tuple[Ring, ...]]:
    """The outline of each site's label, blanks left out, with a line below those that could be read upside down."""
    written = [label for label in sites.values() if lettering.drawn(label)]
    unsure = {} if says_up(readout) else mistaken(written, flag_on_one=lettering.flag_on_one)
    found = {site: lettering.outline(label, marked=label in unsure) for site, label in sites.items()}
    return {site: rings for site, rings in found.items() if rings}


def artwork_of_layout(
    solid: Solid, faces: Mapping[str, Label], *, any_angle: bool = False, lettering: Lettering = USUAL
) -> Artwork:
    """The artwork of a layout: each label where the rest is read to which it belongs.

    On a solid that is read at the vertex or the edge on top, the label of a face stands at the site that is on top when
    the solid lies on that face, once on each face that meets there; on all others it stands on its face.

    Params:
        solid: the solid.
        faces: the labels of the faces on which it can rest ("f1", "f2", …).
        any_angle: whether labels on faces are turned as makes them largest.
        lettering: how the labels are drawn.
    Raises: UsageError for a site that is no face on which the solid can rest.
    """
    tops = read_at(solid)
    wrong = [face for face in faces if face not in tops]
    if wrong:
        raise UsageError(
            f"layout: found {wrong[0]!r}; accepted: faces on which the {solid.name} can rest, f1 to f{len(tops)}"
        )
    return artwork_of(
        solid,
        [{tops[face]: label for face, label in faces.items()}],
        any_angle=any_angle,
        lettering=lettering,
    )


def read_at(solid: Solid) -> dict[str, str]:
    """For each face on which the solid can rest the site that carries its label.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> read_at(solid("tetrahedron"))
        {'f1': 'v4', 'f2': 'v3', 'f3': 'v2', 'f4': 'v1'}
    """
    names = solid.sites("faces")
    if solid.read.startswith("face"):
        return {names[rest.below]: names[rest.below] for rest in solid.rests}
    tops = solid.sites("vertices" if solid.read.startswith("vertex") else "edges")
    return {names[rest.below]: tops[rest.on_top or 0] for rest in solid.rests}


@lru_cache(maxsize=8)
def numbered(solid: Solid) -> Artwork:
    """A solid whose rests are numbered 1, 2, 3, … in the order of its faces."""
    faces = solid.sites("faces")
    return artwork_of_layout(solid, {faces[rest.below]: place for place, rest in enumerate(solid.rests, 1)})
