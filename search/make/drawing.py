"""The drawing for a moulder, as a PDF: views, and what they do not say in words and a table, page by page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from facewright.search.make.drawing_views import LINE, draw_views, gate_sign, scale_words
from facewright.search.make.drawing_words import sections
from facewright.search.make.pages import GREY, Page, pdf_of, width_of, wrapped

if TYPE_CHECKING:
    from facewright.search.make.die_mesh import DieMesh
    from facewright.search.make.sizing import Sized

BORDER_MM, MARGIN_MM = 8.0, 12.0
BLOCK_MM = 15.0
"""The height of the title block at the foot of each page."""

TEXT_MM, LINE_MM, HEAD_MM = 2.6, 3.7, 3.0

COLUMN_GAP_MM = 5.0

TOGETHER = 30
"""So many rows of a table, at most, are kept on one page."""


def drawing_pdf(one: Sized, mesh: DieMesh) -> bytes:
    """The drawing of one die.

    Params:
        one: the die in its size.
        mesh: its mesh.
    Returns: the same bytes for the same die.
    """
    return pdf_of(drawing_pages(one, mesh), one.die.title)


def drawing_pages(one: Sized, mesh: DieMesh) -> list[Page]:
    """The pages of the drawing of one die."""
    from facewright.search.make.mould import mould_of
    from facewright.search.make.paper import PAPERS

    paper, mould = PAPERS[one.wishes.paper], mould_of(one)
    first = Page(paper.width_mm, paper.height_mm)
    scale, low = draw_views(first, one, mould, MARGIN_MM + 4, paper.height_mm - MARGIN_MM - 2)
    _legend(first, scale, low - 4.5)
    writer = _Writer([first], low - 11)
    for head, content in sections(one, mesh, mould):
        writer.section(head, content)
    for number, page in enumerate(writer.pages, 1):
        _block(page, one, f"sheet {number} of {len(writer.pages)}", scale)
    return writer.pages


def _legend(page: Page, scale: float, y: float) -> None:
    """What lines and signs of the views mean."""
    x = MARGIN_MM
    x += page.text(
        x,
        y,
        f"Scale {scale_words(scale)}, first-angle projection; the die lies on f1. Sizes in mm over sharp edges.",
        size_mm=2.4,
        colour=GREY,
    )
    page.lines([[(x + 4, y + 0.9), (x + 12, y + 0.9)]], wide_mm=0.6, colour=LINE, dashed=True)
    x += 13 + page.text(x + 13, y, "parting line", size_mm=2.4, colour=GREY)
    gate_sign(page, (x + 5, y + 0.9))
    page.text(x + 7, y, "gate", size_mm=2.4, colour=GREY)


def _block(page: Page, one: Sized, sheet: str, scale: float) -> None:
    """The frame of a page and its title block."""
    width, height = page.size_mm
    left, right, foot = BORDER_MM, width - BORDER_MM, BORDER_MM
    top = foot + BLOCK_MM
    page.lines(
        [
            [
                (left, foot),
                (right, foot),
                (right, height - BORDER_MM),
                (left, height - BORDER_MM),
                (left, foot),
            ],
            [(left, top), (right, top)],
        ],
        wide_mm=0.3,
    )
    body, material = one.die.artwork.solid, one.material
    cells = (
        (0.36, one.die.title, f"design {one.die.design}"),
        (0.27, body.name, one.across),
        (0.22, f"{one.least.route.name}", material.material),
        (0.15, sheet, f"views {scale_words(scale)}"),
    )
    x = left
    for share, upper, lower in cells:
        wide = share * (right - left)
        page.fitted(x + 2, top - 5.8, upper, size_mm=3.0, wide_mm=wide - 4, bold=True)
        page.fitted(x + 2, top - 11.4, lower, size_mm=2.5, wide_mm=wide - 4, colour=GREY)
        x += wide
        if x < right - 1:
            page.lines([[(x, foot), (x, top)]], wide_mm=0.2)


@dataclass
class _Writer:
    """Writes sections below one another, on further pages where one is full."""

    pages: list[Page]
    y: float

    @property
    def _low(self) -> float:
        return BORDER_MM + BLOCK_MM + 3

    @property
    def _wide(self) -> float:
        return self.pages[0].size_mm[0] - 2 * MARGIN_MM

    def section(self, head: str, content: Sequence[str] | Sequence[tuple[str, ...]]) -> None:
        """A heading with sentences, or with rows of a table."""
        # a heading never stands alone at the foot of a page
        rows = [row for row in content if isinstance(row, tuple)]
        columns = self._columns(rows) if rows else []
        deep = -(-len(rows) // max(1, len(columns)))
        # neither does a short table go on overleaf
        self._room((deep + 2 if rows and deep <= TOGETHER else 3) * LINE_MM)
        self.pages[-1].text(MARGIN_MM, self.y, head, size_mm=HEAD_MM, bold=True)
        self.y -= LINE_MM + 0.5
        if rows:
            for at in range(deep):
                here = zip(columns, rows[at::deep], strict=False)
                self._line([cell for places, row in here for cell in zip(places, row, strict=True)])
        else:
            for line in content:
                for part in wrapped(str(line), TEXT_MM, self._wide):
                    self._line(((MARGIN_MM, part),))
        self.y -= 1.8

    def _columns(self, rows: Sequence[tuple[str, ...]]) -> list[list[float]]:
        """Where the cells of a table stand: as many columns of rows side by side as there is room for."""
        widths = [max(width_of(cell, TEXT_MM) for cell in column) + 2.0 for column in zip(*rows, strict=True)]
        group = sum(widths) + COLUMN_GAP_MM
        many = max(1, int((self._wide + COLUMN_GAP_MM) / group))
        return [
            [MARGIN_MM + number * group + sum(widths[:place]) for place in range(len(widths))]
            for number in range(many)
        ]

    def _line(self, cells: Sequence[tuple[float, str]]) -> None:
        self._room(LINE_MM)
        for x, words in cells:
            right = self.pages[0].size_mm[0] - MARGIN_MM
            self.pages[-1].fitted(x, self.y, words, size_mm=TEXT_MM, wide_mm=right - x)
        self.y -= LINE_MM

    def _room(self, high: float) -> None:
        if self.y - high < self._low - LINE_MM:
            width, height = self.pages[0].size_mm
            self.pages.append(Page(width, height))
            self.y = height - MARGIN_MM - 4
