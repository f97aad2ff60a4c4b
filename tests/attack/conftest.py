"""The installed command in processes of its own, and questions that take it a moment."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

COMMAND = Path(sys.executable).with_name("facewright")

PATIENCE = 60
"""Seconds after which a process that should long have ended is given up."""

BRIEFS = {
    # 874 designs of one set of dice, in two shards
    "one set": 'like = "4d6"\ndice = [6, 6, 6, 6]\nlabels = { lowest = -3 }',
    # 487 designs of 27 sets
    "many sets": 'like = "2d6"\ndice = "2 of 3 4 6 8 9 12 18 24 36"\nlabels = { lowest = 0 }',
    # minutes of work, with the first designs at once
    "long": 'like = "4d12"\ndice = "4 of 4 6 8 9 12 16 18 24 36 48"',
}


class Facewright:
    """Starts and runs the command in one folder; whatever still runs at the end is killed."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._started: list[subprocess.Popen[str]] = []

    def brief(self, name: str, more: str = "") -> Path:
        """The path of a brief: one of those above, or its own lines."""
        path = self.folder / "brief-of-the-test.toml"
        path.write_text(f'title = "Attack"\nread = "total"\n{BRIEFS.get(name, name)}\n{more}\n', "utf-8")
        return path

    def start(self, *arguments: str | Path, **how: Any) -> subprocess.Popen[str]:
        """A process, in a group of its own, with both outputs in pipes."""
        process = subprocess.Popen(
            [COMMAND, *arguments],
            cwd=self.folder,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            encoding="utf-8",
            start_new_session=True,
            **how,
        )
        self._started.append(process)
        return process

    def ended(self, process: subprocess.Popen[str]) -> tuple[int, str, str]:
        """Exit status, standard output and standard error of a process; none may hold a traceback."""
        out, err = process.communicate(timeout=PATIENCE)
        assert "Traceback" not in out + err, err
        return process.returncode, out, err

    def run(self, *arguments: str | Path, **how: Any) -> tuple[int, str, str]:
        """Exit status, standard output and standard error of the whole command."""
        return self.ended(self.start(*arguments, **how))

    def answer(self, *arguments: str | Path) -> dict[str, Any]:
        """What `--json` prints, without what differs from one run to the next."""
        status, out, err = self.run(*arguments, "--json")
        assert status == 0, err
        answer: dict[str, Any] = json.loads(out)
        del answer["evidence"]["seconds"]
        return answer

    def close(self) -> None:
        """Kills what still runs."""
        for process in self._started:
            if process.poll() is None:
                process.kill()
            process.communicate()


@pytest.fixture
def facewright(tmp_path: Path) -> Iterator[Facewright]:
    """The command, in an empty folder."""
    command = Facewright(tmp_path)
    yield command
    command.close()


@pytest.fixture(scope="session")
def undisturbed(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], dict[str, Any]]:
    """The answer to a brief when nobody disturbs it, worked out once."""
    command = Facewright(tmp_path_factory.mktemp("undisturbed"))
    known: dict[str, dict[str, Any]] = {}

    def answer(name: str) -> dict[str, Any]:
        if name not in known:
            known[name] = command.answer("find", command.brief(name))
        return known[name]

    return answer


@pytest.fixture
def soon() -> Callable[[Callable[[], Any]], Any]:
    """Waits until something holds, and gives it; fails where it does not come to hold."""

    def wait(holds: Callable[[], Any]) -> Any:
        for _ in range(PATIENCE * 200):
            if found := holds():
                return found
            time.sleep(0.005)
        raise AssertionError("it did not come to hold")

    return wait


@pytest.fixture
def root_only() -> None:
    """Skips, and says so, where the test needs the rights of root."""
    if os.geteuid() != 0:
        pytest.skip("not root: no file system of its own can be mounted")


@pytest.fixture
def small_disk(root_only: None, tmp_path: Path) -> Iterator[Callable[[str], Path]]:
    """A file system in memory whose size, or whether it can be written, can be changed."""
    place = tmp_path / "disk"
    place.mkdir()
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=4k", "tmpfs", place], capture_output=True, text=True, check=False
    )
    if made.returncode:
        pytest.skip(f"no file system of its own can be mounted: {made.stderr.strip()}")

    def change(how: str) -> Path:
        subprocess.run(["mount", "-o", f"remount,{how}", place], check=True)
        return place

    yield change
    subprocess.run(["umount", place], check=True)
