"""The drawing of a smooth die, as a PDF: two outlines with sizes, and what they do not say in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.solids.sizes import both_units
from facewright.constraints.solids.smooth.measures import side_direction, tip_direction
from facewright.search.make.drawing_words import TOLERANCE_MM
from facewright.search.make.pages import GREY, Page, pdf_of, wrapped
from facewright.search.make.smooth_numerals import Numeral, numerals

if TYPE_CHECKING:
    from facewright.constraints.smooth_design import SmoothDesign
    from facewright.search.make.paper import Paper
    from facewright.search.make.smooth_mesh import SmoothMesh

VIEW_MM = 62.0
"""How wide the body is drawn."""
MARGIN_MM = 14.0
TEXT_MM, LINE_MM = 2.8, 4.1
AROUND = 360
"""Points of an outline."""


def smooth_drawing(
    design: SmoothDesign,
    mesh: SmoothMesh,
    width_mm: float,
    paper: Paper,
    title: str,
    told: Sequence[str],
    placed: Sequence[Numeral] = (),
) -> bytes:
    """The drawing of one smooth die.

    Params:
        design: the body.
        mesh: its mesh.
        width_mm: its width.
        paper: the sheet.
        title: stands at its head.
        told: sentences that stand below the sizes.
        placed: what stands on it; without it the numbers of its tips.
    Returns: the same bytes for the same die.
    """
    page = Page(paper.width_mm, paper.height_mm)
    y = paper.height_mm - MARGIN_MM - 4
    page.text(MARGIN_MM, y, title, size_mm=4.2, bold=True)
    page.text(
        MARGIN_MM,
        y - 6,
        f"design {design.id}; {design.symmetry}, degree {design.degree}",
        size_mm=2.6,
        colour=GREY,
    )
    placed = placed or numerals(design.body)
    up = tip_direction(design.body)
    level = side_direction(design.body)
    middle = y - 18 - VIEW_MM / 2
    half = paper.width_mm / 2
    foot = middle - VIEW_MM / 2 - 9
    table = middle - VIEW_MM / 2 + design.resting.height * VIEW_MM
    _view(
        page,
        design,
        (half / 2 + 4, table),
        np.cross(up, level),
        up,
        "lying at rest, from the side",
        foot,
        placed,
    )
    _view(page, design, (half * 1.5 - 4, middle), level, np.cross(up, level), "from above", foot, placed)
    low = middle - VIEW_MM / 2
    left = half / 2 + 4 - VIEW_MM / 2 - 7
    page.lines([[(left, low), (left, low + VIEW_MM)]], wide_mm=0.2, colour=GREY)
    page.lines(
        [[(left - 1.5, edge), (left + VIEW_MM, edge)] for edge in (low, low + VIEW_MM)],
        wide_mm=0.15,
        colour=GREY,
        dashed=True,
    )
    page.text(left - 1.5, middle, f"{width_mm:g}", size_mm=3.0, align="center", turn=90)
    y = low - 16
    for line in (*sizes(design, mesh, width_mm, len(placed)), *told):
        for part in wrapped(line, TEXT_MM, paper.width_mm - 2 * MARGIN_MM):
            page.text(MARGIN_MM, y, part, size_mm=TEXT_MM)
            y -= LINE_MM
        y -= 1.2
    return pdf_of([page], title)


def sizes(design: SmoothDesign, mesh: SmoothMesh, width_mm: float, many: int) -> list[str]:
    """The sizes, radii and tolerances, a sentence each."""
    lies = design.resting
    return [
        f"Width, the same in every direction: {both_units(width_mm)}, ± {TOLERANCE_MM:g} mm, and all directions within "
        f"{TOLERANCE_MM:g} mm of each other (common practice, no source).",
        f"No radius of curvature below {both_units(design.least_radius * width_mm)}, proved for the ideal body. At a "
        f"tip {_pair(lies.tip, width_mm)}; where it rests {_pair(lies.contact, width_mm)}.",
        f"At rest the centre is {lies.height * width_mm:.2f} mm above the table, the tip on top {width_mm:g} mm.",
        f"Numerals: {many}, figures {mesh.high_mm:.2f} mm high, cut {mesh.depth_mm:g} mm deep, "
        f"which moves the centre of mass by {mesh.shift_mm:.3f} mm; square to the surface in their middle; "
        "their heads are towards the tip or the ridge that they belong to.",
        f"Volume of the mesh {mesh.volume_mm3 / 1000:.3f} cm³. The mesh is a polyhedron within the body, up to "
        f"{mesh.chord_mm:.3f} mm narrower than it.",
        "All tips, ridges and sides are alike by symmetry: grind, tumble and polish them alike.",
    ]


def _pair(radii: tuple[float, float], width_mm: float) -> str:
    low, high = (radius * width_mm for radius in radii)
    return f"{low:.2f} mm" if high - low < 0.005 else f"{low:.2f} to {high:.2f} mm"


def _view(
    page: Page,
    design: SmoothDesign,
    at: tuple[float, float],
    right: np.ndarray,
    upright: np.ndarray,
    name: str,
    below: float,
    placed: Sequence[Numeral],
) -> None:
    """The outline of the body in one direction, its numerals' places as small crosses where they are seen."""
    turn = 2 * np.pi * np.arange(AROUND + 1) / AROUND
    outline = design.body.points(np.outer(np.cos(turn), right) + np.outer(np.sin(turn), upright))
    drawn = np.stack([outline @ right, outline @ upright], axis=1) * VIEW_MM + np.array(at)
    page.lines([drawn], wide_mm=0.45)
    eye = np.cross(right, upright)
    for one in placed:
        if one.normal @ eye > 0.1:
            foot = np.array([one.foot @ right, one.foot @ upright]) * VIEW_MM + np.array(at)
            page.text(
                float(foot[0]), float(foot[1]) - 1.2, one.text, size_mm=3.2, colour=GREY, align="center"
            )
    page.text(at[0], below, name, size_mm=2.6, colour=GREY, align="center")
