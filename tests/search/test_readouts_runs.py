"""Readouts through the commands: answers in JSON, run folders, the check, the report, answers kept between runs."""

from __future__ import annotations

import html
import json
import os
import re
import sqlite3
import subprocess
import sys
from collections.abc import Generator
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.readouts_design import ReadoutsDesign, as_marks
from facewright.constraints.solids import solid
from facewright.constraints.views import views_of
from facewright.search import catalogue_cache, find
from facewright.search.answer import Answering, Closing
from facewright.search.cli import status_of
from facewright.search.engines import readouts as engine
from facewright.search.readouts_answer import ReadoutsAnswer
from facewright.search.readouts_finding import answer_readouts
from facewright.search.report.readouts_page import readouts_page
from facewright.search.runs import perform
from facewright.search.stop import Limits, never

from tests.readouts_asked import asked

BRIEF = 'title = "Two & four"\nsolid = "rhombic dodecahedron"\nreadouts = { wind = 4, rain = 2 }\n'
SOME = BRIEF.replace('"rhombic dodecahedron"', '["cube", "rhombic dodecahedron", "octahedron"]')


@pytest.fixture
def brief(tmp_path: Path) -> Path:
    path = tmp_path / "brief.toml"
    path.write_text(BRIEF, encoding="utf-8")
    return path


def told(capsys: pytest.CaptureFixture[str], *arguments: object, status: int = 0) -> str:
    capsys.readouterr()
    assert status_of([str(one) for one in arguments]) == status
    return capsys.readouterr().out


def test_json_has_what_the_contract_says(brief: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answer = json.loads(told(capsys, "find", brief, "--json", "--quiet"))
    assert (answer["schema"], answer["kind"], answer["verdict"]) == (1, "readouts", "best")
    assert (answer["count"], answer["count_is"]) == (1, "at least")
    assert answer["evidence"]["proved"] is True
    [design] = answer["designs"]
    assert (design["dependence"], design["pairs"]) == ("1/6", {"1-2": "1/6"})
    assert sum(one["count"] for one in design["joint"]) == 12
    assert len(design["joint"]) == 8
    assert set(design["sites"]) == {"wind", "rain"}
    recounted_from_its_own_geometry(design)
    # source: own computation, by a separate program
    assert design["pair_tables"][0]["bits"] == pytest.approx(0.081704, abs=5e-7)
    assert design["largest_deviation"]["gap"] == "1/6"


def recounted_from_its_own_geometry(design: dict[str, Any]) -> None:
    """The joint counts follow from what the answer itself says of the solid."""
    rolled = []
    for rest in design["geometry"]["rests"]:
        seen = [
            [label for site, label in marks.items() if site in rest["shows"]]
            for marks in design["sites"].values()
        ]
        assert [len(one) for one in seen] == [1] * len(seen)
        rolled.append([one[0] for one in seen])
    for one in design["joint"]:
        assert one["count"] == rolled.count(one["labels"])


def test_a_run_folder(brief: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run = tmp_path / "runs" / "two"
    first = told(capsys, "find", brief, "--out", run, "--quiet")
    assert "twice as often as" in first.replace("\n", " ")
    assert told(capsys, "find", brief, "--out", run, "--quiet") == first
    assert "1 design recounted: all agree" in told(capsys, "check", run)
    [listed] = json.loads(told(capsys, "list", run.parent, "--json"))["runs"]
    assert (listed["verdict"], listed["count"], listed["title"]) == ("best", 1, "Two & four")
    design = json.loads(told(capsys, "show", run, "--json"))["designs"][0]
    assert json.loads(told(capsys, "show", run, design["id"][:6], "--json"))["id"] == design["id"]
    assert "wind \\ rain" in told(capsys, "show", run, design["id"][:6])
    assert (
        told(capsys, "show", run, "--csv").splitlines()[0] == "rank,id,solid,wind,rain,dependence,marks,cuts"
    )
    page = (run / "report.html").read_text(encoding="utf-8")
    told(capsys, "report", run, "--quiet")
    assert (run / "report.html").read_text(encoding="utf-8") == page


def test_check_finds_a_design_that_was_changed(
    brief: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run = tmp_path / "run"
    told(capsys, "find", brief, "--out", run, "--quiet")
    with sqlite3.connect(run / "run.sqlite") as store:
        [text] = store.execute("SELECT labels FROM designs").fetchone()
        form = json.loads(text)
        form["dependence"] = "0"
        store.execute("UPDATE designs SET labels = ?", (json.dumps(form),))
    store.close()
    assert "1 wrong" in told(capsys, "check", run, status=3)


def test_check_reads_an_answer_in_json(
    brief: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = told(capsys, "find", brief, "--json", "--quiet")
    path = tmp_path / "answer.json"
    path.write_text(text, encoding="utf-8")
    assert "all agree" in told(capsys, "check", path)
    path.write_text(text.replace('"f1": ', '"f99": '), encoding="utf-8")
    told(capsys, "check", path, "--quiet", status=3)


def test_count_alone_lists_nothing(brief: Path, capsys: pytest.CaptureFixture[str]) -> None:
    brief.write_text(BRIEF.replace("rhombic dodecahedron", "octahedron"), encoding="utf-8")
    answer = json.loads(told(capsys, "find", brief, "--count", "--json", "--quiet"))
    assert answer["designs"] == []
    assert (answer["count_is"], answer["verdict"]) == ("all", "complete")
    assert answer["count"] > 1


def test_which_solid(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    brief = tmp_path / "some.toml"
    brief.write_text(SOME, encoding="utf-8")
    answer = json.loads(told(capsys, "find", brief, "--json", "--quiet"))
    assert [row["solid"] for row in answer["solids"]] == ["octahedron", "rhombic dodecahedron", "cube"]
    assert [row["dependence"] for row in answer["solids"]] == ["0", "1/6", None]
    assert all(row["proved"] for row in answer["solids"])
    assert answer["verdict"] == "best"
    assert "octahedron alone" in answer["reason"]
    for row, design in zip(answer["solids"], answer["designs"], strict=False):
        assert row["design"] == design["id"]
        meeting = dict.fromkeys((*design["sites"]["wind"], *design["sites"]["rain"]), 0)
        for site in meeting:
            number = int(site[1:]) - 1
            faces = design["geometry"]["faces"]
            meeting[site] = {"f": 1, "e": 2, "v": sum(number in face for face in faces)}[site[0]]
        assert (row["marks"], row["cuts"]) == (len(meeting), sum(meeting.values()))


def test_a_stop_leaves_the_rest_for_later(tmp_path: Path) -> None:
    calls = iter([None] * 3)
    question = asked("cube", 2, 3)
    several = type(question)(question.readouts, ("cube", "octahedron", "rhombic dodecahedron"), title="x")
    answer = answer_readouts(several, seed=0, stop=lambda: next(calls, "interrupted"))
    assert answer.verdict == "partial" or answer.ranked[0].distance == 0
    assert len(answer.outcomes) < 3 or any(one.closing.verdict == "partial" for one in answer.outcomes)
    rest = answer_readouts(several, seed=0, stop=never, done=answer.outcomes[:1], earlier=answer.found[:1])
    assert len(rest.outcomes) == 3
    assert find(several).verdict == rest.verdict == "best"


def test_a_limit_of_time_says_so(brief: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answer = answer_readouts(asked("rhombic dodecahedron", 2, 4), seed=0, stop=Limits(interrupted=True))
    assert (answer.verdict, answer.bound) == ("partial", "1/6")
    assert "interrupted" in answer.reason


def several() -> Any:
    question = asked("cube", 2, 2)
    return type(question)(question.readouts, ("cube", "octahedron", "rhombic dodecahedron"), title="x")


def kept_files(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.json"))


def test_answers_are_kept_between_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(catalogue_cache.FOLDER, str(tmp_path / "kept"))
    first = answer_readouts(several(), seed=0, stop=never)
    assert len(kept_files(tmp_path / "kept")) == 3

    def fails(*_: object, **__: object) -> None:
        raise AssertionError("the engine was asked again")

    with monkeypatch.context() as patched:
        patched.setattr(engine.Marking, "answer", fails)
        assert answer_readouts(several(), seed=0, stop=never).found == first.found
    # a damaged file counts as none, and an answer of another version of the engine too
    for path in kept_files(tmp_path / "kept"):
        path.write_text("{", encoding="utf-8")
    assert answer_readouts(several(), seed=0, stop=never).found == first.found
    monkeypatch.setattr(engine, "VERSION", engine.VERSION + 1)
    answer_readouts(several(), seed=0, stop=never)
    assert len(kept_files(tmp_path / "kept")) == 6


def test_nothing_is_kept_where_nothing_can_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    monkeypatch.setenv(catalogue_cache.FOLDER, str(tmp_path / "file" / "kept"))
    assert answer_readouts(several(), seed=0, stop=never).verdict == "best"


def test_two_processes_keep_the_same_answers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "kept"
    brief = tmp_path / "some.toml"
    brief.write_text(SOME, encoding="utf-8")
    command = [sys.executable, "-m", "facewright.search.cli", "find", str(brief), "--json", "--quiet"]
    own = {**os.environ, catalogue_cache.FOLDER: str(folder)}
    workers = [subprocess.Popen(command, stdout=subprocess.PIPE, env=own) for _ in range(2)]
    one, other = (json.loads(worker.communicate()[0]) for worker in workers)
    assert [worker.returncode for worker in workers] == [0, 0]
    assert one["designs"] == other["designs"]
    assert len(kept_files(folder)) == 3
    assert not list(folder.glob("*.draft"))
    monkeypatch.setenv(catalogue_cache.FOLDER, str(folder))
    assert all(catalogue_cache.kept(path.stem) for path in kept_files(folder))


def page_of(question: Any) -> tuple[ReadoutsAnswer, str]:
    answer = answer_readouts(question, seed=0, stop=never)
    return answer, readouts_page(answer, answer.ranked)


def test_the_page_says_the_verdict_and_shows_every_pair() -> None:
    answer, page = page_of(asked("rhombic dodecahedron", 2, 3, 4))
    assert "the least dependence of all together is 1/2" in page
    assert page.count('<table class="heat">') == 3
    assert "How this was proved" in page
    assert "not for children under three" in page
    assert all(site in page for _, pairs in answer.found[0].design.sites for site, _ in pairs)
    assert not re.search(r"(?:src|href)=|@import|url\((?!data:)", page.split("<script>")[0])
    assert "default-src 'none'; script-src 'sha256-" in html.unescape(page)


def test_the_page_compares_solids_and_escapes_what_a_person_wrote() -> None:
    question = asked("cube", 2, 4)
    named = type(question)(question.readouts, ("cube", "octahedron"), title="<b>Wind</b>", note="a < b")
    _, page = page_of(named)
    assert "Which solid?" in page
    assert "no such marks" in page
    assert "<b>Wind" not in page
    assert "&lt;b&gt;Wind" in page
    assert "a &lt; b" in page


def test_workers_share_the_solids_and_give_the_same_answer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(catalogue_cache.FOLDER, str(tmp_path / "kept"))
    alone = answer_readouts(several(), seed=0, stop=never)
    monkeypatch.setenv(catalogue_cache.FOLDER, str(tmp_path / "other"))
    shards: list[tuple[int, str]] = []

    def keep(shard: Any, outcome: Any) -> None:
        shards.append((len(shard), outcome.solid))

    shared = answer_readouts(several(), seed=0, stop=never, keep=keep, workers=2)
    assert [one.design for one in shared.found] == [one.design for one in alone.found]
    assert [one.closing for one in shared.outcomes] == [one.closing for one in alone.outcomes]
    assert [name for _, name in shards] == list(several().solids)
    assert sum(many for many, _ in shards) == len(shared.found)


def test_workers_are_stopped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(catalogue_cache.FOLDER, str(tmp_path / "kept"))
    # two are being answered and one more is handed out; the others must be left
    solids = (
        "cube",
        "octahedron",
        "rhombic dodecahedron",
        "dodecahedron",
        "icosahedron",
        "tetrakis hexahedron",
    )
    many = type(several())(several().readouts, solids, title="x")
    stopped = answer_readouts(many, seed=0, stop=lambda: "interrupted", workers=2)
    assert stopped.verdict == "partial"
    assert len(stopped.outcomes) < len(solids)


def test_what_a_stopped_search_found_gives_way_to_the_best(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A marking with more dependence, kept when the search was cut short, is not shown once the best is proved."""
    question = asked("rhombic dodecahedron", 4, 2)
    best = answer_readouts(question, seed=0, stop=never).found[0].design
    views = views_of(solid(best.solid))
    [wind, rain] = as_marks(question, views, {name: dict(pairs) for name, pairs in best.sites})
    worse = max(
        (
            ReadoutsDesign.of(question, views, (exchanged(wind, a, b), rain))
            for a in range(len(wind))
            for b in range(a)
        ),
        key=lambda one: one.dependence,
    )
    assert worse.dependence > best.dependence

    def cut_short(self: object, *_: object, **__: object) -> Answering:
        def stream() -> Generator[ReadoutsDesign, None, Closing]:
            yield worse
            return Closing("partial", 1, 1, "at least", "One was met. The search ended early.", (), "0")

        return Answering("readouts", stream())

    how: dict[str, Any] = {"seed": 0, "stop": never, "report": lambda *_: None}
    with monkeypatch.context() as patched:
        patched.setattr(engine.Marking, "answer", cut_short)
        first, _ = perform(question, BRIEF, tmp_path / "run", **how)
    assert [one.design for one in first.found] == [worse]
    second, done = perform(question, BRIEF, tmp_path / "run", **how)
    assert (done, second.verdict) == ("resumed", "best")
    assert [one.design.dependence for one in second.found] == [best.dependence]


def exchanged(pairs: tuple[tuple[int, int], ...], a: int, b: int) -> tuple[tuple[int, int], ...]:
    """The marks of one readout with the labels of two sites exchanged."""
    labels = [label for _, label in pairs]
    labels[a], labels[b] = labels[b], labels[a]
    return tuple((site, label) for (site, _), label in zip(pairs, labels, strict=True))
