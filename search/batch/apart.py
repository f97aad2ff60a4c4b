"""Questions in a child process of a cluster's worker: what hangs or crashes there costs that child, not the worker.

No alarm can be set in a worker's thread, and code that never returns cannot be ended there. So each thread of a worker
keeps one child, hands it one question at a time, and kills it where the answer does not come in time. The child leaves
when its worker is gone; a question that it is at then, and that lets no other thread run, is ended by its own alarm.
"""

from __future__ import annotations

import os
import pickle
import select
import signal
import struct
import subprocess
import sys
import threading
import time
import weakref
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import IO, Any

from facewright.search.batch.plan import Limit
from facewright.search.batch.tasks import GRACE, Job, died, engines_version, prepare
from facewright.search.threads import one_thread

Task = Callable[..., Any]
"""What answers a handful of jobs, such as `answer_some`."""

START_SECONDS = 300.0
"""So long a child may take to load the program, on a machine that is busy."""

IDLE_SECONDS = 60.0
"""A child without work for so long leaves."""

LEAVE_SECONDS = 10.0
"""So long a child that closed its end may take to end."""

LENGTH = struct.Struct("!Q")

_own = threading.local()


@dataclass(frozen=True)
class Errand:
    """What goes with all questions of a batch.

    `each` is what a question may use, `task` what answers it, `version` that of the engines asked for; `batch` tells
    the questions of one command from those of others that use the same workers.
    """

    each: Limit
    task: Task
    version: str
    batch: str


def answer_apart(jobs: Sequence[Job], errand: Errand) -> list[dict[str, Any]]:
    """The answers of some questions, one at a time in this thread's child, in their order; fewer once called off.

    A question whose child died or had to be killed is tried once more, by itself in a new child; what then happens
    again is told as hung or failed. Raises ImportError where another version is installed here.
    """
    if (here := engines_version()) != errand.version:
        raise ImportError(f"found facewright {here} there, {errand.version} here")
    results: list[dict[str, Any]] = []
    for job in jobs:
        result = _twice(job, errand)
        if errand.batch in _called_off:
            break
        results += result
    return results


_called_off: set[str] = set()
_children: weakref.WeakSet[_Child] = weakref.WeakSet()
_changing = threading.Lock()


def call_off(batch: str) -> None:
    """Ends what this worker does for a batch, at once."""
    _called_off.add(batch)
    with _changing:
        children = list(_children)
    for child in children:
        if child.at_work_for == batch:
            child.kill()


def _twice(job: Job, errand: Errand) -> list[dict[str, Any]]:
    each = errand.each
    child: _Child | None = getattr(_own, "child", None)
    started = time.perf_counter()
    code = 0
    for tries in (1, 2):
        if child is None or child.used_up or child.memory_mb != each.memory_mb or tries > 1:
            if child is not None:
                child.end()
            child = _own.child = _Child(each.memory_mb)
        child.at_work_for = errand.batch
        if errand.batch in _called_off:  # whoever calls off looks at `at_work_for` after saying so
            break
        told, code = child.ask(
            (errand.task, [job], each.seconds, each.designs), 1.5 * each.seconds + 2 * GRACE
        )
        if told is not None:
            child.at_work_for = None
            return [{**one, "tries": tries} for one in told]
        if errand.batch in _called_off:
            break
    if child is not None:
        child.end()
    return [died(job[0], _SAID.get(-code, f"exit status {code}"), time.perf_counter() - started)]


_SAID = {int(one): one.name for one in signal.Signals}
"""Signals by number; a child that hung was ended by its own alarm, or counts as if it was."""


class _Child:
    """A process that answers one question after the other."""

    def __init__(self, memory_mb: int) -> None:
        self.memory_mb = memory_mb
        self.at_work_for: str | None = None
        command = [sys.executable, "-m", "facewright.search.batch.apart", str(os.getpid()), str(memory_mb)]
        one_thread()
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        with _changing:
            _children.add(self)
        try:
            self._received(time.monotonic() + START_SECONDS)
        except (TimeoutError, EOFError):  # then the first question is asked in vain
            self.kill()
        self._used = time.monotonic()

    @property
    def used_up(self) -> bool:
        """Whether it ended, of itself or not, or may be about to leave for want of work."""
        return self._process.poll() is not None or time.monotonic() - self._used > IDLE_SECONDS / 2

    def ask(self, question: Any, seconds: float) -> tuple[list[dict[str, Any]] | None, int]:
        """What it answers; or None and its exit code, minus a signal's number where one ended it."""
        assert self._process.stdin is not None
        try:
            _send(self._process.stdin, question)
            told = self._received(time.monotonic() + seconds)
        except TimeoutError:  # it does not even hear its alarm
            self.end()
            return None, -signal.SIGALRM
        except (EOFError, OSError):
            with suppress(subprocess.TimeoutExpired):
                self._process.wait(LEAVE_SECONDS)
            self.end()
            return None, self._process.returncode
        self._used = time.monotonic()
        return told, 0

    def kill(self) -> None:
        """Ends it at once; whoever waits for its answer cleans up."""
        self._process.kill()

    def end(self) -> None:
        """Ends it at once and waits for that."""
        self._process.kill()
        for stream in (self._process.stdin, self._process.stdout):
            if stream is not None:
                with suppress(OSError):
                    stream.close()
        self._process.wait()

    def _received(self, until: float) -> Any:
        """The next message; raises TimeoutError where it does not come until then, EOFError where the child is gone."""
        assert self._process.stdout is not None
        (size,) = LENGTH.unpack(_read(self._process.stdout, LENGTH.size, until))
        return pickle.loads(_read(self._process.stdout, size, until))


def _read(stream: IO[bytes], many: int, until: float) -> bytes:
    """So many bytes of a pipe; raises TimeoutError where they do not come until then, EOFError where it ends before."""
    parts = bytearray()
    while len(parts) < many:
        if not select.select([stream], [], [], max(0.0, until - time.monotonic()))[0]:
            raise TimeoutError
        part = os.read(stream.fileno(), many - len(parts))
        if not part:
            raise EOFError
        parts += part
    return bytes(parts)


def _send(stream: IO[bytes], message: Any) -> None:
    body = pickle.dumps(message)
    stream.write(LENGTH.pack(len(body)) + body)
    stream.flush()


def main(parent: int, memory_mb: int) -> None:
    """The child: answers what it reads from its standard input until that ends, or nothing comes for a while."""
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what a library prints goes where it harms nothing
    prepare(parent, memory_mb)
    _send(out, "ready")
    while True:
        try:
            (size,) = LENGTH.unpack(_read(sys.stdin.buffer, LENGTH.size, time.monotonic() + IDLE_SECONDS))
            task, *arguments = pickle.loads(_read(sys.stdin.buffer, size, time.monotonic() + IDLE_SECONDS))
        except (TimeoutError, EOFError):
            return
        _send(out, task(*arguments))


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
