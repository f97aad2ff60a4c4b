"""The engine of readouts against trying everything, on small solids."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, product
from math import prod

from facewright.constraints.readouts import Readouts
from facewright.constraints.views import SiteKind, Views
from facewright.search.engines.readouts_search import least
from facewright.search.progress import silent
from facewright.search.stop import never
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.readouts_asked import asked
from tests.solids_by_hand import cube, octahedron

SMALL = {one.solid: one for one in (cube(), octahedron())}
MOST = 8_000
WEIGHTS = {6: [(1, 1), (1, 1, 1), (1, 2), (1, 5)], 8: [(1, 1), (1, 1, 1, 1), (1, 3), (1, 1, 2), (1, 7)]}

Marks = dict[int, int]


def every_marking(weights: tuple[int, ...], kind: SiteKind, rests: int) -> Iterator[Marks]:
    """All markings of one readout on one kind of site, by trying every set of sites and every order of labels."""
    for size in range(1, len(kind.sites) + 1):
        for sites in combinations(kind.sites, size):
            if any(sum(site in shown for site in sites) != 1 for shown in kind.seen):
                continue
            for labels in product(range(len(weights)), repeat=size):
                times = Counter(
                    labels[sites.index(site)] for shown in kind.seen for site in shown if site in sites
                )
                if all(times[at] * sum(weights) == rests * w for at, w in enumerate(weights)):
                    yield dict(zip(sites, labels, strict=True))


def markings(question: Readouts, views: Views) -> list[list[Marks]]:
    return [
        [
            marks
            for kind in views.kinds
            if one.on in (None, kind.place)
            for marks in every_marking(one.weights, kind, views.rests)
        ]
        for one in question.readouts
    ]


def total_variation(
    question: Readouts, views: Views, chosen: tuple[Marks, ...], part: tuple[int, ...]
) -> Fraction:
    rolled = Counter(
        tuple(
            next(chosen[at][site] for kind in views.kinds for site in kind.seen[rest] if site in chosen[at])
            for at in part
        )
        for rest in range(views.rests)
    )
    weights = [question.readouts[at].weights for at in part]
    gaps = Fraction(0)
    for places in product(*(range(len(one)) for one in weights)):
        alone = prod(
            (Fraction(w[p], sum(w)) for w, p in zip(weights, places, strict=True)), start=Fraction(1)
        )
        gaps += abs(Fraction(rolled[places], views.rests) - alone)
    return gaps / 2


def objective(question: Readouts, views: Views, chosen: tuple[Marks, ...]) -> tuple[Fraction, ...]:
    everyone = tuple(range(len(chosen)))
    if question.measure == "together" or len(chosen) < 3:
        return (total_variation(question, views, chosen, everyone),)
    each = [total_variation(question, views, chosen, pair) for pair in combinations(everyone, 2)]
    return max(each), sum(each, Fraction(0))


def brute(question: Readouts, views: Views) -> tuple[Fraction, ...] | None:
    """The least objective of all markings; None where there is none."""
    found = [
        objective(question, views, chosen)
        for chosen in product(*markings(question, views))
        if max(Counter(site for marks in chosen for site in marks).values()) <= question.share
    ]
    return min(found, default=None)


@st.composite
def questions(draw: st.DrawFn) -> tuple[Readouts, Views]:
    views = SMALL[draw(st.sampled_from(sorted(SMALL)))]
    weights = draw(st.lists(st.sampled_from(WEIGHTS[views.rests]), min_size=2, max_size=3))
    on = draw(
        st.lists(
            st.sampled_from([None, "faces", "vertices", "edges"]),
            min_size=len(weights),
            max_size=len(weights),
        )
    )
    rules = {
        "measure": draw(st.sampled_from(["together", "pairs"])),
        "share": draw(st.sampled_from([1, 1, 2])),
    }
    return asked(views.solid, *weights, on=on, **rules), views


@settings(max_examples=40)
@given(questions())
def test_the_engine_finds_the_least_and_nothing_where_there_is_nothing(
    question: tuple[Readouts, Views],
) -> None:
    asked_, views = question
    if prod(len(one) for one in markings(asked_, views)) > MOST:
        return
    found = least(asked_, views, never, 0, silent)
    assert found.distances == brute(asked_, views)
