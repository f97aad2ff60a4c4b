"""Where one route becomes cheaper than another: the lower envelope of curves that are straight between their kinks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np
from facewright.search.costing.lines import Curve
from facewright.search.costing.scenarios import range_of

MOST_SETS = 10**9
"""How far quantities go."""

STEPS = 96
"""Quantities at which ranges are looked at, evenly on a logarithmic scale."""


@dataclass(frozen=True)
class Stretch:
    """From `first` to `last` sets, both included, the curve at `best` (a position) is the cheapest at likely rates."""

    first: int
    last: int
    best: int


@dataclass(frozen=True)
class Crossing:
    """From `sets` sets on, `to` is cheaper than `of`, at likely rates; both are routes.

    Between `unsure[0]` and `unsure[1]` sets there is no real difference between the two.
    """

    sets: int
    of: str
    to: str
    unsure: tuple[int, int]


def stretches(curves: Sequence[Curve], first: int, last: int) -> tuple[Stretch, ...]:
    """The cheapest curve for every whole number of sets from `first` to `last`; of equal ones the first."""
    cuts = sorted({first, last + 1, *_cuts(curves, first, last)})
    found: list[Stretch] = []
    for start, end in pairwise(cuts):
        best = cheapest(curves, start)
        if found and found[-1].best == best:
            found[-1] = Stretch(found[-1].first, end - 1, best)
        else:
            found.append(Stretch(start, end - 1, best))
    return tuple(found)


def cheapest(curves: Sequence[Curve], sets: float) -> int:
    """The position of the curve that is cheapest for so many sets, at likely rates; of equal ones the first."""
    return min(range(len(curves)), key=lambda at: (curves[at].likely(sets), at))


def _cuts(curves: Sequence[Curve], first: int, last: int) -> set[int]:
    """Whole numbers of sets between which no two curves cross: just after kinks, just around crossings."""
    kinks = {kink for curve in curves for kink in curve.kinks if first < kink < last}
    edges = [float(first), *sorted(kinks), float(last)]
    cuts: set[int] = set()
    for low, high in pairwise(edges):
        for at in (low, high):
            cuts |= {int(np.floor(at)), int(np.floor(at)) + 1}
        middle = (low + high) / 2
        for one, other in combinations(curves, 2):
            slope = one.slope(middle) - other.slope(middle)
            if slope:
                at = middle - (one.likely(middle) - other.likely(middle)) / slope
                if low <= at <= high:
                    # one to each side besides, for what rounding does to the crossing
                    cuts |= {int(np.floor(at)) + step for step in (-1, 0, 1, 2)}
    return {cut for cut in cuts if first <= cut <= last}


def crossings(curves: Sequence[Curve], first: int, last: int) -> tuple[Crossing, ...]:
    """Where the cheapest route changes, ways of one route taken together."""
    found = []
    for before, after in zip(whole := stretches(curves, first, last), whole[1:], strict=False):
        of, to = curves[before.best].route, curves[after.best].route
        if of != to:
            found.append(Crossing(after.first, of, to, _unsure(curves, of, to, after.first, first, last)))
    return tuple(found)


def _unsure(curves: Sequence[Curve], of: str, to: str, at: int, first: int, last: int) -> tuple[int, int]:
    """The quantities around a crossing at which the two routes do not really differ."""

    def open_at(sets: int) -> bool:
        one, other = (best_of(curves, route, sets).total(sets) for route in (of, to))
        apart = range_of(one - other)
        return apart.low <= 0 <= apart.high

    grid = sorted({first, last, at, *np.geomspace(first, last, STEPS).round().astype(int).tolist()})
    place = grid.index(at)
    low = high = at
    for sets in reversed(grid[:place]):
        if not open_at(sets):
            low = _border(open_at, sets, low)
            break
        low = sets
    for sets in grid[place:]:
        if not open_at(sets):
            high = _border(open_at, sets, high)
            break
        high = sets
    return low, high


def _border(open_at: Callable[[int], bool], shut: int, known: int) -> int:
    """The last quantity that is still unsure, from one that is not towards one that is."""
    while abs(known - shut) > 1:
        middle = (known + shut) // 2
        if open_at(middle):
            known = middle
        else:
            shut = middle
    return known


def best_of(curves: Sequence[Curve], route: str, sets: float) -> Curve:
    """The cheapest way of a route for so many sets; raises ValueError where the route is not open."""
    own = [curve for curve in curves if curve.route == route]
    return own[cheapest(own, sets)]


def break_even(curve: Curve, receipt: float) -> int | None:
    """The least number of sets whose receipts cover their cost at likely rates; None where that never happens.

    Params:
        receipt: what the maker is paid for a set.
    """
    if curve.likely(MOST_SETS) > receipt * MOST_SETS:
        return None
    short, enough = 0, MOST_SETS
    while enough - short > 1:
        middle = (short + enough) // 2
        if curve.likely(middle) <= receipt * middle:
            enough = middle
        else:
            short = middle
    return enough
