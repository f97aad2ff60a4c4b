"""Pictures of tested rolls: counts beside what was expected, and the path of the e-value, as SVG within a page."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from math import ceil, floor, log
from typing import Any

from facewright.search.rolls.deviation import ranges
from facewright.search.rolls.judging import Test
from facewright.search.rolls.words import percent, rounded

MOST_BARS = 130
"""Cells that are drawn; of more only those farthest off."""

LOG10 = log(10)


def bars(test: Test, level: float) -> list[dict[str, Any]]:
    """A row a cell: its count as a bar, what was expected as a stroke, the usual range as a band.

    Params:
        test: the test, with its counts.
        level: all counts lie within their ranges with a chance of at least 1 − level.
    """
    low, high = ranges(test.rolls, test.view.ways, level)
    expected = [test.rolls * way / test.view.outcomes for way in test.view.ways]
    most = max(1.0, *test.counts, *(float(one) for one in high))
    order = range(len(expected))
    if len(expected) > MOST_BARS:
        far = sorted(order, key=lambda at: -abs(test.counts[at] - expected[at]) / expected[at] ** 0.5)
        order = sorted(far[:MOST_BARS])  # type: ignore[assignment]
    rows = []
    for at in order:
        count, least, top = test.counts[at], int(low[at]), int(high[at])
        out = count < least or count > top
        rows.append(
            {
                "cell": test.view.cells[at],
                "count": f"{count:,}",
                "expected": rounded(expected[at]),
                "usual": f"{least:,} to {top:,}",
                "off": f"{count / expected[at] - 1:+.0%}".replace("%", " %").replace("-", "−"),
                "out": out,
                "svg": _bar(count / most, expected[at] / most, least / most, top / most, out),
            }
        )
    return rows


def _bar(count: float, expected: float, low: float, high: float, out: bool) -> str:
    def x(share: float) -> str:
        return f"{100 * share:.2f}"

    return (
        '<svg viewBox="0 0 100 16" preserveAspectRatio="none" aria-hidden="true" focusable="false">'
        f'<rect class="band" x="{x(low)}" y="0" width="{x(max(high - low, 0.004))}" height="16"/>'
        f'<rect class="bar{" out" if out else ""}" x="0" y="4.5" width="{x(count)}" height="7"/>'
        f'<line class="wanted" x1="{x(expected)}" x2="{x(expected)}" y1="0" y2="16"/></svg>'
    )


WIDE, HIGH, LEFT, RIGHT, TOP, FOOT = 360, 200, 46, 10, 12, 30


def e_path(test: Test, limit: float) -> str:
    """The path of the e-value on a logarithmic scale, with the limit at which it counts as unusual.

    Params:
        test: a test of all rolls.
        limit: the e-value at which it counts.
    """
    points = [(rolls, value / LOG10) for rolls, value in test.path]
    wanted = log(limit) / LOG10
    values = [value for _, value in points]
    low, high = floor(min(-1.0, *values)), ceil(max(wanted + 0.3, *values))
    rolls = max(1, points[-1][0])

    def x(at: float) -> float:
        return LEFT + (WIDE - LEFT - RIGHT) * at / rolls

    def y(value: float) -> float:
        return TOP + (HIGH - TOP - FOOT) * (high - value) / (high - low)

    line = " ".join(f"{x(at):.1f},{y(value):.1f}" for at, value in points)
    ticks = _ticks(low, high)
    parts = [
        f'<line class="rule" x1="{LEFT}" x2="{WIDE - RIGHT}" y1="{y(t):.1f}" y2="{y(t):.1f}"/>'
        f'<text class="tick" x="{LEFT - 5}" y="{y(t) + 3.5:.1f}" text-anchor="end">{_power(t)}</text>'
        for t in ticks
    ]
    parts += [
        f'<text class="tick" x="{x(rolls * share):.1f}" y="{HIGH - FOOT + 14}" text-anchor="{anchor}">'
        f"{rolls * share:,.0f}</text>"
        for share, anchor in ((0, "start"), (0.5, "middle"), (1, "end"))
        if share in (0, 1) or rolls > 3
    ]
    parts += [
        f'<text class="tick" x="{(LEFT + WIDE - RIGHT) / 2}" y="{HIGH - 3}" text-anchor="middle">rolls</text>',
        f'<line class="limit" x1="{LEFT}" x2="{WIDE - RIGHT}" y1="{y(wanted):.1f}" y2="{y(wanted):.1f}"/>',
        f'<text class="limit-word" x="{LEFT + 4}" y="{y(wanted) - 4:.1f}">'
        f"unusual from {limit:,.0f} up</text>",
    ]
    # the words lie above the path
    parts.insert(0, f'<polyline class="path" points="{line}"/>')
    told = escape(f"Path of the e-value of {test.of} over {rolls:,} rolls; {limit:,.0f} is needed")
    return f'<svg class="e-path" viewBox="0 0 {WIDE} {HIGH}" role="img" aria-label="{told}">{"".join(parts)}</svg>'


def _ticks(low: int, high: int) -> Sequence[int]:
    step = max(1, -(-(high - low) // 5))
    return [power for power in range(low, high + 1) if power % step == 0]


def _power(power: int) -> str:
    if 0 <= power <= 3:
        return f"{10**power:,}"
    if -3 <= power < 0:
        return f"{10.0**power:g}"
    return f'10<tspan dy="-4" font-size="8">{str(power).replace("-", "−")}</tspan>'


def usual_words(level: float) -> str:
    """What the bands are."""
    return (
        f"Bar: what was rolled. Stroke: what the design expects. Band: the range in which all counts lie together in "
        f"{percent(1 - level)} of all such logs of a die that keeps the design's chances."
    )
