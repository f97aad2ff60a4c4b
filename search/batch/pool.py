"""Questions shared among processes of one machine; one that kills its process takes no other along."""

from __future__ import annotations

import itertools
import os
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, wait
from typing import Any

from facewright.search.batch.plan import Limit
from facewright.search.batch.tasks import GRACE, Job, answer_some, died, prepare
from facewright.search.stop import Stop
from facewright.search.threads import one_thread

Kept = Callable[[list[dict[str, Any]]], None]
"""Told of results as they come; what it raises ends the work."""

POLL = 0.1
"""Seconds between two questions whether to stop."""

AIM = 0.25
"""Seconds of work handed to a worker at once, about: small questions go together."""

START_SECONDS = 300.0
"""So long a worker may take to load the program, on a machine that is busy."""

MOST_TOGETHER = 50
AHEAD = 2
"""So many handfuls a worker are handed out before they are needed."""


class Pool:
    """Workers on this machine, by joblib's loky.

    Params:
        workers: how many processes.
        each: what a question may use.
        task: what a worker does with a handful of jobs.
    """

    def __init__(self, workers: int, each: Limit, task: Callable[..., Any] = answer_some) -> None:
        self.workers, self.each, self._task = workers, each, task
        self._handfuls = Handfuls()

    def run(self, jobs: Iterable[Job], stop: Stop, keep: Kept) -> str | None:
        """Answers all jobs; gives the reason where it was stopped early.

        A job whose process died is tried once more, alone; what then dies again is told as failed.
        """
        waiting = iter(jobs)
        executor = self._executor(self.workers)
        pending: dict[Future[Any], list[Job]] = {}
        heard = time.monotonic()
        try:
            while True:
                while len(pending) < AHEAD * self.workers and (handful := self._handfuls.next(waiting)):
                    pending[self._submit(executor, handful)] = handful
                if not pending:
                    return None
                done, _ = wait(pending, POLL, FIRST_COMPLETED)
                if (asked := stop()) is not None:
                    return asked
                lost: list[Job] = []
                for future in done:
                    heard = time.monotonic()
                    handful = pending.pop(future)
                    if future.exception() is None:
                        self._told(future.result(), keep)
                    else:
                        lost += handful
                if lost or time.monotonic() - heard > self._longest(
                    max(map(len, pending.values()), default=0)
                ):
                    lost += [job for handful in pending.values() for job in handful]
                    pending.clear()
                    executor.shutdown(wait=True, kill_workers=True)
                    if (asked := self._alone(lost, stop, keep)) is not None:
                        return asked
                    executor = self._executor(self.workers)
                    heard = time.monotonic()
        finally:
            executor.shutdown(wait=True, kill_workers=True)

    def _alone(self, jobs: Iterable[Job], stop: Stop, keep: Kept) -> str | None:
        """Each job by itself in a process that no other job shares while it is at work."""
        waiting = deque(jobs)
        executor = None
        try:
            while waiting:
                job = waiting.popleft()
                new = executor is None
                executor = executor or self._executor(1)
                started = time.perf_counter()
                future = self._submit(executor, [job])
                how = None
                while how is None and not wait([future], POLL).done:
                    if (asked := stop()) is not None:
                        return asked
                    if time.perf_counter() - started > self._longest(1):  # it does not even hear its alarm
                        how = "SIGALRM"
                if how is None and (wrong := future.exception()) is None:
                    keep([{**one, "tries": 2} for one in future.result()])
                    continue
                executor.shutdown(wait=True, kill_workers=True)
                executor = None
                if new:
                    how = how or f"{type(wrong).__name__}: {wrong}"
                    keep([died(job[0], how, time.perf_counter() - started)])
                else:  # the process may have died before this job came to it
                    waiting.appendleft(job)
        finally:
            if executor is not None:
                executor.shutdown(wait=True, kill_workers=True)
        return None

    def _executor(self, workers: int) -> Any:
        from joblib.externals.loky import ProcessPoolExecutor

        one_thread()
        return ProcessPoolExecutor(
            workers, initializer=prepare, initargs=(os.getpid(), self.each.memory_mb), timeout=None
        )

    def _submit(self, executor: Any, handful: list[Job]) -> Future[Any]:
        """What will come of a handful; its exception where a worker died since the last was handed out."""
        from joblib.externals.loky.process_executor import BrokenProcessPool

        future: Future[Any] = Future()
        try:
            future = executor.submit(self._task, handful, self.each.seconds, self.each.designs)
        except BrokenProcessPool as wrong:
            future.set_exception(wrong)
        return future

    def _longest(self, many: int) -> float:
        """Seconds that so many jobs take at the most, each ended by its alarm, or a worker does not hear it."""
        return START_SECONDS + many * (1.5 * self.each.seconds + 2 * GRACE)

    def _told(self, results: list[dict[str, Any]], keep: Kept) -> None:
        self._handfuls.told(results)
        keep(results)


class Handfuls:
    """Jobs handed out together: so many that they take about `AIM` seconds, going by those that were answered."""

    def __init__(self) -> None:
        self._mean = AIM

    def next(self, waiting: Iterator[Job]) -> list[Job]:
        """The next jobs; none where none are left."""
        many = max(1, min(MOST_TOGETHER, int(AIM / max(self._mean, 1e-6))))
        return list(itertools.islice(waiting, many))

    def told(self, results: list[dict[str, Any]]) -> None:
        """Learns how long some took."""
        for one in results:
            self._mean = 0.9 * self._mean + 0.1 * one["seconds"]
