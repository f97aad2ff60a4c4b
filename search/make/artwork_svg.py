"""Artwork for a laser or a mould: every marked face in true size, numerals as outlines, as SVG text.

Layers are groups with ids: `outlines` (the edges of the faces), `numerals`, `names` (f1, f2, …), `arrows` (which way is
up) and `register` (a cross at each face's point under the centre of mass, and angles at the sheet's corners). Within a
layer each face has a path of its own, such as `numerals-f3`. No fonts are needed: all characters are outlines.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

from facewright.search.artwork.badges import placed
from facewright.search.artwork.glyphs import outlines

if TYPE_CHECKING:
    from pathlib import Path

    import numpy as np
    from facewright.search.artwork.marks import Artwork, Ring
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

GAP_MM = 6.0
"""Between faces, and between them and the border; the name and the arrow of a face stand in it."""

NAME_MM = 2.2
"""The height of the characters of names."""

DECIMALS = 4
"""Of coordinates in millimetres: a tenth of a micrometre."""

LAYERS = {
    "outlines": 'fill="none" stroke="#1f5fa8" stroke-width="0.1"',
    "numerals": 'fill="#000000" fill-rule="evenodd" stroke="none"',
    "names": 'fill="#777777" fill-rule="evenodd" stroke="none"',
    "arrows": 'fill="none" stroke="#777777" stroke-width="0.2"',
    "register": 'fill="none" stroke="#c0392b" stroke-width="0.1"',
}
"""How each layer is painted; programs for lasers tell layers apart by these colours."""


@dataclass(frozen=True, eq=False)
class _Face:
    """A face as it is drawn: its corners, the rings of its numerals and its point of register, in mm, y upwards."""

    name: str
    corners: Floats
    rings: tuple[Floats, ...]
    point: Floats

    def moved(self, step: Floats) -> _Face:
        return _Face(self.name, self.corners + step, tuple(r + step for r in self.rings), self.point + step)


def artwork_svg(
    artwork: Artwork, mm: float, title: str, note: str = "", font: Path | None = None, wide_mm: float = 250.0
) -> str:
    """The marked faces of a die as flat artwork.

    A face is turned so that its own label stands upright. Faces without marks are left out.

    Params:
        artwork: the solid and what stands on it.
        mm: the length of one inradius, in millimetres.
        title: what it is.
        note: a sentence more, for whoever opens the file.
        font: a font file; without it the usual one.
        wide_mm: the width of the sheet, at most, unless a single face is wider.
    Returns: SVG text whose unit is a millimetre, the same for the same input.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> from facewright.search.artwork.placing import numbered
        >>> text = artwork_svg(numbered(solid("cube")), 8, "a cube")
        >>> text.count('id="numerals-f'), "font" in text
        (6, False)
    """
    faces, (width, height) = _in_rows(_faces(artwork, mm, font), wide_mm)
    told = (
        f"{title}. Every face of the {artwork.solid.name} as seen from outside; one unit is one millimetre; numerals "
        f"are outlines, filled by the even-odd rule. {note}"
    ).strip()
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}mm" height="{height:g}mm" '
        f'viewBox="0 0 {width:g} {height:g}" role="img" aria-label={quoteattr(title)}>',
        f"<title>{escape(title)}</title>",
        f"<desc>{escape(told)}</desc>",
    ]
    lines += _layer("outlines", faces, ((one.corners,) for one in faces), height)
    lines += _layer("numerals", faces, (one.rings for one in faces), height)
    lines += _layer("names", faces, (_name(one) for one in faces), height)
    lines += [f'<g id="arrows" {LAYERS["arrows"]}>']
    lines += [f'<path id="arrows-{one.name}" d="{_arrow(one, height)}"/>' for one in faces]
    lines += ["</g>", f'<g id="register" {LAYERS["register"]}>']
    lines += [f'<path id="register-sheet" d="{_corners(width, height)}"/>']
    lines += [f'<path id="register-{one.name}" d="{_cross(one.point, height)}"/>' for one in faces]
    return "\n".join([*lines, "</g>", "</svg>"]) + "\n"


def _faces(artwork: Artwork, mm: float, font: Path | None) -> list[_Face]:
    """The marked faces, each about its point of register."""
    import numpy as np
    from facewright.constraints.solids.frames import face_frame
    from facewright.search.make.unfolding import turning

    found = []
    for face, name in enumerate(artwork.solid.sites("faces")):
        marks = artwork.on_face(face)
        if not marks:
            continue
        own = [mark for mark in marks if mark.site == name]
        matrix = mm * turning(-own[0].angle if own else 0.0).T
        rings = tuple(np.array(ring) @ matrix for mark in marks for ring in placed(mark, font))
        found.append(_Face(name, face_frame(artwork.solid, face).polygon @ matrix, rings, np.zeros(2)))
    return found


def _in_rows(faces: Sequence[_Face], wide_mm: float) -> tuple[list[_Face], tuple[float, float]]:
    """The faces side by side in rows from the top, and the size of the sheet, in whole millimetres."""
    import numpy as np

    rows: list[list[_Face]] = [[]]
    widths = [0.0]
    for one in faces:
        wide = float(np.ptp(one.corners[:, 0])) + GAP_MM
        if rows[-1] and widths[-1] + wide + GAP_MM > wide_mm:
            rows.append([])
            widths.append(0.0)
        rows[-1].append(one)
        widths[-1] += wide
    width = math.ceil(max(widths) + GAP_MM)
    moved, low = [], 0.0
    for row in reversed(rows):
        foot = low + GAP_MM
        left = GAP_MM
        for one in row:
            moved.append(one.moved(np.array([left, foot]) - one.corners.min(axis=0)))
            left += float(np.ptp(one.corners[:, 0])) + GAP_MM
        low = foot + max((float(np.ptp(one.corners[:, 1])) for one in row), default=0.0)
    order = {one.name: place for place, one in enumerate(faces)}
    return sorted(moved, key=lambda one: order[one.name]), (width, math.ceil(low + GAP_MM))


def _layer(layer: str, faces: Sequence[_Face], rings: Iterable[Sequence[Floats]], height: float) -> list[str]:
    """A layer whose faces consist of closed rings."""
    lines = [f'<g id="{layer}" {LAYERS[layer]}>']
    for one, own in zip(faces, rings, strict=True):
        path = "".join(_path(ring.tolist(), height) + "Z" for ring in own)
        lines.append(f'<path id="{layer}-{one.name}" data-face="{one.name}" d="{path}"/>')
    return [*lines, "</g>"]


def _name(one: _Face) -> list[Floats]:
    """The name of a face, below its lowest corner on the left."""
    import numpy as np

    rings: tuple[Ring, ...] = outlines(one.name)
    points = [np.array(ring) * NAME_MM for ring in rings]
    left = min(float(ring[:, 0].min()) for ring in points)
    low = one.corners.min(axis=0)
    at = np.array([low[0] - left + 2.5, low[1] - GAP_MM / 2])
    return [ring + at for ring in points]


def _arrow(one: _Face, height: float) -> str:
    """An arrow that points up, beside the name."""
    low = one.corners.min(axis=0)
    x, foot, head = float(low[0]) + 0.9, float(low[1]) - GAP_MM / 2 - 1.3, float(low[1]) - GAP_MM / 2 + 1.3
    return _path([[x, foot], [x, head]], height) + _path(
        [[x - 0.7, head - 0.9], [x, head], [x + 0.7, head - 0.9]], height
    )


def _cross(point: Floats, height: float) -> str:
    """A small cross at a point."""
    x, y = point.tolist()
    return _path([[x - 1, y], [x + 1, y]], height) + _path([[x, y - 1], [x, y + 1]], height)


def _corners(width: float, height: float) -> str:
    """Angles in the corners of the sheet."""
    return "".join(
        f"M{x:g} {y + dy:g}V{y:g}H{x + dx:g}"
        for x, dx in ((1, 3), (width - 1, -3))
        for y, dy in ((1, 3), (height - 1, -3))
    )


def _path(points: Sequence[Sequence[float]], height: float) -> str:
    """An open path through points, y turned downwards."""
    pairs = (f"{_plain(x)} {_plain(height - y)}" for x, y in points)
    return "M" + "L".join(pairs)


def _plain(number: float) -> str:
    text = f"{number:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
