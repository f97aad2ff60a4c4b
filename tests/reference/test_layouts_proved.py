"""The evenest vertices and the numbers of layouts, proved again and recounted from geometry."""

from __future__ import annotations

import csv
from fractions import Fraction
from math import factorial
from pathlib import Path

import pytest
from facewright.search.recount_layouts import recount_layout

from tests.layouts_asked import answered, asked

HERE = Path(__file__).parent


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def proves(row: dict[str, str]) -> None:
    """The engine proves the value of a row, and the recount agrees."""
    question = asked(row["solid"], range(1, int(row["labels"]) + 1), *row["goals"].split())
    [design], closing = answered(question)
    finding = recount_layout(question, design)
    assert closing.verdict == "best"
    assert finding.faults == ()
    assert finding.deviation == design.balance.deviation == Fraction(row["deviation"])
    if row["goals"].startswith("opposite-sums"):
        assert finding.opposite == 0


@pytest.mark.parametrize(
    "row",
    rows("layouts.csv"),
    ids=lambda row: f"{row['solid']}, {row['goals']}",
)
def test_the_evenest_vertices(row: dict[str, str]) -> None:
    proves(row)


@pytest.mark.parametrize("row", rows("layout_counts.csv"), ids=lambda row: f"{row['solid']} {row['labels']}")
def test_numbers_of_layouts(row: dict[str, str]) -> None:
    question = asked(row["solid"], map(int, row["labels"].split()), *row["goals"].split())
    designs, closing = answered(question, 1000)
    assert (closing.verdict, closing.count, closing.count_is) == ("complete", int(row["count"]), "all")
    assert len({one.id for one in designs}) == closing.count
    assert all(recount_layout(question, one).agrees for one in designs[:40])


def test_constant_sums_on_twenty_faces_are_counted_without_a_list() -> None:
    question = asked("icosahedron", range(1, 21), "opposite-sums")
    _, closing = answered(question, 0)
    # ten pairs on ten axes, either way up, no turn leaving any of them as it is
    assert closing.count == factorial(10) * 2**10 // 60
