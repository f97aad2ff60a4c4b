"""Pictures of a marked solid from as many sides as needed, each with words under it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from facewright.constraints.grammar import counted
from facewright.search.report.figures_marked import MOST_VIEWS, clear, marked_svg, sides
from facewright.search.report.shell import inline_svg

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Rest
    from facewright.search.artwork.marks import Artwork

SIZE = 300
"""Pixels of a picture's longer side."""

Told = Callable[["Rest"], tuple[str, Sequence[str]]]
"""For a rest: what lying there reads, in words, and the sites that are read."""


def pictures_of(artwork: Artwork, told: Told, most: int = MOST_VIEWS) -> tuple[list[dict[str, Any]], str]:
    """A solid with its marks in place from `most` sides at most, and how many marks no picture shows.

    Each picture has its SVG and the words under it. The marks that are read are underlaid.
    """
    solid = artwork.solid
    chosen = sides(artwork, most)
    shown = []
    for side in chosen:
        rest = solid.rests[side.rest]
        words, read = told(rest)
        lying = f"lying on f{rest.below + 1}"
        svg = marked_svg(
            artwork, side, size=SIZE, lit=read, title=f"The {solid.name} {lying}: it reads {words}"
        )
        shown.append({"svg": inline_svg(svg), "words": f"{lying.capitalize()} it reads: {words}."})
    covered = {face for side in chosen for face in clear(artwork, side)}
    seen = {mark.site for mark in artwork.marks if mark.face in covered}
    hidden = {mark.site for mark in artwork.marks} - seen
    unseen = f"{counted(len(hidden), 'mark').capitalize()} can be seen from other sides only."
    return shown, unseen if hidden else ""
