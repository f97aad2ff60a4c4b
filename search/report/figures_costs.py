"""Costs drawn: what a set costs by the number of sets, a band a route, with the crossovers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape

import numpy as np
from facewright.constraints.product import ROUTES
from facewright.search.costing.crossings import best_of
from facewright.search.costing.quote import Quote
from facewright.search.costing.scenarios import range_of
from facewright.search.report.products_text import ROUTE_WORDS

WIDTH, HEIGHT = 760, 400
LEFT, RIGHT, TOP, FOOT = 58, 138, 18, 46
"""Pixels; the right margin holds the names of the routes."""

POINTS = 72
"""Quantities at which a band is drawn."""

DASHES = ("", "7 4", "2 3")
"""A route has a dash of its own besides its colour."""

LEAST_GAP = 19
"""Pixels between two names."""


class _Axes:
    """From quantities and money to places in the figure, both on logarithmic scales."""

    def __init__(self, sets: tuple[float, float], money: tuple[float, float]) -> None:
        self._sets = [math.log10(one) for one in sets]
        self._money = [math.log10(one) for one in money]

    def across(self, sets: float) -> float:
        low, high = self._sets
        return LEFT + (math.log10(sets) - low) / (high - low) * (WIDTH - LEFT - RIGHT)

    def up(self, money: float) -> float:
        low, high = self._money
        return HEIGHT - FOOT - (math.log10(money) - low) / (high - low) * (HEIGHT - TOP - FOOT)


def costs_figure(quote: Quote, compare_at: int) -> str:
    """The unit cost of every open route over the number of sets, as SVG for a page that has our colours.

    Params:
        quote: what a product costs.
        compare_at: the number of sets at which products are compared, marked.
    """
    wanted = [one.sets for one in quote.quantities]
    first, last = max(1.0, min(wanted) / 4), float(max(wanted)) * 3
    quantities = np.geomspace(first, last, POINTS).tolist()
    bands = {
        route: [range_of(best_of(quote.curves, route, sets).unit(sets)) for sets in quantities]
        for route in quote.routes
    }
    low = min(one.low for band in bands.values() for one in band)
    high = max(one.high for band in bands.values() for one in band)
    axes = _Axes((first, last), (max(low, high / 1e6) * 0.92, high * 1.08))
    parts = [*_grid(axes, first, last, low, high, quote.currency)]
    for route, band in bands.items():
        number = ROUTES.index(route)
        points = list(zip(quantities, band, strict=True))
        upper = [f"{axes.across(sets):.1f},{axes.up(one.high):.1f}" for sets, one in points]
        lower = [
            f"{axes.across(sets):.1f},{axes.up(max(one.low, high / 1e6)):.1f}"
            for sets, one in reversed(points)
        ]
        line = " ".join(f"{axes.across(sets):.1f},{axes.up(one.likely):.1f}" for sets, one in points)
        parts.append(f'<polygon class="band route-{number + 1}" points="{" ".join(upper + lower)}"/>')
        dash = f' stroke-dasharray="{DASHES[number]}"' if DASHES[number] else ""
        parts.append(f'<polyline class="line route-{number + 1}" points="{line}"{dash}/>')
    ends = {route: axes.up(band[-1].likely) for route, band in bands.items()}
    for route, place in _spread(ends).items():
        number = ROUTES.index(route)
        parts.append(
            f'<text class="name route-{number + 1}" x="{WIDTH - RIGHT + 8}" y="{place + 4:.1f}">'
            f"{escape(ROUTE_WORDS[route])}</text>"
        )
    parts += _crossings(quote, axes, first, last)
    at = axes.across(compare_at)
    if LEFT <= at <= WIDTH - RIGHT:
        parts.append(f'<line class="at" x1="{at:.1f}" y1="{TOP}" x2="{at:.1f}" y2="{HEIGHT - FOOT}"/>')
    title = f"What a set costs in {quote.currency}, by the number of sets"
    return (
        f'<svg class="costs" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{escape(title, quote=True)}">'
        + "".join(parts)
        + "</svg>"
    )


def _grid(axes: _Axes, first: float, last: float, low: float, high: float, currency: str) -> list[str]:
    parts = []
    for money in _ticks(low, high):
        place = axes.up(money)
        if TOP <= place <= HEIGHT - FOOT:
            parts.append(
                f'<line class="grid" x1="{LEFT}" y1="{place:.1f}" x2="{WIDTH - RIGHT}" y2="{place:.1f}"/>'
            )
            parts.append(
                f'<text class="tick" x="{LEFT - 8}" y="{place + 4:.1f}" text-anchor="end">{money:g}</text>'
            )
    for sets in _ticks(first, last):
        place = axes.across(sets)
        if LEFT <= place <= WIDTH - RIGHT:
            parts.append(
                f'<line class="grid" x1="{place:.1f}" y1="{TOP}" x2="{place:.1f}" y2="{HEIGHT - FOOT}"/>'
            )
            parts.append(
                f'<text class="tick" x="{place:.1f}" y="{HEIGHT - FOOT + 18}" text-anchor="middle">'
                f"{_short(sets)}</text>"
            )
    parts.append(
        f'<text class="tick" x="{LEFT}" y="{TOP - 6}" text-anchor="start">{escape(currency)} a set</text>'
    )
    middle = (LEFT + WIDTH - RIGHT) / 2
    parts.append(f'<text class="tick" x="{middle:.0f}" y="{HEIGHT - 8}" text-anchor="middle">sets</text>')
    return parts


def _ticks(low: float, high: float) -> list[float]:
    """Round numbers from below `low` to above `high`: powers of ten with 1, 2 and 5, or fewer where many."""
    decades = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
    steps = (1, 2, 5) if len(decades) <= 4 else (1,)
    return [step * 10.0**decade for decade in decades for step in steps]


def _short(sets: float) -> str:
    if sets >= 1e6:
        return f"{sets / 1e6:g} million"
    return f"{sets:,.0f}" if sets >= 1 else f"{sets:g}"


def _crossings(quote: Quote, axes: _Axes, first: float, last: float) -> list[str]:
    """A ring where the cheapest route changes, with its quantity below the curve."""
    parts = []
    for one in quote.crossings:
        if not first <= one.sets <= last:
            continue
        money = float(best_of(quote.curves, one.to, one.sets).unit(one.sets)[0])
        across, up = axes.across(one.sets), axes.up(money)
        parts.append(f'<circle class="cross" cx="{across:.1f}" cy="{up:.1f}" r="5"/>')
        parts.append(
            f'<text class="crossed" x="{across:.1f}" y="{min(up + 22, HEIGHT - FOOT - 6):.1f}" text-anchor="middle">'
            f"{one.sets:,}</text>"
        )
    return parts


def _spread(ends: dict[str, float]) -> dict[str, float]:
    """Places of names, moved down where they would stand on each other, and up again at the foot."""
    placed: dict[str, float] = {}
    lowest = -math.inf
    for route, place in sorted(ends.items(), key=lambda one: one[1]):
        lowest = max(place, lowest + LEAST_GAP)
        placed[route] = lowest
    over = max(0.0, lowest - (HEIGHT - FOOT))
    return {route: place - over for route, place in placed.items()}


def share_bar(share: float, words: Sequence[str] = ()) -> str:
    """A share as a small bar, as SVG."""
    title = f"<title>{escape(' '.join(words))}</title>" if words else ""
    filled = 64 * max(0.0, min(1.0, share))
    return (
        f'<svg class="share" viewBox="0 0 64 6" aria-hidden="true">{title}'
        '<rect class="all" width="64" height="6" rx="3"/>'
        f'<rect class="some" width="{filled:.1f}" height="6" rx="3"/></svg>'
    )
