"""A small plan, what its batch found, and killing it at random moments; for several test modules."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from random import Random
from typing import Any

from facewright.search.batch.performing import perform_batch
from facewright.search.batch.plan import parse_plan
from facewright.search.batch.store import BatchStore
from facewright.search.folders import BATCH
from facewright.search.stop import never

PLAN = """
title = "Quays"
[brief]
read = "total"
[lists]
like = ["2d6", "2d4", "d4 + d6"]
dice = [[4, 9], [6, 6], [2, 8], [4, 4], [4, 6]]
[each]
seconds = 20
designs = 3
"""


def told(_tally: dict[str, int], _rate: float | None) -> None:
    """A watch that looks away."""


def done(text: str, folder: Path, **how: Any) -> Any:
    """A plan answered in a folder."""
    return perform_batch(parse_plan(text), text, "plan", folder, workers=2, stop=never, watch=told, **how)


def kept(folder: Path) -> list[tuple[Any, ...]]:
    """All that a batch found out, but times."""
    with BatchStore.open(folder / BATCH) as store:
        assert store.sound()
        answers = "SELECT number, status, verdict, count, count_up_to_shift, count_is, engine, reason FROM questions "
        designs = (
            "SELECT number, place, id, form FROM questions JOIN designs USING (key) ORDER BY number, place"
        )
        return [
            *store.rows(answers + "JOIN answers USING (key) ORDER BY number"),
            *store.rows(designs),
        ]


def started(folder: Path, plan: Path, *options: str) -> subprocess.Popen[bytes]:
    """The command in a process group of its own."""
    return subprocess.Popen(
        [
            sys.executable,
            "-m",
            "facewright.search.cli",
            "batch",
            str(plan),
            "--out",
            str(folder),
            "--quiet",
            "--retry",
            *options,
        ],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )


def workers_of(parent: int) -> list[int]:
    """The processes that work for a batch."""
    found = []
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                stat = (entry / "stat").read_text(encoding="ascii", errors="replace")
                command = (entry / "cmdline").read_bytes()
            except OSError:
                continue
            if int(stat.rpartition(")")[2].split()[1]) == parent and b"popen_loky" in command:
                found.append(int(entry.name))
    return found


def killed_and_gone_on(folder: Path, plan: Path, kills: int, moments: Random) -> int:
    """Runs a batch until it ends, killing parent or workers at random moments; gives how many were killed.

    A worker that was killed twice with the same question leaves it failed: `--retry` asks it again.
    """
    struck = 0
    for _ in range(kills + 5):
        process = started(folder, plan)
        until = time.monotonic() + moments.uniform(0.2, 3.0)
        while process.poll() is None:
            if struck < kills and time.monotonic() > until:
                workers = workers_of(process.pid)
                if moments.random() < 0.4 or not workers:
                    os.killpg(process.pid, signal.SIGKILL) if moments.random() < 0.5 else process.kill()
                else:
                    os.kill(moments.choice(workers), signal.SIGKILL)
                struck += 1
                until = time.monotonic() + moments.uniform(0.1, 1.0)
            time.sleep(0.02)
        if process.wait() == 0:
            return struck
    raise AssertionError("the batch never ended")
