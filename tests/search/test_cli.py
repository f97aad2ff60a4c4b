"""Every command with every option, used rightly and wrongly: statuses, both outputs, what is written."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
import pytest
from facewright.search.cli import status_of
from facewright.search.cli.command import facewright
from facewright.search.cli.common import interruptible
from facewright.search.stop import Limits

Run = Callable[..., tuple[int, str, str]]
HARBOUR = 'title = "Harbour dues"\nlike = "d8 + d12"\nread = "total"\ndice = [6, 16]\n'
NONE = 'title = "Storm"\nlike = "2d6"\nread = "total"\ndice = [4, 10]\n'
PLAN = 'title = "Plan"\n[brief]\nread = "total"\nlike = "2d6"\n[lists]\ndice = [[6, 6], [4, 9]]\n'
SCORES = "[readability]\nlegible = 0\nfamiliar = 1\n"


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    monkeypatch.chdir(tmp_path)
    Path("harbour.toml").write_text(HARBOUR, encoding="utf-8")
    Path("none.toml").write_text(NONE, encoding="utf-8")
    Path("scores.toml").write_text(SCORES, encoding="utf-8")
    Path("plan.toml").write_text(PLAN, encoding="utf-8")

    def given(*arguments: str) -> tuple[int, str, str]:
        status = status_of(list(arguments))
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        assert "a fault of this program" not in said.err
        return status, said.out, said.err

    return given


def test_every_command_takes_the_common_options(run: Run) -> None:
    run("find", "harbour.toml")
    uses = {
        "find": ["harbour.toml"],
        "ways": ["1 2 3"],
        "new": [],
        "check": ["harbour-dues"],
        "list": [],
        "show": ["harbour-dues"],
        "report": ["harbour-dues"],
        "make": ["harbour-dues", "ced3"],
        "sheet": ["harbour-dues", "ced3"],
        "rank": ["harbour-dues"],
        "rolls": ["harbour-dues", "ced3"],
        "measure": ["harbour-dues", "ced3"],
        "batch": ["plan.toml"],
        "solids": ["cube"],
    }
    assert set(uses) == set(facewright.commands)
    for name, arguments in uses.items():
        status, out, _ = run(name, *arguments, "--quiet", "--seed", "7", "--workers", "2")
        assert status == 0 and out, name
        for short in ("--help", "-h"):
            status, out, err = run(name, short)
            assert (status, err) == (0, "") and out.startswith(f"Usage: facewright {name}")


def test_help_says_something_of_everything(run: Run) -> None:
    status, out, _ = run("--help")
    assert status == 0
    for name, command in facewright.commands.items():
        assert f"  {name} " in out
        assert command.help
        for option in command.params:
            if isinstance(option, click.Option) and not option.hidden:
                assert option.help, f"{name} {option.opts}"
    assert run("--version")[1].startswith("facewright 0.")


@pytest.mark.parametrize(
    ("arguments", "status", "words"),
    [
        (["find", "."], 2, ".: a folder; name the brief in it"),
        (["find", "harbour.toml", "none.toml"], 2, "unexpected extra argument"),
        (["find", "harbour.toml", "--outt", "x"], 2, "No such option"),
        (["find", "harbour.toml", "--out"], 2, "requires an argument"),
        (["find", "harbour.toml", "--seed", "-1"], 2, "--seed"),
        (["find", "harbour.toml", "--seed", "x"], 2, "--seed"),
        (["find", "harbour.toml", "--seed", "2147483648"], 2, "--seed"),
        (["find", "harbour.toml", "--workers", "0"], 2, "--workers"),
        (["find", "harbour.toml", "--workers", "1000"], 2, "--workers"),
        (["find", "harbour.toml", "--scores", "none.ini"], 2, "none.ini: 1 fault"),
        (["find", "harbour.toml", "--scores", "none.toml"], 2, "line 1, title"),
        (["find", "harbour.toml", "--out", "scores.toml"], 2, "the folder cannot be made"),
        (["ways"], 2, "Missing argument"),
        (["ways", "1"], 2, "die 1: found one label"),
        (["ways", "-1", "0", "1"], 2, "all in one pair of quotation marks"),
        (["ways", "1 2", "--jsno"], 2, 'die 2: found "--jsno"'),
        (["ways", "1 2", "--like", "2x6"], 2, "--like: found"),
        (["new", "smoth"], 2, "accepted: numbering"),
        (["new", "numbering", "more"], 2, "unexpected extra argument"),
        (["check"], 2, "Missing argument"),
        (["check", "nowhere"], 2, "no run of that name"),
        (["check", "harbour.toml"], 2, "found no JSON"),
        (["list", "nowhere"], 2, "found no such folder"),
        (["list", "harbour.toml"], 2, "found no such folder"),
        (["show"], 2, "Missing argument"),
        (["show", "nowhere"], 2, "runs here: none yet"),
        (["report", "nowhere"], 2, "no run of that name"),
        (["report"], 2, "Missing argument"),
        (["solids", "no such solid"], 2, "solids:"),
        (["--nothing"], 2, "No such option"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_wrong_use(run: Run, arguments: list[str], status: int, words: str) -> None:
    found, out, err = run(*arguments)
    assert (found, out) == (status, "")
    assert words in err
    assert not Path("runs").exists()


def test_without_a_command_the_help_is_shown(run: Run) -> None:
    status, out, err = run()
    assert (status, out) == (2, "") and "Commands:" in err


def test_counting_writes_only_where_it_is_told_to(run: Run) -> None:
    status, out, err = run("find", "harbour.toml", "--count")
    assert (status, err) == (0, "")
    assert out.startswith("Ten numberings do it, counted but not listed.")
    assert not Path("runs").exists()
    assert run("find", "harbour.toml", "--count", "--out", "run")[0] == 0
    assert json.loads(run("show", "run", "--json")[1])["designs"] == []
    # a list asked for later is made; counted again it stays
    assert len(json.loads(run("find", "harbour.toml", "--json", "--out", "run")[1])["designs"]) == 10
    counted = json.loads(run("find", "harbour.toml", "--count", "--json", "--out", "run")[1])
    assert (counted["count"], counted["designs"]) == (10, [])
    assert len(json.loads(run("show", "run", "--json")[1])["designs"]) == 10


def test_own_weights_change_the_ranking_not_the_run(run: Run) -> None:
    run("find", "harbour.toml")

    def order(*more: str) -> list[str]:
        return [one["id"] for one in json.loads(run("show", "harbour-dues", "--json", *more)[1])["designs"]]

    usual, own = order(), order("--scores", "scores.toml")
    assert usual != own and sorted(usual) == sorted(own)
    assert order() == usual
    first = json.loads(run("find", "harbour.toml", "--json", "--scores", "scores.toml")[1])["designs"][0]
    assert first["id"] == own[0]
    before = Path("runs/harbour-dues/report.html").read_text(encoding="utf-8")
    assert run("report", "harbour-dues", "--scores", "scores.toml")[0] == 0
    assert Path("runs/harbour-dues/report.html").read_text(encoding="utf-8") != before


def test_a_report_is_written_anew_and_says_where(run: Run) -> None:
    run("find", "harbour.toml")
    path = Path("runs/harbour-dues/report.html")
    path.unlink()
    status, out, err = run("report", "harbour-dues")
    assert (status, out, err) == (0, f"{path}\n", "report written\n")
    assert path.is_file()
    assert json.loads(run("report", "harbour-dues", "--json")[1]) == {"report": str(path)}
    assert run("report", "harbour-dues", "--quiet") == (0, f"{path}\n", "")


def test_designs_are_named_by_any_beginning(run: Run) -> None:
    run("find", "harbour.toml")
    ids = [one["id"] for one in json.loads(run("show", "harbour-dues", "--json")[1])["designs"]]
    alone = ids[0]
    for beginning in (alone, alone[:5], alone[:5].upper()):
        assert f"design {alone}" in run("show", "harbour-dues", beginning)[1]
    assert run("show", "harbour-dues", alone, "--csv")[1].count("\n") == 2
    for beginning, found in (("", "10 designs"), ("zz", "no design"), (alone + "0", "no design")):
        status, out, err = run("show", "harbour-dues", beginning)
        assert (status, out) == (2, "")
        assert f"found {found} of harbour-dues beginning so; ids begin: " in err
    twice = next(one[0] for one in ids if sum(other[0] == one[0] for other in ids) > 1)
    many = sum(one[0] == twice for one in ids)
    assert f"found {many} designs" in run("show", "harbour-dues", twice)[2]
    assert "found both" in run("show", "harbour-dues", "--json", "--csv")[2]


def test_none_has_a_run_a_report_and_empty_tables(run: Run) -> None:
    status, out, _ = run("find", "none.toml")
    assert status == 0 and "40 × 1/36 = 10/9 of them" in out.replace("\n", " ")
    assert run("show", "storm", "--csv")[1] == "rank,tied,id\n"
    assert json.loads(run("show", "storm", "--json")[1])["designs"] == []
    assert run("check", "storm")[:2] == (0, "0 designs recounted: all agree\n")
    status, _, err = run("show", "storm", "a")
    assert status == 2 and "there are none" in err


def test_a_table_shows_the_best_and_says_how_many_more(run: Run) -> None:
    Path("many.toml").write_text(HARBOUR + "labels = { lowest = -9 }\n", encoding="utf-8")
    status, out, _ = run("find", "many.toml")
    rest = json.loads(run("show", "harbour-dues", "--json")[1])["count"] - 30
    assert status == 0 and f"{rest} more are in the report; `facewright show RUN --all`" in out
    status, out, _ = run("show", "harbour-dues", "--all")
    assert status == 0 and "more are in the report" not in out


def test_runs_in_another_folder_are_listed(run: Run) -> None:
    assert run("list") == (0, "no runs in runs\n", "")
    run("find", "harbour.toml", "--out", "elsewhere/one")
    run("find", "none.toml", "--out", "elsewhere/two")
    status, out, _ = run("list", "elsewhere")
    assert status == 0
    assert [line.split()[:3] for line in out.splitlines()] == [
        ["one", "complete", "10"],
        ["two", "none", "0"],
    ]
    listed = json.loads(run("list", "elsewhere", "--json")[1])["runs"]
    assert [one["run"] for one in listed] == ["one", "two"]
    assert set(listed[0]) == {"run", "title", "verdict", "count", "count_is", "ended"}


def test_batches_are_listed_after_runs(run: Run) -> None:
    Path("plan.toml").write_text(
        'title = "Quays"\n[brief]\nread = "total"\n[lists]\nlike = ["2d6", "2d4"]\ndice = [[6, 6]]\n', "utf-8"
    )
    run("find", "none.toml", "--out", "elsewhere/one")
    assert run("batch", "plan.toml", "--workers", "1", "--out", "elsewhere/a")[0] == 0
    Path("elsewhere/b").mkdir()
    Path("elsewhere/b/batch.sqlite").write_bytes(b"no store at all, but long enough to be looked at")
    Path("elsewhere/c").mkdir()
    Path("elsewhere/c/batch.sqlite").touch()
    status, out, _ = run("list", "elsewhere")
    assert status == 0
    lines = [line.split()[:5] for line in out.splitlines()]
    assert lines[:2] == [["one", "none", "0", *lines[0][3:]], ["a", "batch", "2", "of", "2"]]
    assert lines[2][:2] == ["b", "batch"] and "damaged" in out.splitlines()[2]
    assert lines[3][:2] == ["c", "batch"] and "ended before it began" in out.splitlines()[3]
    batches = json.loads(run("list", "elsewhere", "--json")[1])["batches"]
    assert [one["different"] for one in batches] == [2, None, None]
    assert (batches[0]["answered"], batches[0]["failed"], batches[0]["left"]) == (2, 0, 0)


def test_own_dice_are_saved_as_a_run_like_any_other(run: Run) -> None:
    status, out, err = run("ways", "1 2 2 3 3 4", "1 3 4 5 6 8", "--like", "2d6", "--save", "own")
    assert status == 0 and out.startswith("Exactly the chances of 2d6.")
    assert err == "saved: own/report.html\n"
    assert run("find", "own/brief.toml", "--out", "own")[2].startswith("own: answered before")
    status, _, err = run("ways", "1 2", "--save", "own")
    assert status == 2 and "--replace forgets it" in err
    status, out, err = run("ways", "1 2", "--save", "scores.toml")
    assert status == 2 and out and "the folder cannot be made" in err
    assert run("ways", "1 2", "--save", "own", "--replace", "--quiet")[2] == ""
    assert run("check", "own")[1] == "1 design recounted: all agree\n"
    assert json.loads(run("ways", "1 2", "--json")[1])["ways"] == [[1, 1], [2, 1]]


def test_a_fault_of_ours_is_kept_for_its_report(
    run: Run, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    def fails(*_: Any) -> None:
        raise ZeroDivisionError("ours")

    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    monkeypatch.setattr("facewright.constraints.brief.starter.starter", fails)
    assert status_of(["new"]) == 1
    err = capsys.readouterr().err
    assert "a fault of this program (ZeroDivisionError: ours); details are in " in err
    notes = Path(err.rstrip().rpartition(" ")[2])
    assert "Traceback" in notes.read_text(encoding="utf-8")
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "none"))
    assert status_of(["new"]) == 1
    assert "details" not in capsys.readouterr().err


@pytest.mark.parametrize(
    ("wrong", "words"), [(MemoryError, "memory is used up"), (KeyboardInterrupt, "interrupted")]
)
def test_what_else_can_end_a_command(
    wrong: type[BaseException], words: str, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: Any) -> None:
        raise wrong

    monkeypatch.setattr("facewright.constraints.brief.starter.starter", fails)
    status, out, err = run("new")
    assert (status, out) == (1, "") and words in err


def test_interrupts_are_heard_only_inside(capfd: pytest.CaptureFixture[str]) -> None:
    import signal

    before = signal.getsignal(signal.SIGINT), signal.getsignal(signal.SIGTERM)
    limits = Limits()
    with interruptible(limits, quiet=False):
        signal.raise_signal(signal.SIGTERM)
        assert limits() == "interrupted"
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
    assert (signal.getsignal(signal.SIGINT), signal.getsignal(signal.SIGTERM)) == before
    assert capfd.readouterr().err.count("what was found is kept") == 1
