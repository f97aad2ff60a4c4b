"""Characters as outlines: text to closed rings, from a font file."""

from __future__ import annotations

from functools import cache, lru_cache
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

from facewright.search.artwork.marks import Ring

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

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


@cache
def _loaded(font: Path) -> tuple[TTFont, float, float]:
    """The font, the height of its figures and their middle, in its own units."""
    from fontTools.ttLib import TTFont

    loaded = TTFont(font, lazy=True)
    tall = [y for ring in _rings(loaded.getGlyphSet(), loaded.getBestCmap()[ord("1")]) for _, y in ring]
    return loaded, max(tall) - min(tall), (max(tall) + min(tall)) / 2


def _rings(glyphs: object, name: str) -> list[list[tuple[float, float]]]:
    """The contours of one glyph, curves in straight pieces, in the font's units."""
    from fontTools.pens.recordingPen import DecomposingRecordingPen

    pen = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(pen)  # type: ignore[index]
    rings: list[list[tuple[float, float]]] = []
    for command, points in pen.value:
        if command == "moveTo":
            rings.append([points[0]])
        elif command == "lineTo":
            rings[-1].append(points[0])
        elif command == "qCurveTo":
            rings[-1] += _quadratic(rings[-1][-1], points)
        elif command == "curveTo":
            rings[-1] += _curve((rings[-1][-1], *points))
    return [ring[:-1] if ring[0] == ring[-1] else ring for ring in rings]


def _quadratic(
    start: tuple[float, float], points: tuple[tuple[float, float], ...]
) -> list[tuple[float, float]]:
    """A chain of quadratic curves, whose inner ends lie midway between their controls."""
    *controls, last = points
    drawn: list[tuple[float, float]] = []
    for place, control in enumerate(controls):
        if place + 1 < len(controls):
            after = controls[place + 1]
            end = ((control[0] + after[0]) / 2, (control[1] + after[1]) / 2)
        else:
            end = last
        drawn += _curve((start, control, end))
        start = end
    return drawn


def _curve(controls: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
    """A Bézier curve of any degree in straight pieces, without its start (de Casteljau)."""
    drawn = []
    for step in range(1, STEPS + 1):
        t = step / STEPS
        points = list(controls)
        while len(points) > 1:
            points = [((1 - t) * a[0] + t * b[0], (1 - t) * a[1] + t * b[1]) for a, b in pairwise(points)]
        drawn.append(points[0])
    return drawn
