"""The figures of a sheet: dice beside a coin, the steps, the chances; on any canvas."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.search.make.pages import GREY, INK, PALE, width_of
from facewright.search.sheets.chances import Chances, percent, tallest
from facewright.search.sheets.pictures import draw_die, draw_together, extent, side_for, together

if TYPE_CHECKING:
    from facewright.search.make.sizing import Sized
    from facewright.search.sheets.canvas import Canvas
    from facewright.search.sheets.steps import Step

COLUMN = "#5b98c6"
NUMBERED = 24
"""Up to so many results a column carries its chance in words."""

NAMED_MM = 1.2
"""Room between names below columns; where they need more, some are left out."""

MOST_DUELS = 8


def scale_for(dice: Sequence[Sized], wide_mm: float, high_mm: float) -> float:
    """The scale at which dice and coin fit into a box: 1 where there is room for their true size."""
    wide, high = together(dice)
    return min(1.0, wide_mm / wide, high_mm / high)


def scale_words(scale: float) -> str:
    """A scale for a reader."""
    return "in true size" if scale == 1.0 else f"at {100 * scale:.0f} % of true size"


def draw_scale(canvas: Canvas, dice: Sequence[Sized], box: tuple[float, float, float, float]) -> float:
    """Dice and coin in the middle of a box (left, foot, width, height); returns the scale."""
    left, foot, wide, high = box
    scale = scale_for(dice, wide, high)
    own, _ = together(dice)
    draw_together(canvas, dice, left + (wide - scale * own) / 2, foot, scale)
    return scale


def draw_step(canvas: Canvas, step: Step, box: tuple[float, float, float, float]) -> None:
    """The picture of a step in a box: its dice side by side, or its line in letters as large as fit."""
    left, foot, wide, high = box
    if step.line:
        size = min(0.42 * high, 11.0)
        size *= min(1.0, 0.94 * wide / max(width_of(step.line, size, True), 1e-9))
        canvas.text(
            left + wide / 2, foot + high / 2 - 0.36 * size, step.line, size_mm=size, align="center", bold=True
        )
        return
    room = wide / len(step.dice)
    sides = [side_for(die.artwork, die.rest, die.read) for die in step.dice]
    boxes = [extent(die.artwork, side) for die, side in zip(step.dice, sides, strict=True)]
    times = min(min(0.92 * room / w, 0.96 * high / h) for w, h in boxes)
    for place, (die, side) in enumerate(zip(step.dice, sides, strict=True)):
        middle = (left + room * (place + 0.5), foot + high / 2)
        draw_die(canvas, die.artwork, side, middle, times, die.read if step.lit else ())


def draw_chances(canvas: Canvas, several: Sequence[Chances], box: tuple[float, float, float, float]) -> None:
    """The chances as columns, those of familiar dice as a line over each, several side by side."""
    left, foot, wide, high = box
    most = float(tallest(several))
    weights = [max(len(one.labels), 2) for one in several]
    gap = 6.0 if len(several) > 1 else 0.0
    unit = (wide - gap * (len(several) - 1)) / sum(weights)
    for one, weight in zip(several, weights, strict=True):
        _columns(canvas, one, (left, foot, unit * weight, high), most)
        left += unit * weight + gap


def _columns(canvas: Canvas, one: Chances, box: tuple[float, float, float, float], most: float) -> None:
    left, foot, wide, high = box
    below = 5.0 + (4.5 if one.name else 0.0)
    floor, room = foot + below, high - below - 4.5
    step = wide / len(one.labels)
    thick = 0.84 * step
    size = min(2.6, max(1.6, 0.3 * step))
    names = max(width_of(label, size) for label in one.labels) + NAMED_MM
    every = max(1, -(-int(100 * names) // max(1, int(100 * step))))
    told = len(one.labels) <= NUMBERED and width_of("00.0", 1.9) < step
    for place, (label, share) in enumerate(zip(one.labels, one.ours, strict=True)):
        x = left + step * (place + 0.5)
        top = floor + room * float(share) / most
        if share:
            canvas.area(
                [
                    [
                        (x - thick / 2, floor),
                        (x + thick / 2, floor),
                        (x + thick / 2, top),
                        (x - thick / 2, top),
                    ]
                ],
                fill=COLUMN,
            )
        if one.theirs:
            line = floor + room * float(one.theirs[place]) / most
            canvas.lines([[(x - step / 2, line), (x + step / 2, line)]], wide_mm=0.5)
            top = max(top, line)
        if told:
            canvas.text(x, top + 1.0, percent(share)[:-2], size_mm=1.9, colour=GREY, align="center")
        if place % every == 0:
            canvas.text(x, floor - 3.4, label, size_mm=size, align="center")
    canvas.lines([[(left, floor), (left + wide, floor)]], wide_mm=0.25, colour=PALE)
    if one.name:
        canvas.text(left + wide / 2, foot, one.name, size_mm=2.8, align="center", colour=INK, bold=True)
