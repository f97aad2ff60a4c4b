"""`facewright make` on a full disk, where nothing can be written, beside another process, and interrupted."""

from __future__ import annotations

import fcntl
import os
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

BRIEF = 'title = "Berths"\nsolid = "octahedron"\nplace = "1..8"\nlayout = ["opposite-sums"]\n'
FILES = {"artwork.svg", "net.pdf", "die.stl", "die.3mf", "drawing.pdf", "notes.txt"}


@pytest.fixture
def run(facewright: Any) -> Path:
    """A run to make dice of."""
    brief = facewright.folder / "berths.toml"
    brief.write_text(BRIEF, encoding="utf-8")
    folder: Path = facewright.folder / "run"
    status, _, err = facewright.run("find", brief, "--out", folder, "--quiet")
    assert status == 0, err
    return folder


def test_a_full_disk_leaves_no_half_of_a_die(
    small_disk: Callable[[str], Path], facewright: Any, run: Path
) -> None:
    for size in (8, 200):
        folder = small_disk(f"size={size}k") / "files"
        status, out, err = facewright.run("make", run, "", "--out", folder)
        assert (status, out) == (1, "")
        assert "No space left on device" in err
        assert not (folder / "die-1").exists()
    folder = small_disk("size=20m") / "files"
    assert facewright.run("make", run, "", "--out", folder)[0] == 0
    before = {path.name: path.read_bytes() for path in (folder / "die-1").iterdir()}
    assert set(before) >= FILES
    small_disk("ro")
    status, out, err = facewright.run("make", run, "", "--out", folder)
    assert (status, out) == (1, "")
    assert "Read-only file system" in err and "--out" in err
    assert {path.name: path.read_bytes() for path in (folder / "die-1").iterdir()} == before


def test_a_second_process_is_turned_away(facewright: Any, run: Path) -> None:
    folder = facewright.folder / "files" / "die-1"
    folder.mkdir(parents=True)
    handle = os.open(folder, os.O_RDONLY)
    fcntl.flock(handle, fcntl.LOCK_EX)
    status, out, err = facewright.run("make", run, "", "--out", folder.parent)
    assert (status, out) == (1, "")
    assert "another process is making files there; wait for it" in err
    assert list(folder.iterdir()) == []
    os.close(handle)
    assert facewright.run("make", run, "", "--out", folder.parent)[0] == 0


def test_an_interrupt_leaves_nothing(
    facewright: Any, run: Path, soon: Callable[[Callable[[], Any]], Any]
) -> None:
    folder = facewright.folder / "files"
    process = facewright.start("make", run, "", "--out", folder)
    soon((folder / "die-1" / ".making").exists)
    process.send_signal(signal.SIGINT)
    status, out, _ = facewright.ended(process)
    assert (status, out) == (1, "")
    assert not (folder / "die-1").exists()
