"""Other readings than the total against counts found apart, row by row; each test's name ends with its source."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from pathlib import Path

import pytest
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.like import parse_like
from facewright.constraints.question import Numbering
from facewright.constraints.readings import How, reading_of
from facewright.search.finding import find

HERE = Path(__file__).resolve().parent


def rows() -> list[dict[str, str]]:
    """The rows of the table."""
    with (HERE / "readings.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def title(row: dict[str, str]) -> str:
    """The question and where its answer comes from, short enough for a test's name."""
    source = re.split(r"[:;,(|]", row["source"])[0].strip()
    dice = "+".join(f"d{faces}" for faces in row["dice"].split())
    return f"{row['read']} like {row['like']} by {dice} - {source}"


def target(row: dict[str, str]) -> Distribution:
    """The distribution that a row asks for; a uniform one begins at the lowest label, of remainders at 0."""
    form, _, rest = row["like"].partition(" ")
    if form == "uniform":
        least = 0 if row["read"] == "total-modulo" else int(row["lowest"])
        return Distribution.of(dict.fromkeys(range(least, least + int(rest)), 1))
    if form == "product":
        faces = int(rest.removeprefix("of 2d"))
        return reading_of("product").distribution([range(1, faces + 1)] * 2)
    return parse_like(row["like"])


def question(row: dict[str, str]) -> Numbering:
    """A row as the question that its brief would become; dice counted in order are told apart."""
    key, _, value = row["how"].partition(" ")
    how: How = ((key, int(value)),) if key else ()
    wanted, reading = target(row), reading_of(row["read"], how)
    faces, lowest = [int(count) for count in row["dice"].split()], int(row["lowest"])
    dice = []
    for place, count in enumerate(faces):
        highest = row["highest"] or reading.highest_label(place, [lowest] * len(faces), faces, wanted)
        die = Die(count, f"solid with {count} faces", 1, LabelRules(lowest, int(highest)))
        dice.append(replace(die, name=str(place)) if row["counts"] == "ordered" else die)
    return Numbering(row["read"], wanted, (tuple(dice),), how=how, anchored=reading.joins == "one for all")


@pytest.mark.parametrize("row", rows(), ids=title)
def test_count(row: dict[str, str]) -> None:
    answer = find(question(row))
    expected = int(row["count"])
    assert answer.verdict == ("complete" if expected else "none")
    assert answer.count_is == "all"
    found = answer.count_up_to_shift if row["counts"] == "count_up_to_shift" else answer.count
    assert found == expected
    assert len({one.design.id for one in answer.found}) == answer.count


def test_pairs_by_their_remainders_are_of_eight_classes() -> None:
    # Y. Huang and others, Mathematics 7(5) (2019) 440 (abstract seen): eight classes; own computation: of 64 pairs
    asked = question(
        {
            "read": "total-modulo",
            "how": "modulo 4",
            "like": "uniform 4",
            "dice": "6 6",
            "lowest": "1",
            "highest": "4",
            "counts": "count",
        }
    )
    pairs = {tuple(sorted(tuple(die.labels) for die in one.design.dice)) for one in find(asked).found}
    assert len(pairs) == 64

    def turned(die: tuple[int, ...], by: int) -> tuple[int, ...]:
        return tuple(sorted((label - 1 + by) % 4 + 1 for label in die))

    classes = {
        min(tuple(sorted((turned(one, a), turned(other, b)))) for a in range(4) for b in range(4))
        for one, other in pairs
    }
    assert len(classes) == 8
