"""A net as a PDF in true size: cut along whole lines, fold along dashed ones, glue by numbers; a ruler checks it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.search.make.net_sheet import Number, Sheet, sheets_of
from facewright.search.make.pages import GREY, INK, PALE, Page, pdf_of
from facewright.search.make.paper import MARGIN_MM

if TYPE_CHECKING:
    from pathlib import Path

    from facewright.search.artwork.marks import Artwork
    from facewright.search.make.nets import Net

RULER_MM = 100
"""The length of the ruler by which a print is checked."""

CUT_MM, FOLD_MM = 0.25, 0.18
"""Widths of lines."""

SMALL_MM = 2.8
"""The size of words at the foot."""

COLOURS = {"on": INK, "beside": GREY, "inside": PALE, "under": PALE}
"""Of numbers, by where they stand: those that stay visible on the die are pale."""


def net_pdf(
    net: Net, artwork: Artwork, title: str, about: Sequence[str] = (), font: Path | None = None
) -> bytes:
    """The sheets of a net.

    Params:
        net: the net.
        artwork: what stands on its solid's faces.
        title: stands at the head of each sheet.
        about: up to one line below it, such as the design's id.
        font: a font file for the numerals; without it the usual one.
    Returns: the same bytes for the same input.
    """
    return pdf_of(net_pages(net, artwork, title, about, font), title)


def net_pages(
    net: Net, artwork: Artwork, title: str, about: Sequence[str] = (), font: Path | None = None
) -> list[Page]:
    """The sheets of a net as pages; params as for `net_pdf`."""
    sheets = sheets_of(net, artwork, font)
    return [_page(net, sheet, at, title, about) for at, sheet in enumerate(sheets, 1)]


def _page(net: Net, sheet: Sheet, number: int, title: str, about: Sequence[str]) -> Page:
    page = Page(net.paper.width_mm, net.paper.height_mm)
    _numbers(page, [one for one in sheet.numbers if one.role == "under"])
    for rings in sheet.numerals:
        page.area(rings, fill=INK)
    page.lines(sheet.folds, wide_mm=FOLD_MM, colour=GREY, dashed=True)
    page.lines(sheet.cuts, wide_mm=CUT_MM, colour="#000000")
    _numbers(page, [one for one in sheet.numbers if one.role != "under"])
    top, right = net.paper.height_mm - MARGIN_MM, net.paper.width_mm - MARGIN_MM
    told = page.text(
        right, top - 4.0, f"sheet {number} of {net.sheets}", size_mm=3.2, align="right", colour=GREY
    )
    page.fitted(MARGIN_MM, top - 4.0, title, size_mm=4.6, wide_mm=right - MARGIN_MM - told - 4, bold=True)
    for at, line in enumerate(about):
        page.fitted(
            MARGIN_MM, top - 8.8 - 4.2 * at, line, size_mm=3.0, wide_mm=right - MARGIN_MM, colour=GREY
        )
    _foot(page, net)
    return page


def _numbers(page: Page, numbers: Sequence[Number]) -> None:
    for one in numbers:
        x, y = one.at.tolist()
        colour = COLOURS[one.role]
        page.text(x, y, one.words, size_mm=one.size_mm, turn=one.turn, align="center", colour=colour)


def _foot(page: Page, net: Net) -> None:
    """The ruler, and how to print, cut and glue."""
    left, foot = MARGIN_MM, MARGIN_MM + 4.0
    heights = {at: 3.0 if at % 50 == 0 else 1.8 if at % 10 == 0 else 1.0 for at in range(0, RULER_MM + 1, 5)}
    ticks = [[(left + at, foot), (left + at, foot + high)] for at, high in heights.items()]
    page.lines([[(left, foot), (left + RULER_MM, foot)], *ticks])
    words = f"This ruler is {RULER_MM} mm ({RULER_MM / 25.4:.2f} in) long when printed at 100 %."
    page.text(left, foot - 3.4, words, size_mm=SMALL_MM)
    x, y = left + RULER_MM + 8, foot + 2.2
    page.lines([[(x, y + 1), (x + 9, y + 1)]], wide_mm=CUT_MM, colour="#000000")
    page.text(x + 11, y, "cut", size_mm=SMALL_MM)
    page.lines([[(x + 20, y + 1), (x + 29, y + 1)]], wide_mm=FOLD_MM, colour=GREY, dashed=True)
    page.text(x + 31, y, "fold back", size_mm=SMALL_MM)
    page.text(x, foot - 1.8, "Print at 100 %, not “fit to page”.", size_mm=SMALL_MM)
    glue = "Glue each tab inside the edge with its number" + ("; slips join two edges." if net.slips else ".")
    page.fitted(x, foot - 5.6, glue, size_mm=SMALL_MM, wide_mm=page.size_mm[0] - MARGIN_MM - x)
