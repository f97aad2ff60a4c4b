"""Every known value of these topics is tested, or left out for a reason; `covered.csv` says which by what."""

from __future__ import annotations

import ast
import csv
from pathlib import Path

import pytest

HERE = Path(__file__).parent


def rows() -> list[dict[str, str]]:
    """The rows of the list."""
    with (HERE / "covered.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def found(place: str) -> bool:
    """Whether a test of that name, or a row of a table that begins so, is there."""
    if "::" in place:
        name, _, test = place.partition("::")
        tree = ast.parse((HERE / name).read_text(encoding="utf-8"))
        named = any(isinstance(node, ast.FunctionDef) and node.name == test for node in tree.body)
        return named and test.startswith("test_")
    name, _, beginning = place.partition(": ")
    lines = (HERE / name).read_text(encoding="utf-8").splitlines()
    return bool(beginning) and any(line.strip().startswith(beginning) for line in lines[1:])


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row['topic']}: {row['case']}"[:60])
def test_a_value_is_tested_or_left_out_for_a_reason(row: dict[str, str]) -> None:
    assert bool(row["tested_by"]) != bool(row["left_out"])
    assert row["source"]
    if row["left_out"]:
        assert row["left_out"].endswith(".")
        assert len(row["left_out"].split()) > 5
    else:
        assert [place for place in row["tested_by"].split("; ") if not found(place)] == []


def test_all_topics_are_there() -> None:
    assert {row["topic"] for row in rows()} == {"uniform", "beats", "every-order", "other readings"}


def test_a_place_that_is_not_there_is_seen() -> None:
    assert found("test_covered.py::test_all_topics_are_there")
    assert not found("test_covered.py::test_no_such_thing")
    assert not found("test_published.py::rows"), "no test"
    assert not found("uniform.csv: uniform 11,6 7,")
    assert not found("uniform.csv: ") and not found("uniform.csv: like,"), "no row"
