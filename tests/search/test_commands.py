"""The commands as a user gives them: what they print, write and end with."""

from __future__ import annotations

import csv
import io
import json
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.design import NumberingDesign
from facewright.search.answer import Answering, Closing
from facewright.search.cli import status_of
from facewright.search.engines.factors import Factors

Run = Callable[..., tuple[int, str, str]]
HARBOUR = 'title = "Harbour dues"\nlike = "d8 + d12"\nread = "total"\ndice = [6, 16]\n'
CUBES = 'title = "Two cubes"\nlike = "2d6"\nread = "total"\ndice = [6, 6]\n'
CHOICE = 'title = "Watch"\nlike = "2d6"\nread = "total"\ndice = "2 of 3 4 6 9 12"\n'
KEYS = [
    "schema",
    "title",
    "kind",
    "verdict",
    "count",
    "count_up_to_shift",
    "count_is",
    "reason",
    "evidence",
    "designs",
]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    monkeypatch.chdir(tmp_path)

    def given(*arguments: str, brief: str | None = None) -> tuple[int, str, str]:
        if brief is not None:
            Path("brief.toml").write_text(brief, encoding="utf-8")
        status = status_of(list(arguments))
        said = capsys.readouterr()
        return status, said.out, said.err

    return given


def stored(folder: Path) -> list[Any]:
    """What the store holds but for the notes of the last call."""
    with sqlite3.connect(folder / "run.sqlite") as store:
        rows = [store.execute(f"SELECT * FROM {table}").fetchall() for table in ("designs", "outcomes")]
    store.close()
    return rows


def test_json_holds_what_the_contract_says(run: Run) -> None:
    status, out, err = run("find", "brief.toml", "--json", brief=HARBOUR)
    answer = json.loads(out)
    assert (status, err) == (0, "")
    assert [key for key in KEYS if key not in answer] == []
    assert (answer["verdict"], answer["count"], answer["count_is"], answer["schema"]) == (
        "complete",
        10,
        "all",
        1,
    )
    assert answer["evidence"] | {"seconds": 0} == {
        "engine": "factors",
        "proved": True,
        "recounted": 10,
        "seconds": 0,
        "bound": None,
    }
    first = answer["designs"][0]
    assert [die["solid"] for die in first["dice"]] == ["cube", "octagonal bipyramid"]
    assert [die["faces"] for die in first["dice"]] == [len(die["labels"]) for die in first["dice"]]
    assert first["distance"] == "0"
    assert set(first["scores"]) >= {"legible", "familiar", "readability", "cost"}
    assert not Path("runs").exists()


def test_a_run_is_written_shown_again_and_kept_from_other_questions(run: Run) -> None:
    status, out, err = run("find", "brief.toml", brief=HARBOUR)
    folder = Path("runs/harbour-dues")
    assert status == 0
    assert out.startswith("Ten numberings do it.")
    assert "runs/harbour-dues/report.html" in err
    assert {path.name for path in folder.iterdir()} >= {
        "brief.toml",
        "run.sqlite",
        "provenance.json",
        "report.html",
    }
    assert json.loads((folder / "provenance.json").read_text())["verdict"] == "complete"
    before = stored(folder)
    status, out, err = run("find", "brief.toml", brief=HARBOUR.replace("dice", "note = 'again'\ndice"))
    assert (status, "answered before" in err) == (0, True)
    assert stored(folder) == before
    status, out, err = run("find", "brief.toml", "--out", str(folder), brief=CUBES)
    assert (status, out) == (2, "")
    assert "--replace" in err
    status, out, err = run("find", "brief.toml", "--out", str(folder), "--replace", brief=CUBES)
    assert status == 0
    assert run("check", str(folder))[1] == "2 designs recounted: all agree\n"


def test_counting_lists_nothing(run: Run) -> None:
    status, out, _ = run("find", "brief.toml", "--count", "--json", brief=HARBOUR)
    answer = json.loads(out)
    assert (status, answer["count"], answer["designs"]) == (0, 10, [])


def test_workers_change_nothing_but_the_time(run: Run) -> None:
    one = json.loads(run("find", "brief.toml", "--json", brief=CHOICE)[1])
    two = json.loads(run("find", "brief.toml", "--json", "--workers", "2", brief=CHOICE)[1])
    for answer in (one, two):
        answer["evidence"]["seconds"] = 0
    assert one == two
    assert len(one["dropped"]) + len(one["sets"]) == 15
    assert one["count"] == sum(part["count"] for part in one["sets"]) == len(one["designs"])


def test_the_limit_on_designs_holds_over_all_sets(run: Run) -> None:
    limited = CHOICE + "stop = { designs = 4 }\n"
    whole = json.loads(run("find", "brief.toml", "--json", brief=CHOICE)[1])
    for workers in ("1", "2"):
        status, out, _ = run("find", "brief.toml", "--json", "--workers", workers, brief=limited)
        answer = json.loads(out)
        assert (status, len(answer["designs"]), answer["count"]) == (0, 4, whole["count"])
        assert "the best 4 are listed" in answer["reason"]


def test_none_and_partial_end_as_the_contract_says(run: Run) -> None:
    status, out, _ = run("find", "brief.toml", "--json", brief=CUBES.replace("[6, 6]", "[4, 10]"))
    assert (status, json.loads(out)["verdict"]) == (0, "none")
    slow = 'title = "Slow"\nlike = "4d120"\nread = "total"\ndice = [120, 120, 120, 120]\nstop = { seconds = 0.3 }\n'
    status, out, _ = run("find", "brief.toml", "--json", brief=slow)
    answer = json.loads(out)
    assert (status, answer["verdict"], answer["count_is"], answer["evidence"]["proved"]) == (
        1,
        "partial",
        "at least",
        False,
    )


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["find", "nowhere.toml"], "nowhere.toml"),
        (["find"], "Missing argument"),
        (["show", "nowhere"], "no run of that name"),
        (["new", "sculpture"], "numbering"),
        (["ways", "1 2", "x"], "die 2"),
        (["ways", "1 2", "--read", "sideways"], "total"),
        (["check", "brief.toml"], "found no JSON"),
        (["fnid"], "No such command"),
    ],
)
def test_wrong_use_says_what_would_do(run: Run, arguments: list[str], words: str) -> None:
    status, out, err = run(*arguments, brief=CUBES)
    assert status in (1, 2)
    assert out == ""
    assert words in err
    assert "Traceback" not in err


def test_a_refused_brief_names_every_fault_with_its_line(run: Run) -> None:
    status, out, err = run(
        "find", "brief.toml", brief='title = "t"\nlkie = "2d6"\nread = "total"\ndice = [1]\n'
    )
    assert (status, out) == (2, "")
    assert "line 2, lkie" in err
    assert "line 4, dice[1]" in err


def test_own_dice(run: Run) -> None:
    status, out, _ = run("ways", "1 2 2 3 3 4", "1 3 4 5 6 8", "--like", "2d6")
    assert status == 0
    assert out.startswith("Exactly the chances of 2d6.")
    told = json.loads(run("ways", "1..6", "1 2 3 4 5 5", "--like", "2d6", "--json", "--save", "own")[1])
    assert (told["same"], told["distance"], told["outcomes"]) == (False, "1/36", 36)
    assert dict(map(tuple, told["ways"]))[12 - 1] == 2
    shown = json.loads(run("show", "own", "--json")[1])
    assert (shown["verdict"], shown["designs"][0]["distance"]) == ("best", "1/36")
    assert run("check", "own")[0] == 0
    assert run("find", "own/brief.toml", "--json")[0] == 0


def test_a_starter_brief_is_answered(run: Run) -> None:
    status, out, _ = run("new", "numbering")
    assert status == 0
    answer = json.loads(run("find", "brief.toml", "--json", brief=out)[1])
    assert answer["verdict"] == "complete"
    assert answer["count"] > 0


def test_runs_are_listed_and_shown_as_text_json_and_csv(run: Run) -> None:
    run("find", "brief.toml", brief=HARBOUR)
    run("find", "brief.toml", brief=CUBES)
    assert [one["run"] for one in json.loads(run("list", "--json")[1])["runs"]] == [
        "harbour-dues",
        "two-cubes",
    ]
    assert "Harbour dues" in run("list")[1]
    rows = list(csv.DictReader(io.StringIO(run("show", "harbour-dues", "--csv")[1])))
    assert len(rows) == 10
    assert rows[0]["die_1"] == "1 2 3 4 5 6"
    one = json.loads(run("show", "harbour-dues", rows[3]["id"][:6], "--json")[1])
    assert one["id"] == rows[3]["id"]
    assert rows[3]["die_1"] == " ".join(map(str, one["dice"][0]["labels"]))
    status, _, err = run("show", "harbour-dues", "zz")
    assert (status, "ids begin" in err) == (2, True)
    report = Path("runs/harbour-dues/report.html")
    report.unlink()
    assert run("report", "harbour-dues")[0] == 0
    assert report.stat().st_size > 10_000


def test_tampering_is_found(run: Run) -> None:
    run("find", "brief.toml", brief=HARBOUR)
    with sqlite3.connect("runs/harbour-dues/run.sqlite") as store:
        [(number, labels)] = store.execute("SELECT number, labels FROM designs LIMIT 1").fetchall()
        dice: Any = json.loads(labels)
        dice[0][0] += 1
        store.execute("UPDATE designs SET labels = ? WHERE number = ?", (json.dumps(dice), number))
    store.close()
    status, out, err = run("check", "harbour-dues")
    assert (status, "1 wrong" in out) == (3, True)
    assert "found 0 in 96, wanted 1 in 96" in out + err
    answer = json.loads(run("find", "brief.toml", "--json", brief=CUBES)[1])
    answer["designs"][0]["dice"][0]["labels"][0] = 2
    Path("answer.json").write_text(json.dumps(answer))
    assert run("check", "answer.json")[0] == 3


def test_an_engine_that_lies_stops_the_run_loudly(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def lie(_self: Factors, question: Any, *_: object) -> Answering:
        def stream() -> Any:
            yield NumberingDesign.of(question.dice, [[1, 2, 3, 4, 5, 6], [1, 2, 3, 4, 5, 7]])
            return Closing("complete", 1, 1, "all", "One numbering does it.")

        return Answering("factors", stream())

    monkeypatch.setattr(Factors, "answer", lie)
    status, out, err = run("find", "brief.toml", brief=CUBES)
    assert (status, out) == (3, "")
    assert "the recount disagrees with the engine 'factors'" in err


def test_quiet_says_nothing_beside_the_result(run: Run) -> None:
    assert run("find", "brief.toml", "--quiet", brief=CUBES)[2] == ""
