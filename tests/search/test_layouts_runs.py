"""Layouts through the commands: answers in JSON, run folders, the check, text, rows, and what a stop leaves."""

from __future__ import annotations

import json
import re
import sqlite3
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.layout import Layout
from facewright.search import find
from facewright.search.answer import Answering, Closing
from facewright.search.cli import status_of
from facewright.search.engines.layout import Laying
from facewright.search.layouts_answer import LayoutAnswer, misses
from facewright.search.layouts_finding import answer_layout
from facewright.search.runs import perform
from facewright.search.stop import never

CUBE = 'title = "Six & six"\nsolid = "cube"\nplace = "1..6"\nlayout = ["opposite-sums"]\n'
EVEN = CUBE.replace("opposite-sums", "even-vertices")
WORDS = 'title = "Compass"\nsolid = "octahedron"\nplace = ["N", "E", "S", "W"]\nlayout = ["apart"]\n'


@pytest.fixture
def brief(tmp_path: Path) -> Path:
    path = tmp_path / "brief.toml"
    path.write_text(CUBE, encoding="utf-8")
    return path


def told(capsys: pytest.CaptureFixture[str], *arguments: object, status: int = 0) -> str:
    capsys.readouterr()
    assert status_of([str(one) for one in arguments]) == status
    return capsys.readouterr().out


def ask(text: str) -> Layout:
    question = parse(text)
    assert isinstance(question, Layout)
    return question


def test_json_has_what_the_contract_says(brief: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answer = json.loads(told(capsys, "find", brief, "--json", "--quiet"))
    assert (answer["schema"], answer["kind"], answer["verdict"]) == (1, "layout", "best")
    assert (answer["evidence"]["engine"], answer["evidence"]["proved"]) == ("layout", True)
    assert answer["evidence"]["recounted"] == 1
    [design] = answer["designs"]
    assert design["solid"] == "cube"
    assert sorted(design["faces"].values()) == [1, 2, 3, 4, 5, 6]
    assert set(design["balance"]) >= {"opposite", "vertices", "off_centre", "out_of_round"}
    recounted_from_its_own_geometry(design)
    assert design["balance"]["opposite"] == [7, 7, 7]


def recounted_from_its_own_geometry(design: dict[str, Any]) -> None:
    """The sums follow from what the answer itself says of the solid."""
    labels, solid = design["faces"], design["geometry"]
    sums = {
        frozenset((rest["below"], rest["on_top"])): labels[rest["below"]] + labels[rest["on_top"]]
        for rest in solid["rests"]
    }
    assert sorted(sums.values()) == sorted(design["balance"]["opposite"])
    about = [
        sum(labels[f"f{face + 1}"] for face, corners in enumerate(solid["faces"]) if vertex in corners)
        for vertex in range(len(solid["vertices"]))
    ]
    assert design["balance"]["vertices"]["by_degree"] == {"3": [min(about), max(about)]}


def test_a_run_folder(brief: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run = tmp_path / "runs" / "six"
    first = told(capsys, "find", brief, "--out", run, "--quiet")
    assert "opposite faces" in first
    assert "all add up to 7" in first
    assert told(capsys, "find", brief, "--out", run, "--quiet") == first
    assert "1 design recounted: all agree" in told(capsys, "check", run)
    [listed] = json.loads(told(capsys, "list", run.parent, "--json"))["runs"]
    assert (listed["verdict"], listed["count"], listed["title"]) == ("best", 1, "Six & six")
    whole = told(capsys, "show", run, "--json")
    design = json.loads(whole)["designs"][0]
    assert json.loads(told(capsys, "show", run, design["id"][:6], "--json")) == design
    assert design["id"] in told(capsys, "show", run, design["id"][:6])
    (tmp_path / "answer.json").write_text(whole, encoding="utf-8")
    assert "all agree" in told(capsys, "check", tmp_path / "answer.json")
    head, row = told(capsys, "show", run, "--csv").splitlines()
    assert head.startswith("rank,id,solid,f1,f2,f3,f4,f5,f6,least_opposite,most_opposite,vertex_deviation,")
    assert row.split(",")[9:11] == ["7", "7"]
    page = (run / "report.html").read_text(encoding="utf-8")
    told(capsys, "report", run, "--quiet")
    assert (run / "report.html").read_text(encoding="utf-8") == page


def test_a_layout_of_words(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "words.toml"
    path.write_text(WORDS, encoding="utf-8")
    answer = json.loads(told(capsys, "find", path, "--json", "--quiet"))
    [design] = answer["designs"]
    assert Counter(design["faces"].values()) == {"N": 2, "E": 2, "S": 2, "W": 2}
    assert design["balance"]["vertices"] is None
    # opposite faces of an octahedron neither share an edge nor touch
    assert design["balance"]["equal_touching"] == {"edge": 0, "vertex": 0}
    assert "equal labels" in told(capsys, "find", path, "--out", tmp_path / "w", "--quiet")
    assert "1 design recounted: all agree" in told(capsys, "check", tmp_path / "w")


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        (lambda form: form["faces"].update(f1=form["faces"]["f2"]), "labels"),
        (lambda form: form["balance"].update(opposite=[6, 7, 8]), "opposite"),
        (lambda form: form["balance"]["vertices"].update(deviation="1/2"), ""),
        (lambda form: form["balance"].update(consecutive=99), ""),
        (lambda form: form.update(solid="octahedron"), "octahedron"),
    ],
)
def test_check_finds_a_layout_that_was_changed(
    change: Any, fault: str, brief: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run = tmp_path / "run"
    told(capsys, "find", brief, "--out", run, "--quiet")
    with sqlite3.connect(run / "run.sqlite") as store:
        [text] = store.execute("SELECT labels FROM designs").fetchone()
        form = json.loads(text)
        change(form)
        store.execute("UPDATE designs SET labels = ?", (json.dumps(form),))
    store.close()
    said = told(capsys, "check", run, status=3)
    assert "1 wrong" in said
    assert fault in said


def test_what_is_no_layout_is_said_so(
    brief: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answer = json.loads(told(capsys, "find", brief, "--json", "--quiet"))
    answer["designs"][0]["balance"] = None
    (tmp_path / "answer.json").write_text(json.dumps(answer), encoding="utf-8")
    assert "no design" in told(capsys, "check", tmp_path / "answer.json", status=3)


def test_several_layouts_and_their_number(brief: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A cube with opposite sums of 7 can be laid out in two ways, mirror images of each other (common knowledge)."""
    brief.write_text(CUBE + "stop = { designs = 10 }\n", encoding="utf-8")
    answer = json.loads(told(capsys, "find", brief, "--json", "--quiet"))
    assert (answer["count"], answer["count_is"]) == (2, "all")
    one, other = answer["designs"]
    assert (one["mirror"], other["mirror"]) == (other["id"], one["id"])
    counted = json.loads(told(capsys, "find", brief, "--count", "--json", "--quiet"))
    assert (counted["count"], counted["designs"]) == (2, [])
    lines = told(capsys, "find", brief, "--quiet", "--out", brief.parent / "two").splitlines()
    assert [line[:8] for line in lines if re.match(r"[0-9a-f]{8}  \d", line)] == [
        one["id"][:8],
        other["id"][:8],
    ]


def test_from_python_it_is_an_answer_with_designs() -> None:
    answer = find(ask(CUBE))
    assert isinstance(answer, LayoutAnswer)
    assert answer.ranked[0].design.balance.opposite == (7, 7, 7)
    assert (answer.layouts, answer.count_is) == ((), "at least")


class Slow(Laying):
    """An engine that is stopped after it met one layout that is not the best."""

    def answer(self, question: Layout, limit: int, stop: Any, seed: int, report: Any) -> Answering:
        def stream() -> Any:
            from facewright.constraints.layout_design import LayoutDesign

            yield LayoutDesign.of(question, (1, 2, 3, 4, 5, 6))
            return Closing("partial", 1, 1, "at least", "One was met. The search ended early.", (), "0")

        return Answering(self.name, stream())


def test_what_a_stopped_search_found_gives_way_to_the_best(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    question, folder = ask(EVEN), tmp_path / "run"
    how: dict[str, Any] = {"seed": 0, "stop": never, "report": lambda *_: None}
    with monkeypatch.context() as patched:
        patched.setattr("facewright.search.engines.layout.Laying", Slow)
        first, _ = perform(question, EVEN, folder, **how)
    assert first.verdict == "partial"
    met = misses(question, first.ranked[0].design)
    second, done = perform(question, EVEN, folder, **how)
    assert (second.verdict, done) == ("best", "resumed")
    [found] = second.found
    assert misses(question, found.design) < met
    assert perform(question, EVEN, folder, **how)[1] == "known"


def test_a_stopped_search_keeps_the_better_of_two_tries(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    question, folder = ask(EVEN), tmp_path / "run"
    how: dict[str, Any] = {"seed": 0, "stop": never, "report": lambda *_: None}
    best = answer_layout(question, seed=0, stop=never).found[0]

    class Lucky(Slow):
        def answer(self, question: Layout, limit: int, stop: Any, seed: int, report: Any) -> Answering:
            def stream() -> Any:
                yield best.design
                return Closing("partial", 1, 1, "at least", "One was met. The search ended early.", (), "0")

            return Answering(self.name, stream())

    for engine in (Slow, Lucky, Slow):
        monkeypatch.setattr("facewright.search.engines.layout.Laying", engine)
        answer, _ = perform(question, EVEN, folder, **how)
    assert [one.id for one in answer.found] == [best.id]


def test_nothing_is_listed_where_nothing_is_wanted() -> None:
    for goals in ('["opposite-sums"]', '["off-centre"]'):
        question = ask(CUBE.replace('["opposite-sums"]', goals))
        answer = answer_layout(question, seed=0, stop=never, limit=0)
        assert answer.found == ()
        assert answer.count > 0
