"""Characters as outlines: text to closed rings, from a font file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

from facewright.constraints.errors import UsageError
from facewright.search.artwork.marks import Ring

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

Point = tuple[float, float]

STEPS = 8
"""Straight pieces for one curve of an outline."""


def usual_font() -> Path:
    """The font file that is used unless another is named: the bold sans serif that comes with matplotlib."""
    from importlib.util import find_spec

    found = find_spec("matplotlib")
    assert found is not None and found.origin is not None
    return Path(found.origin).parent / "mpl-data" / "fonts" / "ttf" / "DejaVuSans-Bold.ttf"


@lru_cache(maxsize=4096)
def outlines(text: str, font: Path | None = None) -> tuple[Ring, ...]:
    """The outlines of a text, one line, figures one unit high.

    Params:
        text: the characters.
        font: a TrueType or OpenType file; without it `usual_font()`.
    Returns: closed rings, to be filled by the even-odd rule; the origin is the middle of the ink across and half the
        height of a figure up.
    """
    loaded, unit, middle = _loaded(font or usual_font())
    glyphs, names = loaded.getGlyphSet(), loaded.getBestCmap()
    rings: list[list[tuple[float, float]]] = []
    at = 0.0
    for character in text:
        name = names.get(ord(character), ".notdef")
        rings += [[(x + at, y) for x, y in ring] for ring in _rings(glyphs, name)]
        at += glyphs[name].width
    if not rings:
        return ()
    low = min(x for ring in rings for x, _ in ring)
    high = max(x for ring in rings for x, _ in ring)
    centre = (low + high) / 2
    return tuple(tuple(((x - centre) / unit, (y - middle) / unit) for x, y in ring) for ring in rings)


@lru_cache(maxsize=1024)
def character(one: str, font: Path | None = None) -> tuple[tuple[Ring, ...], float]:
    """One character on its own, from which a page can set the texts that `outlines` would.

    Returns: its closed rings, figures one unit high, the origin where the pen starts and half the height of a figure
        up; and how far the pen moves on.
    """
    loaded, unit, middle = _loaded(font or usual_font())
    glyphs, name = loaded.getGlyphSet(), loaded.getBestCmap().get(ord(one), ".notdef")
    rings = tuple(tuple((x / unit, (y - middle) / unit) for x, y in ring) for ring in _rings(glyphs, name))
    return rings, glyphs[name].width / unit


def missing(text: str, font: Path | None = None) -> str:
    """The characters of a text that a font lacks, in order.

    Example:
        >>> missing("12"), missing("\N{CJK UNIFIED IDEOGRAPH-96E8}9")
        ('', '雨')
    """
    return "".join(
        one for one in dict.fromkeys(text) if ord(one) not in _loaded(font or usual_font())[0].getBestCmap()
    )


def straight_pen(glyphs: object = None) -> Any:
    """A pen of fontTools that keeps what it draws as rings of straight pieces, in its list `rings`.

    Params:
        glyphs: the glyphs of a font, from which composite ones take their parts.
    """
    from fontTools.pens.basePen import BasePen

    class Straight(BasePen):  # type: ignore[misc]
        def __init__(self) -> None:
            super().__init__(glyphs)
            self.rings: list[list[Point]] = []

        def _moveTo(self, point: Point) -> None:  # noqa: N802 (the names are fontTools')
            self.rings.append([point])

        def _lineTo(self, point: Point) -> None:  # noqa: N802
            self.rings[-1].append(point)

        def _curveToOne(self, *points: Point) -> None:  # noqa: N802
            self.rings[-1] += _curve((self.rings[-1][-1], *points))

        def _qCurveToOne(self, *points: Point) -> None:  # noqa: N802
            self.rings[-1] += _curve((self.rings[-1][-1], *points))

    return Straight()


def joined(rings: Iterable[Sequence[Point]], *, even_odd: bool = False) -> tuple[Ring, ...]:
    """Rings that cross neither themselves nor each other and enclose the same area, for the even-odd rule.

    Params:
        rings: closed outlines.
        even_odd: whether they are filled by that rule already, else by the non-zero one.
    """
    from manifold3d import CrossSection, FillRule

    drawn = [list(ring) for ring in rings if len(ring) > 2]
    area = CrossSection(drawn, FillRule.EvenOdd if even_odd else FillRule.NonZero)
    return tuple(tuple((float(x), float(y)) for x, y in ring) for ring in area.to_polygons())


@cache
def _loaded(font: Path) -> tuple[TTFont, float, float]:
    """The font, the height of its figures and their middle, in its own units.

    Raises: UsageError for a file that is no font, or one without a 1, from which the height is taken.
    """
    from fontTools.ttLib import TTFont, TTLibError

    try:
        # read beforehand: a file that turns out to be no font would be left open
        loaded = TTFont(BytesIO(font.read_bytes()), fontNumber=0, lazy=True)
    except (OSError, TTLibError) as error:
        raise UsageError(f"font {font}: found {error}; accepted: a TrueType or OpenType file") from None
    if ord("1") not in (loaded.getBestCmap() or {}):
        raise UsageError(f"font {font}: found no figure 1; accepted: a font with figures")
    tall = [y for ring in _rings(loaded.getGlyphSet(), loaded.getBestCmap()[ord("1")]) for _, y in ring]
    return loaded, max(tall) - min(tall), (max(tall) + min(tall)) / 2


def _rings(glyphs: object, name: str) -> list[list[Point]]:
    """The contours of one glyph, curves in straight pieces, in the font's units."""
    pen = straight_pen(glyphs)
    glyphs[name].draw(pen)  # type: ignore[index]
    return [ring[:-1] if ring[0] == ring[-1] else ring for ring in pen.rings]


def _curve(controls: tuple[Point, ...]) -> list[Point]:
    """A Bézier curve of any degree in straight pieces, without its start (de Casteljau)."""
    drawn = []
    for step in range(1, STEPS + 1):
        t = step / STEPS
        points = list(controls)
        while len(points) > 1:
            points = [((1 - t) * a[0] + t * b[0], (1 - t) * a[1] + t * b[1]) for a, b in pairwise(points)]
        drawn.append(points[0])
    return drawn
