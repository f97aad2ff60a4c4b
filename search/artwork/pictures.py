"""Outlines from SVG: a file, or the data of one path, as closed rings one unit high."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from facewright.constraints.errors import UsageError
from facewright.search.artwork.glyphs import Point, joined, straight_pen
from facewright.search.artwork.marks import Ring

MOST_BYTES = 1_000_000
"""A larger SVG file is no outline for a die."""


@lru_cache(maxsize=256)
def picture(source: Path | str) -> tuple[Ring, ...]:
    """The outlines of an SVG file or of path data.

    Filled by the rule that the file names (even-odd where it says so anywhere, else non-zero), whatever its colours;
    lines without an area are left out. What overlaps is joined, so that the rings serve the even-odd rule.

    Params:
        source: a file; or the `d` of an SVG path.
    Returns: closed rings, one unit high, the middle of their box at the origin, y upwards.
    Raises: UsageError where it cannot be read, or encloses no area.
    """
    said = f"picture {source if isinstance(source, Path) else source[:40]!r}"
    rings, even_odd = (
        _from_file(source, said) if isinstance(source, Path) else (_from_data(source, said), False)
    )
    return _scaled(joined(rings, even_odd=even_odd), said)


def _from_file(path: Path, said: str) -> tuple[list[list[Point]], bool]:
    from fontTools.svgLib.path import SVGPath

    try:
        text = path.read_bytes()
    except OSError as error:
        raise UsageError(f"{said}: found {error.strerror or error}; accepted: a readable SVG file") from None
    if len(text) > MOST_BYTES:
        raise UsageError(f"{said}: found {len(text)} bytes; accepted: at most {MOST_BYTES}")
    if b"<!ENTITY" in text:
        raise UsageError(f"{said}: found an entity declaration; accepted: SVG without any")
    pen = straight_pen()
    try:
        SVGPath.fromstring(text).draw(pen)
    except Exception as error:  # the parsers of XML, numbers and paths each raise their own
        raise UsageError(f"{said}: found {error}; accepted: SVG with paths or shapes") from None
    return pen.rings, b"evenodd" in text


def _from_data(data: str, said: str) -> list[list[Point]]:
    from fontTools.svgLib.path import parse_path

    pen = straight_pen()
    try:
        parse_path(data, pen)
    except Exception as error:  # whatever the parser stumbles over
        raise UsageError(f"{said}: found {error}; accepted: the data of an SVG path, or a file") from None
    rings: list[list[Point]] = pen.rings
    return rings


def _scaled(rings: tuple[Ring, ...], said: str) -> tuple[Ring, ...]:
    points = [point for ring in rings for point in ring]
    if not points:
        raise UsageError(f"{said}: found no area; accepted: closed outlines, not lines alone")
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    top, foot = min(y for _, y in points), max(y for _, y in points)
    high = foot - top
    middle = ((left + right) / 2, (top + foot) / 2)
    # SVG counts y downwards
    return tuple(tuple(((x - middle[0]) / high, (middle[1] - y) / high) for x, y in ring) for ring in rings)
