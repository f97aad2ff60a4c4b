"""Costs against sums worked out by hand, and what must hold of every route: more sets, dearer rates, ranges."""

from __future__ import annotations

import math

import numpy as np
import pytest
from facewright.constraints.rates import shipped
from facewright.search.costing.job import SetJob
from facewright.search.costing.lines import Curve
from facewright.search.costing.quote import line_rows, quote
from facewright.search.costing.routes import curves_of
from facewright.search.costing.scenarios import Scenarios, range_of
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.costing_jobs import BALL, BY, CUBE, ONE_CUBE, PAIR, fixed, jobs, random_rates, with_rate

SHIPPED = shipped()


def curve(job: SetJob, route: str, way: str = "") -> Curve:
    found = [one for one in curves_of(job, Scenarios.of(SHIPPED), (route,)) if one.way == way or not way]
    return found[0]


def test_a_cube_by_marked_blanks_as_worked_out_by_hand() -> None:
    # docs/reference/costs.md goes through these sums: 1,000 sets of one cube with 1 to 6, likely rates
    made = 1.01 / 0.98
    once = 80 + 1100 + 110 + 120
    blank = made * 0.14
    marking = made * (6 * 0.9 + 6 * 1.4) / 3600 * 40
    inking = made * 6 * 1.8 / 3600 * 28
    freight = 4.096 * 1.05 * 1.01 / 1000 * 3
    by_hand = once / 1000 + blank + marking + inking + 0.6 + freight
    assert by_hand == pytest.approx(2.4119, abs=5e-5)
    found = curve(ONE_CUBE, "marked-blanks")
    assert float(found.unit(1000)[0]) == pytest.approx(by_hand, rel=1e-12)
    assert found.likely(1000) == pytest.approx(1000 * by_hand, rel=1e-12)


def test_a_cube_in_silicone_as_worked_out_by_hand() -> None:
    made = 1.01 / 0.9
    dice = 1000 * made
    moulds = dice / (10 * 50)
    once = 80 + 1100 + 110 + 110
    silicone = moulds * 10 * 4.096 * 6 / 1000 * 25
    work = moulds * 0.7 * 28
    resin = 4.096 * 1.1 * dice / 0.88 / 1000 * 14
    labour = (dice / 10 * 420 + dice * 75 + dice * 6 * 1.8) / 3600 * 28
    rest = dice * 0.02 + 1000 * 0.6 + 1000 * 4.096 * 1.1 * 1.01 / 1000 * 3
    assert moulds > 1
    found = curve(ONE_CUBE, "cast").likely(1000)
    assert found == pytest.approx(once + silicone + work + resin + labour + rest, rel=1e-12)
    # the first mould is paid whole
    few = curve(ONE_CUBE, "cast").likely(10) - curve(ONE_CUBE, "cast").likely(9)
    assert few == pytest.approx((resin + labour + rest) / 1000, rel=1e-9)


def test_a_cube_moulded_as_worked_out_by_hand() -> None:
    made = 1.01 / 0.96
    over = (240 - 60) / (90 - 60)
    cooling = 0.016**2 / (3 * math.pi**2 * 1.7e-7) * math.log((4 / math.pi) ** 3 * over)
    tool = 1500 + 380 + 14 * 6 + 16 * 6
    once = 80 + 1100 + 110 + 120 + 190 + tool
    shot = made * (cooling * 0.6 + 11) / 3600 * 38
    resin = 4.096 * 1.05 * made / 0.85 / 1000 * 3
    labour = made * (3 + 6 * 1.8) / 3600 * 28
    rest = made * 0.02 + 0.6 + 4.096 * 1.05 * 1.01 / 1000 * 3
    found = curve(ONE_CUBE, "mould", "one tool, 1 cavity")
    assert found.likely(1000) == pytest.approx(once + 1000 * (shot + resin + labour + rest), rel=1e-12)
    # two cavities: half the shots, 2^0.75 times the inserts
    two = curve(ONE_CUBE, "mould", "one tool, 2 cavities")
    dearer = (2**0.75 - 1) * (380 + 14 * 6 + 16 * 6)
    assert two.likely(1000) - found.likely(1000) == pytest.approx(dearer - 500 * shot, rel=1e-9)


def test_what_the_maker_owns_is_not_paid_again() -> None:
    plain, owning = (
        SetJob((one,))
        for one in (CUBE, CUBE.__class__(**{**vars(CUBE), "owned": frozenset({"mould", "master"})}))
    )
    saved = curve(plain, "mould", "one tool, 1 cavity").likely(10) - curve(
        owning, "mould", "one tool, 1 cavity"
    ).likely(10)
    assert saved == pytest.approx(1500 + 380 + 14 * 6)
    assert curve(plain, "cast").likely(10) - curve(owning, "cast").likely(10) == pytest.approx(110)


def test_solids_without_blanks_close_that_route() -> None:
    odd = CUBE.__class__(**{**vars(CUBE), "solid": "octagonal bipyramid"})
    found = quote(SetJob((odd,)), SHIPPED, BY, (100,))
    assert found is not None
    assert found.closed == (("marked-blanks", "there are no stock blanks of the octagonal bipyramid"),)
    assert set(found.routes) == {"cast", "mould"}
    assert quote(SetJob((odd,)), SHIPPED, ("marked-blanks",), (100,)) is None
    blanks = CUBE.__class__(**{**vars(odd), "owned": frozenset({"blanks"})})
    assert quote(SetJob((blanks,)), SHIPPED, ("marked-blanks",), (100,)) is not None


def test_the_ways_of_a_mould() -> None:
    ways = [one.way for one in curves_of(PAIR, Scenarios.of(SHIPPED), ("mould",))]
    assert len(ways) == len(set(ways)) == 3 * 2 * 2
    assert sum("family" in way for way in ways) == 6
    assert sum("core" in way for way in ways) == 6


def test_the_clamp_is_a_check_and_changes_no_cost() -> None:
    narrow = with_rate(SHIPPED, "mould.press", 20)
    found, usual = (curves_of(ONE_CUBE, Scenarios.of(rates), ("mould",)) for rates in (narrow, SHIPPED))
    assert [one.likely(500) for one in found] == [one.likely(500) for one in usual]
    # 443.4 mm² × 30 to 50 MPa: 13.3 to 22.2 kN, 17.7 likely
    assert found[0].remarks == (
        "Clamp, cube: about 18 kN (13 to 22), at the limit of the 20 kN of the press: ask.",
    )
    assert "within the 500 kN" in usual[0].remarks[0]
    assert "take a larger press" in found[-1].remarks[0]


@given(jobs(), random_rates(), st.lists(st.integers(1, 10**9), min_size=2, max_size=4))
@settings(max_examples=40)
def test_more_sets_cost_more_in_all_and_never_more_each(job: SetJob, rates: object, sets: list[int]) -> None:
    for one in curves_of(job, Scenarios.of(rates), BY):  # type: ignore[arg-type]
        for few, many in zip(sorted(sets), sorted(sets)[1:], strict=False):
            assert one.likely(few) <= one.likely(many) * (1 + 1e-12)
            assert one.likely(many) / many <= one.likely(few) / few * (1 + 1e-12)
        assert float(one.total(sets[0])[0]) == pytest.approx(one.likely(sets[0]), rel=1e-9)


DEARER = [
    key for key, rate in SHIPPED.rates if rate.unit.startswith("EUR") or rate.unit.startswith(("s a", "h a"))
]


@given(jobs(), st.sampled_from(DEARER), st.floats(1.0, 5.0), st.integers(1, 10**6))
@settings(max_examples=60)
def test_dearer_rates_never_make_anything_cheaper(job: SetJob, key: str, by: float, sets: int) -> None:
    usual = fixed()
    dearer = with_rate(usual, key, usual.by_key[key].likely * by)
    for one, other in zip(
        *(curves_of(job, Scenarios.of(rates), BY) for rates in (usual, dearer)), strict=True
    ):
        assert other.likely(sets) >= one.likely(sets) * (1 - 1e-12)


@given(jobs(), random_rates(), st.integers(1, 10**9))
@settings(max_examples=30)
def test_ranges_hold_the_likely_value_and_each_rates_own_shift(job: SetJob, rates: object, sets: int) -> None:
    scenarios = Scenarios.of(rates)  # type: ignore[arg-type]
    for one in curves_of(job, scenarios, BY):
        figures = one.unit(sets)
        found = range_of(figures)
        assert found.low <= found.likely <= found.high
        assert found.low <= float(np.min(figures)) + 1e-9
        assert found.high >= float(np.max(figures)) - 1e-9


@given(jobs(), st.integers(1, 10**9))
@settings(max_examples=30)
def test_every_line_is_quantity_times_rates_and_the_lines_add_up(job: SetJob, sets: int) -> None:
    found = quote(job, SHIPPED, BY, (sets,))
    assert found is not None
    for offer in found.quantities[0].offers:
        total = 0.0
        for row in line_rows(offer, found.rates):
            amount = row["quantity"] * row["scale"] * math.prod(rate["value"] for rate in row["rates"])
            assert amount == pytest.approx(row["amount"]["likely"], rel=1e-9)
            assert all(rate["source"] and rate["unit"] for rate in row["rates"])
            # a rate that stands in the line moves it, unless it is a fixed quote
            for rate in row["rates"]:
                assert rate["key"] in row["moved_by"] or SHIPPED.by_key[rate["key"]].sure
            total += amount
        assert total / sets == pytest.approx(offer.unit.likely, rel=1e-9)


def test_fixed_rates_leave_no_range() -> None:
    found = quote(SetJob((BALL,)), fixed(), BY, (500,))
    assert found is not None
    unit = found.quantities[0].best.unit
    assert unit.low == unit.likely == unit.high
    assert found.quantities[0].movers == ()
    assert found.quantities[0].ties == ()
