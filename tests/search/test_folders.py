"""Folder names made of titles, and what a folder must be to hold a run."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from facewright.constraints.errors import RunError
from facewright.search.cli import status_of
from facewright.search.folders import LOCK, STORE, folder_of, forget, locked, prepare, slug, write_text
from hypothesis import given
from hypothesis import strategies as st

CUBES = "read = 'total'\nlike = '2d6'\ndice = [6, 6]\n"


@given(st.text(max_size=300))
def test_a_slug_is_a_plain_name(title: str) -> None:
    name = slug(title)
    assert 1 <= len(name) <= 60
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert not name.startswith("-") and not name.endswith("-")
    assert slug(title) == name


@given(st.text(st.characters(min_codepoint=0x3040, max_codepoint=0x9FFF), min_size=1))
def test_titles_in_another_script_keep_apart(title: str) -> None:
    assert slug(title) != slug(title + "港")


HOSTILE = [
    ("../../../tmp/elsewhere", "tmp-elsewhere"),
    ("/etc/passwd", "etc-passwd"),
    ("..", None),
    ("-rf *", "rf"),
    ("$(touch x); `touch y`", "touch-x-touch-y"),
    ("CON", "con"),
    ("<script>alert(1)</script>", "script-alert-1-script"),
    ("{{ 7 * 7 }} {% raw %}", "7-7-raw"),
    ("港の税", None),
    ("🎲", None),
    ("???", None),
    ("Ünïcödé Straße", "unicode-strae"),
    ("x" * 59 + " y", "x" * 59),
    ("\u202egnp.exe", "gnp-exe"),
]


@pytest.fixture
def run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Callable[..., tuple[int, str, str]]:
    monkeypatch.chdir(tmp_path)

    def given(*arguments: str) -> tuple[int, str, str]:
        status = status_of(list(arguments))
        said = capsys.readouterr()
        return status, said.out, said.err

    return given


@pytest.mark.parametrize(("title", "name"), HOSTILE)
def test_a_title_makes_a_harmless_folder(
    title: str, name: str | None, run: Callable[..., tuple[int, str, str]]
) -> None:
    brief = Path("brief.toml")
    brief.write_text(f"title = {json.dumps(title, ensure_ascii=False)}\n{CUBES}", encoding="utf-8")
    assert run("find", "brief.toml")[0] == 0
    assert {path.name for path in Path().iterdir()} == {"brief.toml", "runs"}
    [folder] = Path("runs").iterdir()
    if name is None:
        assert folder.name.startswith("run-") and len(folder.name) == 12
    else:
        assert folder.name == name
    status, out, _ = run("list")
    assert status == 0 and out.count("\n") == 1
    assert "\u202e" not in out
    assert "<script>alert" not in (folder / "report.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("title", ["", " ", "a\\nb", "\\u001b[31m", "\\u0000", "x" * 201])
def test_a_title_that_is_no_line_of_text_is_refused(
    title: str, run: Callable[..., tuple[int, str, str]]
) -> None:
    Path("brief.toml").write_text(f'title = "{title}"\n{CUBES}', encoding="utf-8")
    status, out, err = run("find", "brief.toml")
    assert (status, out) == (2, "")
    assert "line 1, title" in err and "\x1b" not in err


def test_the_same_title_with_another_question_is_refused(run: Callable[..., tuple[int, str, str]]) -> None:
    Path("one.toml").write_text(f'title = "Tolls"\n{CUBES}', encoding="utf-8")
    Path("other.toml").write_text(f'title = "Tolls"\n{CUBES.replace("2d6", "2d6 + 1")}', encoding="utf-8")
    assert run("find", "one.toml")[0] == 0
    status, out, err = run("find", "other.toml")
    assert (status, out) == (2, "")
    assert 'the run of another question there, "Tolls"' in err
    assert run("find", "other.toml", "--out", "elsewhere")[0] == 0
    assert run("find", "other.toml", "--replace")[0] == 0
    status, _, err = run("find", "one.toml")
    assert status == 2 and "another question" in err


def test_a_name_or_a_path_means_a_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "runs" / "tolls"
    folder.mkdir(parents=True)
    (folder / STORE).touch()
    for name in ("tolls", "runs/tolls", str(folder)):
        assert folder_of(name).resolve() == folder
    with pytest.raises(RunError, match="runs here: tolls") as refused:
        folder_of("toll")
    assert refused.value.exit_status == 2
    (tmp_path / STORE).touch()
    assert folder_of("").resolve() == tmp_path


def test_a_lock_is_held_by_one(tmp_path: Path) -> None:
    with locked(tmp_path), pytest.raises(RunError, match="another process") as refused, locked(tmp_path):
        pass
    assert refused.value.exit_status == 1
    with locked(tmp_path):
        assert (tmp_path / LOCK).exists()


def test_forgetting_leaves_what_is_not_ours(tmp_path: Path) -> None:
    for name in (STORE, f"{STORE}-wal", "report.html", "brief.toml", "mine.txt"):
        (tmp_path / name).touch()
    prepare(tmp_path)
    forget(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]
    (tmp_path / "report.html").mkdir()
    with pytest.raises(RunError, match="cannot be removed"):
        forget(tmp_path)


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    path = tmp_path / "report.html"
    write_text(path, "ä")
    assert path.read_bytes() == "ä".encode()
    with pytest.raises(RunError, match="cannot be written"):
        write_text(tmp_path / "no folder" / "report.html", "x")
    path.unlink()
    path.mkdir()
    with pytest.raises(RunError, match="cannot be written"):
        write_text(path, "x")
    assert [one.name for one in tmp_path.iterdir()] == ["report.html"]
