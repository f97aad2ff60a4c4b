"""The sets of dice of a choice shared among processes; what a lost process leaves over is done here."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures import TimeoutError as Pending
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from facewright.constraints.question import Numbering
from facewright.search.answer import FoundDesign, SetOutcome
from facewright.search.stop import Stop

if TYPE_CHECKING:
    from multiprocessing.synchronize import Event

POLL = 0.05
"""Seconds between two questions whether to stop."""

Solved = tuple[list[FoundDesign], SetOutcome]

_asked: Event | None = None
"""In a worker: set by the parent when the work is to stop."""


@dataclass(frozen=True)
class _Asked:
    """The stop of a worker: the parent's event."""

    def __call__(self) -> str | None:
        return "interrupted" if _asked is not None and _asked.is_set() else None


def solved_in_order(
    question: Numbering, positions: Sequence[int], room: int, seed: int, stop: Stop, workers: int
) -> Iterator[Solved | None]:
    """What each of these sets of dice gives, in their order; None for one whose process was lost.

    After `stop` has asked for it, the sets that no process had begun are left out.
    """
    context = multiprocessing.get_context("spawn")
    event = context.Event()
    pool = ProcessPoolExecutor(workers, context, initializer=_prepare, initargs=(event,))
    try:
        with _no_interrupts():
            futures = [
                pool.submit(_solve, question.alone(question.sets[p]), p, room, seed) for p in positions
            ]
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


def _wait(future: Future[Solved], futures: list[Future[Solved]], event: Event, stop: Stop) -> None:
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


def _solve(alone: Numbering, position: int, room: int, seed: int) -> Solved:
    from facewright.search.finding import one_set
    from facewright.search.progress import silent

    found: list[FoundDesign] = []
    outcome = one_set(alone, position, room, seed, _Asked(), silent, lambda _shard, _outcome: None, found)
    return found, outcome
