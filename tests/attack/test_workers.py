"""Processes that share the sets of a choice: one more or one less changes nothing."""

from __future__ import annotations

import os
import signal
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]


def workers_of(parent: int) -> list[int]:
    """The worker processes of a command."""
    asked = subprocess.run(
        ["ps", "-o", "pid=,args=", "--ppid", str(parent)], capture_output=True, text=True, check=False
    )
    return [int(line.split()[0]) for line in asked.stdout.splitlines() if "spawn_main" in line]


def test_the_same_answer_with_two(facewright: Any) -> None:
    brief = ROOT / "runs" / "night-watch.toml"
    one = facewright.answer("find", brief)
    assert len(one["sets"]) + len(one["dropped"]) == 28
    assert one["count"] == 53
    assert facewright.answer("find", brief, "--workers", "2") == one
    assert facewright.answer("find", brief, "--workers", "2", "--out", facewright.folder / "run") == one
    assert facewright.answer("show", facewright.folder / "run") == one


@pytest.mark.parametrize("lost", [1, 2])
def test_the_same_answer_when_workers_are_lost(
    lost: int,
    facewright: Any,
    undisturbed: Callable[[str], dict[str, Any]],
    soon: Callable[[Callable[[], Any]], Any],
) -> None:
    brief = facewright.brief("many sets")
    folder = facewright.folder / "run"
    process = facewright.start("find", brief, "--workers", "2", "--out", folder, "--quiet")
    # with both at work, or with none left: then all is over already
    soon(lambda: len(workers_of(process.pid)) == 2 or process.poll() is not None)
    for worker in workers_of(process.pid)[:lost]:
        os.kill(worker, signal.SIGKILL)
    status, out, _ = facewright.ended(process)
    assert status == 0 and "487 numberings do it" in out
    assert facewright.answer("show", folder) == undisturbed("many sets")


def test_more_workers_than_sets(facewright: Any) -> None:
    brief = facewright.brief('like = "2d6"\ndice = "2 of 4 6 9"')
    assert facewright.answer("find", brief, "--workers", "8") == facewright.answer("find", brief)
