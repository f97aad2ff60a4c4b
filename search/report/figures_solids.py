"""A solid lying on one of its rests, in parallel projection, as SVG text: seen edges whole, hidden ones dashed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

if TYPE_CHECKING:
    import numpy as np
    from facewright.constraints.solids.solid import Solid
    from numpy.typing import NDArray

ASIDE, ABOVE = math.radians(20), math.radians(28)
"""Whence a solid is seen: turned so far from the first edge of the face below, and from so far above its middle."""

HIDDEN_UP_TO = 60
"""Past so many edges the hidden ones are left out: they would only blacken the picture."""

INK, PAPER, SHADE = "#1c2430", (246, 243, 235), (170, 182, 196)
"""Edges; the lightest and the darkest face."""

SIZE = 160
"""Pixels of a picture's longer side, as long as nothing scales it."""


@dataclass(frozen=True, eq=False)
class View:
    """A solid seen in parallel projection.

    `points` are the vertices on the picture, shape (V, 2), in inradii, y upwards; `seen` for each face whether it turns
    to the eye; `light` for each face from 0 to 1 how bright it is. `axes`, shape (3, 2), takes points in space to the
    picture; `facing` is for each face the cosine between its normal and the eye's direction.
    """

    points: NDArray[np.float64]
    seen: tuple[bool, ...]
    light: tuple[float, ...]
    axes: NDArray[np.float64]
    facing: tuple[float, ...]


def view_of(solid: Solid, rest: int = 0, aside: float = ASIDE, above: float = ABOVE) -> View:
    """The solid lying on a rest.

    Params:
        solid: the solid.
        rest: the number of the rest on which it lies.
        aside: radians by which the eye stands aside of the first edge of the face below.
        above: radians by which it looks down.
    """
    import numpy as np
    from facewright.constraints.solids.rests import outward

    normals, _ = outward(solid.vertices, solid.faces)
    below = solid.faces[solid.rests[rest].below]
    up = -normals[solid.rests[rest].below]
    edge = solid.vertices[below[1]] - solid.vertices[below[0]]
    edge = edge / np.linalg.norm(edge)
    side = np.cross(up, edge)
    right = math.cos(aside) * edge + math.sin(aside) * side
    away = -math.sin(aside) * edge + math.cos(aside) * side
    eye = math.sin(above) * up - math.cos(above) * away
    upright = math.cos(above) * up + math.sin(above) * away
    lamp = eye + 0.9 * up - 0.5 * right
    bright = normals @ (lamp / np.linalg.norm(lamp))
    axes = np.stack([right, upright], axis=1)
    facing = normals @ eye
    return View(
        solid.vertices @ axes,
        tuple(bool(one) for one in facing > 1e-6),
        tuple(float(one) for one in np.clip(bright, 0, 1)),
        axes,
        tuple(float(one) for one in facing),
    )


def solid_svg(solid: Solid, rest: int = 0) -> str:
    """Draws a solid that lies on a rest.

    Returns: SVG text, small, without fonts, the same for the same solid.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> solid_svg(solid("cube")).count("<path")
        5
    """
    view = view_of(solid, rest)
    scale = (SIZE - 8) / float((view.points.max(axis=0) - view.points.min(axis=0)).max())
    low, high = view.points.min(axis=0), view.points.max(axis=0)
    width, height = ((high - low) * scale + 8).tolist()
    at = [(4 + (x - low[0]) * scale, 4 + (high[1] - y) * scale) for x, y in view.points.tolist()]
    parts = [
        f'<path d="{path_of([at[corner] for corner in face], closed=True)}" fill="{shade_of(light)}"/>'
        for face, seen, light in zip(solid.faces, view.seen, view.light, strict=True)
        if seen
    ]
    whole: list[str] = []
    hidden: list[str] = []
    for (a, b), faces in zip(solid.edges, solid.edge_faces, strict=True):
        (whole if any(view.seen[face] for face in faces) else hidden).append(path_of([at[a], at[b]]))
    if hidden and len(solid.edges) <= HIDDEN_UP_TO:
        parts.append(f'<path d="{"".join(hidden)}" stroke-width=".7" stroke-dasharray="3 3" opacity=".55"/>')
    parts.append(f'<path d="{"".join(whole)}" stroke-width="1.3"/>')
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" width="{width:.0f}" '
        f'height="{height:.0f}" role="img" fill="none" stroke-linecap="round" stroke="{INK}">'
    )
    inside = "\n".join(part.replace("/>", ' stroke="none"/>') if "fill=" in part else part for part in parts)
    return f"{head}\n<title>{escape(solid.name)}</title>\n{inside}\n</svg>\n"


def path_of(points: list[tuple[float, float]], closed: bool = False) -> str:
    """The data of an SVG path through points of the picture, to a tenth of a pixel."""
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + ("Z" if closed else "")


def shade_of(light: float) -> str:
    """The colour of a face, from how bright it is."""
    mixed = (round(dark + (bright - dark) * light) for bright, dark in zip(PAPER, SHADE, strict=True))
    return "#" + "".join(f"{part:02x}" for part in mixed)
