"""Every engine gives the known answer to every question of the bank that it accepts."""

from __future__ import annotations

import pytest
from facewright.search.engines import ENGINES
from facewright.search.engines.base import Engine
from facewright.search.progress import silent
from facewright.search.recount import recount
from facewright.search.stop import never

from tests import brute
from tests.contract.bank import CASES, READINGS, Case

NO_LIMIT = 1_000_000
TINY = 60_000
"""So many sets of numberings take brute force no more than a moment."""

EVERY = (*CASES, *READINGS)
ASKED = [(engine, case) for engine in ENGINES for case in EVERY if engine.accepts(case.question)]


def name(one: Engine | Case) -> str:
    """The name of an engine or a case."""
    return one.name


@pytest.mark.parametrize(("engine", "case"), ASKED, ids=name)
def test_an_engine_gives_the_known_answer(engine: Engine, case: Case) -> None:
    answer = engine.answer(case.question, NO_LIMIT, never, 0, silent)
    found = list(answer)
    closing = answer.closing
    assert len(found) == len(set(found)) == case.count
    assert case.expected is None or set(found) == case.expected
    assert (closing.count, closing.count_up_to_shift) == (case.count, case.count_up_to_shift)
    assert closing.count_is == "all"
    assert closing.verdict == ("complete" if case.count else "none")
    assert closing.reason
    assert closing.proof
    for design in found:
        finding = recount(case.question, design)
        assert finding.agrees, finding.faults
        assert finding.distance == 0


@pytest.mark.parametrize("case", CASES, ids=name)
def test_several_engines_accept_each_question(case: Case) -> None:
    assert {engine.name for engine in ENGINES if engine.accepts(case.question)} >= {"factors", "solver"}


@pytest.mark.parametrize("case", READINGS, ids=name)
def test_the_solver_accepts_every_reading(case: Case) -> None:
    assert "solver" in {engine.name for engine in ENGINES if engine.accepts(case.question)}


@pytest.mark.parametrize("case", [case for case in EVERY if brute.work(case.question) <= TINY], ids=name)
def test_brute_force_gives_the_known_answer(case: Case) -> None:
    totals = case.question.read == "total" and not case.question.how
    found = brute.designs(case.question) if totals else brute.designs_read(case.question)
    assert len(found) == case.count
    assert case.expected is None or found == case.expected
    assert not totals or brute.shapes(case.question, found) == case.count_up_to_shift


def test_the_bank_names_each_question_once_and_a_source_for_each_answer() -> None:
    assert len({case.name for case in EVERY}) == len(EVERY)
    assert all(case.source for case in EVERY)
    assert all(case.expected is None or len(case.expected) == case.count for case in EVERY)
