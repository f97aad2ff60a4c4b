"""The nearest totals: equal to brute force on tiny questions, known optima proved again, bounds that hold."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from math import prod

import numpy as np
import pytest
from facewright.constraints.brief import parse
from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.like import parse_like
from facewright.constraints.question import Numbering, StopRule
from facewright.search.answer import Closing
from facewright.search.engines.nearest import problem as problems
from facewright.search.engines.nearest.chain import Chain
from facewright.search.engines.nearest.totals import NearestTotals
from facewright.search.finding import find
from facewright.search.progress import silent
from facewright.search.recount import recount
from facewright.search.stop import Stop, never
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests import brute


def asking(dice: tuple[Die, ...], target: Distribution, nearest: str = "total-variation") -> Numbering:
    return Numbering("total", target, (dice,), accept="nearest", nearest=nearest)


def plain(faces: int, highest: int, lowest: int = 1) -> Die:
    return Die(faces, f"{faces}", 1, LabelRules(lowest, highest))


def answered(
    question: Numbering, limit: int = 1, stop: Stop = never
) -> tuple[list[NumberingDesign], Closing]:
    answering = NearestTotals().answer(question, limit, stop, 0, silent)
    return list(answering), answering.closing


def off(question: Numbering, labels: tuple[tuple[int, ...], ...]) -> Fraction:
    """How far dice are from the target by the question's measure, from the definition."""
    ways, outcomes = brute.totals(labels), prod(len(one) for one in labels)
    gaps = [
        abs(Fraction(ways.get(t, 0), outcomes) - question.target.chance(t))
        for t in set(ways) | set(question.target.ways)
    ]
    return max(gaps) if question.nearest == "largest" else sum(gaps, Fraction(0)) / 2


def nearest_by_force(question: Numbering) -> tuple[Fraction, set[NumberingDesign]]:
    least, found = Fraction(2), set[NumberingDesign]()
    for labels in product(*(list(brute.numberings(die)) for die in question.dice)):
        here = off(question, labels)
        if here < least:
            least, found = here, set()
        if here == least:
            found.add(NumberingDesign.of(question.dice, labels))
    return least, found


@st.composite
def questions(draw: st.DrawFn) -> Numbering:
    """Up to three dice of few faces, some alike, some fixed, with label rules; any small target."""
    dice = []
    for _ in range(draw(st.integers(1, 3))):
        faces = draw(st.integers(2, 3))
        low = draw(st.integers(-1, 2))
        rules = LabelRules(
            low,
            low + draw(st.integers(1, 3)),
            repeats=draw(st.sampled_from([None, None, 2])),
            avoid=draw(st.sampled_from([(), (), (low + 1,)])),
        )
        exactly = draw(st.sampled_from([None, None, None, tuple(range(low, low + faces))]))
        dice += [Die(faces, "x", 1, rules, exactly)] * draw(st.sampled_from([1, 1, 2]))
    dice = dice[:3]
    ways = draw(st.dictionaries(st.integers(-3, 12), st.integers(1, 5), min_size=1, max_size=7))
    nearest = draw(st.sampled_from(["total-variation", "largest"]))
    return asking(tuple(dice), Distribution.of(ways), nearest)


@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(questions())
def test_the_same_as_brute_force(question: Numbering) -> None:
    if problems.refusal(question) or brute.work(question) > 20_000:
        return
    least, every = nearest_by_force(question)
    if not every:
        designs, closing = answered(question)
        assert (designs, closing.verdict) == ([], "none")
        return
    [design], closing = answered(question)
    assert closing.verdict == "best"
    assert closing.bound == str(least)
    assert off(question, tuple(die.labels for die in design.dice)) == least
    assert recount(question, design).faults == ()
    many = Numbering(**{**vars(question), "stop": StopRule(designs=5_000)})
    designs, closing = answered(many, limit=5_000)
    assert set(designs) == every
    assert len(designs) == len(every) == closing.count
    assert closing.count_is == "all"


KNOWN = [
    # source: own computation, by a separate program (a CP-SAT model run to its end)
    ((12, 8), "2d10", 12, Fraction(7, 240)),
    ((12, 12), "2d10", 12, Fraction(1, 50)),
    ((12, 20), "2d10", 12, Fraction(1, 100)),
]


@pytest.mark.parametrize(("faces", "like", "highest", "distance"), KNOWN)
def test_known_optima(faces: tuple[int, ...], like: str, highest: int, distance: Fraction) -> None:
    question = asking(tuple(plain(n, highest) for n in faces), parse_like(like))
    [design], closing = answered(question)
    assert closing.verdict == "best"
    finding = recount(question, design)
    assert finding.agrees
    assert finding.distance == distance


def test_exact_designs_are_nearest_where_they_exist() -> None:
    cube = plain(6, 11)
    question = asking((cube, cube), parse_like("2d6"))
    question = Numbering(**{**vars(question), "stop": StopRule(designs=50)})
    designs, closing = answered(question, limit=50)
    assert {design.dice[0].labels for design in designs} == {(1, 2, 2, 3, 3, 4), (1, 2, 3, 4, 5, 6)}
    assert (closing.count, closing.count_is) == (2, "all")
    assert "exactly" in closing.reason


def test_a_search_cut_short_gives_its_best_and_a_bound_that_holds() -> None:
    """One cooling, then the stop: no proof has begun, the arithmetic bound stands."""
    question = asking((plain(12, 12), plain(8, 12)), parse_like("2d10"))
    [design], closing = answered(question, stop=lambda: "time")
    assert closing.verdict == "partial"
    assert closing.bound is not None
    assert Fraction(closing.bound) <= Fraction(7, 240) <= recount(question, design).distance


def test_the_chain_goes_on_where_it_was_left() -> None:
    """Designs come in portions of the buffer's size; none is lost or met twice between them."""
    given_ = problems.problem(asking((plain(4, 6), plain(4, 6)), parse_like("2d4")))
    table, low = problems.bounds(given_), problems.floors(given_)
    below = given_.unit // 3
    chain = Chain(given_, table, low, below, improve=False)
    met, ended = [], False
    while not ended:
        found, ended = chain.go_on()
        met += [given_.design(counts) for counts in found]
    question = asking(given_.dice, parse_like("2d4"))
    wanted = {
        NumberingDesign.of(given_.dice, labels)
        for labels in product(*(list(brute.numberings(die)) for die in given_.dice))
        if off(question, labels) < Fraction(1, 3)
    }
    assert len(met) > 256
    assert len(met) == len(set(met))
    assert set(met) == wanted


def test_the_bound_by_sums_is_the_least_over_whole_ways() -> None:
    given_ = problems.problem(asking((plain(2, 3), plain(3, 3)), Distribution.of({2: 1, 3: 2, 4: 2})))
    table = problems.bounds(given_)
    totals = len(given_.wanted)
    for start in range(totals):
        for total in range(given_.n + 1):
            least = (
                min(
                    sum(
                        abs(given_.m * ways - int(want))
                        for ways, want in zip(some, given_.wanted[start:], strict=True)
                    )
                    for some in product(range(total + 1), repeat=totals - start)
                    if sum(some) == total
                )
                if totals - start < 4
                else None
            )
            if least is not None:
                assert table[start, total] == least
    assert np.all(problems.floors(given_) >= 0)


def test_a_die_that_no_labels_fill_has_none() -> None:
    die = Die(6, "cube", 1, LabelRules(1, 2, repeats=2))
    designs, closing = answered(asking((die,), parse_like("d6")))
    assert (designs, closing.verdict) == ([], "none")
    assert "more faces than labels" in closing.reason


def test_a_brief_asks_for_the_nearest() -> None:
    text = (
        'title = "t"\nlike = "2d4"\nread = "total"\ndice = [6, 3]\naccept = "nearest"\nnearest = "largest"\n'
    )
    question = parse(text, "test")
    assert isinstance(question, Numbering)
    assert question.fingerprint() != parse(text.replace("largest", "total-variation"), "test").fingerprint()
    answer = find(question)
    assert answer.verdict == "best"
    assert "largest deviation" in answer.reason
