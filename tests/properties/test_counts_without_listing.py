"""Random questions: what the engine for exact totals counts without listing is what brute force finds."""

from __future__ import annotations

from facewright.constraints.question import Numbering
from facewright.search.engines.factors import Factors
from facewright.search.progress import silent
from facewright.search.stop import never
from hypothesis import event, given, settings
from hypothesis import strategies as st

from tests import brute
from tests.properties.test_engines_agree import TINY, questions


@settings(max_examples=400)
@given(questions().filter(lambda question: brute.work(question) <= TINY), st.integers(0, 1))
def test_counts_without_listing(question: Numbering, limit: int) -> None:
    designs = brute.designs(question)
    event(f"designs: {min(len(designs), 3)}")
    answer = Factors().answer(question, limit, never, 0, silent)
    assert len(list(answer)) == min(limit, len(designs))
    assert answer.closing.count == len(designs)
    assert answer.closing.count_up_to_shift == brute.shapes(question, designs)
