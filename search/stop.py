"""Stopping: a one-method protocol that engines ask; they know neither the clock nor the keyboard."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from typing import Protocol


class Stop(Protocol):
    """Asked often by an engine; gives the reason to stop now, in words, or None to go on."""

    def __call__(self) -> str | None:
        """The reason to stop now, or None."""


class Stopped(Exception):
    """Raised inside an engine that was asked to stop; its text is the reason."""


def never() -> str | None:
    """A stop that never comes."""
    return None


@dataclass
class Limits:
    """Stops after so many seconds, or as soon as somebody sets `interrupted`."""

    seconds: float | None = None
    interrupted: bool = False
    started: float = field(default_factory=time.monotonic)

    def __call__(self) -> str | None:
        """The reason to stop now, or None."""
        if self.interrupted:
            return "interrupted"
        if self.seconds is not None and time.monotonic() - self.started >= self.seconds:
            return f"the limit of {self.seconds:g} s was reached"
        return None
