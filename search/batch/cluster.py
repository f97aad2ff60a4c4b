"""Questions answered by the workers of a dask.distributed scheduler, through its own client; only the parent writes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from facewright.constraints.errors import RunError, UsageError
from facewright.search.batch.apart import answer_apart
from facewright.search.batch.plan import Limit
from facewright.search.batch.pool import Handfuls, Kept
from facewright.search.batch.tasks import Job, answer_some
from facewright.search.stop import Stop

POLL = 0.2
"""Seconds between two questions whether to stop."""

AHEAD = 3
"""So many handfuls a thread of the cluster are handed out before they are needed."""

CONNECT_SECONDS = 10


class Cluster:
    """The workers of a scheduler.

    Params:
        address: the scheduler's, such as tcp://10.0.0.1:8786.
        each: what a question may use.
        task: what a child of a worker does with a job.
    Raises: UsageError where the package is missing.
    """

    def __init__(self, address: str, each: Limit, task: Callable[..., Any] = answer_some) -> None:
        try:
            import distributed
        except ImportError as wrong:
            raise UsageError(
                "--where: found no package `distributed`; accepted: an installation with the extra [cluster]"
            ) from wrong
        self._distributed: Any = distributed
        self._handfuls = Handfuls()
        self.address, self.each, self._task = address, each, task

    def run(self, jobs: Iterator[Job], stop: Stop, keep: Kept) -> str | None:
        """Answers all jobs; gives the reason where it was stopped early.

        Where a worker was lost with a handful, each of its questions is tried once more, alone; what then loses its
        worker again is told as failed.
        """
        try:
            client = self._distributed.Client(self.address, timeout=CONNECT_SECONDS)
        except (OSError, ValueError) as wrong:
            raise RunError(
                f"{self.address}: found no scheduler there ({wrong}); start one, or leave out --where"
            ) from wrong
        try:
            return self._run(client, iter(jobs), stop, keep)
        finally:
            client.close()

    def _run(self, client: Any, waiting: Iterator[Job], stop: Stop, keep: Kept) -> str | None:
        pending: dict[Any, list[Job]] = {}
        single: list[Job] = []
        alone = None
        while True:
            room = AHEAD * max(1, sum(client.nthreads().values()))
            while len(pending) < room and (handful := self._handfuls.next(waiting)):
                pending[self._submit(client, handful)] = handful
            if not pending and single:
                # one at a time: whatever else is on a worker when it is lost is counted as lost with it
                job = single.pop()
                alone = self._submit(client, [job])
                pending[alone] = [job]
            if not pending:
                return None
            done = self._done(list(pending))
            if (asked := stop()) is not None:
                client.cancel(list(pending))
                return asked
            for future in done:
                handful = pending.pop(future)
                if future.status == "finished":
                    results = [{**one, "tries": 2} if future is alone else one for one in future.result()]
                    self._handfuls.told(results)
                    keep(results)
                elif future is alone:
                    keep([_lost(handful[0][0], future)])
                else:
                    single += handful

    def _submit(self, client: Any, handful: list[Job]) -> Any:
        return client.submit(answer_apart, handful, self.each, self._task, pure=False)

    def _done(self, futures: list[Any]) -> list[Any]:
        try:
            waited = self._distributed.wait(futures, timeout=POLL, return_when="FIRST_COMPLETED")
        except (TimeoutError, self._distributed.TimeoutError):
            return []
        return list(waited.done)


def _lost(key: str, future: Any) -> dict[str, Any]:
    wrong = future.exception()
    killed = type(wrong).__name__ == "KilledWorker"
    reason = "its workers were lost, again and again" if killed else f"{type(wrong).__name__}: {wrong}"
    return {"key": key, "seconds": 0.0, "status": "failed", "reason": reason, "tries": 2}
