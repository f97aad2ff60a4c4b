"""A disk that fills up: a clear word, no traceback, a sound store, and a run that goes on when there is room."""

from __future__ import annotations

import resource
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.errors import RunError
from facewright.search import store as module
from facewright.search.progress import silent
from facewright.search.runs import perform
from facewright.search.stop import never
from facewright.search.store import Store

SIZES = [4, 12, 40, 120, 250]
"""Kilobytes: from no room for the tables to no room for the report."""


def holds(folder: Path) -> None:
    """The store of a run, where it came to be, is sound."""
    if not (folder / "run.sqlite").exists():
        return
    connection = sqlite3.connect(folder / "run.sqlite")
    assert connection.execute("PRAGMA quick_check").fetchone() == ("ok",)
    connection.close()


def test_files_that_may_not_grow(facewright: Any, undisturbed: Callable[[str], dict[str, Any]]) -> None:
    brief = facewright.brief("one set")
    folder = facewright.folder / "run"
    for size in SIZES:

        def limit(most: int = size * 1024) -> None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

        status, _, err = facewright.run("find", brief, "--out", folder, preexec_fn=limit)
        assert status == 1, size
        assert "make room and give the same command again" in err
        holds(folder)
    assert facewright.answer("find", brief, "--out", folder) == undisturbed("one set")
    assert facewright.run("check", folder)[0] == 0


def test_a_full_disk(
    small_disk: Callable[[str], Path], facewright: Any, undisturbed: Callable[[str], dict[str, Any]]
) -> None:
    brief = facewright.brief("one set")
    for size in SIZES:
        folder = small_disk(f"size={size}k") / "run"
        status, _, err = facewright.run("find", brief, "--out", folder)
        assert status == 1, size
        assert "make room and give the same command again" in err
    folder = small_disk("size=20m") / "run"
    holds(folder)
    assert facewright.answer("find", brief, "--out", folder) == undisturbed("one set")


def test_a_disk_that_can_only_be_read(small_disk: Callable[[str], Path], facewright: Any) -> None:
    place = small_disk("size=20m")
    brief = facewright.brief('like = "2d6"\ndice = [6, 6]')
    assert facewright.run("find", brief, "--out", place / "run")[0] == 0
    small_disk("ro")
    assert facewright.run("show", place / "run")[0] == 0
    assert facewright.run("check", place / "run")[0] == 0
    assert "complete" in facewright.run("list", place)[1]
    status, _, err = facewright.run("report", place / "run")
    assert status == 1 and "Read-only file system" in err
    for folder in (place / "run", place / "new"):
        status, out, err = facewright.run("find", brief, "--out", folder)
        assert (status, out) == (2, "") and "use --out to name another" in err


@pytest.mark.parametrize("pages", [4, 6, 9, 14, 20])
def test_a_store_that_may_not_grow(pages: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    question = parse(
        'title = "t"\nread = "total"\nlike = "4d6"\ndice = [6, 6, 6, 6]\nlabels = { lowest = -3 }', "test"
    )
    connected = module._connected

    def limited(path: Path) -> sqlite3.Connection:
        connection = connected(path)
        connection.execute(f"PRAGMA max_page_count={pages}")
        return connection

    def answered() -> Any:
        return perform(question, "", tmp_path / "run", seed=0, stop=never, report=silent)[0]

    with monkeypatch.context() as full:
        full.setattr(module, "_connected", limited)
        with pytest.raises(RunError, match="the disk is full") as refused:
            answered()
        assert refused.value.exit_status == 1
    holds(tmp_path / "run")
    whole = answered()
    assert (whole.verdict, whole.count, len(whole.found)) == ("complete", 874, 874)
    with Store.open(tmp_path / "run" / "run.sqlite") as store:
        assert store.size() == 874
