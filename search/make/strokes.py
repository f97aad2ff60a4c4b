"""How wide the narrowest stroke of a mark is, and how large a die must be for the route by which it is made."""

from __future__ import annotations

import math
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from facewright.search.artwork.marks import Mark, Ring
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


def stroke_of(mark: Mark, font: Path | None = None) -> float:
    """The width of the narrowest stroke of a mark, its badge included, in inradii; infinite where nothing is drawn."""
    from facewright.search.artwork.badges import drawn, shape_of

    if mark.outline is None and not mark.readout:
        # characters stand apart: the narrowest stroke is that of one of them
        return mark.height * min((_stroke(drawn(one, None, font)) for one in mark.text), default=math.inf)
    return mark.height * _stroke(shape_of(mark, font))


@lru_cache(maxsize=4096)
def _stroke(rings: tuple[Ring, ...]) -> float:
    return narrowest(cross_section(rings)) if rings else math.inf


def narrowest(whole: CrossSection) -> float:
    """The width of the narrowest place of an area whose figures are one unit high, to `CLOSE`, rounded down.

    Pared down all round by half of that width, the area first falls apart, loses a part or opens a loop. Corners and
    tapering ends, which are only shortened by paring, do not count.

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
