"""The page of layouts as text: what it says, that it escapes what a person wrote, that the same run gives the same."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from facewright.constraints.guards import Shift
from facewright.constraints.layout import Roll
from facewright.constraints.readouts import Label
from facewright.search.layouts_answer import LayoutAnswer
from facewright.search.layouts_finding import answer_layout
from facewright.search.report.layouts_page import layouts_page
from facewright.search.report.layouts_text import details, summary
from facewright.search.report.layouts_words import (
    ask,
    balance_lines,
    labels_words,
    opposite_words,
    percent,
    roll_words,
    shift_words,
)
from facewright.search.stop import never

from tests.layouts_asked import asked


def laid(name: str, labels: list[Label], *goals: str, limit: int = 1, **rules: object) -> LayoutAnswer:
    return answer_layout(asked(name, labels, *goals, **rules), seed=0, stop=never, limit=limit)


@pytest.fixture(scope="module")
def cubes() -> LayoutAnswer:
    """Both layouts of an ordinary cube with opposite sums of 7."""
    return laid("cube", [1, 2, 3, 4, 5, 6], "opposite-sums", limit=10, size_mm=16.0)


def page(answer: LayoutAnswer) -> str:
    return layouts_page(answer, answer.ranked, run="six", written="2026-01-31")


def test_verdict_question_evidence_and_proof(cubes: LayoutAnswer) -> None:
    text = page(cubes)
    assert "Which face of the cube carries which of 1 to 6? Wanted: opposite faces with one sum." in text
    assert "each of the 2 layouts recounted from the geometry" in text
    assert "How this was proved" in text
    assert "31 January 2026" in text
    assert text == page(cubes)


def test_a_table_of_several_and_none_of_one(cubes: LayoutAnswer) -> None:
    text = page(cubes)
    assert "The 2 layouts, best first" in text
    for one in cubes.found:
        assert f'<th scope="row" class="id">{one.id[:8]}</th>' in text
        assert " ".join(map(str, one.design.labels)) in text
    alone = page(laid("cube", [1, 2, 3, 4, 5, 6], "opposite-sums"))
    assert "best first" not in alone


def test_a_size_that_is_too_small_is_said(cubes: LayoutAnswer) -> None:
    assert "The 16.0 mm (0.63 in) of the brief are enough." in page(cubes)
    small = replace(cubes, question=replace(cubes.question, size_mm=2.0))
    assert re.search(r"The 2.0 mm \(0.08 in\) of the brief are too small: [^.]+", page(small))


def test_the_maker_hears_of_draw_and_edges(cubes: LayoutAnswer) -> None:
    text = page(replace(cubes, question=replace(cubes.question, draw="face")))
    assert "The mould opens through a face." in text
    assert "Gate: " in text
    assert "The parting line runs" in text
    four = page(laid("tetrahedron", [1, 2, 3, 4], "even-vertices"))
    assert "Gate: " not in four
    assert "at the corner on top" in four
    assert "A label stands where it is read: at the corner opposite its face." in four


def test_what_a_person_wrote_is_escaped() -> None:
    answer = laid("octahedron", ["<b>", "S", "E", "W"] * 2, "apart")
    named = replace(answer, question=replace(answer.question, title="<i>Berths</i>", note="a < b & c"))
    text = page(named)
    assert "<b>&lt;b&gt;</b>" in text
    assert "<b><b>" not in text
    assert "<i>" not in text
    assert "a &lt; b &amp; c" in text


def test_blank_faces_are_called_blank() -> None:
    answer = laid("cube", ["", "", "", "x", "x", "x"], "apart")
    assert "f1: blank" in details(answer.question, answer.found[0].design, 80)
    assert "<b>blank</b>" in page(answer)


def test_text_for_a_terminal(cubes: LayoutAnswer) -> None:
    text = summary(cubes, cubes.ranked, 60, None)
    assert all(len(line) <= 60 for line in text.splitlines())
    assert text.splitlines()[0] == "asked"
    assert "all add up to 7" in text
    assert "\u00a0" not in text
    short = summary(cubes, cubes.ranked, 100, 1)
    assert "1 more in the run; `facewright show RUN --all` prints them all." in short


def test_labels_in_words() -> None:
    assert labels_words(tuple(range(1, 21))) == "1 to 20"
    assert labels_words((1, 1, 2, 2, 3, 3)) == "1, 2 and 3, each twice"
    assert labels_words((1, 2, 2, 3, 3, 4)) == "1 2 2 3 3 4"
    assert labels_words((2, 4, 6, 8, 10, 12)) == "2, 4, 6, 8, 10 and 12"
    assert labels_words(("N", "", "N", "")) == "N and blank, each twice"


def test_the_roll_in_words() -> None:
    question = replace(asked("cube", [1, 2, 3, 4, 5, 6], "apart"), roll=Roll("total", ((1, 2), (3, 3))))
    assert roll_words(question) == "Rolled together with 1 2 and 3 3, read as their total."
    assert roll_words(replace(question, roll=Roll())) == ""
    assert "Wanted: equal labels apart." in ask(question)
    both = replace(question, goals=("apart", "off-centre"))
    assert "Wanted, in this order: equal labels apart and little harm from a centre of mass" in ask(both)


def test_balance_in_words(cubes: LayoutAnswer) -> None:
    lines = dict(balance_lines(cubes.found[0].design))
    assert lines["opposite faces"] == "all add up to 7"
    assert lines["corners"].startswith("of three faces 6 to 15 (ideal 10.5)")
    assert "equal labels" not in lines
    assert opposite_words((5, 7, 9)) == "add up to 5 at least, 9 at most"
    assert Fraction(9, 2) == cubes.found[0].design.balance.deviation


def test_shifts_in_words() -> None:
    assert percent(0.00231) == "0.231\u00a0%"
    whole = Shift(0.01, {"single": 0.002, "highest_of_two": None, "unit": "1 % longer"})
    words = "1\u00a0% of rolls move at worst; one result by 0.2\u00a0% at most (1\u00a0% longer)"
    assert shift_words(whole) == words
    assert shift_words(Shift(0.01)) == "1\u00a0% of rolls move at worst"
