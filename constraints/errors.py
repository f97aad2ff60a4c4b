"""The errors that facewright raises on purpose: one root, a few kinds, each worded for the person who meets it."""

from __future__ import annotations

from dataclasses import dataclass


class FacewrightError(Exception):
    """Root of every error that facewright raises on purpose; `exit_status` is what the command ends with."""

    exit_status = 2


@dataclass(frozen=True, order=True)
class Fault:
    """One thing wrong in a brief: where it stands, what was found there, what would be accepted.

    `line` counts from 1; 0 means the whole file. `key` is the dotted path of the key, such as `labels.lowest`.
    """

    line: int
    key: str
    found: str
    accepted: str

    def __str__(self) -> str:
        where = f"line {self.line}, " if self.line else ""
        return f"{where}{self.key}: found {self.found}; accepted: {self.accepted}"


class BriefRefused(FacewrightError):
    """A brief that cannot be answered as it stands; carries every fault at once, in the order of the file."""

    def __init__(self, path: str, faults: tuple[Fault, ...]) -> None:
        self.path = path
        self.faults = tuple(sorted(faults))
        many = "1 fault" if len(self.faults) == 1 else f"{len(self.faults)} faults"
        lines = "\n".join(f"  {fault}" for fault in self.faults)
        super().__init__(f"{path}: {many}\n{lines}")


class UsageError(FacewrightError):
    """A command or call that asks for something that cannot be given: expected, found and the remedy in one text."""


class RunError(FacewrightError):
    """A run folder that cannot be read or written as asked."""

    def __init__(self, text: str, exit_status: int = 1) -> None:
        super().__init__(text)
        self.exit_status = exit_status


class RecountError(FacewrightError):
    """A design whose recount disagrees with what the engine claimed: the run stops, since one of the two is wrong."""

    exit_status = 3
