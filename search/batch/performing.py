"""A batch in its folder: begun, gone on with, or known already; with a line in its log for every event."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Protocol

from facewright.constraints.errors import RunError
from facewright.search.batch.known import taken_from_others
from facewright.search.batch.plan import Asked, Limit, Plan, asked_of, key_of
from facewright.search.batch.pool import Kept, Pool
from facewright.search.batch.store import BatchStore
from facewright.search.batch.tasks import Job, engines_version
from facewright.search.folders import BATCH, STORE, locked, write_text
from facewright.search.stop import Stop

PLAN, LOG = "plan.toml", "batch.log"


class Runner(Protocol):
    """Answers jobs somewhere: on this machine, or on a cluster."""

    def run(self, jobs: Iterator[Job], stop: Stop, keep: Kept) -> str | None:
        """Answers all jobs; gives the reason where it was stopped early."""


@dataclass(frozen=True)
class Done:
    """How a batch ended: its folder, the tally of its questions, how many came from other batches, why it stopped."""

    folder: Path
    tally: dict[str, int]
    taken: int
    stopped: str | None

    @property
    def failures(self) -> int:
        """How many questions were tried and have no answer."""
        return self.tally["done"] - self.tally.get("answered", 0)

    @property
    def left(self) -> int:
        """How many were not tried."""
        return self.tally["different"] - self.tally["done"]


class Watch(Protocol):
    """Told how far a batch is."""

    def __call__(self, tally: dict[str, int], rate: float | None) -> None:
        """`rate`: questions a second, None as long as it is not known."""


def perform_batch(
    plan: Plan,
    text: str,
    name: str,
    folder: Path,
    *,
    workers: int,
    stop: Stop,
    watch: Watch,
    runner: Runner | None = None,
    again: bool = False,
    failed_too: bool = False,
) -> Done:
    """Answers what a plan asks and a folder has no answer to yet.

    Params:
        plan, text, name: the plan, its text, and what faults call it.
        folder: where the batch is kept; made if need be.
        workers: processes on this machine.
        stop: asked whether to stop early.
        watch: told of the progress.
        runner: where the questions are answered; on this machine without it.
        again: forget what the folder holds.
        failed_too: try again what failed.
    Raises: BriefRefused for a plan whose questions are refused; RunError for a folder that cannot be used.
    """
    _prepare(folder)
    with locked(folder):
        if again:
            # the store last: without one, a folder with a plan is taken for somebody else's
            for one in (folder / PLAN, *sorted(folder.glob(f"{BATCH}*"), reverse=True)):
                one.unlink(missing_ok=True)
        path = folder / BATCH
        with BatchStore.open(path, write=True) if path.exists() else BatchStore.create(path) as store:
            log = _Log(folder / LOG)
            store.ask(_keyed(plan, text, name))
            store.note("title", plan.title)
            store.note("note", plan.note)
            store.note("varies", [*{key: None for case in plan.cases for key in case}, *plan.lists])
            write_text(folder / PLAN, text)
            if failed_too:
                store.forget_failures()
            if plan.each.seconds > store.noted("seconds", plan.each.seconds):
                store.forget_cut_short()  # they may have more time now
            store.note("seconds", plan.each.seconds)
            before = store.tally()
            taken = taken_from_others(store, folder)
            log.line(
                f"begun: {before['questions']:,} questions, {before['different']:,} different, {before['done']:,} done "
                f"before, {taken:,} taken from other batches"
            )
            ended = _go_on(store, plan.each, runner or Pool(workers, plan.each), stop, watch, log)
            tally = store.tally()
            store.note("ended", None if ended else _now())
            log.line(
                f"stopped: {ended}" if ended else f"ended: {tally['done']:,} of {tally['different']:,} done"
            )
            return Done(folder, tally, taken, ended)


def _go_on(store: BatchStore, each: Limit, runner: Runner, stop: Stop, watch: Watch, log: _Log) -> str | None:
    started, done = time.monotonic(), 0
    tally = store.tally()
    watch(tally, None)

    def keep(results: list[dict[str, Any]]) -> None:
        nonlocal done
        if not store.path.exists():
            raise RunError(
                f"{store.path}: it was removed or moved while the batch was at work; give the same command again"
            )
        store.keep(results)
        for one in results:
            tally["done"] += 1
            tally[one["status"]] = tally.get(one["status"], 0) + 1
            said = one.get("verdict") or one["reason"].replace("\n", " ")[:200]
            log.line(f"{one['status']}: {one['key']} in {one['seconds']:g} s: {said}")
        done += len(results)
        watch(tally, done / max(time.monotonic() - started, 1e-9))

    return runner.run(store.open_jobs(), stop, keep)


def _keyed(plan: Plan, text: str, name: str) -> Iterator[tuple[Asked, str, str]]:
    engines = engines_version()
    for asked, fingerprint in asked_of(plan, text, name):
        yield asked, fingerprint, key_of(fingerprint, plan.each, engines)


def _prepare(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as wrong:
        raise RunError(
            f"{folder}: the folder cannot be made ({wrong.strerror}); use --out to name another",
            exit_status=2,
        ) from wrong
    strange = [name for name in (STORE, PLAN) if (folder / name).exists()]
    if strange and not (folder / BATCH).exists():
        raise RunError(
            f"{folder}: found {' and '.join(strange)} there, but no batch; use --out to name another folder",
            exit_status=2,
        )


class _Log:
    """A log of a line an event; where it cannot be written the batch goes on without."""

    def __init__(self, path: Path) -> None:
        self._path = path

    def line(self, text: str) -> None:
        with suppress(OSError), self._path.open("a", encoding="utf-8") as file:
            file.write(f"{_now()} {text}\n")


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")
