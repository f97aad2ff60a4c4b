"""Ctrl-C and SIGTERM, once and twice, at any moment: what was found is kept, and the run goes on from there."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

PROMPT = 5
"""Seconds within which a search must hear an interrupt, on a machine that others use too; commonly a tenth of it."""


def interrupt(process: Any, number: signal.Signals = signal.SIGINT) -> None:
    """As a terminal does it: Ctrl-C reaches the whole group of processes."""
    if number == signal.SIGINT:
        os.killpg(process.pid, number)
    else:
        process.send_signal(number)


def kept(folder: Path) -> int:
    """How many designs are in the store of a run; another process may be writing it."""
    if not (folder / "brief.toml").exists():
        return 0
    connection = sqlite3.connect(folder / "run.sqlite")
    try:
        return int(connection.execute("SELECT COUNT(*) FROM designs").fetchone()[0])
    finally:
        connection.close()


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_what_was_found_is_kept_and_shown(
    number: signal.Signals, facewright: Any, soon: Callable[[Callable[[], Any]], Any]
) -> None:
    brief = facewright.brief("long")
    folder = facewright.folder / "run"
    process = facewright.start("find", brief, "--out", folder)
    soon(lambda: kept(folder) >= 500)
    asked = time.monotonic()
    interrupt(process, number)
    status, out, err = facewright.ended(process)
    assert time.monotonic() - asked < PROMPT
    assert status == 1
    assert "stopping; what was found is kept" in err
    assert "numberings do it, on" in out.replace("\n", " ")
    assert "Not proved" in out
    shown = facewright.run("show", folder, "--json")[1]
    assert '"verdict": "partial"' in shown and '"count_is": "at least"' in shown
    status, out, _ = facewright.run("check", folder)
    assert (status, out.partition(" ")[2]) == (0, "designs recounted: all agree\n")
    assert int(out.split()[0].replace(",", "")) >= 500


def test_a_run_interrupted_goes_on_like_one_undisturbed(
    facewright: Any, undisturbed: Callable[[str], dict[str, Any]]
) -> None:
    moments = random.Random(6)
    for name, more in (("one set", []), ("many sets", []), ("many sets", ["--workers", "2"])):
        brief = facewright.brief(name)
        folder = facewright.folder / f"run-{name}-{len(more)}"
        for _ in range(2):
            process = facewright.start("find", brief, "--out", folder, "--quiet", *more)
            time.sleep(moments.uniform(0.3, 0.8))
            interrupt(process)
            # while the command is still being loaded an interrupt just ends it
            assert facewright.ended(process)[0] in (0, 1, -signal.SIGINT)
        assert facewright.answer("find", brief, "--out", folder, *more) == undisturbed(name)


def test_twice_ends_at_once(facewright: Any, soon: Callable[[Callable[[], Any]], Any]) -> None:
    brief = facewright.brief("long")
    folder = facewright.folder / "run"
    process = facewright.start("find", brief, "--out", folder)
    soon((folder / "brief.toml").exists)
    time.sleep(0.2)
    interrupt(process)
    time.sleep(0.02)
    interrupt(process)
    status, out, err = facewright.ended(process)
    assert status == 1
    assert out == "" or "Not proved" in out
    assert "stopping" in err
    assert facewright.run("list", facewright.folder)[1].startswith("run  ")


def test_no_moment_shows_a_traceback(facewright: Any) -> None:
    moments = random.Random(7)
    brief = facewright.brief("many sets")
    for number in range(6):
        process = facewright.start("find", brief, "--json", "--workers", str(1 + number % 2))
        # Python's own start, before any line of ours, takes a few hundredths of a second
        time.sleep(moments.uniform(0.15, 0.7))
        interrupt(process)
        status, _, _ = facewright.ended(process)
        assert status in (0, 1, -signal.SIGINT)


def test_quiet_says_nothing_of_an_interrupt(
    facewright: Any, soon: Callable[[Callable[[], Any]], Any]
) -> None:
    folder = facewright.folder / "run"
    process = facewright.start("find", facewright.brief("long"), "--out", folder, "--quiet")
    soon((folder / "brief.toml").exists)
    time.sleep(0.2)
    interrupt(process)
    status, _, err = facewright.ended(process)
    assert (status, err) == (1, "")


@pytest.fixture
def interrupts_heard() -> Iterator[None]:
    """A shell starts what runs in its background with interrupts ignored; then nothing could be left alone."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("interrupts_heard")
def test_the_solver_leaves_interrupts_alone() -> None:
    from facewright.constraints.brief import parse
    from facewright.search import find
    from facewright.search.engines.solver import Solver
    from facewright.search.progress import silent
    from facewright.search.stop import never

    def caught() -> bool:
        """Whether the process itself, not only Python, still catches SIGINT."""
        mask = Path("/proc/self/status").read_text().partition("SigCgt:")[2].split()[0]
        return bool(int(mask, 16) >> (signal.SIGINT - 1) & 1)

    if not Path("/proc/self/status").exists():
        pytest.skip("no /proc to ask whether a signal is caught")
    assert caught()
    cubes = parse('title = "t"\nread = "total"\nlike = "2d6"\ndice = [6, 6]\n', "test")
    assert len(list(Solver().answer(cubes, 10, never, 0, silent))) == 2
    assert caught()
    find(parse('title = "t"\nsolid = "rhombic dodecahedron"\nreadouts = { wind = 4, rain = 2 }\n', "test"))
    assert caught()


def test_a_run_of_readouts_goes_on_like_one_undisturbed(facewright: Any) -> None:
    moments = random.Random(9)
    brief = facewright.folder / "readouts.toml"
    brief.write_text(
        'title = "t"\nsolid = "any up to 12"\nreadouts = { wind = 4, rain = 3 }\n', encoding="utf-8"
    )
    whole = facewright.answer("find", brief)
    for number in (signal.SIGKILL, signal.SIGINT, signal.SIGTERM):
        folder = facewright.folder / f"run-{number}"
        process = facewright.start("find", brief, "--out", folder)
        time.sleep(moments.uniform(0.5, 0.8))
        os.killpg(process.pid, number)
        assert facewright.ended(process)[0] in (0, 1, -signal.SIGKILL)
        assert facewright.answer("find", brief, "--out", folder) == whole
