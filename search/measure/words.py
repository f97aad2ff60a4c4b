"""Measured dice in words, for a terminal, and as plain values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from math import floor
from typing import Any

from facewright.constraints.grammar import series
from facewright.search.measure.axes import STRONGER, Spanned, tolerance_mm
from facewright.search.measure.judging import CALLIPER_SD, KindFound
from facewright.search.measure.table import Readings
from facewright.search.report.terminal import NARROWEST, clean, wrapped

CAUTIONS = (
    f"Bias by solid angles, to first order; dice on a table answered up to {STRONGER:g} times as strongly in "
    "rigid-body simulations, by throw and bounce. A model: it orders dice and axes, and promises nothing.",
    "Callipers see lengths alone. Voids, uneven ink and rounded edges need a float test, and rolls "
    "(`facewright rolls`).",
    "Dice for gaming for money are bound by local law and tested by licensed houses.",
)
STEP_MM = 0.005
SHOWN = 20


def judged_text(found: Sequence[KindFound], readings: Readings, width: int) -> str:
    """All that is said of readings."""
    width = max(width, NARROWEST)
    parts = []
    for kind in found:
        parts.append("\n".join(wrapped(sentence(kind), width)))
        parts.append("\n".join(_axes(kind)))
        if kind.cavities:
            parts.append("\n".join(_cavities(kind)))
    if not found:
        parts.append("No die was measured along two axes at least: nothing can be compared.")
    if readings.unread:
        many = len(readings.unread)
        lines = [f"{many:,} {'row' if many == 1 else 'rows'} not read:"]
        lines += [
            f"  line {one.line}: {clean(one.text)[:60]!r}: {clean(one.reason)}"
            for one in readings.unread[:SHOWN]
        ]
        lines += [f"  and {many - SHOWN:,} more; --json lists them all"] if many > SHOWN else []
        parts.append("\n".join(lines))
    if readings.passed_over:
        parts.append(f"Columns passed over: {clean(', '.join(readings.passed_over))}.")
    parts.append("\n".join(line for one in CAUTIONS for line in wrapped(one, width)))
    return "\n\n".join(parts)


def sentence(kind: KindFound) -> str:
    """What matters first, in plain words."""
    dice = "One die" if kind.dice == 1 else f"{kind.dice:,} dice"
    many = f"{dice} measured ({kind.solid}, {kind.mean_mm:.2f} mm on average)"
    real = [axis for axis in kind.axes if axis.real]
    if not real:
        said = "no axis is off by more than the readings can show"
    else:
        named = series(
            f"{axis.name} is {abs(axis.shared_mm):.3f} mm {'longer' if axis.shared_mm > 0 else 'shorter'} than its dice"
            for axis in real[:3]
        )
        more = f", and {len(real) - 3} more" if len(real) > 3 else ""
        said = f"the whole batch is off alike: {named}{more}"
    worst = kind.worst
    ends = sorted((worst.low, worst.high))
    bias = (
        f"The face off most is {worst.name}: {_percent(worst.off)} by solid angles, and between {_percent(ends[0])} "
        f"and {_percent(ends[1])} with the errors of reading and the strength of the model."
    )
    missing = (
        f" Not measured: {', '.join(kind.missing[:8])}; taken to be like the mean." if kind.missing else ""
    )
    left = (
        f" What neither batch nor cavity explains: {kind.left_mm:.3f} mm, of which callipers read to ±0.02 mm make "
        f"{CALLIPER_SD:.3f}."
    )
    return f"{many}: {said}. {bias}{left}{missing}"


def _percent(share: float) -> str:
    return f"{100 * share:+.2g} %".replace("-", "−").replace("+0 %", "0 %")


def _axes(kind: KindFound) -> Iterator[str]:
    wide = max(len(axis.name) for axis in kind.axes)
    yield f"{'axis':<{wide}}  readings   mean mm  off its die  error  "
    for axis in kind.axes:
        mark = "  real" if axis.real else ""
        yield (
            f"{axis.name:<{wide}}  {axis.readings:>8}  {axis.mean_mm:>8.3f}  {axis.shared_mm:>+11.3f}  "
            f"{axis.error_mm:>5.3f}{mark}"
        )


def _cavities(kind: KindFound) -> Iterator[str]:
    names = [axis.name for axis in kind.axes]
    wide = max(6, *(len(one.name) for one in kind.cavities))
    yield f"{'cavity':<{wide}}  dice  " + "  ".join(f"{name:>7}" for name in names[:10])
    for one in kind.cavities:
        shown = [off for off in one.off_mm if off is not None][:10]
        yield f"{clean(one.name):<{wide}}  {one.dice:>4}  " + "  ".join(f"{off:>+7.3f}" for off in shown)


def tolerance_text(kinds: Sequence[Spanned], off: float, width: int) -> str:
    """What to write on the drawing so that no face is off by more than a share."""
    lines = []
    for kind in kinds:
        plain, strong = tolerance_mm(kind, off), tolerance_mm(kind, off, STRONGER)
        name = kind.one.die.artwork.solid.name.capitalize()
        told = (
            f"{name}, {kind.one.across}: no face off by more than {100 * off:g} %: write ±{_down(strong):.3f} mm on "
            f"the drawing for every axis against its die's mean. (By solid angles alone ±{_down(plain):.3f} mm; "
            f"real dice may answer {STRONGER:g} times as strongly, and the drawing should allow for that.)"
        )
        lines += wrapped(told, max(width, NARROWEST))
    return "\n".join(
        [*lines, "", *(line for one in CAUTIONS for line in wrapped(one, max(width, NARROWEST)))]
    )


def _down(mm: float) -> float:
    """A tolerance rounded down to what can be written; a finer one as it is, to a tenth of that."""
    step = STEP_MM if mm >= 2 * STEP_MM else STEP_MM / 10
    return floor(mm / step) * step


def judged_json(found: Sequence[KindFound], readings: Readings, design: str) -> dict[str, Any]:
    """Everything as plain values."""
    return {
        "design": design,
        "readings": len(readings.read),
        "kinds": [{**asdict(kind), "sentence": sentence(kind)} for kind in found],
        "unread": [asdict(one) for one in readings.unread],
        "model": {
            "by": "solid angles, first order",
            "real_dice_up_to": STRONGER,
            "calliper_sd_mm": CALLIPER_SD,
        },
    }


def tolerance_json(kinds: Sequence[Spanned], off: float, design: str) -> dict[str, Any]:
    """The tolerances as plain values."""
    return {
        "design": design,
        "off": off,
        "tolerances": [
            {
                "part": list(kind.one.die.positions),
                "solid": kind.one.die.artwork.solid.name,
                "mm": tolerance_mm(kind, off, STRONGER),
                "mm_by_solid_angles": tolerance_mm(kind, off),
            }
            for kind in kinds
        ],
    }
