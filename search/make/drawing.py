"""The drawing for a moulder, as a PDF: four views, sizes with tolerance, edges, mass, draw, label table, notes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from facewright.constraints.solids.sizes import MM_PER_INCH, both_units, size_mm

if TYPE_CHECKING:
    from facewright.search.make.die_mesh import DieMesh
    from facewright.search.make.maker import Sized
    from facewright.search.make.pages import Page

TOLERANCE_MM = 0.05
"""How far across-flats may be off, and differ from each other (common practice, no source)."""

MARGIN_MM, GAP_MM = 14.0, 6.0
VIEW_MM = 56.0
"""The square that holds one view."""

VIEWS = (("front", 0.0, 0.0), ("side", 90.0, 0.0), ("top", 0.0, 90.0), ("from above, aside", 20.0, 28.0))
"""Each view: its name, degrees aside of the front, degrees above the table; the die lies on its first rest."""

TEXT_MM, LINE_MM = 2.7, 3.9


def drawing_pdf(one: Sized, mesh: DieMesh) -> bytes:
    """The drawing of one die.

    Params:
        one: the die in its size.
        mesh: its mesh.
    Returns: the same bytes for the same die.
    """
    from facewright.search.make.pages import GREY, Page, pdf_of
    from facewright.search.make.paper import PAPERS

    paper = PAPERS[one.wishes.paper]
    first = Page(paper.width_mm, paper.height_mm)
    top = paper.height_mm - MARGIN_MM
    wide = paper.width_mm - 2 * MARGIN_MM
    first.fitted(MARGIN_MM, top - 4, one.die.title, size_mm=4.6, wide_mm=wide, bold=True)
    about = (
        f"Design {one.die.design} · {one.die.artwork.solid.name} · {one.across} · millimetres, inches beside"
    )
    first.fitted(MARGIN_MM, top - 9, about, size_mm=2.8, wide_mm=wide, colour=GREY)
    scale = _views(first, one, top - 14)
    pages = [first]
    low = top - 18 - 2 * (VIEW_MM + GAP_MM + 4)
    first.text(MARGIN_MM, low + 1.5, f"Views at {scale:g} : 1; the die lies on f1.", size_mm=2.6, colour=GREY)
    _flow(pages, _sections(one, mesh), low - 5, paper.width_mm, paper.height_mm)
    for number, page in enumerate(pages, 1):
        page.text(
            paper.width_mm - MARGIN_MM,
            7,
            f"{number} of {len(pages)}",
            size_mm=2.4,
            colour=GREY,
            align="right",
        )
    return pdf_of(pages, one.die.title)


def _views(page: Page, one: Sized, top: float) -> float:
    """Draws the views in two rows and says in what scale."""
    from facewright.search.make.pages import GREY, INK

    body = one.die.artwork.solid
    reach = float((body.vertices**2).sum(axis=1).max()) ** 0.5 * 2 * one.inradius_mm
    scale = _scale(VIEW_MM / reach)
    for place, (name, aside, above) in enumerate(VIEWS):
        left = MARGIN_MM + (place % 2) * (VIEW_MM + 24) + 10
        foot = top - (place // 2 + 1) * (VIEW_MM + GAP_MM) - (place // 2) * 4
        middle = (left + VIEW_MM / 2, foot + VIEW_MM / 2 + 3)
        outlines, numerals = _seen(one, aside, above, scale, middle)
        for rings in numerals:
            page.area(rings, fill=INK)
        page.lines(outlines, wide_mm=0.25)
        page.text(middle[0], foot, name, size_mm=2.6, colour=GREY, align="center")
    return scale


def _scale(most: float) -> float:
    """The largest usual scale that fits."""
    return max((one for one in (0.2, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0) if one <= most), default=0.1)


def _seen(
    one: Sized, aside: float, above: float, scale: float, middle: tuple[float, float]
) -> tuple[list[list[tuple[float, float]]], list[list[list[tuple[float, float]]]]]:
    """Edges and numerals that are seen, on the page."""
    import numpy as np
    from facewright.constraints.solids.frames import face_frame
    from facewright.search.artwork.badges import placed
    from facewright.search.report.figures_solids import view_of

    artwork = one.die.artwork
    view = view_of(artwork.solid, 0, math.radians(aside), math.radians(above))
    times = scale * one.inradius_mm
    centre = (view.points.max(axis=0) + view.points.min(axis=0)) / 2

    def at(points: np.ndarray) -> list[tuple[float, float]]:
        return [
            (middle[0] + times * float(x - centre[0]), middle[1] + times * float(y - centre[1]))
            for x, y in points
        ]

    outlines = [
        at(view.points[list(edge)])
        for edge, faces in zip(artwork.solid.edges, artwork.solid.edge_faces, strict=True)
        if any(view.seen[face] for face in faces)
    ]
    numerals = []
    for mark in artwork.marks:
        if view.facing[mark.face] > 0.12:
            frame = face_frame(artwork.solid, mark.face)
            rings = placed(mark, one.wishes.font)
            numerals.append([at(frame.in_space(np.asarray(ring)) @ view.axes) for ring in rings])
    return outlines, [rings for rings in numerals if rings]


def _sections(one: Sized, mesh: DieMesh) -> list[tuple[str, Sequence[str]]]:
    from facewright.search.make.maker import draw_and_edges
    from facewright.search.make.notes import cautions

    drawn, edges = draw_and_edges(one)
    labels = [f"{site} {label}" for site, label in one.die.places]
    return [
        ("Size and mass", _sizes(one, mesh)),
        ("Numerals", _numerals(one, mesh)),
        ("Draw, parting line, gate", drawn),
        ("Edges and corners", edges),
        ("Label table: site and label", [" · ".join(labels)]),
        ("Cautions", cautions(one, mesh)),
    ]


def _sizes(one: Sized, mesh: DieMesh) -> list[str]:
    from facewright.search.make.maker import materials

    body, material = one.die.artwork.solid, materials()[one.wishes.route]
    flats = size_mm(body, one.inradius_mm, "across-flats")
    opposite = all(body.opposite[rest.below] is not None for rest in body.rests)
    lines = []
    if opposite:
        lines.append(
            f"Across flats, after shrinkage, every pair: {flats:.2f} ± {TOLERANCE_MM:g} mm "
            f"({flats / MM_PER_INCH:.4f} ± {TOLERANCE_MM / MM_PER_INCH:.4f} in), and all pairs within "
            f"{TOLERANCE_MM:g} mm of each other (common practice, no source)."
        )
    else:
        height = size_mm(body, one.inradius_mm, "height")
        lines.append(
            f"No opposite faces. Height as it lies, after shrinkage, on every face: {height:.2f} ± {TOLERANCE_MM:g} mm "
            f"({height / MM_PER_INCH:.4f} in), sharp; inradius {both_units(one.inradius_mm)}."
        )
    low, high = material.shrinkage
    if high:
        lines.append(
            f"Shrinkage of {material.material}: {low:g} to {high:g} % (common practice, no source; the resin's data "
            f"sheet comes first): cut the cavity {flats * (1 + low / 100):.2f} to {flats * (1 + high / 100):.2f} mm."
        )
    lines.append(f"Longest edge, sharp: {both_units(size_mm(body, one.inradius_mm, 'edge'))}.")
    lines.append(
        f"Volume {mesh.volume_mm3 / 1000:.3f} cm³; about {mesh.volume_mm3 / 1000 * material.density:.1f} g in "
        f"{material.material} ({material.density:g} g/cm³, from memory)."
    )
    return lines


def _numerals(one: Sized, mesh: DieMesh) -> list[str]:
    heights = [mark.height * one.inradius_mm for mark in one.die.artwork.marks]
    way = "raised, for a mock-up only" if mesh.raised else "recessed"
    lines = [
        f"{way.capitalize()}, {both_units(mesh.depth_mm)}; {len(heights)} to cut; characters {min(heights):.2f} to "
        f"{max(heights):.2f} mm high. Outlines: artwork.svg. Corners of recesses rounded.",
        "Each label stands upright to an edge of its face, or with its head towards its corner or edge, as drawn. One "
        "ink, flooded and wiped after tumbling.",
    ]
    lines.append(mesh.shift.words)
    return lines


def _flow(
    pages: list[Page],
    sections: Iterable[tuple[str, Sequence[str]]],
    start: float,
    width: float,
    height: float,
) -> None:
    """Writes sections below one another, on further pages where the first is full."""
    from facewright.search.make.pages import Page, wrapped

    y, wide = start, width - 2 * MARGIN_MM
    for head, lines in sections:
        broken = [part for line in lines for part in wrapped(line, TEXT_MM, wide)]
        if y < MARGIN_MM + 3 * LINE_MM:
            pages.append(Page(width, height))
            y = height - MARGIN_MM - 4
        pages[-1].text(MARGIN_MM, y, head, size_mm=3.1, bold=True)
        y -= LINE_MM + 0.6
        for line in broken:
            if y < MARGIN_MM:
                pages.append(Page(width, height))
                y = height - MARGIN_MM - 4
            pages[-1].text(MARGIN_MM, y, line, size_mm=TEXT_MM)
            y -= LINE_MM
        y -= 2.2
