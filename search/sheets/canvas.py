"""What pictures are drawn on: a page of a PDF, or an SVG; lengths in millimetres from the lower left corner."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, Protocol
from xml.sax.saxutils import escape, quoteattr

from facewright.search.make.pages import DASHES, INK, Align

ANCHORS = {"left": "start", "center": "middle", "right": "end"}


class Canvas(Protocol):
    """Takes lines, areas and words; `facewright.search.make.pages.Page` is one."""

    def lines(
        self, runs: Iterable[Any], *, wide_mm: float = 0.2, colour: str = INK, dashed: bool = False
    ) -> None:
        """Open lines, each through points of shape (n, 2)."""

    def area(
        self, rings: Sequence[Any], *, fill: str | None = None, edge: str | None = None, wide_mm: float = 0.2
    ) -> None:
        """The area within closed rings, by the even-odd rule."""

    def text(
        self,
        x: float,
        y: float,
        words: str,
        *,
        size_mm: float = 3.0,
        colour: str = INK,
        align: Align = "left",
        turn: float = 0.0,
        bold: bool = False,
    ) -> float:
        """One line of words from their baseline; returns their width or zero where it is not known."""


class Drawing:
    """An SVG picture; letters are the reader's own, as wide as his font makes them.

    Params:
        width_mm, height_mm: its size.
        title: what it shows, for those who cannot see it.
    """

    def __init__(self, width_mm: float, height_mm: float, title: str) -> None:
        self.size_mm = (width_mm, height_mm)
        self.title = title
        self._parts: list[str] = []

    def lines(
        self, runs: Iterable[Any], *, wide_mm: float = 0.2, colour: str = INK, dashed: bool = False
    ) -> None:
        """Open lines, each through points of shape (n, 2)."""
        path = "".join(self._path(run) for run in runs if len(run))
        dashes = f' stroke-dasharray="{DASHES[0]} {DASHES[1]}"' if dashed else ""
        if path:
            self._parts.append(
                f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{wide_mm:g}"{dashes}/>'
            )

    def area(
        self, rings: Sequence[Any], *, fill: str | None = None, edge: str | None = None, wide_mm: float = 0.2
    ) -> None:
        """The area within closed rings, by the even-odd rule."""
        path = "".join(self._path(ring) + "Z" for ring in rings)
        border = f' stroke="{edge}" stroke-width="{wide_mm:g}"' if edge else ""
        if path:
            self._parts.append(f'<path d="{path}" fill="{fill or "none"}" fill-rule="evenodd"{border}/>')

    def text(
        self,
        x: float,
        y: float,
        words: str,
        *,
        size_mm: float = 3.0,
        colour: str = INK,
        align: Align = "left",
        turn: float = 0.0,
        bold: bool = False,
    ) -> float:
        """One line of words from their baseline; its width is not known here, so zero is returned."""
        down = self.size_mm[1] - y
        turned = f' transform="rotate({-turn:g} {x:.2f} {down:.2f})"' if turn else ""
        weight = ' font-weight="650"' if bold else ""
        self._parts.append(
            f'<text x="{x:.2f}" y="{down:.2f}" font-size="{size_mm:.2f}" fill="{colour}" '
            f'text-anchor="{ANCHORS[align]}"{weight}{turned}>{escape(words)}</text>'
        )
        return 0.0

    def svg(self) -> str:
        """The whole picture."""
        width, height = self.size_mm
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" width="{width:g}mm" '
            f'height="{height:g}mm" role="img" aria-label={quoteattr(self.title)} stroke-linejoin="round" '
            'stroke-linecap="round">'
        )
        return head + f"<title>{escape(self.title)}</title>" + "".join(self._parts) + "</svg>"

    def _path(self, points: Any) -> str:
        height = self.size_mm[1]
        return "M" + "L".join(f"{float(x):.2f} {height - float(y):.2f}" for x, y in points)
