"""Questions answered by the workers of a dask.distributed scheduler, through its own client; only the parent writes."""

from __future__ import annotations

import logging
import math
import time
import uuid
from collections.abc import Callable, Iterator
from concurrent.futures import CancelledError
from contextlib import suppress
from typing import Any

from facewright.constraints.errors import RunError, UsageError
from facewright.search.batch.apart import Errand, answer_apart, call_off
from facewright.search.batch.plan import Limit
from facewright.search.batch.pool import Handfuls, Kept
from facewright.search.batch.tasks import Job, answer_some, engines_version
from facewright.search.stop import Stop

POLL = 0.2
"""Seconds between two questions whether to stop."""

AHEAD = 3
"""So many handfuls a thread of the cluster are handed out before they are needed."""

CONNECT_SECONDS = 10

GATHER_SECONDS = 5
"""So long results may take to come."""

ALONE_SECONDS = 3.0
"""After so long without workers it is said that they are waited for."""

CLOSE_SECONDS = 2
"""So long a connection may take to close: its other end may be gone."""


class Cluster:
    """The workers of a scheduler.

    Params:
        address: the scheduler's, such as tcp://10.0.0.1:8786.
        each: what a question may use.
        task: what a child of a worker does with a job.
        tell: told what one waits for.
    Raises: UsageError where the package is missing.
    """

    def __init__(
        self,
        address: str,
        each: Limit,
        task: Callable[..., Any] = answer_some,
        tell: Callable[[str], None] = lambda _: None,
    ) -> None:
        try:
            import distributed
        except ImportError as wrong:
            raise UsageError(
                "--where: found no package `distributed`; accepted: an installation with the extra [cluster]"
            ) from wrong
        for name in [one for one in logging.root.manager.loggerDict if one.startswith("distributed")]:
            # it logs with tracebacks what is told in plain words here
            logging.getLogger(name).setLevel(logging.CRITICAL + 1)
        self._distributed: Any = distributed
        self._handfuls = Handfuls()
        self.address = address
        self._tell = tell
        self._seen = 0.0
        self._errand = Errand(each, task, engines_version(), uuid.uuid4().hex)

    def run(self, jobs: Iterator[Job], stop: Stop, keep: Kept) -> str | None:
        """Answers all jobs; gives the reason where it was stopped early, and then ends what the workers are at.

        Where a worker was lost with a handful, each of its questions is tried once more, alone; what then loses its
        worker again is told as failed. Raises RunError where there is no scheduler, it is lost on the way, or workers
        have another version of facewright.
        """
        try:
            client = self._distributed.Client(self.address, timeout=CONNECT_SECONDS)
        except (OSError, ValueError) as wrong:
            raise RunError(
                f"{self.address}: found no scheduler there ({wrong}); start one, or leave out --where"
            ) from wrong
        at_work = True
        try:
            asked = self._run(client, iter(jobs), stop, keep)
            at_work = asked is not None
            return asked
        except (OSError, ImportError) as wrong:
            at_work = isinstance(wrong, ImportError)
            raise self._without_cluster(wrong) from wrong
        finally:
            try:
                if at_work:
                    with suppress(OSError, ValueError):
                        client.run(call_off, self._errand.batch, on_error="ignore")
            finally:
                client.close(timeout=CLOSE_SECONDS)

    def _run(self, client: Any, waiting: Iterator[Job], stop: Stop, keep: Kept) -> str | None:
        pending: dict[Any, list[Job]] = {}
        single: list[Job] = []
        alone = None
        self._seen = time.monotonic()
        while True:
            room = AHEAD * max(1, self._threads(client))
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
                told = self._told(client, future)
                if told is None:
                    pending[future] = handful
                elif isinstance(told, Exception):
                    if future is alone:
                        keep([_lost(handful[0][0], told)])
                    else:
                        single += handful
                else:
                    self._handfuls.told(told)
                    keep([{**one, "tries": 2} for one in told] if future is alone else told)

    def _threads(self, client: Any) -> int:
        """How many questions can be at work at once; where there have been no workers for a while that is told."""
        threads: int = sum(client.nthreads().values())
        if threads:
            self._seen = time.monotonic()
        elif time.monotonic() - self._seen > ALONE_SECONDS:
            self._tell(f"{self.address}: no workers there; waiting for them (Ctrl-C stops)")
            self._seen = math.inf
        return threads

    def _submit(self, client: Any, handful: list[Job]) -> Any:
        return client.submit(answer_apart, handful, self._errand, pure=False)

    def _done(self, futures: list[Any]) -> list[Any]:
        try:
            waited = self._distributed.wait(futures, timeout=POLL, return_when="FIRST_COMPLETED")
        except (TimeoutError, self._distributed.TimeoutError):
            return []
        except CancelledError:
            return [one for one in futures if one.done()]
        return list(waited.done)

    def _told(self, client: Any, future: Any) -> list[dict[str, Any]] | Exception | None:
        """What is told of some questions, or what became of their worker; None where that is not known yet.

        Raises what is no fault of theirs: ImportError, or OSError where the scheduler is lost.
        """
        try:
            told: list[dict[str, Any]] = future.result(timeout=GATHER_SECONDS)
            return told
        except (TimeoutError, self._distributed.TimeoutError):
            return None  # their worker was lost since: they are being answered anew
        except ImportError:
            raise
        except Exception as wrong:
            if client.status != "running":
                raise ConnectionError("the connection broke") from wrong
            return wrong

    def _without_cluster(self, wrong: OSError | ImportError) -> RunError:
        if isinstance(wrong, ImportError):
            return RunError(
                f"{self.address}: its workers cannot answer ({wrong}); all machines need the same version of facewright"
            )
        return RunError(
            f"{self.address}: the scheduler was lost ({wrong}); what was answered is kept. Once it is there again give "
            "the same command again"
        )


def _lost(key: str, wrong: Any) -> dict[str, Any]:
    killed = type(wrong).__name__ == "KilledWorker"
    reason = "its workers were lost, again and again" if killed else f"{type(wrong).__name__}: {wrong}"
    return {"key": key, "seconds": 0.0, "status": "failed", "reason": reason, "tries": 2}
