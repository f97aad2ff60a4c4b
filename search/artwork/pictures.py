"""Outlines from SVG: a file, or the data of one path, as closed rings one unit high."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

from facewright.constraints.errors import UsageError
from facewright.search.artwork.glyphs import Point, joined, straight_pen
from facewright.search.artwork.marks import Ring

MOST_BYTES = 1_000_000
"""A larger SVG file is no outline for a die."""

UNSEEN = {"defs", "clippath", "mask", "symbol", "pattern", "marker", "metadata"}
"""Elements whose content is not drawn where it stands."""

INDIRECT = {"use", "text", "image"}
"""Elements that have no outline of their own to take."""

_CALL = re.compile(r"(\w+)\s*\(([^)]*)\)")


@lru_cache(maxsize=256)
def picture(source: Path | str) -> tuple[Ring, ...]:
    """The outlines of an SVG file or of path data.

    What is filled counts, whatever its colour, each shape by its own fill rule; lines without a filled area are left
    out. Shapes that overlap are joined.

    Params:
        source: a file; or the `d` of an SVG path.
    Returns: closed rings for the even-odd rule, one unit high, the middle of their box at the origin, y upwards.
    Raises: UsageError where it cannot be read, or encloses no area.
    """
    said = f"picture {source if isinstance(source, Path) else repr(source[:40])}"
    try:
        shapes = list(_from_file(source) if isinstance(source, Path) else [(_drawn(source), False)])
    except UsageError as error:
        raise UsageError(f"{said}: {error}") from None
    except OSError as error:
        raise UsageError(f"{said}: found {error.strerror or error}; accepted: a readable SVG file") from None
    except Exception as error:  # the parsers of XML, numbers and paths each raise their own
        raise UsageError(f"{said}: found {error}; accepted: SVG with paths or shapes") from None
    rings = [ring for drawn, even_odd in shapes for ring in joined(drawn, even_odd=even_odd)]
    return _scaled(joined(rings), said)


def _from_file(path: Path) -> Iterator[tuple[list[list[Point]], bool]]:
    """The shapes of a file: each its outlines, and whether it is filled by the even-odd rule."""
    from fontTools.misc import etree
    from fontTools.misc.transform import Identity

    text = path.read_bytes()
    if len(text) > MOST_BYTES:
        raise UsageError(f"found {len(text)} bytes; accepted: at most {MOST_BYTES}")
    if b"<!ENTITY" in text:
        raise UsageError("found an entity declaration; accepted: SVG without any")
    yield from _shapes(etree.fromstring(text, parser=etree.XMLParser()), Identity, {})


def _shapes(element: Any, placed: Any, inherited: dict[str, str]) -> Iterator[tuple[list[list[Point]], bool]]:
    """The shapes of an element and of all inside it, with the transforms of those about it."""
    from fontTools.svgLib.path.shapes import PathBuilder

    if not isinstance(element.tag, str):
        return
    tag = element.tag.rpartition("}")[2].lower()
    if tag in INDIRECT:
        raise UsageError(f"found <{tag}>; accepted: paths and shapes, text and copies turned into paths")
    style = dict(part.split(":", 1) for part in element.get("style", "").split(";") if ":" in part)
    stated = {key.strip(): value.strip() for key, value in {**dict(element.attrib), **style}.items()}
    keys = ("fill", "fill-rule", "display")
    own = {**inherited, **{key: stated[key] for key in keys if key in stated}}
    if tag in UNSEEN or own.get("display") == "none":
        return
    placed = placed.transform(_transform(element.attrib.pop("transform", "")))
    builder = PathBuilder()
    if builder.add_path_from_element(element) and own.get("fill") != "none":
        for data in builder.paths:
            yield _drawn(data, placed), own.get("fill-rule") == "evenodd"
    for child in element:
        yield from _shapes(child, placed, own)


def _transform(said: str) -> Any:
    """The transform that an attribute states: any of SVG's six functions, one after the other."""
    from fontTools.misc.transform import Identity, Transform

    found = Identity
    for name, inside in _CALL.findall(said):
        values = [float(one) for one in re.split(r"[\s,]+", inside.strip())]
        if name == "matrix" and len(values) == 6:
            found = found.transform(Transform(*values))
        elif name == "translate" and len(values) in (1, 2):
            found = found.translate(*values)
        elif name == "scale" and len(values) in (1, 2):
            found = found.scale(*values)
        elif name == "rotate" and len(values) in (1, 3):
            x, y = values[1:] or (0.0, 0.0)
            found = found.translate(x, y).rotate(math.radians(values[0])).translate(-x, -y)
        elif name in ("skewX", "skewY") and len(values) == 1:
            angle = math.radians(values[0])
            found = found.skew(angle, 0) if name == "skewX" else found.skew(0, angle)
        else:
            raise UsageError(f"found {name}({inside}); accepted: SVG's transforms")
    return found


def _drawn(data: str, placed: Any = None) -> list[list[Point]]:
    """The outlines that path data draw."""
    from fontTools.pens.transformPen import TransformPen
    from fontTools.svgLib.path import parse_path

    pen = straight_pen()
    parse_path(data, pen if placed is None else TransformPen(pen, placed))
    rings: list[list[Point]] = pen.rings
    return rings


def _scaled(rings: tuple[Ring, ...], said: str) -> tuple[Ring, ...]:
    points = [point for ring in rings for point in ring]
    if not points:
        raise UsageError(f"{said}: found no area; accepted: closed and filled outlines, not lines alone")
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    top, foot = min(y for _, y in points), max(y for _, y in points)
    high = foot - top
    middle = ((left + right) / 2, (top + foot) / 2)
    # SVG counts y downwards
    return tuple(tuple(((x - middle[0]) / high, (middle[1] - y) / high) for x, y in ring) for ring in rings)
