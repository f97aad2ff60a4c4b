"""Pictures of a solid that carries several readouts: from several sides, each with what is read there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from facewright.constraints.readouts import Shape
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.search.artwork.badges import drawn
from facewright.search.report.figures_marked import MOST_VIEWS
from facewright.search.report.marked_pictures import pictures_of
from facewright.search.report.shell import inline_svg

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Rest
    from facewright.search.artwork.marks import Artwork


def pictures(
    design: ReadoutsDesign, shape: Shape, most: int = MOST_VIEWS
) -> tuple[list[dict[str, Any]], str]:
    """The solid with its marks in place, from as many sides as needed or `most`; and how many marks none of them shows.

    Each picture has its SVG and the words under it: what that way up reads. The marks that are read are underlaid.
    """

    def told(rest: Rest) -> tuple[str, list[str]]:
        seen = {f"{kind[0]}{number + 1}" for kind, numbers in rest.shows.items() for number in numbers}
        read = [(name, site, label) for name, held in design.sites for site, label in held if site in seen]
        return ", ".join(f"{name} {label}" for name, _, label in read), [site for _, site, _ in read]

    return pictures_of(marked(design, shape), told, most)


def marked(design: ReadoutsDesign, shape: Shape) -> Artwork:
    """The solid, in these proportions, with the design's marks in place."""
    from facewright.constraints.solids import solid
    from facewright.search.artwork.placing import artwork_of

    carried = [dict(held) for _, held in design.sites]
    return artwork_of(solid(design.solid, shape), carried, several=len(carried) > 1)


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
