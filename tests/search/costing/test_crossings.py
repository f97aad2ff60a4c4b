"""Crossovers and break-even against brute force on every quantity; what moves a cost most; comparing ranges."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from facewright.constraints.rates import Rates, shipped
from facewright.search.costing.crossings import best_of, break_even, cheapest, crossings, stretches
from facewright.search.costing.job import SetJob
from facewright.search.costing.lines import Curve, Line
from facewright.search.costing.quote import quote
from facewright.search.costing.routes import curves_of
from facewright.search.costing.scenarios import Range, Scenarios, movers, range_of, really_less
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.costing_jobs import BY, ONE_CUBE, PAIR, jobs, random_rates

MOST = 3000


def made_up(route: str, once: float, running: float, worn: tuple[float, float] | None = None) -> Curve:
    """A curve with these likely amounts, and no range."""
    one = np.ones(1)
    lines = [
        Line("once", "", one, (), np.array([once]), "once"),
        Line("running", "", one, (), np.array([running]), "a set"),
    ]
    if worn is not None:
        lines.append(Line("worn", "", one, (), np.array([worn[0]]), "renewed", 1.0, np.array([worn[1]])))
    return Curve(route, "", tuple(lines))


amounts = st.integers(0, 400).map(float)
made_up_curves = st.lists(
    st.builds(
        made_up,
        st.sampled_from(BY),
        amounts,
        st.integers(1, 60).map(lambda x: x / 10),
        st.none() | st.tuples(amounts, st.integers(1, 900).map(float)),
    ),
    min_size=1,
    max_size=6,
)


def judged(curves: list[Curve], first: int, last: int) -> None:
    found = stretches(curves, first, last)
    assert found[0].first == first
    assert found[-1].last == last
    for before, after in pairwise(found):
        assert after.first == before.last + 1
        assert after.best != before.best
    for one in found:
        for sets in range(one.first, one.last + 1):
            best = min(curve.likely(sets) for curve in curves)
            assert curves[one.best].likely(sets) <= best * (1 + 1e-12) + 1e-9


@given(made_up_curves)
@settings(max_examples=60)
def test_the_cheapest_curve_at_every_quantity(curves: list[Curve]) -> None:
    judged(curves, 1, MOST)


@given(jobs(), random_rates())
@settings(max_examples=6)
def test_the_cheapest_route_of_real_jobs_at_every_quantity(job: SetJob, rates: Rates) -> None:
    judged(list(curves_of(job, Scenarios.of(rates), BY)), 1, MOST)


def test_a_crossing_by_hand() -> None:
    # 100 + 3q against 400 + q: equal at 150, which is no difference, the second is cheaper from 151 on
    found = crossings([made_up("cast", 100, 3), made_up("mould", 400, 1)], 1, 1000)
    assert [(one.sets, one.of, one.to, one.unsure) for one in found] == [(151, "cast", "mould", (150, 151))]
    assert crossings([made_up("cast", 100, 1), made_up("mould", 400, 1)], 1, 10**9) == ()


def test_where_a_difference_is_not_real() -> None:
    found = quote(PAIR, shipped(), BY, (500, 10_000))
    assert found is not None
    assert found.crossings
    for one in found.crossings:
        low, high = one.unsure
        assert low <= one.sets <= high

        def sure(sets: int, of: str, to: str) -> bool:
            first, second = (best_of(found.curves, route, sets).total(sets) for route in (of, to))
            return really_less(first, second) or really_less(second, first)

        assert not sure(one.sets, one.of, one.to)
        assert low == 1 or sure(low - 1, one.of, one.to)
        assert high == found.reach or sure(high + 1, one.of, one.to)


@given(made_up_curves, st.integers(1, 80).map(lambda x: x / 4))
@settings(max_examples=60)
def test_break_even_at_every_quantity(curves: list[Curve], receipt: float) -> None:
    curve = curves[0]
    found = break_even(curve, receipt)
    covering = [sets for sets in range(1, MOST) if curve.likely(sets) <= receipt * sets]
    if found is not None and found < MOST:
        assert covering[0] == found
    else:
        assert not covering


def test_break_even_is_never_above_the_quantity_that_the_price_is_made_for() -> None:
    found = quote(ONE_CUBE, shipped(), BY, (1, 500, 10**9))
    assert found is not None
    for one in found.quantities:
        assert one.break_even is not None
        assert one.break_even <= one.sets
        # the shop keeps 45 %, the maker 30 % of the rest
        assert one.price.likely == pytest.approx(one.best.unit.likely / (0.55 * 0.7))


def test_ranges_by_hand() -> None:
    # 3 and 4 downwards, 4 and 3 upwards
    assert range_of(np.array([10.0, 7.0, 14.0, 6.0, 13.0])) == Range(5.0, 10.0, 15.0)
    # both values of a rate on one side
    assert range_of(np.array([10.0, 11.0, 12.0])) == Range(10.0, 10.0, 12.0)


figures = st.lists(st.floats(-50, 50), min_size=5, max_size=5)


@given(figures, figures)
def test_ranges_that_do_not_touch_always_differ_really(one: list[float], other: list[float]) -> None:
    left, right = np.array(one), np.array(other)
    if range_of(left).high < range_of(right).low - 1e-9:
        assert really_less(left, right)
    assert not (really_less(left, right) and really_less(right, left))
    assert not really_less(left, left)


def test_what_is_shared_cancels_in_a_comparison() -> None:
    shared = np.array([10.0, 2.0, 30.0])
    assert not range_of(shared).high < range_of(shared + 1).low
    assert really_less(shared, shared + 1)


def test_what_moves_a_cost_most_against_a_cost_worked_out_anew() -> None:
    found = quote(ONE_CUBE, shipped(), BY, (2000,))
    assert found is not None
    at = found.quantities[0]
    swings = {}
    for key, rate in shipped().rates:
        units = []
        for value in (rate.low, rate.high):
            fixed = shipped().with_rates({key: type(rate)(value, value, value, rate.unit, rate.source)})
            curves = [c for c in curves_of(ONE_CUBE, Scenarios.of(fixed), BY) if c.way == at.best.curve.way]
            units.append(curves[0].likely(2000) / 2000)
        swings[key] = abs(units[1] - units[0])
    strongest = sorted(swings, key=lambda key: -swings[key])[:3]
    assert [one.key for one in at.movers] == strongest
    for one in at.movers:
        assert one.swing == pytest.approx(swings[one.key], rel=1e-9)


def test_the_cheapest_of_equals_is_the_first() -> None:
    assert cheapest([made_up("cast", 1, 1), made_up("mould", 1, 1)], 7) == 0


def test_every_rate_has_two_scenarios() -> None:
    rates = Scenarios.of(shipped())
    assert "mould.press" not in rates.keys
    for at, key in enumerate(rates.keys):
        column, rate = rates[key], shipped().by_key[key]
        assert (column[0], column[1 + 2 * at], column[2 + 2 * at]) == (rate.likely, rate.low, rate.high)
        assert set(np.delete(column, [1 + 2 * at, 2 + 2 * at])) == {rate.likely}
    moved = movers(rates, rates["cast.resin"] * rates["cast.pulls"], 9)
    assert {one.key for one in moved} == {"cast.resin", "cast.pulls"}
