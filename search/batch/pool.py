"""Questions shared among processes of one machine; one that kills its process takes no other along."""

from __future__ import annotations

import os
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, wait
from typing import Any

from facewright.search.batch.plan import Limit
from facewright.search.batch.tasks import Job, answer_some, prepare
from facewright.search.stop import Stop

Kept = Callable[[list[dict[str, Any]]], None]
"""Told of results as they come; what it raises ends the work."""

POLL = 0.1
"""Seconds between two questions whether to stop."""

AIM = 0.25
"""Seconds of work handed to a worker at once, about: small questions go together."""

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
        self._mean = AIM

    def run(self, jobs: Iterable[Job], stop: Stop, keep: Kept) -> str | None:
        """Answers all jobs; gives the reason where it was stopped early.

        A job whose process died is tried once more, alone; what then dies again is told as failed.
        """
        waiting = iter(jobs)
        executor = self._executor(self.workers)
        pending: dict[Future[Any], list[Job]] = {}
        try:
            while True:
                while len(pending) < AHEAD * self.workers and (handful := self._handful(waiting)):
                    pending[self._submit(executor, handful)] = handful
                if not pending:
                    return None
                done, _ = wait(pending, POLL, FIRST_COMPLETED)
                if (asked := stop()) is not None:
                    return asked
                lost: list[Job] = []
                for future in done:
                    handful = pending.pop(future)
                    if future.exception() is None:
                        self._told(future.result(), keep)
                    else:
                        lost += handful
                if lost:
                    lost += [job for handful in pending.values() for job in handful]
                    pending.clear()
                    executor.shutdown(wait=True, kill_workers=True)
                    if (asked := self._alone(lost, stop, keep)) is not None:
                        return asked
                    executor = self._executor(self.workers)
        finally:
            executor.shutdown(wait=True, kill_workers=True)

    def _alone(self, jobs: Iterable[Job], stop: Stop, keep: Kept) -> str | None:
        """Each job by itself in a process that no other job shares while it is at work."""
        waiting = deque(jobs)
        executor = None
        try:
            while waiting:
                job = waiting.popleft()
                executor = executor or self._executor(1)
                started = time.perf_counter()
                future = self._submit(executor, [job])
                while not wait([future], POLL).done:
                    if (asked := stop()) is not None:
                        return asked
                wrong = future.exception()
                if wrong is None:
                    keep([{**one, "tries": 2} for one in future.result()])
                else:
                    executor.shutdown(wait=True, kill_workers=True)
                    executor = None
                    keep([_died(job[0], wrong, time.perf_counter() - started)])
        finally:
            if executor is not None:
                executor.shutdown(wait=True, kill_workers=True)
        return None

    def _executor(self, workers: int) -> Any:
        from joblib.externals.loky import ProcessPoolExecutor

        return ProcessPoolExecutor(
            workers, initializer=prepare, initargs=(os.getpid(), self.each.memory_mb), timeout=None
        )

    def _submit(self, executor: Any, handful: list[Job]) -> Future[Any]:
        future: Future[Any] = executor.submit(self._task, handful, self.each.seconds, self.each.designs)
        return future

    def _handful(self, waiting: Iterator[Job]) -> list[Job]:
        many = max(1, min(MOST_TOGETHER, int(AIM / max(self._mean, 1e-6))))
        return [job for _, job in zip(range(many), waiting, strict=False)]

    def _told(self, results: list[dict[str, Any]], keep: Kept) -> None:
        for one in results:
            self._mean = 0.9 * self._mean + 0.1 * one["seconds"]
        keep(results)


def _died(key: str, wrong: BaseException, seconds: float) -> dict[str, Any]:
    """What is told of a question whose process died twice."""
    text = str(wrong)
    status = "failed"
    reason = f"its process died, twice ({type(wrong).__name__})"
    if "SIGALRM" in text:
        status, reason = "hung", "it did not hear its limit of time and was ended with its process, twice"
    elif "SIGKILL" in text:
        reason = "its process was killed, twice: by somebody, or by the system for want of memory"
    elif "SIGSEGV" in text or "SIGABRT" in text:
        reason = "its process crashed, twice, perhaps for want of memory"
    return {"key": key, "seconds": round(seconds, 4), "status": status, "reason": reason, "tries": 2}
