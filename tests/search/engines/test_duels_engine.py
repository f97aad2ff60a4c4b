"""The engine of duels against brute force: bests, refusals, counts, lists; its two methods against each other."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations_with_replacement, product

import pytest
from facewright.constraints.contest import BEATS, Contest
from facewright.constraints.duels import least_chance, ring, two_beaten_by_one
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import StopRule
from facewright.search.answer import Answering
from facewright.search.engines.duels.counting import counted_up_to_exchange
from facewright.search.engines.duels.engine import Duels
from facewright.search.engines.duels.frame import Frame
from facewright.search.engines.duels.graph import count_up_to_turns, ring_of, vertices_of
from facewright.search.engines.duels.problem import Problem, cycles_of, freed, spread_out
from facewright.search.engines.duels.sweep import Needs
from facewright.search.progress import silent
from facewright.search.recount_contests import recount_contest
from facewright.search.stop import never
from hypothesis import given, settings
from hypothesis import strategies as st

HALF = Fraction(1, 2)
Labels = tuple[tuple[int, ...], ...]


def die(faces: int, highest: int, **rules: object) -> Die:
    exactly = rules.pop("exactly", None)
    return Die(faces, f"solid {faces}", 1, LabelRules(1, highest, **rules), exactly)  # type: ignore[arg-type]


def every(question: Contest) -> list[Labels]:
    """Every way to label the dice within the rules of labels and ties."""
    dice = question.dice
    ways = [
        [
            one
            for one in combinations_with_replacement(range(d.rules.lowest, d.rules.highest + 1), d.faces)
            if d.keeps(one)
        ]
        for d in dice
    ]
    found = []
    for labels in product(*ways):
        owners = [label for one in labels for label in set(one)]
        if question.ties == "lose" or len(owners) == len(set(owners)):
            found.append(labels)
    return found


def brute(question: Contest) -> tuple[Fraction, set[str]]:
    """The greatest least chance, and the ids of all designs that reach what is asked, or else that chance."""
    arcs = question.arcs(len(question.dice))
    chances = {labels: least_chance(labels, arcs) for labels in every(question)}
    best = max(chances.values(), default=Fraction(0))
    asked = question.chance_at_least
    if asked is None:
        good = [one for one, chance in chances.items() if chance == best > HALF]
    else:
        good = [
            one
            for one, chance in chances.items()
            if chance > asked or (chance == asked and not question.strictly)
        ]
    return best, {question.design(question.dice, one).id for one in good}


def answered(question: Contest, limit: int = 10_000) -> tuple[Answering, list[str]]:
    answering = Duels().answer(question, limit, never, 0, silent)
    ids = []
    for design in answering:
        assert recount_contest(question, design).agrees
        ids.append(design.id)
    assert len(ids) == len(set(ids))
    return answering, ids


@st.composite
def questions(draw: st.DrawFn) -> Contest:
    """Tiny questions: two to four dice, few labels, rules, ties, rings and other patterns."""
    size = draw(st.integers(2, 4))
    most = {2: 4, 3: 3, 4: 2}[size]
    highest = draw(st.integers(2, {2: 6, 3: 5, 4: 5}[size]))
    kinds = [
        die(
            draw(st.integers(2, most)),
            highest,
            repeats=draw(st.sampled_from([None, None, 1, 2])),
            avoid=draw(st.sampled_from([(), (), (2,)])),
        )
        for _ in range(draw(st.integers(1, 2)))
    ]
    dice = [draw(st.sampled_from(kinds)) for _ in range(size)]
    if draw(st.integers(0, 3)) == 0:
        exactly = tuple(sorted(draw(st.lists(st.integers(1, highest), min_size=2, max_size=3))))
        dice[0] = die(len(exactly), highest, exactly=exactly)
    pairs = [(one, other) for one in range(size) for other in range(size) if one != other]
    beats = draw(
        st.sampled_from([(), (), tuple(draw(st.lists(st.sampled_from(pairs), min_size=1, unique=True)))])
    )
    return Contest(
        BEATS,
        (tuple(dice),),
        ties=draw(st.sampled_from(["lose", "none"])),
        chance_at_least=draw(st.sampled_from([None, HALF, Fraction(5, 9), Fraction(1, 4), Fraction(2, 3)])),
        strictly=draw(st.booleans()),
        beats=beats,
    )


@settings(max_examples=120, deadline=None)
@given(questions())
def test_tiny_questions_agree_with_brute_force(question: Contest) -> None:
    best, ids = brute(question)
    answering, found = answered(question)
    closing = answering.closing
    if question.best:
        assert closing.verdict == ("best" if best > HALF else "none")
        assert set(found) <= ids
        assert len(found) == int(best > HALF)
        if every(question):
            assert str(best) in closing.reason
    else:
        assert closing.verdict == ("complete" if ids else "none")
        assert closing.count == len(ids)
        assert set(found) == ids


@settings(max_examples=12, deadline=None)
@given(questions(), st.integers(2, 6))
def test_as_many_of_the_best_as_the_brief_wants(question: Contest, many: int) -> None:
    asked = Contest(BEATS, question.sets, question.ties, beats=question.beats, stop=StopRule(designs=many))
    _, ids = brute(asked)
    _, found = answered(asked, many)
    assert set(found) <= ids
    assert len(found) == min(many, len(ids))


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.integers(2, 3), min_size=2, max_size=4), st.integers(3, 4), st.integers(4, 9), st.booleans()
)
def test_graph_and_sweep_agree_on_rings(faces: list[int], highest: int, part: int, alike: bool) -> None:
    faces = [faces[0]] * len(faces) if alike else faces
    problem = Problem(tuple(die(count, highest) for count in faces), ring(len(faces)))
    needs = problem.needs(Fraction(part, 12))
    walks = ring_of(problem, needs)
    swept = Needs(Frame(problem), needs)
    assert (walks.walk() is not None) == swept.possible
    assert count_up_to_turns(walks, problem.symmetries) == counted_up_to_exchange(swept)
    listed = {problem.canonical(one) for one in walks.walks()}
    assert listed == {problem.canonical(one) for one in swept.designs()}
    assert len(listed) == counted_up_to_exchange(swept)
    witness = walks.walk()
    assert witness is None or problem.canonical(witness) in listed


def test_six_dice_that_are_three_twice_are_counted_once() -> None:
    # a walk round three dice twice is a ring of six; three rotations of it are equal, so that it counts for two of six
    problem = Problem((die(3, 6),) * 6, ring(6))
    needs = problem.needs(Fraction(5, 9))
    ids = {problem.canonical(one) for one in ring_of(problem, needs).walks()}
    assert any(one[:3] == one[3:] for one in ids)
    assert count_up_to_turns(ring_of(problem, needs), problem.symmetries) == len(ids)


def test_no_cycle_of_two_beats_itself_more_often_than_not() -> None:
    answering, found = answered(Contest(BEATS, ((die(6, 12),) * 2,)))
    assert not found
    assert answering.closing.verdict == "none"
    assert "1/2 at best" in answering.closing.reason


def test_a_die_that_cannot_be_filled() -> None:
    question = Contest(BEATS, ((die(3, 9), die(4, 3, repeats=1)),))
    answering, found = answered(question)
    assert (answering.closing.verdict, found) == ("none", [])
    assert "more faces than labels" in answering.closing.reason


def test_a_bound_above_what_is_possible_tells_the_best() -> None:
    answering, _ = answered(Contest(BEATS, ((die(3, 9),) * 3,), chance_at_least=Fraction(2, 3)))
    assert answering.closing.verdict == "none"
    assert "the greatest least chance is 5/9" in answering.closing.reason


@pytest.mark.parametrize("limit", [0, 1, 7])
def test_designs_beyond_the_limit_are_counted(limit: int) -> None:
    question = Contest(BEATS, ((die(3, 8),) * 3,), chance_at_least=HALF, strictly=True)
    answering, found = answered(question, limit)
    assert (answering.closing.verdict, len(found)) == ("complete", limit)
    assert answering.closing.count == len(answered(question)[1]) > 7


def test_spreading_labels_out_keeps_the_best_and_freeing_them_bounds_it() -> None:
    wide = Problem((die(3, 9),) * 3, ring(3))
    spread = spread_out(wide)
    assert spread is not None
    assert spread.once
    assert spread_out(Problem((die(3, 8),) * 3, ring(3))) is None
    assert spread_out(Problem((die(3, 9), die(3, 9), die(3, 10)), ring(3))) is None
    assert freed(Problem((die(3, 4),) * 3, ring(3))).dice[0].rules == LabelRules(1, 9)


def test_annealing_finds_seven_dice_of_which_any_two_are_beaten() -> None:
    arcs = two_beaten_by_one(7)
    assert arcs is not None
    question = Contest(BEATS, ((die(3, 21),) * 7,), chance_at_least=Fraction(5, 9), beats=arcs)
    answering, found = answered(question, 2)
    assert len(found) == 2
    assert answering.closing.verdict == "partial"
    assert answering.closing.count_is == "at least"


def test_a_pattern_too_large_for_a_proof_has_a_bound_from_its_rings_of_three() -> None:
    arcs = two_beaten_by_one(7)
    assert arcs is not None
    answering, found = answered(Contest(BEATS, ((die(6, 42),) * 7,), beats=arcs))
    closing = answering.closing
    assert (closing.verdict, len(found)) == ("partial", 1)
    assert Fraction(closing.bound or 0) == Fraction(7, 12)


def test_a_stop_leaves_a_bound() -> None:
    stops = iter(range(10**9))

    def soon() -> str | None:
        return "enough" if next(stops) > 200 else None

    answering = Duels().answer(Contest(BEATS, ((die(6, 9),) * 3,)), 1, soon, 0, silent)
    assert list(answering) == []
    assert answering.closing.verdict == "partial"
    assert Fraction(answering.closing.bound or 0) > HALF


def test_short_cycles_of_a_pattern() -> None:
    assert cycles_of([(0, 1), (1, 0), (1, 2), (2, 0), (2, 3)]) == [(0, 1), (0, 1, 2)]


def test_vertices_keep_repeats_and_fixed_labels() -> None:
    assert vertices_of(die(3, 3, repeats=1)) == [(1, 2, 3)]
    assert vertices_of(die(2, 3, exactly=(1, 3))) == [(1, 3)]
    assert len(vertices_of(die(2, 3))) == 6
