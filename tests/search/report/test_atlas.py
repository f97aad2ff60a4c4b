"""The atlas that is committed: whole, as its checksums say, its designs counted again, some questions asked again."""

from __future__ import annotations

import csv
import hashlib
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import pytest
from facewright.constraints.brief import parse
from facewright.constraints.errors import RunError
from facewright.search import find
from facewright.search.batch.plan import asked_of, parse_plan, short
from facewright.search.report.atlas import PLANS, SUMS, TOLD, write_atlas

from tests.batches import done

ATLAS = Path(__file__).resolve().parents[3] / "docs" / "atlas"
TOTALS = PLANS[:3]
AGAIN = 20
"""Rows of each table that are answered anew."""


def rows_of(plan: str) -> list[dict[str, str]]:
    """The rows of a committed table."""
    with (ATLAS / f"{plan}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def ways_of(dice: list[list[int]]) -> list[int]:
    """In how many ways dice have each total from 0 up, by multiplying polynomials with NumPy."""
    ways = np.ones(1, dtype=object)
    for die in dice:
        ways = np.convolve(ways, np.bincount(die).astype(object))
    return [int(one) for one in ways]


def ordinary(like: str) -> list[list[int]]:
    """The ordinary dice of a target such as 2d6 or d4 + d6."""
    terms = [term.split("d") for term in like.split(" + ")]
    return [list(range(1, int(faces) + 1)) for times, faces in terms for _ in range(int(times or 1))]


def questions_of(plan: str) -> list[Any]:
    """What a committed plan asks."""
    return [asked for asked, _ in asked_of(parse_plan((ATLAS / f"{plan}.toml").read_text(encoding="utf-8")))]


def test_tables_and_plans_have_their_checksums() -> None:
    sums = dict(reversed(line.split("  ")) for line in (ATLAS / SUMS).read_text("utf-8").splitlines())
    assert set(sums) == {f"{plan}.{kind}" for plan in PLANS for kind in ("toml", "csv")}
    for name, told in sums.items():
        assert hashlib.sha256((ATLAS / name).read_bytes()).hexdigest() == told, name


@pytest.mark.parametrize("plan", PLANS)
def test_every_question_of_the_plan_has_a_row(plan: str) -> None:
    for row, asked in zip(rows_of(plan), questions_of(plan), strict=True):
        given = dict(asked.chosen)
        assert {name: row[name] for name in list(row)[: -len(TOLD)]} == {
            name: short(given[name]) if name in given else "" for name in list(row)[: -len(TOLD)]
        }
        assert set(given) <= set(row)


@pytest.mark.parametrize("plan", TOTALS)
def test_designs_have_the_totals_wanted(plan: str) -> None:
    for row in rows_of(plan):
        dice = [list(map(int, die.split())) for die in row["design"].split(" / ")]
        assert [len(die) for die in dice] == list(map(int, row["dice"].split(" + ")))
        found, wanted = ways_of(dice), ways_of(ordinary(row["like"]))
        assert [one * sum(wanted) for one in found] == [one * sum(found) for one in wanted], row


@pytest.mark.parametrize("plan", PLANS)
def test_questions_asked_again_have_the_same_answers(plan: str) -> None:
    rows = rows_of(plan)
    sample = Random(plan).sample([at for at, row in enumerate(rows) if row["verdict"] != "partial"], AGAIN)
    asked = questions_of(plan)
    for at in sample:
        answer = find(parse(asked[at].brief))
        told = (answer.verdict, str(answer.count), answer.count_is)
        assert told == (rows[at]["verdict"], rows[at]["count"], rows[at]["count_is"]), rows[at]


def test_published_counts_stand_in_it() -> None:
    """Sources beside each row of the table of totals."""
    tables = Path(__file__).resolve().parents[2] / "reference" / "totals.csv"
    with tables.open(encoding="utf-8", newline="") as file:
        known = {
            (row["like"], row["dice"].replace(" ", " + ")): row["count"]
            for row in csv.DictReader(file)
            if row["lowest"] == "1" and row["counts"] == "count"
        }
    compared = 0
    for plan in TOTALS:
        for row in rows_of(plan):
            key = (row["like"], row["dice"])
            if key in known and row.get("labels.lowest", "") != "0":
                assert row["count"] == known[key], key
                compared += 1
    assert compared > 10


def test_no_atlas_of_what_is_not_answered_or_of_another_plan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("facewright.search.report.atlas.PLANS", ("quays",))
    text = (
        'title = "Quays"\n[brief]\nread = "total"\nlike = "2d6"\n[lists]\ndice = [[6, 6], [4, 9]]\n'
        "[each]\nseconds = 20\ndesigns = 1\n"
    )
    (tmp_path / "docs").mkdir()
    (tmp_path / "docs" / "quays.toml").write_text(text, encoding="utf-8")

    class Half:
        def run(self, jobs: Any, _stop: Any, _keep: Any) -> None:
            list(jobs)

    done(text, tmp_path / "quays", runner=Half())
    with pytest.raises(RunError, match="0 of 2 questions have an answer"):
        write_atlas(tmp_path, tmp_path / "docs")
    done(text, tmp_path / "quays")
    write_atlas(tmp_path, tmp_path / "docs")
    first = (tmp_path / "docs" / "quays.csv").read_bytes()
    assert first.decode().splitlines()[1] == "6 + 6,complete,2,2,all,0,,1 2 3 4 5 6 / 1 2 3 4 5 6"
    assert "</html>" in (tmp_path / "docs" / "quays.html").read_text("utf-8")
    write_atlas(tmp_path, tmp_path / "docs")
    assert (tmp_path / "docs" / "quays.csv").read_bytes() == first
    (tmp_path / "docs" / "quays.toml").write_text(text + "\n", encoding="utf-8")
    with pytest.raises(RunError, match="another plan"):
        write_atlas(tmp_path, tmp_path / "docs")
