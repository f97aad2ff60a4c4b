"""Work shared among processes, such as the sets of dice of a choice; what a lost process leaves the caller does."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures import TimeoutError as Pending
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from facewright.search.stop import Stop
from facewright.search.threads import one_thread

if TYPE_CHECKING:
    from multiprocessing.synchronize import Event

POLL = 0.05
"""Seconds between two questions whether to stop."""

_asked: Event | None = None
"""In a worker: set by the parent when the work is to stop."""


@dataclass(frozen=True)
class _Asked:
    """The stop of a worker: the parent's event."""

    def __call__(self) -> str | None:
        return "interrupted" if _asked is not None and _asked.is_set() else None


def solved_in_order(
    task: Callable[..., Any], jobs: Sequence[tuple[Any, ...]], stop: Stop, workers: int
) -> Iterator[Any]:
    """What each job gives, in their order; None for one whose process was lost.

    After `stop` has asked for it, the jobs that no process had begun are left out.

    Args:
        task: a function of a module, called as `task(*job, stop=...)` in a process of its own; it never gives None.
        jobs: the arguments of each job.
        stop: asked whether to stop early; a job learns of it through its own `stop`.
        workers: how many processes.
    """
    one_thread()
    context = multiprocessing.get_context("spawn")
    event = context.Event()
    pool = ProcessPoolExecutor(workers, context, initializer=_prepare, initargs=(event,))
    try:
        with _no_interrupts():
            futures = [pool.submit(_called, task, job) for job in jobs]
        for future in futures:
            _wait(future, futures, event, stop)
            if future.cancelled():
                return
            try:
                yield future.result()
            except BrokenProcessPool:
                yield None
    finally:
        event.set()
        pool.shutdown(wait=True, cancel_futures=True)


@contextmanager
def _no_interrupts() -> Iterator[None]:
    """Holds Ctrl-C back while processes start: they inherit this, and would die of it before they are prepared."""
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _wait(future: Future[Any], futures: list[Future[Any]], event: Event, stop: Stop) -> None:
    while not future.done():
        if not event.is_set() and stop():
            event.set()
            for other in futures:
                other.cancel()
        try:
            future.exception(timeout=POLL)
        except Pending:
            continue
        except Exception:
            # cancelled: the caller looks
            time.sleep(0)
            return


def _prepare(event: Any) -> None:
    global _asked  # noqa: PLW0603 - a worker process has no other place for what its parent hands it
    _asked = event
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT})
    threading.Thread(target=_leave_with_parent, daemon=True).start()


def _leave_with_parent() -> None:
    """Ends this worker when its parent has been killed: it would wait for work for ever."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _called(task: Callable[..., Any], job: tuple[Any, ...]) -> Any:
    return task(*job, stop=_Asked())
