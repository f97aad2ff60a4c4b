"""Stores and answers that somebody changed or broke: named and refused, never believed, never a traceback."""

from __future__ import annotations

import json
import random
import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from facewright.search.cli import status_of

HARBOUR = 'title = "Harbour dues"\nlike = "d8 + d12"\nread = "total"\ndice = [6, 16]\n'

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="module")
def answered(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a brief, its run and its answer in JSON."""
    folder = tmp_path_factory.mktemp("answered")
    (folder / "brief.toml").write_text(HARBOUR, encoding="utf-8")
    assert status_of(["find", str(folder / "brief.toml"), "--out", str(folder / "run"), "--quiet"]) == 0
    return folder


@pytest.fixture
def run(
    answered: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Run:
    """The command, beside a copy of that run."""
    shutil.copytree(answered, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    capsys.readouterr()

    def given(*arguments: str) -> tuple[int, str, str]:
        status = status_of(list(arguments))
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        assert "a fault of this program" not in said.err
        return status, said.out, said.err

    return given


def change(sql: str, *values: object) -> None:
    """Changes the store behind the command's back."""
    store = sqlite3.connect("run/run.sqlite")
    with store:
        assert store.execute(sql, values).rowcount != 0
    store.close()


def with_labels(how: Callable[[list[list[int]]], Any]) -> None:
    """Changes the labels of the first design."""
    store = sqlite3.connect("run/run.sqlite")
    [text] = store.execute("SELECT labels FROM designs WHERE number = 1").fetchone()
    store.close()
    dice = json.loads(text)
    how(dice)
    change("UPDATE designs SET labels = ? WHERE number = 1", json.dumps(dice))


TAMPERED: dict[str, tuple[Callable[[], None], str]] = {
    "a label": (lambda: with_labels(lambda dice: dice[0].__setitem__(0, 2)), "wanted 1 in 96"),
    "out of order": (lambda: with_labels(lambda dice: dice[1].reverse()), "do not stand in rising order"),
    "a label too few": (lambda: with_labels(lambda dice: dice[0].pop()), "asked for 6"),
    "a die too few": (lambda: with_labels(lambda dice: dice.pop()), "no design"),
    "text for a label": (
        lambda: with_labels(lambda dice: dice[0].__setitem__(0, "1")),  # type: ignore[call-overload]
        "a label is a whole number",
    ),
    "no labels": (lambda: change("UPDATE designs SET labels = '7' WHERE number = 1"), "no design"),
    "no JSON": (lambda: change("UPDATE designs SET labels = '[[1,' WHERE number = 1"), "no design"),
    "another set": (lambda: change("UPDATE designs SET position = 5 WHERE number = 1"), "no design"),
    "an id": (
        lambda: change("UPDATE designs SET id = 'c0ffee' WHERE number = 1"),
        "c0ffee: its id should be",
    ),
    "a distance": (lambda: change("UPDATE designs SET distance = '1/36' WHERE number = 1"), "should be 0"),
    "a design taken out": (
        lambda: change("DELETE FROM designs WHERE number = 1"),
        "10 designs were listed, 9 are there",
    ),
}


@pytest.mark.parametrize("name", TAMPERED)
def test_check_names_what_was_tampered_with(name: str, run: Run) -> None:
    how, words = TAMPERED[name]
    how()
    status, out, _ = run("check", "run")
    assert status == 3
    assert words in out
    status, out, _ = run("check", "run", "--json")
    found = json.loads(out)
    assert status == 3 and len(found["wrong"]) + len(found["faults"]) == 1


BROKEN: dict[str, tuple[Callable[[], None], str]] = {
    "not SQLite": (lambda: cut(b"a text, no store" * 100), "damaged"),
    "another version": (
        lambda: change("PRAGMA user_version = 7"),
        "version 7 (a newer facewright wrote it), this program reads versions 1 to 2",
    ),
    "tables of others": (lambda: change("ALTER TABLE about RENAME TO aboot"), "no such table: about"),
    "no question": (lambda: change("DELETE FROM about WHERE key = 'question'"), "ended before it began"),
    "a question of others": (
        lambda: change("UPDATE about SET value = '[]' WHERE key = 'question'"),
        "damaged",
    ),
    "a question cut off": (lambda: change("UPDATE about SET value = '{' WHERE key = 'question'"), "damaged"),
    "an outcome of others": (lambda: change("UPDATE outcomes SET outcome = '{}'"), "damaged"),
}


def cut(data: bytes) -> None:
    """Puts other bytes in the place of the store."""
    Path("run/run.sqlite").write_bytes(data)


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_store_is_named_and_can_be_replaced(name: str, run: Run) -> None:
    how, words = BROKEN[name]
    how()
    for command in ("check", "show", "report"):
        status, out, err = run(command, "run")
        assert (status, out) == (1, "")
        assert words in err and "run.sqlite" in err
    status, out, _ = run("list", ".")
    assert status == 0
    assert ("unfinished" if "began" in words else "damaged") in out
    assert run("find", "brief.toml", "--out", "run", "--replace")[0] == 0
    assert run("check", "run")[:2] == (0, "10 designs recounted: all agree\n")


def test_a_store_without_an_ending_goes_on(run: Run) -> None:
    change("DELETE FROM about WHERE key = 'ended'")
    change("DELETE FROM outcomes")
    assert run("list", ".")[1].split()[:3] == ["run", "unfinished", "10+"]
    assert run("find", "brief.toml", "--out", "run")[0] == 0
    assert run("list", ".")[1].split()[:3] == ["run", "complete", "10"]


def test_bytes_turned_over_and_cut_off_show_no_traceback(run: Run) -> None:
    store = Path("run/run.sqlite")
    whole = store.read_bytes()
    places = random.Random(8)
    for _ in range(40):
        data = bytearray(whole)
        for _ in range(places.randint(1, 60)):
            data[places.randrange(len(data))] = places.randrange(256)
        store.write_bytes(data[: places.choice([len(data), len(data), places.randrange(len(data))])])
        assert run("check", "run")[0] in (0, 1, 3)
        # where the names of keys or titles are hit, the run may look like another question's
        assert run("list", ".")[0] == 0
    store.write_bytes(whole)
    assert run("check", "run")[0] == 0


def test_other_files_of_a_run_may_be_broken_or_gone(run: Run) -> None:
    for text in ("{", "[]", '{"made_with": {}}', '"x"'):
        Path("run/provenance.json").write_text(text, encoding="utf-8")
        assert run("report", "run")[0] == 0
    for name in ("provenance.json", "report.html", "brief.toml", "run.lock"):
        Path("run", name).unlink()
    assert run("show", "run")[0] == 0
    assert run("report", "run")[0] == 0
    assert run("find", "brief.toml", "--out", "run")[0] == 0


Change = Callable[[dict[str, Any]], Any]

FORGED: dict[str, tuple[Change, int, str]] = {
    "a label": (lambda a: a["designs"][0]["dice"][0]["labels"].__setitem__(0, 2), 3, "wanted 1 in 96"),
    "an id": (lambda a: a["designs"][0].__setitem__("id", "abc"), 3, "abc: its id should be"),
    "a distance": (lambda a: a["designs"][0].__setitem__("distance", "1/9"), 3, "should be 0, found 1/9"),
    "ordinary": (lambda a: a["designs"][1].__setitem__("ordinary", True), 3, "not ordinary"),
    "a solid": (lambda a: a["designs"][0]["dice"][0].__setitem__("solid", "octahedron"), 3, "asks for"),
    "a design twice": (lambda a: a["designs"].append(a["designs"][0]), 3, "stand there twice"),
    "a design taken out": (lambda a: a["designs"].pop(), 3, "10 designs were listed, 9 are there"),
    "no dice": (lambda a: a["designs"][0].pop("dice"), 3, "no design"),
    "lists for labels": (
        lambda a: a["designs"][0]["dice"][0].__setitem__("labels", [[1]] * 6),
        3,
        "no design",
    ),
    "floats for labels": (
        lambda a: a["designs"][0]["dice"][0]["labels"].__setitem__(0, 1.0),
        3,
        "a label is a whole number",
    ),
    "no question": (lambda a: a.pop("question"), 2, "it lacks 'question'"),
    "no designs": (lambda a: a.pop("designs"), 2, "it lacks 'designs'"),
    "a number for designs": (lambda a: a.__setitem__("designs", 5), 2, "no answer"),
    "another kind": (lambda a: a["question"].__setitem__("kind", "sculpture"), 2, "no answer"),
    "another reading": (lambda a: a["question"].__setitem__("read", "backwards"), 2, "backwards"),
    "text for a rule": (
        lambda a: a["question"]["sets"][0][0]["rules"].__setitem__("lowest", "1"),
        2,
        "no answer has",
    ),
    "no rules": (lambda a: a["question"]["sets"][0][0].__setitem__("rules", []), 2, "no answer"),
    "no target": (lambda a: a["question"].__setitem__("target", []), 2, "no answer"),
}


@pytest.mark.parametrize("name", FORGED)
def test_check_of_a_forged_answer(name: str, run: Run) -> None:
    how, expected, words = FORGED[name]
    answer = json.loads(run("find", "brief.toml", "--json")[1])
    how(answer)
    Path("forged.json").write_text(json.dumps(answer), encoding="utf-8")
    status, out, err = run("check", "forged.json")
    assert status == expected
    assert words in out + err
    assert (out == "") == (expected == 2)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"[]",
        b"null",
        b'"text"',
        b"{",
        b"\xff\xfe",
        b"[" * 200_000,
        b'{"a":' * 100_000,
        b"9" * 5_000,
        b"\0" * 100,
        b'{"question": {}, "designs": [1]}',
        HARBOUR.encode(),
    ],
    ids=range(12),
)
def test_check_of_what_is_no_answer(data: bytes, run: Run) -> None:
    Path("strange.json").write_bytes(data)
    status, out, err = run("check", "strange.json")
    assert (status, out) == (2, "")
    assert err.startswith("facewright: strange.json: ")
