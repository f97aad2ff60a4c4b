"""What a set costs: by quantity the routes side by side, the best, its price, its lines and what moves it most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from facewright.constraints.rates import Rates
from facewright.search.costing.crossings import Crossing, best_of, break_even, cheapest, crossings
from facewright.search.costing.job import SetJob
from facewright.search.costing.lines import Curve, Line
from facewright.search.costing.routes import closed, curves_of
from facewright.search.costing.scenarios import Mover, Range, Scenarios, movers, range_of, really_less

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Figures = NDArray[np.float64]

REACH = 10
"""Crossovers are looked for up to so many times the largest quantity asked for."""

LEAST_REACH = 100_000


@dataclass(frozen=True, eq=False)
class Offer:
    """One route for one number of sets: the cheapest way of it, and what one set costs."""

    curve: Curve
    sets: int

    @property
    def route(self) -> str:
        """Its route."""
        return self.curve.route

    @cached_property
    def figures(self) -> Figures:
        """What one set costs, over the scenarios."""
        return self.curve.unit(self.sets)

    @property
    def unit(self) -> Range:
        """What one set costs."""
        return range_of(self.figures)

    @property
    def lines(self) -> list[tuple[Line, Range]]:
        """Its lines with what each comes to for all sets."""
        return [(line, range_of(line.at(self.sets))) for line in self.curve.lines]


@dataclass(frozen=True, eq=False)
class Quantity:
    """Everything about one number of sets: the routes, cheapest first, and what follows from the first.

    `ties` are the routes that do not really differ from the cheapest. `price` is the shelf price before tax at which
    shop and maker keep their shares; `break_even` the least number of sets that covers its costs at that price.
    """

    sets: int
    offers: tuple[Offer, ...]
    ties: tuple[str, ...]
    price: Range
    break_even: int | None
    movers: tuple[Mover, ...]

    @property
    def best(self) -> Offer:
        """The cheapest route, at likely rates."""
        return self.offers[0]


@dataclass(frozen=True, eq=False)
class Quote:
    """What a set costs by the routes of a brief, at its quantities, with the crossovers."""

    job: SetJob
    rates: Scenarios
    curves: tuple[Curve, ...]
    quantities: tuple[Quantity, ...]
    crossings: tuple[Crossing, ...]
    closed: tuple[tuple[str, str], ...]

    @property
    def currency(self) -> str:
        """The currency of all money."""
        return self.rates.rates.currency

    @property
    def routes(self) -> tuple[str, ...]:
        """The routes that are open, in the order of the brief."""
        return tuple(dict.fromkeys(curve.route for curve in self.curves))

    @property
    def reach(self) -> int:
        """Up to how many sets the crossovers were looked for."""
        return reach_of([one.sets for one in self.quantities])

    def at(self, sets: int) -> Quantity:
        """All about one number of sets, which need not be among the brief's."""
        known = next((one for one in self.quantities if one.sets == sets), None)
        return known or quantity(self.curves, self.rates, sets)


def reach_of(sets: Sequence[int]) -> int:
    """Up to how many sets crossovers are looked for."""
    return min(10**9, max(LEAST_REACH, REACH * max(sets)))


def quote(job: SetJob, rates: Rates, by: Sequence[str], sets: Sequence[int]) -> Quote | None:
    """What a set costs; None where no route is open to it.

    Params:
        job: what is made.
        rates: all rates.
        by: the routes that are tried.
        sets: numbers of sets.
    """
    scenarios = Scenarios.of(rates)
    curves = curves_of(job, scenarios, by)
    shut = closed(job, scenarios, by)
    if not curves:
        return None
    found = tuple(quantity(curves, scenarios, one) for one in sets)
    return Quote(job, scenarios, curves, found, crossings(curves, 1, reach_of(sets)), shut)


def quantity(curves: Sequence[Curve], rates: Scenarios, sets: int) -> Quantity:
    """All about one number of sets."""
    routes = dict.fromkeys(curve.route for curve in curves)
    offers = [Offer(best_of(curves, route, sets), sets) for route in routes]
    first = curves[cheapest(curves, sets)].route
    offers.sort(key=lambda one: (one.curve.likely(sets), one.route != first))
    best = offers[0]
    ties = tuple(one.route for one in offers[1:] if not really_less(best.figures, one.figures))
    kept = 1 - rates["general.margin"]
    price = best.figures / ((1 - rates["general.shop_discount"]) * kept)
    receipt = float(best.figures[0] / kept[0])
    return Quantity(
        sets,
        tuple(offers),
        ties,
        range_of(price),
        break_even(best.curve, receipt),
        movers(rates, best.figures),
    )


def line_rows(offer: Offer, rates: Scenarios) -> list[dict[str, Any]]:
    """Every line of an offer as plain values: quantity × rates = amount, with the rates' values, units and sources."""
    known = rates.rates.by_key
    rows = []
    for line, amount in offer.lines:
        times = float(line.times(offer.sets)[0])
        rows.append(
            {
                "line": line.name,
                "per": line.per,
                "quantity": float(line.count[0]) * times,
                "of": line.what,
                "rates": [
                    {
                        "key": key,
                        "value": known[key].likely,
                        "unit": known[key].unit,
                        "source": known[key].source,
                    }
                    for key in line.keys
                ],
                "scale": line.scale,
                "amount": amount.as_json(),
                "moved_by": list(rates.moved_by(line.at(offer.sets))),
            }
        )
    return rows
