"""Exact totals against values found by others, row by row; each test's name ends with its source."""

from __future__ import annotations

import csv
import json
import re
from functools import reduce
from math import prod
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering
from facewright.search.answer import Answering
from facewright.search.engines.factors import Factors
from facewright.search.progress import silent
from facewright.search.stop import never

HERE = Path(__file__).resolve().parent
NO_LIMIT = 1_000_000


def rows() -> list[dict[str, str]]:
    """The rows of both tables."""
    found = []
    for table in ("totals", "uniform"):
        with (HERE / f"{table}.csv").open(encoding="utf-8", newline="") as file:
            found += list(csv.DictReader(file))
    return found


def whole_answers() -> list[dict[str, Any]]:
    """The answers that are given design by design."""
    answers: list[dict[str, Any]] = json.loads((HERE / "designs.json").read_text(encoding="utf-8"))
    return answers


def title(row: dict[str, Any]) -> str:
    """The question and where its answer comes from, short enough for a test's name."""
    source = re.split(r"[:;,(|]", row["source"])[0].strip()
    dice = "+".join(f"d{faces}" for faces in row["dice"].split())
    return f"{row['like']} by {dice} from {row['lowest']}, {row.get('counts', 'designs')} - {source}"


def target(like: str, lowest: int) -> Distribution:
    """The distribution that a row asks for; `lowest` is the least result of a uniform one."""
    if like.startswith("uniform "):
        return Distribution.of({lowest + result: 1 for result in range(int(like.removeprefix("uniform ")))})
    terms = []
    for term in like.split(" + "):
        times, _, faces = term.partition("d")
        terms += [Distribution.of_labels(range(1, int(faces) + 1))] * int(times or 1)
    return reduce(Distribution.__add__, terms)


def question(row: dict[str, Any]) -> Numbering:
    """A row as the question that its brief would become."""
    faces = [int(count) for count in row["dice"].split()]
    lowest = int(row["lowest"])
    wanted = target(row["like"], lowest * len(faces))
    rules = LabelRules(lowest, wanted.greatest - (len(faces) - 1) * lowest)
    dice = tuple(Die(count, f"solid with {count} faces", 1, rules) for count in faces)
    return Numbering("total", wanted, (dice,))


def answered(asked: Numbering) -> Answering:
    """The answer of the engine for exact totals."""
    engine = Factors()
    assert engine.accepts(asked)
    return engine.answer(asked, NO_LIMIT, never, 0, silent)


@pytest.mark.parametrize("row", rows(), ids=title)
def test_count(row: dict[str, str]) -> None:
    answer = answered(question(row))
    ids = [design.id for design in answer]
    closing = answer.closing
    expected = int(row["count"])
    assert closing.verdict == ("complete" if expected else "none")
    assert closing.count_is == "all"
    if row["counts"] != "count_up_to_shift":
        assert closing.count == expected
    if row["counts"] != "count":
        assert closing.count_up_to_shift == expected
    assert len(ids) == len(set(ids)) == closing.count


@pytest.mark.parametrize("row", whole_answers(), ids=title)
def test_designs(row: dict[str, Any]) -> None:
    found = [[" ".join(map(str, die.labels)) for die in design.dice] for design in answered(question(row))]
    assert sorted(map(sorted, found)) == sorted(map(sorted, row["designs"]))


@pytest.mark.parametrize("dice", ["4 4", "4 6", "6 6", "8 8", "4 12", "10 10", "12 12", "6 20"])
def test_no_other_number_of_totals_is_equally_likely(dice: str) -> None:
    # elementary: N must divide the product of the face counts; own computation: where it does, there is a design
    outcomes = prod(map(int, dice.split()))
    found = [row for row in rows() if row["like"].startswith("uniform ") and row["dice"] == dice]
    listed = {int(row["like"].split()[1]) for row in found if row["count"] != "0"}
    assert listed == {many for many in range(2, outcomes + 1) if outcomes % many == 0}
    for many in set(range(2, outcomes + 1)) - listed:
        answer = answered(question({"like": f"uniform {many}", "dice": dice, "lowest": "0"}))
        assert not list(answer)
        assert answer.closing.verdict == "none"
