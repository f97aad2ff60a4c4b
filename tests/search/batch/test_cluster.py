"""A cluster on loopback: two workers, one killed midway, and questions that crash, hang or take their worker along."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from facewright.search.batch.plan import Limit
from facewright.search.stop import never

distributed = pytest.importorskip("distributed", reason="the extra [cluster] is not installed")


POISON = '''
"""Questions that crash, hang in code that hears nothing, or take their worker along: told by a word in their title."""
import os, signal
from facewright.search.batch import apart, tasks

apart.GRACE = tasks.GRACE = 1.0

def answer_some(jobs, seconds, designs):
    [(_, brief)] = jobs
    if "CRASH" in brief:
        os.kill(os.getpid(), signal.SIGSEGV)
    if "HANG" in brief:
        # as code that never returns and never looks: no signal but the last one ends it
        signal.pthread_sigmask(signal.SIG_BLOCK, signal.valid_signals())
        while True:
            pass
    if "WORKER" in brief:
        os.kill(os.getppid(), signal.SIGKILL)
    return tasks.answer_some(jobs, seconds, designs)
'''


@pytest.fixture
def cluster(tmp_path: Path) -> Iterator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """The address of a scheduler, and two workers with one thread each."""
    (tmp_path / "poison_of_clusters.py").write_text(POISON, encoding="utf-8")
    environment = {
        **os.environ,
        "PYTHONPATH": str(tmp_path),
        "DASK_DISTRIBUTED__SCHEDULER__ALLOWED_FAILURES": "0",
        "DASK_DISTRIBUTED__WORKER__DAEMON": "False",
    }
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    quiet: Any = {
        "stdout": subprocess.DEVNULL,
        "stderr": subprocess.DEVNULL,
        "cwd": tmp_path,
        "env": environment,
    }
    module = [sys.executable, "-m", "distributed.cli.dask_scheduler"]
    scheduler = subprocess.Popen(
        [*module, "--host", "127.0.0.1", "--port", str(port), "--no-dashboard"], **quiet
    )
    address = f"tcp://127.0.0.1:{port}"
    worker = [
        sys.executable,
        "-m",
        "distributed.cli.dask_worker",
        address,
        "--nthreads",
        "1",
        "--no-dashboard",
    ]
    workers = [
        subprocess.Popen([*worker, "--nworkers", "1"], start_new_session=True, **quiet) for _ in range(2)
    ]
    yield address, workers
    for process in (*workers, scheduler):
        process.terminate()
    for process in (*workers, scheduler):
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()


def test_a_lost_worker_and_poisoned_questions_lose_no_other(
    cluster: tuple[str, list[subprocess.Popen[bytes]]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import importlib

    from facewright.search.batch.cluster import Cluster

    monkeypatch.syspath_prepend(tmp_path)
    poison = importlib.import_module("poison_of_clusters")
    address, workers = cluster
    jobs = [
        (
            f"k{at}",
            f'title = "{at}"\nread = "total"\nlike = "2d{at % 7 + 2}"\ndice = [{at % 7 + 2}, {at % 7 + 2}]\n',
        )
        for at in range(120)
    ]
    poisons = {50: "CRASH", 51: "HANG", 90: "WORKER"}
    for at, name in poisons.items():
        jobs[at] = (name, f'title = "{name}"\n')
    results: list[dict[str, Any]] = []
    client = distributed.Client(address, timeout=30)
    client.wait_for_workers(2, timeout=60)
    client.run(importlib.import_module, "poison_of_clusters")
    client.close()
    first = threading.Timer(0.5, lambda: os.killpg(workers[0].pid, signal.SIGKILL))
    first.start()
    assert Cluster(address, Limit(1, 2), poison.answer_some).run(iter(jobs), never, results.extend) is None
    assert workers[0].poll() is not None
    first.join()
    found = {one["key"]: one for one in results}
    assert len(found) == len(results) == 120
    assert {key: one["status"] for key, one in found.items() if one["status"] != "answered"} == {
        "CRASH": "failed",
        "HANG": "hung",
        "WORKER": "failed",
    }
    assert "crashed, twice" in found["CRASH"]["reason"]
    assert "its workers were lost" in found["WORKER"]["reason"]
    assert {found[key]["tries"] for key in ("CRASH", "HANG", "WORKER")} == {2}
