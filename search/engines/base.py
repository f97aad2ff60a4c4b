"""What an engine is."""

from __future__ import annotations

from typing import Protocol

from facewright.constraints.contest import Contest
from facewright.constraints.question import Numbering
from facewright.search.answer import Answering
from facewright.search.progress import Progress
from facewright.search.stop import Stop


class Engine(Protocol):
    """Answers the questions that it accepts; deterministic for a seed; prints nothing, asks no clock.

    A question reaches an engine with exactly one set of dice (`question.dice`).
    """

    name: str

    def accepts(self, question: Numbering) -> bool:
        """Whether this engine can answer the question completely."""
        ...

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams up to `limit` designs in canonical form, each once, then closes."""
        ...


class ContestEngine(Protocol):
    """Answers every question of one reading that rolls dice against one another; else as `Engine`."""

    name: str

    def answer(self, question: Contest, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams up to `limit` designs in canonical form, each once, then closes."""
        ...
