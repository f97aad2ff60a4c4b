"""Linear algebra takes one thread in the command and in every process that it starts."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest
from facewright.search.sharing import solved_in_order
from facewright.search.stop import never
from facewright.search.threads import NAMES

LOADED = """
import sys
from unittest import mock
from facewright.search import cli
seen = []
def status(arguments):
    import os, numpy
    print(len(os.listdir("/proc/self/task")), os.environ["OPENBLAS_NUM_THREADS"])
    numpy.ones((400, 400)) @ numpy.ones((400, 400))
    print(len(os.listdir("/proc/self/task")))
    return 0
with mock.patch.object(cli, "_run", status):
    cli.main([])
"""


def threads(**environment: str) -> list[str]:
    """What a command tells that multiplies matrices: its threads, what it asks for, its threads after it."""
    clean = {name: value for name, value in os.environ.items() if name not in NAMES}
    told = subprocess.run(
        [sys.executable, "-c", LOADED],
        env={**clean, **environment},
        capture_output=True,
        text=True,
        check=True,
    )
    return told.stdout.split()


def test_the_command_multiplies_in_one_thread() -> None:
    assert threads() == ["1", "1", "1"]


def test_who_asks_for_more_gets_more() -> None:
    assert threads(OPENBLAS_NUM_THREADS="3")[1] == "3"


def test_processes_ask_for_one_thread(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "asking.py").write_text(
        'import os\ndef asked(stop):\n    return os.environ["OPENBLAS_NUM_THREADS"]\n'
    )
    monkeypatch.syspath_prepend(tmp_path)
    for name in NAMES:
        monkeypatch.delenv(name, raising=False)
    assert list(solved_in_order(import_module("asking").asked, [()], never, 1)) == ["1"]
