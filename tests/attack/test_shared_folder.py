"""One folder, two that want it: another process, another question, other files, a place that takes none."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

CUBES = 'like = "2d6"\ndice = [6, 6]'


def test_a_second_process_is_turned_away(facewright: Any, soon: Callable[[Callable[[], Any]], Any]) -> None:
    brief = facewright.brief("long")
    folder = facewright.folder / "run"
    first = facewright.start("find", brief, "--out", folder, "--quiet")
    soon((folder / "brief.toml").exists)
    for more in ([], ["--replace"]):
        status, out, err = facewright.run("find", brief, "--out", folder, *more)
        assert (status, out) == (1, "")
        assert "another process is working in this run folder; wait for it" in err
    # to look is allowed
    assert facewright.run("list", facewright.folder)[1].split()[:2] == ["run", "unfinished"]
    assert facewright.run("show", folder)[0] == 0
    first.terminate()
    assert facewright.ended(first)[0] == 1


def test_files_that_no_run_wrote_are_left_alone(facewright: Any) -> None:
    brief = facewright.brief(CUBES)
    for name in ("brief.toml", "report.html", "provenance.json"):
        folder = facewright.folder / name.partition(".")[0]
        folder.mkdir()
        (folder / name).write_text("mine", encoding="utf-8")
        for more in ([], ["--replace"]):
            status, out, err = facewright.run("find", brief, "--out", folder, *more)
            assert (status, out) == (2, "")
            assert f"found {name} there, but no run" in err
        assert [path.name for path in folder.iterdir()] == [name]
        assert (folder / name).read_text(encoding="utf-8") == "mine"


def test_other_files_beside_a_run_stay(facewright: Any) -> None:
    brief = facewright.brief(CUBES)
    folder = facewright.folder / "run"
    folder.mkdir()
    (folder / "letter.txt").write_text("mine", encoding="utf-8")
    assert facewright.run("find", brief, "--out", folder)[0] == 0
    assert facewright.run("find", brief, "--out", folder, "--replace")[0] == 0
    assert (folder / "letter.txt").read_text(encoding="utf-8") == "mine"


def test_no_folder_can_be_made_under_a_file(facewright: Any) -> None:
    brief = facewright.brief(CUBES)
    for folder in (brief, brief / "run", Path("/dev/null"), Path("/dev/null/run")):
        status, out, err = facewright.run("find", brief, "--out", folder)
        assert (status, out) == (2, "")
        assert "the folder cannot be made" in err and "use --out to name another" in err


def test_a_run_without_its_own_name_can_be_found_by_path(facewright: Any) -> None:
    brief = facewright.brief(CUBES)
    assert facewright.run("find", brief)[0] == 0
    there = facewright.folder / "runs" / "attack"
    for name in ("attack", "runs/attack", "runs/attack/", "./runs/../runs/attack", there):
        assert facewright.run("show", name)[0] == 0
    for name in ("Attack", "..", "runs", "../attack", "/", "attack/run.sqlite", "attack\n"):
        status, out, err = facewright.run("show", name)
        assert (status, out) == (2, "")
        assert "found no run of that name" in err and "attack" in err
