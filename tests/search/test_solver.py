"""The engine `solver`: streaming, limits, stopping, seeds, scores and what it refuses."""

from __future__ import annotations

import threading
import time
from dataclasses import replace
from functools import reduce

import pytest
from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.errors import UsageError
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.model.counts import CountModel
from facewright.constraints.model.score import post_score
from facewright.constraints.model.totals import post_totals
from facewright.constraints.question import Numbering, StopRule
from facewright.search.engines.solver import Solver, shape
from facewright.search.engines.solver_run import SolverRun
from facewright.search.progress import silent
from facewright.search.recount import recount
from facewright.search.stop import Limits, never

PROMPT_SECONDS = 2.0
"""Within so long a stop is heard, even on a busy machine; every twentieth of a second the engine asks for it."""


def like(*faces: int) -> Distribution:
    """The totals of ordinary dice."""
    return reduce(Distribution.__add__, (Distribution.of_labels(range(1, n + 1)) for n in faces))


def totals(target: Distribution, *faces: int, lowest: int = 1) -> Numbering:
    """A totals question about dice that may carry all that the target allows."""
    highest = target.greatest - lowest * (len(faces) - 1)
    rules = LabelRules(lowest, highest)
    return Numbering("total", target, (tuple(Die(n, f"solid with {n} faces", 1, rules) for n in faces),))


BLANKS = totals(like(6, 6), 6, 6, lowest=0)
MIDDLING = totals(like(12, 12), 12, 12)
LONG = totals(like(30, 30), 30, 30)
"""Takes the solver minutes, and gives it its first designs soon."""


def test_designs_come_once_each_with_whole_counts() -> None:
    answer = Solver().answer(BLANKS, 100, never, 0, silent)
    found = list(answer)
    assert answer.engine == "solver"
    assert len(found) == len(set(found)) == 5
    assert all(recount(BLANKS, design).agrees for design in found)
    closing = answer.closing
    assert (closing.verdict, closing.count, closing.count_up_to_shift, closing.count_is) == (
        "complete",
        5,
        2,
        "all",
    )
    assert "Five numberings do it." in closing.reason


def test_a_limit_lists_fewer_and_counts_all() -> None:
    answer = Solver().answer(BLANKS, 2, never, 0, silent)
    assert len(list(answer)) == 2
    closing = answer.closing
    assert (closing.verdict, closing.count, closing.count_up_to_shift, closing.count_is) == (
        "complete",
        5,
        2,
        "all",
    )
    assert "the first 2 found are listed" in closing.reason


def test_a_limit_of_the_brief_still_counts_what_the_best_are_chosen_from() -> None:
    limited = replace(BLANKS, stop=StopRule(designs=2))
    answer = Solver().answer(limited, 2, never, 0, silent)
    assert len(list(answer)) == 2
    assert (answer.closing.verdict, answer.closing.count, answer.closing.count_is) == ("complete", 5, "all")


@pytest.fixture
def few_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """No designs are counted beyond those that the brief lists."""
    monkeypatch.setattr("facewright.search.engines.solver.COUNTED", 0)


@pytest.mark.usefixtures("few_counted")
def test_a_limit_of_the_brief_ends_the_search() -> None:
    limited = replace(BLANKS, stop=StopRule(designs=2))
    answer = Solver().answer(limited, 2, never, 0, silent)
    assert len(list(answer)) == 2
    closing = answer.closing
    assert (closing.verdict, closing.count, closing.count_is) == ("partial", 3, "at least")
    assert (
        "At least three numberings do it, more than are counted where a brief asks for some."
        in closing.reason
    )


def test_a_limit_of_the_brief_that_is_just_enough_changes_nothing() -> None:
    limited = replace(BLANKS, stop=StopRule(designs=5))
    answer = Solver().answer(limited, 5, never, 0, silent)
    assert len(list(answer)) == 5
    assert (answer.closing.verdict, answer.closing.count_is) == ("complete", "all")


@pytest.mark.usefixtures("few_counted")
def test_a_limit_of_none_says_whether_there_are_any() -> None:
    answer = Solver().answer(replace(BLANKS, stop=StopRule(designs=9)), 0, never, 0, silent)
    assert list(answer) == []
    assert (answer.closing.verdict, answer.closing.count, answer.closing.count_is) == (
        "partial",
        1,
        "at least",
    )


def test_a_stop_is_heard_at_once_and_keeps_what_was_found() -> None:
    stop = Limits(seconds=1.0)
    answer = Solver().answer(LONG, 1000, stop, 0, silent)
    found = list(answer)
    assert time.monotonic() - stop.started < 1.0 + PROMPT_SECONDS
    closing = answer.closing
    assert (closing.verdict, closing.count, closing.count_is) == ("partial", len(found), "at least")
    assert "the limit of 1 s was reached" in closing.reason
    assert all(recount(LONG, design).agrees for design in found)


def test_a_stop_before_the_start_finds_nothing() -> None:
    answer = Solver().answer(BLANKS, 100, lambda: "interrupted", 0, silent)
    assert list(answer) == []
    closing = answer.closing
    assert (closing.verdict, closing.count, closing.count_is) == ("partial", 0, "at least")
    assert "interrupted" in closing.reason


def test_a_reader_who_leaves_leaves_no_thread_behind() -> None:
    before = threading.active_count()
    designs = iter(Solver().answer(LONG, 1000, never, 0, silent))
    next(designs)
    assert threading.active_count() == before + 1
    started = time.monotonic()
    designs.close()  # type: ignore[attr-defined]
    assert time.monotonic() - started < PROMPT_SECONDS
    assert threading.active_count() == before


def test_designs_arrive_before_the_search_ends() -> None:
    """The first of them is read while the solver still works, which a stop then ends."""
    stop = Limits()
    answer = Solver().answer(LONG, 1000, stop, 0, silent)
    for _ in answer:
        stop.interrupted = True
    assert answer.closing.verdict == "partial"
    assert answer.closing.count >= 1


def test_a_seed_gives_the_same_order_again() -> None:
    question = totals(like(4, 6, 8), 4, 6, 8)
    runs = [list(Solver().answer(question, 100, never, seed, silent)) for seed in (7, 7, 8, 2**40)]
    assert runs[0] == runs[1]
    assert all(set(run) == set(runs[0]) for run in runs)


def test_progress_is_told() -> None:
    told: list[tuple[str, int, int | None]] = []
    list(Solver().answer(BLANKS, 100, never, 0, lambda *told_now: told.append(told_now)))
    assert told == [("designs found", n, None) for n in range(1, 6)]


def test_a_division_that_fails_is_the_reason() -> None:
    answer = Solver().answer(totals(like(6, 6), 5, 6), 100, never, 0, silent)
    assert list(answer) == []
    assert answer.closing.verdict == "none"
    assert "30 × 1/36 = 5/6 of them, no whole number" in answer.closing.reason
    assert answer.closing.proof


def test_labels_out_of_reach_are_the_reason() -> None:
    answer = Solver().answer(totals(like(6, 6), 6, 6, lowest=2), 100, never, 0, silent)
    assert list(answer) == []
    assert answer.closing.verdict == "none"
    assert "the least labels add up to 4, but the total 2 is wanted" in answer.closing.reason


def test_a_search_that_finds_nothing_proves_it() -> None:
    rules = LabelRules(1, 11, avoid=(2,))
    question = Numbering("total", like(6, 6), ((Die(6, "cube", 1, rules),) * 2,))
    answer = Solver().answer(question, 100, never, 0, silent)
    assert list(answer) == []
    assert (answer.closing.verdict, answer.closing.count_is) == ("none", "all")
    assert "without 2" in answer.closing.reason
    assert "to its end, with no solution" in answer.closing.proof[-1]


def test_what_is_not_accepted_has_a_reason() -> None:
    solver = Solver()
    assert solver.refusal(BLANKS) is None
    for question, words in (
        (replace(BLANKS, accept="nearest"), "exact answers"),
        (replace(BLANKS, read="loudest"), "no model of read = 'loudest'"),
        (totals(like(*[20] * 14), *[20] * 14), "more than the solver can count"),
    ):
        assert not solver.accepts(question)
        assert words in str(solver.refusal(question))


def test_the_best_by_a_score_is_proved() -> None:
    """Of the three pairs with four and nine faces like 2d6 (see the bank), 1 4 4 7 has the greatest spread."""
    question = totals(like(6, 6), 4, 9)
    every = list(Solver().answer(question, 100, never, 0, silent))
    for weight in (lambda die, label: label**2 * (die == 0), lambda die, label: label**2 * (die == 1)):
        answer = Solver().best(question, weight, never, 0)
        (best,) = answer

        def score(design: NumberingDesign, weight: object = weight) -> int:
            return sum(weight(place, x) for place, die in enumerate(design.dice) for x in die.labels)  # type: ignore[operator]

        assert [design for design in every if score(design) >= score(best)] == [best]
        assert (answer.closing.verdict, answer.closing.count) == ("best", 1)
        assert f"the greatest score, {score(best)}." in answer.closing.reason


def test_the_best_of_none_is_none() -> None:
    for question in (totals(like(6, 6), 5, 6), replace(BLANKS, sets=totals(like(6, 6), 3, 4).sets)):
        answer = Solver().best(question, lambda die, label: label, never, 0)
        assert list(answer) == []
        assert answer.closing.verdict == "none"


def test_the_best_so_far_comes_with_a_bound() -> None:
    stop = Limits()
    told: list[int] = []

    def interrupt(doing: str, done: int, of: int | None) -> None:
        told.append(done)
        stop.interrupted = True

    answer = Solver().best(MIDDLING, lambda die, label: label**2 * (die + 1), stop, 0, interrupt)
    (best,) = answer
    closing = answer.closing
    assert (closing.verdict, closing.count, closing.count_is) == ("partial", 1, "at least")
    assert told == [1]
    assert closing.bound is not None
    score = sum(x**2 * (place + 1) for place, die in enumerate(best.dice) for x in die.labels)
    assert score <= int(closing.bound)
    assert recount(MIDDLING, best).agrees


def test_the_best_that_had_no_time_has_no_bound() -> None:
    answer = Solver().best(LONG, lambda die, label: label, lambda: "interrupted", 0)
    assert list(answer) == []
    assert (answer.closing.verdict, answer.closing.count, answer.closing.bound) == ("partial", 0, None)


def test_the_bound_of_a_finished_run_is_its_score() -> None:
    fixed = Die(6, "cube", 1, LabelRules(1, 11), exactly=(1, 2, 2, 3, 3, 4))
    model = CountModel((fixed, Die(6, "cube", 1, LabelRules(1, 11))))
    post_totals(model, like(6, 6))
    known = post_score(model, lambda die, label: (die + 1) * label**2)
    run = SolverRun(model, 0)
    (labels,) = run.solutions(never)
    assert run.bound is not None
    assert known == sum(x**2 for x in labels[0])
    assert run.bound == sum(2 * x**2 for x in labels[1])


def test_a_score_too_large_is_refused() -> None:
    with pytest.raises(UsageError, match="can be compared"):
        list(Solver().best(BLANKS, lambda die, label: 2**62, never, 0))


def test_shapes_follow_the_reading() -> None:
    one, other = Die(2, "coin", 1, LabelRules(0, 9)), Die(3, "log", 1, LabelRules(0, 9))
    question = Numbering("total", like(2, 3), ((one, other),))
    low = NumberingDesign.of((one, other), [(1, 2), (2, 3, 4)])
    moved = NumberingDesign.of((one, other), [(2, 3), (1, 2, 3)])
    higher = NumberingDesign.of((one, other), [(3, 4), (4, 5, 6)])
    assert shape(question, low) == shape(question, moved)
    together = replace(question, read="difference")
    assert shape(together, low) == shape(together, higher)
    assert shape(together, low) != shape(together, moved)
    plain = replace(question, read="highest")
    assert shape(plain, low) == low
