"""Batches on full and read-only disks, in folders that vanish, and stopped: told clearly, nothing lost."""

from __future__ import annotations

import shutil
import signal
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.batches import kept

PLAN = """
title = "Quays"
[brief]
read = "total"
[lists]
like = ["2d6", "d4 + d6", "3d6", "2d12"]
dice = { sets_of = 2, from = [4, 6, 8, 9, 12, 18] }
[each]
seconds = 20
designs = 30
"""

LONG = PLAN.replace("sets_of = 2", "sets_of = 3").replace("18]", "16, 18, 20, 24]")

SIZES = [4, 12, 30, 60, 110, 200]
"""Kilobytes: from no room for the tables to no room for the report."""


def plan_of(facewright: Any, text: str = PLAN) -> Path:
    """The path of a plan."""
    path: Path = facewright.folder / "plan.toml"
    path.write_text(text, encoding="utf-8")
    return path


def sound(folder: Path) -> bool:
    """Whether SQLite finds a store to be sound."""
    connection = sqlite3.connect(folder / "batch.sqlite")
    try:
        return bool(connection.execute("PRAGMA quick_check").fetchone() == ("ok",))
    finally:
        connection.close()


def test_a_full_disk(small_disk: Callable[[str], Path], facewright: Any) -> None:
    plan = plan_of(facewright)
    assert facewright.run("batch", plan, "--out", facewright.folder / "whole")[0] == 0
    for size in SIZES:
        folder = small_disk(f"size={size}k") / "batch"
        status, _, err = facewright.run("batch", plan, "--out", folder)
        assert status == 1, size
        assert "make room and give the same command again" in err
    folder = small_disk("size=20m") / "batch"
    assert sound(folder)
    assert facewright.run("batch", plan, "--out", folder)[0] == 0
    assert kept(folder) == kept(facewright.folder / "whole")


def test_a_disk_that_can_only_be_read(small_disk: Callable[[str], Path], facewright: Any) -> None:
    place = small_disk("size=20m")
    plan = plan_of(facewright)
    assert facewright.run("batch", plan, "--out", place / "batch")[0] == 0
    small_disk("ro")
    for line in (["show"], ["show", "--csv"], ["rank"]):
        status, out, _ = facewright.run(line[0], place / "batch", *line[1:])
        assert status == 0 and out
    assert "84 of 84" in facewright.run("list", place)[1]
    status, _, err = facewright.run("report", place / "batch")
    assert status == 1 and "Read-only file system" in err
    for folder in (place / "batch", place / "new"):
        status, out, err = facewright.run("batch", plan, "--out", folder)
        assert (status, out) == (2, "") and "use --out to name another" in err


def test_a_folder_that_vanishes(facewright: Any, soon: Callable[[Callable[[], Any]], Any]) -> None:
    folder = facewright.folder / "batch"
    process = facewright.start("batch", plan_of(facewright, LONG), "--out", folder)
    soon(lambda: (folder / "batch.log").exists() and "answered:" in (folder / "batch.log").read_text("utf-8"))
    shutil.rmtree(folder)
    status, out, err = facewright.ended(process)
    assert (status, out) == (1, "")
    assert "removed or moved while the batch was at work" in err


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_batch_that_is_stopped_goes_on(
    number: signal.Signals, facewright: Any, soon: Callable[[Callable[[], Any]], Any]
) -> None:
    folder, plan = facewright.folder / "batch", plan_of(facewright, LONG)
    process = facewright.start("batch", plan, "--out", folder)
    soon(lambda: (folder / "batch.log").exists() and "answered:" in (folder / "batch.log").read_text("utf-8"))
    process.send_signal(number)
    status, out, _ = facewright.ended(process)
    assert status == 1
    assert "stopped early (interrupted): the same command goes on" in out
    before = [row for row in kept(folder) if row[1] == "answered"]
    assert before and sound(folder)
    assert facewright.run("batch", plan, "--out", folder)[0] == 0
    after = kept(folder)
    assert set(before) <= set(after)
    apart = facewright.folder / "apart" / "whole"  # beside the other it would take its answers
    assert facewright.run("batch", plan, "--out", apart)[0] == 0
    assert after == kept(apart)
