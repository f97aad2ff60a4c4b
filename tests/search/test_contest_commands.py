"""Contests through the commands: find, show, check, resume, JSON, CSV, notebook table."""

from __future__ import annotations

import json
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.search.cli import status_of
from facewright.search.finding import find

TUGS = 'title = "Three tugs"\nread = "each-beats-next"\ndice = [6, 6, 6]\nlabels = { highest = 7 }\n'
FERRIES = 'title = "Three ferries"\nread = "every-order"\ndice = [6, 4, 2]\n'


@dataclass
class Told:
    """How a command ended, and what it said."""

    exit_code: int
    output: str
    beside: str


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    monkeypatch.chdir(tmp_path)

    def call(*arguments: str, brief: str | None = None) -> Told:
        if brief is not None:
            Path("brief.toml").write_text(brief, encoding="utf-8")
        status = status_of(list(arguments))
        said = capsys.readouterr()
        return Told(status, said.out, said.err)

    return call


def test_the_best_ring_found_shown_and_checked(run: Any) -> None:
    told = run("find", "brief.toml", brief=TUGS)
    assert told.exit_code == 0
    assert "no numbering has a greater least chance" in " ".join(told.output.split())
    answer = json.loads(run("show", "three-tugs", "--json").output)
    [design] = answer["designs"]
    assert answer["verdict"] == "best"
    assert "distance" not in design
    chances = [Fraction(duel["chance"]) for duel in design["duels"]]
    assert Fraction(design["chance"]) == min(chances) > Fraction(1, 2)
    assert [(duel["die"], duel["beats"]) for duel in design["duels"]] == [(1, 2), (2, 3), (3, 1)]
    assert "two of each" in run("show", "three-tugs", design["id"]).output
    assert run("check", "three-tugs").output.startswith("1 design recounted: all agree")
    assert run("show", "three-tugs", "--csv").output.splitlines()[0].split(",")[-6] == "chance"
    assert "answered before" in run("find", "brief.toml").beside
    assert Path("runs/three-tugs/report.html").stat().st_size > 100_000


def test_a_false_claim_is_found(run: Any) -> None:
    answer = json.loads(run("find", "brief.toml", "--json", brief=TUGS).output)
    answer["designs"][0]["chance"] = "2/3"
    Path("answer.json").write_text(json.dumps(answer), encoding="utf-8")
    told = run("check", "answer.json")
    assert told.exit_code == 3
    assert "its least chance should be" in told.output


def test_orders_found_shown_and_checked(run: Any) -> None:
    answer = json.loads(run("find", "brief.toml", "--json", "--out", "ferries", brief=FERRIES).output)
    assert (answer["verdict"], answer["count"], answer["count_up_to_shift"]) == ("complete", 3, 3)
    for design in answer["designs"]:
        assert {one["ways"] for one in design["orders"]} == {8}
        assert {count for row in design["places"] for count in row} == {16}
        assert {one["fair"] for one in design["subsets"]} == {"every-order"}
    shown = run("show", "ferries", answer["designs"][0]["id"]).output
    assert "Every order comes up in 8 of 48 outcomes." in shown
    assert "dice 1 and 2 alone: every order" in shown
    assert run("check", "ferries").exit_code == 0


def test_places_without_every_order_are_told_as_a_table(run: Any) -> None:
    brief = FERRIES.replace("[6, 4, 2]", "[6, 6, 6]") + 'fair = "first"\nstop = { designs = 1 }\n'
    answer = json.loads(run("find", "brief.toml", "--json", "--out", "ferries", brief=brief).output)
    assert (answer["verdict"], len(answer["designs"])) == ("complete", 1)
    shown = run("show", "ferries", answer["designs"][0]["id"]).output
    assert "place 1" in shown


def test_counting_alone(run: Any) -> None:
    brief = TUGS + 'chance_at_least = "5/9"\n'
    counted = json.loads(run("find", "brief.toml", "--count", "--json", brief=brief).output)
    listed = json.loads(run("find", "brief.toml", "--json").output)
    assert counted["designs"] == []
    assert counted["count"] == listed["count"] == len(listed["designs"]) > 0


def test_a_choice_of_sets_says_where_the_best_is(run: Any) -> None:
    brief = 'title = "Choice"\nread = "each-beats-next"\ndice = "3 of 2 3 4"\n'
    answer = json.loads(run("find", "brief.toml", "--json", "--out", "choice", brief=brief).output)
    assert answer["verdict"] == "best"
    best = max(Fraction(one["chance"]) for one in answer["designs"])
    assert f"{best}" in answer["reason"]
    assert {one["verdict"] for one in answer["sets"]} == {"best", "none"}
    assert run("check", "choice").exit_code == 0
    assert json.loads(run("show", "choice", "--json").output)["reason"] == answer["reason"]


def test_shared_among_processes_the_answer_is_the_same(run: Any) -> None:
    brief = 'title = "Choice"\nread = "every-order"\ndice = "2 to 3 of 2 4 6"\n'
    alone = json.loads(run("find", "brief.toml", "--json", brief=brief).output)
    shared = json.loads(run("find", "brief.toml", "--json", "--workers", "2").output)
    assert [one["id"] for one in alone["designs"]] == [one["id"] for one in shared["designs"]]
    assert alone["count"] == shared["count"]


def test_dice_laid_out_too(run: Any) -> None:
    answer = json.loads(run("find", "brief.toml", "--json", brief=TUGS + 'layout = ["apart"]\n').output)
    assert {one["die"] for one in answer["layouts"]} <= {1, 2, 3}
    assert all(one["id"] for one in answer["layouts"])


def test_the_table_of_a_notebook() -> None:
    table = find(parse(TUGS)).table()
    assert list(table["chance"]) == [Fraction(7, 12)]
    assert "distance" not in table
