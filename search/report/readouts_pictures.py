"""Pictures of a solid that carries several readouts: from several sides, each with what is read there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from facewright.constraints.grammar import counted
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.search.artwork.badges import drawn
from facewright.search.report.shell import inline_svg

if TYPE_CHECKING:
    from facewright.search.artwork.marks import Artwork

SIZE = 300
"""Pixels of a picture's longer side."""


def pictures(design: ReadoutsDesign) -> tuple[list[dict[str, Any]], str]:
    """The solid with its marks in place, from as many sides as needed; and how many marks none of them shows.

    Each picture has its SVG and the words under it: what that way up reads. The marks that are read are underlaid.
    """
    from facewright.search.report.figures_marked import clear, marked_svg, sides

    artwork = marked(design)
    body = artwork.solid
    chosen = sides(artwork)
    shown = []
    for side in chosen:
        rest = body.rests[side.rest]
        seen = {f"{kind[0]}{number + 1}" for kind, numbers in rest.shows.items() for number in numbers}
        read = [(name, site, label) for name, held in design.sites for site, label in held if site in seen]
        words = ", ".join(f"{name} {label}" for name, _, label in read)
        svg = marked_svg(
            artwork,
            side,
            size=SIZE,
            lit=[site for _, site, _ in read],
            title=f"The {design.solid} lying on f{rest.below + 1}: it reads {words}",
        )
        shown.append({"svg": inline_svg(svg), "words": f"Lying on f{rest.below + 1} it reads: {words}."})
    covered = {face for side in chosen for face in clear(artwork, side)}
    hidden = {mark.site for mark in artwork.marks} - {
        mark.site for mark in artwork.marks if mark.face in covered
    }
    unseen = (
        f"{counted(len(hidden), 'mark').capitalize()} can be seen from other sides only." if hidden else ""
    )
    return shown, unseen


def marked(design: ReadoutsDesign) -> Artwork:
    """The solid with the design's marks in place."""
    from facewright.constraints.solids import solid
    from facewright.search.artwork.placing import artwork_of

    carried = [dict(held) for _, held in design.sites]
    return artwork_of(solid(design.solid), carried, several=len(carried) > 1)


def badge_svg(text: str, readout: int) -> Any:
    """A sample of a readout's mark, in the colour of the text around it."""
    rings = drawn(text, readout)
    across = [x for ring in rings for x, _ in ring]
    up = [y for ring in rings for _, y in ring]
    left, top = min(across) - 0.1, max(up) + 0.1
    width, height = max(across) + 0.1 - left, top - min(up) + 0.1
    path = "".join("M" + "L".join(f"{x - left:.3f} {top - y:.3f}" for x, y in ring) + "Z" for ring in rings)
    return inline_svg(
        f'<svg viewBox="0 0 {width:.3f} {height:.3f}" aria-hidden="true"><path d="{path}" fill-rule="evenodd"/></svg>'
    )
