"""The routes in one table: what each costs by the number of sets, and why one is not open."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from facewright.constraints.grammar import series
from facewright.constraints.product import ROUTES
from facewright.search.costing import blanks, cast, mould
from facewright.search.costing.job import SetJob
from facewright.search.costing.lines import Curve
from facewright.search.costing.scenarios import Scenarios

CURVES: dict[str, Callable[[SetJob, Scenarios], Iterator[Curve]]] = {
    blanks.ROUTE: blanks.curves,
    cast.ROUTE: cast.curves,
    mould.ROUTE: mould.curves,
}
"""The curves of each route."""

assert set(CURVES) == set(ROUTES)


def curves_of(job: SetJob, rates: Scenarios, by: Sequence[str]) -> tuple[Curve, ...]:
    """The curves of some routes, in their order."""
    return tuple(curve for route in by for curve in CURVES[route](job, rates))


def closed(job: SetJob, rates: Scenarios, by: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """The routes that are not open to a set, each with the reason."""
    lacking = blanks.lacking(job, rates) if blanks.ROUTE in by else ()
    if not lacking:
        return ()
    return ((blanks.ROUTE, f"there are no stock blanks of the {series(lacking)}"),)
