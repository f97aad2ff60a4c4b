"""Badges: the shapes, all in one ink, that tell the readouts of one solid apart.

The first readout is plain; each of the others has its own shape about or beside its characters. The shapes differ in
outline and place, so that they stay apart in one colour, at arm's length and upside down. They are our own.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from facewright.search.artwork.glyphs import outlines
from facewright.search.artwork.marks import Mark, Ring

STROKE = 0.15
"""The width of a badge's lines over the height of the characters."""

GAP = 0.17
"""The clear space between characters and badge, over the height of the characters."""

CORNERS = 48
"""Straight pieces of a whole circle."""


@dataclass(frozen=True)
class Badge:
    """A shape for one readout: its name, how a designer would describe it, and how it is drawn.

    `draw` takes half the width of the characters and the heights of their foot and head. Figures are one unit high,
    the middle of the characters is the origin.
    """

    name: str
    words: str
    draw: Callable[[float, float, float], tuple[Ring, ...]]


def _ring(half: float, low: float, high: float) -> tuple[Ring, ...]:
    inner = math.hypot(half, max(-low, high)) + 0.6 * GAP
    return _circle(inner + STROKE), _circle(inner)


def _gable(half: float, _low: float, high: float) -> tuple[Ring, ...]:
    return (_roof(half, high + GAP),)


def _hull(half: float, low: float, _high: float) -> tuple[Ring, ...]:
    """A bowl under the characters, thick in the middle, like a boat's hull."""
    wide, top = max(half, 0.3) + STROKE, low - GAP
    turns = [math.pi * (1 + step / 16) for step in range(17)]
    return (tuple((wide * math.cos(turn), top + 3 * STROKE * math.sin(turn)) for turn in turns),)


def _fins(half: float, low: float, high: float) -> tuple[Ring, ...]:
    """A solid triangle on either side, pointing away."""
    inner, middle, rise = half + GAP, (low + high) / 2, 2.2 * STROKE
    right = ((inner, middle - rise), (inner + 3 * STROKE, middle), (inner, middle + rise))
    return right, tuple((-x, y) for x, y in reversed(right))


def _lozenge(half: float, low: float, high: float) -> tuple[Ring, ...]:
    """The characters' box, its corners on the sides of a diamond."""
    wide, tall = 2 * half + GAP, 2 * max(-low, high) + GAP
    grown = 1 + STROKE * math.hypot(1 / wide, 1 / tall)
    return _diamond(wide * grown, tall * grown), _diamond(wide, tall)


def _frame(half: float, low: float, high: float) -> tuple[Ring, ...]:
    wide, tall = half + GAP, max(-low, high) + GAP
    return _box(wide + STROKE, tall + STROKE), _box(wide, tall)


def _two_gables(half: float, low: float, high: float) -> tuple[Ring, ...]:
    return _roof(half, high + GAP), tuple((x, -y) for x, y in reversed(_roof(half, GAP - low)))


def _roof(half: float, foot: float) -> Ring:
    """A chevron whose feet stand so high."""
    wide = max(half, 0.3) + STROKE
    rise, thick = 0.3 * min(wide, 0.9) + 0.05, STROKE * 1.2
    under = ((-wide, foot), (0.0, foot + rise), (wide, foot))
    return (*under, *((x, y + thick) for x, y in reversed(under)))


def _circle(radius: float) -> Ring:
    turns = (2 * math.pi * step / CORNERS for step in range(CORNERS))
    return tuple((radius * math.cos(turn), radius * math.sin(turn)) for turn in turns)


def _diamond(wide: float, high: float) -> Ring:
    return ((wide, 0.0), (0.0, high), (-wide, 0.0), (0.0, -high))


def _box(wide: float, high: float) -> Ring:
    return ((-wide, -high), (wide, -high), (wide, high), (-wide, high))


PLAIN = Badge("plain", "plain characters", lambda _half, _low, _high: ())
BADGES = (
    PLAIN,
    Badge("ring", "characters in a ring", _ring),
    Badge("gable", "a gable above", _gable),
    Badge("fins", "a fin on either side", _fins),
    Badge("hull", "a hull below", _hull),
    Badge("frame", "characters in a frame", _frame),
    Badge("lozenge", "characters in a lozenge", _lozenge),
    Badge("gables", "a gable above and one below", _two_gables),
)
"""One a readout, in order; the eighth serves all further ones with as many dots as it takes to tell them apart."""


def badge_of(readout: int | None) -> Badge:
    """The badge of a readout, by its position; plain where a die has only one result.

    Example:
        >>> badge_of(0).name, badge_of(2).name, badge_of(9).words
        ('plain', 'gable', 'a gable above and one below, and 2 dots')
    """
    if readout is None:
        return PLAIN
    last = len(BADGES) - 1
    if readout <= last:
        return BADGES[readout]
    dots = readout - last
    words = f"{BADGES[last].words}, and {dots} dot{'' if dots == 1 else 's'}"
    return Badge(f"{BADGES[last].name}-{dots}", words, lambda half, low, high: _dotted(half, low, high, dots))


def _dotted(half: float, low: float, high: float, dots: int) -> tuple[Ring, ...]:
    """The last badge with a column of dots on the right."""
    radius, across, step = STROKE / 1.4, half + GAP + STROKE, (high - low) / dots
    rings = [
        tuple((across + radius * x, low + (at + 0.5) * step + radius * y) for x, y in _circle(1.0))
        for at in range(dots)
    ]
    return (*_two_gables(half, low, high), *rings)


@lru_cache(maxsize=4096)
def drawn(text: str, readout: int | None = None, font: Path | None = None) -> tuple[Ring, ...]:
    """Characters with the badge of their readout.

    Params:
        text: the characters, one line.
        readout: the position of the readout, None where the die has only one result.
        font: a font file; without it the usual one.
    Returns: closed rings for the even-odd rule, figures one unit high, the middle of the characters at the origin.
    """
    return badged(outlines(text, font), readout)


@lru_cache(maxsize=4096)
def badged(inside: tuple[Ring, ...], readout: int | None = None) -> tuple[Ring, ...]:
    """Outlines of characters, one unit high about the origin, with the badge of their readout about them."""
    points = [point for ring in inside for point in ring] or [(0.3, -0.5), (0.3, 0.5)]
    half = max(abs(x) for x, _ in points)
    low, high = min(-0.5, *(y for _, y in points)), max(0.5, *(y for _, y in points))
    return (*inside, *badge_of(readout).draw(half, low, high))


def extent(
    text: str, readout: int | None = None, font: Path | None = None
) -> tuple[float, float, float, float]:
    """The box of characters and badge: left, bottom, right, top, figures one unit high, the origin in their middle."""
    return extent_of(drawn(text, readout, font))


@lru_cache(maxsize=4096)
def extent_of(rings: tuple[Ring, ...]) -> tuple[float, float, float, float]:
    """The box of some outlines: left, bottom, right, top; without any, that of a figure."""
    points = [point for ring in rings for point in ring] or [(-0.3, -0.5), (0.3, 0.5)]
    across, up = zip(*points, strict=True)
    return min(across), min(up), max(across), max(up)


def shape_of(mark: Mark, font: Path | None = None) -> tuple[Ring, ...]:
    """A mark with its badge, figures one unit high, the middle of its characters at the origin."""
    if mark.outline is None:
        return drawn(mark.text, mark.readout, font)
    return badged(mark.outline, mark.readout)


def placed(mark: Mark, font: Path | None = None) -> tuple[Ring, ...]:
    """A mark with its badge where it stands: closed rings in the frame of its face, in inradii."""
    cos, sin = mark.height * math.cos(mark.angle), mark.height * math.sin(mark.angle)
    (left, foot) = mark.centre
    return tuple(
        tuple((left + cos * x - sin * y, foot + sin * x + cos * y) for x, y in ring)
        for ring in shape_of(mark, font)
    )
