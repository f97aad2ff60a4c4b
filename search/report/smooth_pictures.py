"""Pictures of a smooth body: as it lies, seen from the side and from above, shaded, with its width."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from facewright.constraints.solids.smooth.measures import tip_direction
from facewright.constraints.solids.smooth.mesh import surface
from facewright.search.report.figures_solids import path_of, shade_of

if TYPE_CHECKING:
    import numpy as np
    from facewright.constraints.solids.smooth.body import SmoothBody

SIZE = 230
"""Pixels of the width of the body in a picture."""
HALVINGS = 4
AROUND = 240
"""Points of an outline."""
MARGIN = 34
INK = "#1c2430"
SHADES = 24
"""So many tones are told apart."""


def lying_svg(body: SmoothBody, *, from_above: bool, title: str) -> str:
    """The body as it lies, a tip on top; from the side with the table below it.

    Returns: SVG text, the same for the same body.
    """
    import numpy as np

    up = tip_direction(body)
    # the side view looks along a level axis, so that the tip is seen in profile
    level = np.cross(up, [0.0, 0.0, 1.0] if abs(up[2]) < 0.9 else [1.0, 0.0, 0.0])
    level /= np.linalg.norm(level)
    right, upright = (level, np.cross(up, level)) if from_above else (np.cross(up, level), up)
    eye = np.cross(right, upright)
    points, triangles, normals = surface(body, HALVINGS)
    parts = [*_shaded(points, triangles, normals, right, upright, eye)]
    turn = 2 * np.pi * np.arange(AROUND) / AROUND
    outline = body.points(np.outer(np.cos(turn), right) + np.outer(np.sin(turn), upright))
    at = [_placed(point, right, upright) for point in outline]
    parts.append(f'<path d="{path_of(at, closed=True)}" stroke="{INK}" stroke-width="1.4"/>')
    if not from_above:
        low, far = max(y for _, y in at), SIZE + 2 * MARGIN
        parts.append(f'<path d="M6 {low:.1f}H{far - 6}" stroke="{INK}" stroke-width="1.2"/>')
        high = min(y for _, y in at)
        parts.append(
            f'<path d="M6 {high:.1f}H{far - 6}" stroke="{INK}" stroke-width=".8" stroke-dasharray="4 4"/>'
        )
    whole = SIZE + 2 * MARGIN
    inside = "\n".join(parts)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {whole} {whole}" width="{whole}" height="{whole}" '
        f'role="img" fill="none" stroke-linejoin="round">\n<title>{escape(title)}</title>\n{inside}\n</svg>\n'
    )


def _placed(point: np.ndarray, right: np.ndarray, upright: np.ndarray) -> tuple[float, float]:
    middle = SIZE / 2 + MARGIN
    return middle + SIZE * float(point @ right), middle - SIZE * float(point @ upright)


def _shaded(
    points: np.ndarray,
    triangles: np.ndarray,
    normals: np.ndarray,
    right: np.ndarray,
    upright: np.ndarray,
    eye: np.ndarray,
) -> list[str]:
    """The triangles that are seen, those of one tone in one path, each stroked with it so that no seam shows."""
    import numpy as np

    middle = normals[triangles].sum(axis=1)
    middle /= np.linalg.norm(middle, axis=1)[:, None]
    lamp = eye + 0.9 * upright - 0.5 * right
    light = np.clip(middle @ (lamp / np.linalg.norm(lamp)), 0, 1)
    seen = middle @ eye > 0
    tones: dict[int, list[str]] = {}
    for triangle, bright in zip(triangles[seen], light[seen], strict=True):
        at = [_placed(points[corner], right, upright) for corner in triangle]
        tones.setdefault(round(float(bright) * SHADES), []).append(path_of(at, closed=True))
    return [
        f'<path d="{"".join(paths)}" fill="{shade_of(tone / SHADES)}" stroke="{shade_of(tone / SHADES)}"/>'
        for tone, paths in sorted(tones.items())
    ]
