"""kill -9 at any moment: the store stays sound, and the run goes on as if nothing had happened."""

from __future__ import annotations

import random
import sqlite3
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

MOMENTS = 5
"""Kills a test; with its four cases twenty in all."""

LATEST = 0.5
"""Seconds after the store appeared within which the kill comes."""


def sound(store: Path) -> bool:
    """Whether SQLite finds nothing wrong in a store."""
    connection = sqlite3.connect(store)
    try:
        return bool(connection.execute("PRAGMA quick_check").fetchone() == ("ok",))
    finally:
        connection.close()


@pytest.mark.parametrize(
    ("name", "seed"), [("one set", 1), ("one set", 2), ("many sets", 3), ("many sets", 4)]
)
def test_a_killed_run_goes_on(
    name: str,
    seed: int,
    facewright: Any,
    undisturbed: Callable[[str], dict[str, Any]],
    soon: Callable[[Callable[[], Any]], Any],
) -> None:
    moments = random.Random(seed)
    brief = facewright.brief(name)
    whole = undisturbed(name)
    for number in range(MOMENTS):
        folder = facewright.folder / f"run-{number}"
        process = facewright.start("find", brief, "--out", folder, "--quiet")
        soon(lambda: (folder / "run.sqlite").exists() or process.poll() is not None)  # noqa: B023
        time.sleep(moments.uniform(0, LATEST))
        process.kill()
        process.communicate()
        assert sound(folder / "run.sqlite")
        assert facewright.answer("find", brief, "--out", folder) == whole


def test_killed_again_and_again_in_one_folder(
    facewright: Any, undisturbed: Callable[[str], dict[str, Any]]
) -> None:
    moments = random.Random(5)
    brief = facewright.brief("many sets")
    folder = facewright.folder / "run"
    for _ in range(4):
        process = facewright.start("find", brief, "--out", folder, "--quiet")
        time.sleep(moments.uniform(0.2, 0.7))
        process.kill()
        process.communicate()
    assert facewright.answer("find", brief, "--out", folder) == undisturbed("many sets")
    assert facewright.run("check", folder)[0] == 0


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="no /proc to look for processes in")
def test_workers_leave_with_a_killed_parent(
    facewright: Any, soon: Callable[[Callable[[], Any]], Any]
) -> None:
    brief = facewright.brief('like = "3d48"\ndice = "3 of 36 48 64"')
    process = facewright.start("find", brief, "--workers", "2", "--json")
    workers = soon(lambda: children(process.pid, "spawn_main"))
    process.kill()
    process.communicate()
    soon(lambda: not any(alive(worker) for worker in workers))


def children(parent: int, having: str) -> list[int]:
    """The child processes whose command line holds a text."""
    found = []
    for entry in Path("/proc").glob("[0-9]*"):
        try:
            status, line = (entry / "stat").read_text(), (entry / "cmdline").read_text()
        except OSError:
            continue
        if int(status.rpartition(")")[2].split()[1]) == parent and having in line:
            found.append(int(entry.name))
    return found


def alive(process: int) -> bool:
    """Whether a process is there and has not ended."""
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False
