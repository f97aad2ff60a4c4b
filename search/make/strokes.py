"""How wide the narrowest stroke of a mark is, and how large a die must be for the route by which it is made."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from facewright.search.artwork.marks import Ring
    from manifold3d import CrossSection

STEP = 1 / 64
"""Widths that are tried in turn, over the height of a figure."""

WIDEST = 1.0
"""No stroke is wider than the figures are high."""

CLOSE = 1e-4
"""The stroke is found so closely, over the height of a figure."""


def cross_section(rings: tuple[Ring, ...]) -> CrossSection:
    """The area within closed rings by the even-odd rule."""
    from manifold3d import CrossSection, FillRule

    return CrossSection([np.ascontiguousarray(np.array(ring)) for ring in rings], FillRule.EvenOdd)


@lru_cache(maxsize=4096)
def stroke(text: str, readout: int | None = None, font: Path | None = None) -> float:
    """The width of the narrowest stroke of a mark over the height of a figure; infinite where nothing is drawn.

    Pared down all round by half of that width, the mark first falls apart, loses a part or opens a loop. Corners and
    tapering ends, which are only shortened by paring, do not count.

    Params:
        text: the characters.
        readout: whose badge is drawn with them; None where the die has only one result.
        font: a font file; without it the usual one.
    """
    from facewright.search.artwork.badges import drawn

    rings = drawn(text, readout, font)
    if not rings:
        return float("inf")
    if not readout and len(text) > 1:
        # characters stand apart: the narrowest stroke is that of one of them
        return min(stroke(character, readout, font) for character in set(text))
    return narrowest(cross_section(rings))


def narrowest(whole: CrossSection) -> float:
    """The width of the narrowest place of an area whose figures are one unit high, to `CLOSE`, rounded down.

    A part that hangs on a neck and vanishes within one `STEP` after the neck gave way is not noticed.

    Example:
        >>> bar = (((0.0, 0.0), (2.0, 0.0), (2.0, 0.3), (0.0, 0.3)),)
        >>> round(narrowest(cross_section(bar)), 3)
        0.3
    """
    told = _shape(whole)
    low = 0.0
    while _shape(_pared(whole, low + STEP)) == told and low < WIDEST:
        low += STEP
    high = low + STEP
    while high - low > CLOSE:
        middle = (low + high) / 2
        if _shape(_pared(whole, middle)) == told:
            low = middle
        else:
            high = middle
    return low


def _pared(whole: CrossSection, width: float) -> CrossSection:
    from manifold3d import JoinType

    return whole.offset(-width / 2, JoinType.Round, circular_segments=64)


def _shape(area: CrossSection) -> tuple[int, int]:
    """How many pieces an area has, and how many rings bound it: what changes when a stroke gives way."""
    return len(area.decompose()), area.num_contour()
