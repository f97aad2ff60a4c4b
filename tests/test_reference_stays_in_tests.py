"""What the tests check against stands in tests alone: a program that knows its answers proves nothing."""

from __future__ import annotations

import ast
import csv
import json
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
REFERENCE = ROOT / "tests" / "reference"
SOURCES = sorted(path for folder in ("constraints", "search") for path in (ROOT / folder).rglob("*.py"))
TABLES = sorted(
    path for folder in ("constraints", "search", "runs") for path in (ROOT / folder).rglob("*.toml")
)
PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])

DISTINCTIVE = 100
"""Counts from here up are unlikely to stand in source for another reason."""

UNMISTAKABLE = 500
"""Counts from here up are unlikely to stand in prose for another reason."""


def counts() -> set[int]:
    """Every count of the tables."""
    found = set()
    for table in ("totals", "uniform"):
        with (REFERENCE / f"{table}.csv").open(encoding="utf-8", newline="") as file:
            found |= {int(row["count"]) for row in csv.DictReader(file)}
    with (REFERENCE / "contests.csv").open(encoding="utf-8", newline="") as file:
        found |= {int(row["value"]) for row in csv.DictReader(file) if row["value"].isdecimal()}
    return found


def numberings() -> set[tuple[int, ...]]:
    """Every numbering of the whole answers but the ordinary ones, shifted to least label 0."""
    answers = json.loads((REFERENCE / "designs.json").read_text(encoding="utf-8"))
    found = {
        shifted([int(label) for label in die.split()])
        for answer in answers
        for design in answer["designs"]
        for die in design
    }
    contests = json.loads((REFERENCE / "contest_designs.json").read_text(encoding="utf-8"))
    found |= {
        shifted([int(label) for label in die.split()])
        for entry in contests.values()
        for die in entry.get("dice", ())
        if len(set(die.split())) > 1
    }
    return {labels for labels in found if labels != tuple(range(len(labels)))}


def shifted(labels: list[int]) -> tuple[int, ...]:
    """Labels sorted and shifted to least label 0."""
    return tuple(sorted(label - min(labels) for label in labels))


def tokens(text: str) -> set[int]:
    """The whole numbers that stand alone in a text: no part of a decimal, a version, a word."""
    plain = re.sub(r"(?<=\d),(?=\d{3}\b)", "", text)
    return {int(token) for token in re.findall(r"(?<![\w.#-])\d{1,9}(?![\w.%]\w|[\w%])", plain)}


def literal_lists(tree: ast.AST) -> Iterator[list[int]]:
    """The lists, tuples and sets of whole numbers in a syntax tree."""
    for node in ast.walk(tree):
        if isinstance(node, ast.List | ast.Tuple | ast.Set):
            values = [item.value for item in node.elts if isinstance(item, ast.Constant)]
            if values and len(values) == len(node.elts) and all(type(value) is int for value in values):
                yield [int(value) for value in values]


def test_the_tables_are_there_to_be_kept_out() -> None:
    assert len({count for count in counts() if count >= DISTINCTIVE}) >= 10
    assert (0, 1, 1, 2, 2, 3) in numberings()


def test_no_count_stands_in_the_source() -> None:
    barred = {count for count in counts() if count >= DISTINCTIVE}
    told = {
        path.relative_to(ROOT).as_posix(): sorted(found)
        for path in SOURCES + TABLES
        if (found := tokens(path.read_text(encoding="utf-8")) & barred)
    }
    assert told == {}


def test_no_count_stands_in_the_documents() -> None:
    barred = {count for count in counts() if count >= UNMISTAKABLE}
    told = {
        path.relative_to(ROOT).as_posix(): sorted(found)
        for path in PAGES
        if (found := tokens(path.read_text(encoding="utf-8")) & barred)
    }
    assert told == {}


def test_no_numbering_stands_in_the_source() -> None:
    known = numberings()
    told = [
        f"{path.relative_to(ROOT).as_posix()}: {labels}"
        for path in SOURCES
        for labels in literal_lists(ast.parse(path.read_text(encoding="utf-8")))
        if shifted(labels) in known
    ]
    assert told == []


def test_the_source_reads_no_file_of_the_tests() -> None:
    told = [path.name for path in SOURCES if re.search(r"tests/", path.read_text(encoding="utf-8"))]
    assert told == []
