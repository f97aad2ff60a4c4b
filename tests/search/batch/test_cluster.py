"""A cluster on loopback: two workers, one killed midway, and questions that crash, hang or take their worker along."""

from __future__ import annotations

import importlib
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from random import Random
from typing import Any

import pytest
from facewright.constraints.errors import RunError
from facewright.search.batch.plan import Limit
from facewright.search.stop import never

from tests import batches

distributed = pytest.importorskip("distributed", reason="the extra [cluster] is not installed")


POISON = '''
"""Questions that crash, hang in code that hears nothing, or take their worker along: told by a word in their title."""
import os, signal
from facewright.search.batch import apart, tasks

apart.GRACE = tasks.GRACE = 0.4

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


EACH = Limit(0.4, 2)


class Workers:
    """A scheduler and workers with one thread each, in process groups of their own."""

    def __init__(self, folder: Path, many: int) -> None:
        (folder / "poison_of_clusters.py").write_text(POISON, encoding="utf-8")
        environment = {
            **os.environ,
            "PYTHONPATH": str(folder),
            "DASK_DISTRIBUTED__SCHEDULER__ALLOWED_FAILURES": "0",
        }
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        self.address = f"tcp://127.0.0.1:{port}"

        def started(*command: str) -> subprocess.Popen[bytes]:
            return subprocess.Popen(
                [sys.executable, "-m", *command, "--no-dashboard"],
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                cwd=folder,
                env=environment,
                start_new_session=True,
            )

        self.scheduler = started("distributed.cli.dask_scheduler", "--host", "127.0.0.1", "--port", str(port))
        self.workers = [
            started("distributed.cli.dask_worker", self.address, "--nthreads", "1") for _ in range(many)
        ]
        with distributed.Client(self.address, timeout=30) as client:
            if many:
                client.wait_for_workers(many, timeout=60)
                client.run(importlib.import_module, "poison_of_clusters")

    def close(self) -> None:
        """Ends them all at once."""
        for process in (*self.workers, self.scheduler):
            if process.poll() is None:
                os.killpg(process.pid, signal.SIGKILL)
            process.wait()


@pytest.fixture
def started(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[int], Workers]]:
    """Starts a scheduler with so many workers; whatever runs at the end is killed."""
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.delitem(sys.modules, "poison_of_clusters", raising=False)
    running: list[Workers] = []

    def start(many: int) -> Workers:
        running.append(Workers(tmp_path, many))
        return running[-1]

    yield start
    for one in running:
        one.close()


def runner(workers: Workers, each: Limit = EACH) -> Any:
    """A cluster whose questions may be poisoned."""
    from facewright.search.batch.cluster import Cluster

    return Cluster(workers.address, each, importlib.import_module("poison_of_clusters").answer_some)


def jobs(many: int, poisons: dict[int, str]) -> list[tuple[str, str]]:
    """Small questions, and poisoned ones in the place of some, each the key of its own."""
    sound = 'title = "{0}"\nread = "total"\nlike = "2d{1}"\ndice = [{1}, {1}]\n'
    return [
        (poisons[at], f'title = "{poisons[at]}"\n')
        if at in poisons
        else (f"k{at}", sound.format(at, at % 7 + 2))
        for at in range(many)
    ]


def children_of(process: int) -> set[int]:
    """The processes in which a worker's questions are answered, those below its own processes too."""
    parents: dict[int, int] = {}
    lines: dict[int, bytes] = {}
    for entry in Path("/proc").glob("[0-9]*"):
        try:
            stat = (entry / "stat").read_text(encoding="ascii", errors="replace").rpartition(")")[2].split()
            lines[int(entry.name)] = (entry / "cmdline").read_bytes()
        except OSError:
            continue
        parents[int(entry.name)] = int(stat[1])
    found, below = set(), {process}
    while below:
        below = {one for one, parent in parents.items() if parent in below}
        found |= {one for one in below if b"facewright.search.batch.apart" in lines[one]}
    return found


def come_true(holds: Callable[[], Any], seconds: float = 30) -> Any:
    """Waits until something holds, and gives it."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if found := holds():
            return found
        time.sleep(0.05)
    raise AssertionError("it did not come to hold")


def test_a_lost_worker_and_poisoned_questions_lose_no_other(started: Callable[[int], Workers]) -> None:
    workers = started(2)
    results: list[dict[str, Any]] = []

    def keep(some: list[dict[str, Any]]) -> None:
        results.extend(some)
        if len(results) >= 10 and workers.workers[0].poll() is None:
            os.killpg(workers.workers[0].pid, signal.SIGKILL)
            workers.workers[0].wait()

    asked = jobs(60, {2: "WORKER", 20: "CRASH", 40: "HANG"})
    assert runner(workers).run(iter(asked), never, keep) is None
    assert workers.workers[0].poll() is not None
    found = {one["key"]: one for one in results}
    assert len(found) == len(results) == 60
    assert {key: one["status"] for key, one in found.items() if one["status"] != "answered"} == {
        "CRASH": "failed",
        "HANG": "hung",
        "WORKER": "failed",
    }
    assert "crashed, twice" in found["CRASH"]["reason"]
    assert "its workers were lost" in found["WORKER"]["reason"]
    assert {found[key]["tries"] for key in ("CRASH", "HANG", "WORKER")} == {2}


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="no /proc to look for processes in")
def test_no_child_outlives_its_batch_or_its_scheduler(
    started: Callable[[int], Workers], monkeypatch: pytest.MonkeyPatch
) -> None:
    workers = started(1)
    [worker] = workers.workers
    hang = jobs(1, {0: "HANG"})
    an_hour = Limit(3600, 2)

    with monkeypatch.context() as elsewhere:
        elsewhere.setattr("facewright.search.batch.cluster.engines_version", lambda: "0.0")
        with pytest.raises(RunError, match="all machines need the same version"):
            runner(workers).run(iter(hang), never, list)

    child: set[int] = set()

    def stop() -> str | None:
        child.update(children_of(worker.pid))
        return "enough" if child else None

    assert runner(workers, an_hour).run(iter(hang), stop, list) == "enough"
    come_true(lambda: not child & children_of(worker.pid))

    child.clear()

    def lost() -> None:
        if not child and stop():
            workers.scheduler.kill()

    with pytest.raises(RunError, match="the scheduler was lost"):
        runner(workers, an_hour).run(iter(hang), lost, list)  # type: ignore[arg-type]
    [left] = (
        child  # dask's worker waits for it half a minute before it ends; a worker that is killed does not
    )
    os.kill(parent_of(left), signal.SIGKILL)
    come_true(lambda: not alive(left))


def test_a_parent_killed_again_and_again_loses_nothing_on_a_cluster(
    started: Callable[[int], Workers], tmp_path: Path
) -> None:
    (tmp_path / "plan.toml").write_text(batches.PLAN, encoding="utf-8")
    batches.done(batches.PLAN, tmp_path / "alone" / "run")
    workers = started(2)
    moments, kills = Random(5), 0
    run = tmp_path / "far" / "run"
    while True:
        process = batches.started(run, tmp_path / "plan.toml", "--where", workers.address)
        with suppress(subprocess.TimeoutExpired):
            process.wait(moments.uniform(0.4, 1.6) if kills < 3 else 60)
        if process.poll() is not None:
            break
        assert kills < 3, "the batch did not end"
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()
        kills += 1
    assert process.returncode == 0
    assert kills >= 1
    assert batches.kept(run) == batches.kept(tmp_path / "alone" / "run")
    with distributed.Client(workers.address, timeout=30) as client:
        come_true(lambda: not any(client.processing().values()))


PAGE = Path(__file__).resolve().parents[3] / "docs" / "how-to" / "answer-many-questions.md"


def script_of_a_job() -> str:
    """The script on the page that starts workers under a job scheduler."""
    blocks = PAGE.read_text(encoding="utf-8").split("```sh\n")[1:]
    [script] = [block.partition("```")[0] for block in blocks]
    return script


def test_the_job_scheduler_script_starts_workers_that_may_be_ended_at_any_time(
    started: Callable[[int], Workers], tmp_path: Path
) -> None:
    """The script itself, run as a job scheduler would: twice, ended by its own lifetime or from outside."""
    script = script_of_a_job()
    asked = [line for line in script.splitlines() if line.startswith("#SBATCH ")]
    assert [line.partition("=")[0] for line in asked] == [
        "#SBATCH --array",
        "#SBATCH --cpus-per-task",
        "#SBATCH --time",
    ]
    [cores] = [line.partition("=")[2] for line in asked if "cpus" in line]
    assert f"--nworkers {cores} " in script, "as many workers as the job may use processors"
    workers = started(0)
    (tmp_path / ".venv").symlink_to(Path(sys.executable).parents[1])
    here = script.replace("tcp://10.0.0.1:8786", workers.address).replace("--nworkers 4", "--nworkers 1")
    assert workers.address in here
    (tmp_path / "brief.sh").write_text(here.replace("--lifetime 230m", "--lifetime 4s"), encoding="utf-8")
    (tmp_path / "long.sh").write_text(here, encoding="utf-8")
    jobs_running = [
        subprocess.Popen(
            ["/bin/sh", name],
            cwd=tmp_path,
            start_new_session=True,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        for name in ("brief.sh", "long.sh")
    ]
    try:
        (tmp_path / "plan.toml").write_text(batches.PLAN, encoding="utf-8")
        run = tmp_path / "run"
        done = batches.started(run, tmp_path / "plan.toml", "--where", workers.address)
        come_true(lambda: done.poll() is not None, 90)
        assert done.returncode == 0
        assert jobs_running[0].wait(60) == 0, "workers leave by themselves when their lifetime is over"
        with distributed.Client(workers.address, timeout=30) as client:
            come_true(lambda: client.scheduler_info(n_workers=-1)["workers"])
            assert len(client.scheduler_info(n_workers=-1)["workers"]) == 1
            jobs_running[1].terminate()
            assert jobs_running[1].wait(60) is not None
            come_true(lambda: not client.scheduler_info(n_workers=-1)["workers"])
    finally:
        for job in jobs_running:
            with suppress(ProcessLookupError):
                os.killpg(job.pid, signal.SIGKILL)
            job.wait()
    batches.done(batches.PLAN, tmp_path / "alone" / "run")
    assert batches.kept(run) == batches.kept(tmp_path / "alone" / "run")


def test_that_workers_are_waited_for_is_told(
    started: Callable[[int], Workers], monkeypatch: pytest.MonkeyPatch
) -> None:
    from facewright.search.batch.cluster import Cluster

    monkeypatch.setattr("facewright.search.batch.cluster.ALONE_SECONDS", 0.4)
    workers = started(1)
    os.killpg(workers.workers[0].pid, signal.SIGKILL)
    told: list[str] = []
    stopped = Cluster(workers.address, EACH, tell=told.append).run(
        iter(jobs(3, {})), lambda: "enough" if told else None, lambda _: None
    )
    assert stopped == "enough"
    assert told == [f"{workers.address}: no workers there; waiting for them (Ctrl-C stops)"]


def parent_of(process: int) -> int:
    """The process that started one."""
    return int(Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[1])


def alive(process: int) -> bool:
    """Whether a process is there and has not ended."""
    try:
        stat = Path(f"/proc/{process}/stat").read_text(encoding="ascii", errors="replace")
    except OSError:
        return False
    return stat.rpartition(")")[2].split()[0] != "Z"
