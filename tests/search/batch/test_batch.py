"""Batches: answered once, gone on with, shared; poisoned questions take no other along; one process a folder."""

from __future__ import annotations

import importlib
import itertools
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random
from types import ModuleType
from typing import Any

import pytest
from facewright.search.batch.performing import perform_batch
from facewright.search.batch.plan import Limit, parse_plan
from facewright.search.batch.pool import Pool
from facewright.search.batch.tasks import Job
from facewright.search.cli.command import status_of
from facewright.search.folders import BATCH, locked
from facewright.search.stop import never

from tests.batches import PLAN, done, kept, killed_and_gone_on, workers_of

POISON = '''
"""Questions that hang, crash or eat memory: told by a word in their title."""
import os, signal
from facewright.search.batch import tasks

tasks.GRACE = 1.0
sound = tasks._answered

def answered(brief, seconds, designs):
    if "HANG" in brief:
        while True:
            pass
    if "DEAF" in brief:
        signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGALRM])
        while True:
            pass
    if "CRASH" in brief:
        os.kill(os.getpid(), signal.SIGSEGV)
    if "EAT" in brief:
        return {"status": "answered", "eaten": len(bytearray(1 << 40))}
    return sound(brief, seconds, designs)

tasks._answered = answered

def answer_some(jobs, seconds, designs):
    return tasks.answer_some(jobs, seconds, designs)
'''

SMALL = ("small", 'title = "small"\nread = "total"\nlike = "2d6"\ndice = [6, 6]\n')

KILLED = '''
"""Kills a process that makes, opens and closes a store, a hundred times, and opens what it leaves, to read or write."""
import json, os, pathlib, random, signal, sys, time
from facewright.search.batch.store import BatchStore

moments, begun, faults = random.Random(26), 0, []
for round_ in range(100):
    path = pathlib.Path(sys.argv[1]) / f"{round_}.sqlite"
    if not (child := os.fork()):
        while True:
            with BatchStore.open(path, write=True) if path.exists() else BatchStore.create(path) as store:
                store.note("kept", round_)
    time.sleep(moments.uniform(0, 0.03))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    if path.exists():
        begun += 1
        try:
            with BatchStore.open(path, write=round_ % 2 == 0) as store:
                assert store.sound() and store.noted("kept", round_) == round_
        except Exception as wrong:
            if "ended before it began" not in str(wrong):
                faults.append(str(wrong))
print(json.dumps([begun, faults]))
'''


@pytest.fixture(scope="module")
def undisturbed(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[Any, ...]]:
    """What the plan finds where nothing disturbs it."""
    folder = tmp_path_factory.mktemp("whole") / "batch"
    assert done(PLAN, folder).tally["answered"] == 15
    return kept(folder)


def test_answers_are_those_of_single_runs(undisturbed: list[tuple[Any, ...]]) -> None:
    from facewright.constraints.brief import parse
    from facewright.search import find
    from facewright.search.batch.plan import asked_of

    answers = {row[0]: row for row in undisturbed if len(row) == 8}
    assert len(answers) == 15
    for number, (asked, _) in enumerate(asked_of(parse_plan(PLAN)), 1):
        answer = find(parse(asked.brief))
        assert answers[number][2:5] == (answer.verdict, str(answer.count), str(answer.count_up_to_shift))


def test_a_batch_goes_on_and_takes_what_others_know(
    tmp_path: Path, undisturbed: list[tuple[Any, ...]]
) -> None:
    seen: list[int] = []

    def count(tally: dict[str, int], _rate: float | None) -> None:
        seen.append(tally["done"])

    stopped = perform_batch(
        parse_plan(PLAN), PLAN, "plan", tmp_path / "one", workers=1, watch=count,
        stop=lambda: "enough" if seen and seen[-1] else None,
    )  # fmt: skip
    assert stopped.stopped == "enough"
    assert 0 < stopped.left < 15
    again = done(PLAN, tmp_path / "one")
    assert (again.stopped, again.left, again.failures, again.taken) == (None, 0, 0, 0)
    assert kept(tmp_path / "one") == undisturbed
    other = done(PLAN, tmp_path / "two")
    assert other.taken == 15
    assert kept(tmp_path / "two") == undisturbed


def test_more_time_asks_again_what_was_cut_short(tmp_path: Path) -> None:
    text = (
        'title = "Long"\n[brief]\nread = "total"\nlike = "2d12"\naccept = "nearest"\nlabels = { highest = 18 }\n'
        "[lists]\ndice = [[20, 20]]\n[each]\nseconds = 0.05\ndesigns = 1\n"
    )

    class Here:
        def run(self, jobs: Any, _stop: Any, keep: Any) -> None:
            for key, _ in jobs:
                asked.append(key)
                verdict = "partial" if len(asked) == 1 else "best"
                told_so = {
                    "status": "answered",
                    "verdict": verdict,
                    "reason": "r",
                    "seconds": 0.1,
                    "designs": [],
                }
                keep([{"key": key, **told_so}])

    asked: list[str] = []
    done(text, tmp_path / "long", runner=Here())
    done(text, tmp_path / "long", runner=Here())
    assert len(asked) == 1
    done(text.replace("0.05", "5.0"), tmp_path / "long", runner=Here())
    assert len(asked) == 2
    assert asked[0] == asked[1]


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="no folder that nobody can write")
def test_a_folder_that_nobody_can_write_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    assert status_of(["batch", str(tmp_path / "plan.toml"), "--out", "/proc/facewright"]) == 2
    assert "cannot be made" in capsys.readouterr().err


@pytest.fixture
def poison(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[ModuleType]:
    """A module whose questions may be poisoned; workers find it too."""
    (tmp_path / "poison_of_batches.py").write_text(POISON, encoding="utf-8")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    monkeypatch.syspath_prepend(tmp_path)
    # what the module replaces comes back
    monkeypatch.setattr("facewright.search.batch.tasks._answered", None)
    monkeypatch.setattr("facewright.search.batch.tasks.GRACE", None)
    yield importlib.import_module("poison_of_batches")
    del sys.modules["poison_of_batches"]


def test_poisoned_questions_take_no_other_along(poison: ModuleType) -> None:
    each = Limit(0.4, 3, 500)
    jobs = [(f"k{at}", f'title = "{at}"\nread = "total"\nlike = "2d6"\ndice = [6, 6]\n') for at in range(12)]
    jobs[3] = ("hang", 'title = "HANG"\n')
    jobs[5] = ("crash", 'title = "CRASH"\n')
    jobs[8] = ("eat", 'title = "EAT"\n')
    results: list[dict[str, Any]] = []
    assert Pool(2, each, poison.answer_some).run(jobs, never, results.extend) is None
    found = {one["key"]: one for one in results}
    assert len(results) == len(found) == 12
    assert {key: one["status"] for key, one in found.items() if one["status"] != "answered"} == {
        "hang": "hung",
        "crash": "failed",
        "eat": "out of memory",
    }
    assert "crashed" in found["crash"]["reason"]


def test_a_question_that_hears_no_alarm_is_ended_with_its_process(
    poison: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("facewright.search.batch.pool.START_SECONDS", 1.0)
    monkeypatch.setattr("facewright.search.batch.pool.GRACE", 0.5)
    jobs = [("deaf", 'title = "DEAF"\n'), SMALL]
    results: list[dict[str, Any]] = []
    assert Pool(1, Limit(0.4, 3, 500), poison.answer_some).run(jobs, never, results.extend) is None
    assert {one["key"]: (one["status"], one["tries"]) for one in results} == {
        "deaf": ("hung", 2),
        "small": ("answered", 2),
    }


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="no /proc to find workers in")
def test_a_worker_that_dies_between_two_questions_takes_none_along() -> None:
    def jobs() -> Iterator[Job]:
        yield SMALL
        while not results:
            yield (f"before {next(numbers)}", SMALL[1])
        for worker in workers_of(os.getpid()):
            os.kill(worker, signal.SIGKILL)
        time.sleep(1.0)  # for the pool to see it
        yield ("after", SMALL[1])

    numbers = itertools.count()
    results: list[dict[str, Any]] = []
    assert Pool(1, Limit(20, 3, 500)).run(jobs(), never, results.extend) is None
    assert {one["status"] for one in results} == {"answered"}
    keys = [one["key"] for one in results]
    assert "after" in keys
    assert len(set(keys)) == len(keys)


def test_an_unborn_or_half_closed_store_is_taken_up(tmp_path: Path) -> None:
    script = tmp_path / "killed.py"
    script.write_text(KILLED, encoding="utf-8")
    ended = subprocess.run([sys.executable, script, tmp_path], capture_output=True, text=True, check=False)
    assert ended.stderr == ""
    begun, faults = json.loads(ended.stdout)
    assert begun > 50
    assert faults == []


def test_two_batches_in_one_folder_refuse_each_other(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    (tmp_path / "out").mkdir()
    with locked(tmp_path / "out"):
        assert status_of(["batch", str(tmp_path / "plan.toml"), "--out", str(tmp_path / "out")]) == 1
    assert "another process" in capsys.readouterr().err


def test_folders_that_are_none_of_a_batch_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    assert status_of(["batch", str(tmp_path / "plan.toml"), "--out", str(tmp_path)]) == 2
    assert "no batch" in capsys.readouterr().err
    assert status_of(["batch", str(tmp_path / "plan.toml"), "--out", str(tmp_path / "plan.toml/x")]) == 2
    (tmp_path / "old").mkdir()
    (tmp_path / "old" / BATCH).write_bytes(b"no store at all, but long enough to be looked at")
    assert status_of(["batch", str(tmp_path / "plan.toml"), "--out", str(tmp_path / "old")]) == 1
    assert "Traceback" not in capsys.readouterr().err


def test_a_refused_plan_leaves_what_was_asked_before(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan, folder = tmp_path / "plan.toml", tmp_path / "batch"
    plan.write_text(PLAN, encoding="utf-8")
    assert status_of(["batch", str(plan), "--out", str(folder), "--quiet"]) == 0
    before = kept(folder)
    plan.write_text(PLAN.replace('"2d4"', '"2x4"'), encoding="utf-8")
    assert status_of(["batch", str(plan), "--out", str(folder)]) == 2
    told = capsys.readouterr().err
    assert "lists.like[2]" in told and "5 questions" in told
    assert "damaged" not in told
    assert kept(folder) == before


def test_starting_anew_can_be_killed_at_every_step(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    class Killed(BaseException):
        pass

    def unlinked(path: Path, missing_ok: bool = False) -> None:
        nonlocal left
        if (left := left - 1) < 0:
            raise Killed
        unlink(path, missing_ok)

    unlink, left = Path.unlink, 0
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    folder = tmp_path / "out"
    for steps in range(2):
        assert done(PLAN, folder).left == 0
        left = steps
        with monkeypatch.context() as patched, pytest.raises(Killed):
            patched.setattr(Path, "unlink", unlinked)
            done(PLAN, folder, again=True)
    assert done(PLAN, folder).left == 0


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="no /proc to find workers in")
def test_twenty_kills_lose_nothing(tmp_path: Path, undisturbed: list[tuple[Any, ...]]) -> None:
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    moments, struck, round_ = Random(20), 0, 0
    while struck < 20:
        folder = tmp_path / f"round-{round_}" / "batch"
        struck += killed_and_gone_on(folder, tmp_path / "plan.toml", 20 - struck, moments)
        round_ += 1
        assert kept(folder) == undisturbed


def test_a_full_disk_stops_clearly_and_the_batch_goes_on(
    tmp_path: Path, undisturbed: list[tuple[Any, ...]]
) -> None:
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    code = (
        "import resource, signal, sys\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (40960, resource.RLIM_INFINITY))\n"
        "from facewright.search.cli.command import status_of\n"
        "sys.exit(status_of(sys.argv[1:]))\n"
    )
    command = ["batch", str(tmp_path / "plan.toml"), "--out", str(tmp_path / "out")]
    short = subprocess.run(
        [sys.executable, "-c", code, *command], capture_output=True, text=True, check=False
    )
    assert short.returncode == 1
    assert "disk" in short.stderr
    assert "Traceback" not in short.stderr
    assert status_of(command) == 0
    assert kept(tmp_path / "out") == undisturbed


def test_the_command_tells_its_size_first(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    assert status_of(["batch", str(tmp_path / "plan.toml"), "--dry-run", "--json"]) == 0
    told_size = json.loads(capsys.readouterr().out)
    assert (told_size["questions"], told_size["different"]) == (15, 15)
    assert status_of(["batch", str(tmp_path / "plan.toml"), "--dry-run"]) == 0
    assert "15 questions, 15 of them different" in capsys.readouterr().out
    assert not (tmp_path / "runs").exists()
