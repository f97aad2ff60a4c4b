"""Jobs and rates for tests of costs: plain ones worked out by hand, and random ones."""

from __future__ import annotations

from dataclasses import replace

from facewright.constraints.rates import Rate, Rates, shipped
from facewright.search.costing.job import DieJob, SetJob
from hypothesis import strategies as st

CUBE = DieJob(
    solid="cube", count=1, faces=6, marked=6, marks=6, characters=6, slides=0, inradius_mm=8.0, area_mm2=443.4,
    volume_mm3=4096.0,
)  # fmt: skip
"""A cube 16 mm across flats with 1 … 6."""

BALL = DieJob(
    solid="icosahedron", count=1, faces=20, marked=20, marks=20, characters=31, slides=4, inradius_mm=9.0,
    area_mm2=300.0, volume_mm3=3684.0,
)  # fmt: skip
"""An icosahedron 18 mm across flats with 1 … 20."""

ONE_CUBE = SetJob((CUBE,))
PAIR = SetJob((CUBE, BALL), colours=2, inks=2, core=True)

BY = ("marked-blanks", "cast", "mould")


def with_rate(rates: Rates, key: str, likely: float) -> Rates:
    """The rates with one of them fixed."""
    one = rates.by_key[key]
    return rates.with_rates({key: Rate(likely, likely, likely, one.unit, one.source)})


def fixed(rates: Rates | None = None) -> Rates:
    """All rates fixed at their likely values."""
    known = rates or shipped()
    return known.with_rates(
        {key: replace(rate, low=rate.likely, high=rate.likely) for key, rate in known.rates}
    )


@st.composite
def jobs(draw: st.DrawFn) -> SetJob:
    """Sets of one to three kinds of dice."""
    dice = draw(st.lists(st.sampled_from([CUBE, BALL]), min_size=1, max_size=2, unique=True))
    made = tuple(
        replace(
            die,
            count=draw(st.integers(1, 3)),
            characters=draw(st.integers(die.marks, 3 * die.marks)),
            owned=frozenset(draw(st.sets(st.sampled_from(["mould", "master", "blanks"])))),
        )
        for die in dice
    )
    return SetJob(made, draw(st.integers(1, 3)), draw(st.integers(1, 3)), draw(st.booleans()))


@st.composite
def random_rates(draw: st.DrawFn) -> Rates:
    """The shipped rates, each multiplied by something from a half to two where that keeps it sound."""
    found = {}
    for key, rate in shipped().rates:
        if rate.unit == "°C" or rate.unit.startswith(("share", "from the ball", "part of", "power")):
            continue
        by = draw(st.sampled_from([0.5, 0.8, 1.0, 1.3, 2.0]))
        found[key] = replace(rate, low=rate.low * by, likely=rate.likely * by, high=rate.high * by)
    return shipped().with_rates(found)
