"""Pages of a PDF in true size: lines, areas and words at places in millimetres from the lower left corner.

The same pages give the same bytes: no date is written, and the font is the one that comes with matplotlib.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    import numpy as np
    from matplotlib.font_manager import FontProperties
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

INCH_MM = 25.4
POINT_MM = INCH_MM / 72
"""A typographic point, in millimetres."""

INK, GREY, PALE = "#1c2430", "#6b7280", "#c3c8cf"
"""Lines and words; what is said beside them; what must not be in the way."""

DASHES = (2.0, 1.2)
"""Dash and gap, in millimetres."""

Align = Literal["left", "center", "right"]

SETTINGS: dict[Any, Any] = {
    "font.family": ["DejaVu Sans"],
    "pdf.fonttype": 42,
    "pdf.compression": 6,
    "path.simplify": False,
    "text.usetex": False,
    "text.parse_math": False,
}
"""Whatever a user's own settings of matplotlib say, these hold. Type 42: words can be searched and copied."""


class Page:
    """One page.

    Params:
        width_mm, height_mm: its size.
    """

    def __init__(self, width_mm: float, height_mm: float) -> None:
        import matplotlib as mpl
        from matplotlib.figure import Figure

        self.size_mm = (width_mm, height_mm)
        with mpl.rc_context(SETTINGS):
            self.figure = Figure(figsize=(width_mm / INCH_MM, height_mm / INCH_MM))
            self._axes = self.figure.add_axes((0, 0, 1, 1), frameon=False)
        self._axes.set_axis_off()
        self._axes.set_xlim(0, width_mm)
        self._axes.set_ylim(0, height_mm)
        self._drawn = 0
        self.words: list[tuple[str, tuple[float, float, float, float]]] = []

    def lines(
        self, runs: Iterable[Any], *, wide_mm: float = 0.2, colour: str = INK, dashed: bool = False
    ) -> None:
        """Open lines, each through points of shape (n, 2)."""
        from matplotlib.collections import LineCollection

        points = [run for run in runs if len(run)]
        width = wide_mm / POINT_MM
        # matplotlib scales dashes by the width of their line
        style = (0, tuple(part / wide_mm for part in DASHES)) if dashed else "solid"
        self._axes.add_collection(
            LineCollection(
                points,
                linewidths=width,
                colors=colour,
                linestyles=[style],
                capstyle="round",
                joinstyle="round",
            ),
            autolim=False,
        )

    def area(
        self,
        rings: Sequence[Any],
        *,
        fill: str | None = None,
        edge: str | None = None,
        wide_mm: float = 0.2,
    ) -> None:
        """The area within closed rings, each of shape (n, 2), by the even-odd rule; rings must not cross."""
        from matplotlib.patches import PathPatch

        if rings:
            self._axes.add_artist(
                PathPatch(
                    _wound(rings),
                    facecolor=fill or "none",
                    edgecolor=edge or "none",
                    linewidth=wide_mm / POINT_MM if edge else 0,
                    joinstyle="round",
                    zorder=self._next(),
                )
            )

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
        """One line of words from their baseline; `size_mm` is the font's size, capitals are 0.73 of it high.

        Returns: the width of the words, in millimetres.
        """
        self._axes.text(
            x,
            y,
            words,
            fontsize=size_mm / POINT_MM,
            fontfamily="DejaVu Sans",
            fontweight="bold" if bold else "normal",
            color=colour,
            ha=align,
            va="baseline",
            rotation=turn,
            rotation_mode="anchor",
            parse_math=False,
            zorder=self._next(),
        )
        wide = width_of(words, size_mm, bold)
        left = {"left": 0.0, "center": wide / 2, "right": wide}[align]
        if not turn:
            self.words.append((words, (x - left, y - 0.24 * size_mm, x - left + wide, y + 0.76 * size_mm)))
        return wide

    def _next(self) -> int:
        """What is drawn later lies above what was drawn before."""
        self._drawn += 1
        return self._drawn

    def fitted(self, x: float, y: float, words: str, *, size_mm: float, wide_mm: float, **look: Any) -> float:
        """Words as `text` writes them, smaller where they would be wider than so many millimetres."""
        wide = width_of(words, size_mm, bool(look.get("bold")))
        return self.text(x, y, words, size_mm=size_mm * min(1.0, wide_mm / max(wide, 1e-9)), **look)


def width_of(words: str, size_mm: float, bold: bool = False) -> float:
    """How wide a line of words is, in millimetres, at a size of the font."""
    return _width(words, bold) * size_mm / 100


def wrapped(words: str, size_mm: float, wide_mm: float, bold: bool = False) -> list[str]:
    """Words in lines no wider than so many millimetres, as far as their lengths allow."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size_mm, bold) <= wide_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def pdf_of(pages: Sequence[Page], title: str) -> bytes:
    """The pages as a PDF, each in its own size."""
    import matplotlib as mpl
    from matplotlib.backends.backend_pdf import PdfPages

    told = {"Title": title, "Creator": "facewright", "Producer": None, "CreationDate": None}
    into = io.BytesIO()
    with mpl.rc_context(SETTINGS), PdfPages(into, metadata=told) as book:
        for page in pages:
            book.savefig(page.figure)
    return into.getvalue()


@lru_cache(maxsize=4096)
def _width(words: str, bold: bool) -> float:
    """The width of a line at size 100."""
    from matplotlib.textpath import text_to_path

    width, _, _ = text_to_path.get_text_width_height_descent(words, _font(bold), False)
    return float(width)


@lru_cache(maxsize=2)
def _font(bold: bool) -> FontProperties:
    from matplotlib.font_manager import FontProperties

    return FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal", size=100)


def _wound(rings: Sequence[Any]) -> Any:
    """Rings as one path, each turned so that the non-zero rule, which matplotlib has, fills what the even-odd would."""
    import numpy as np
    from matplotlib.path import Path

    closed = [np.asarray(ring, dtype=float) for ring in rings]
    paths = [Path(ring) for ring in closed]
    turned = []
    for number, ring in enumerate(closed):
        within = sum(path.contains_point(ring[0]) for other, path in enumerate(paths) if other != number)
        after = np.roll(ring, -1, axis=0)
        area = float((ring[:, 0] * after[:, 1] - ring[:, 1] * after[:, 0]).sum())
        wanted = ring if (area > 0) == (within % 2 == 0) else ring[::-1]
        turned.append(Path(np.concatenate([wanted, wanted[:1]]), closed=True))
    return Path.make_compound_path(*turned)
