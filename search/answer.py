"""What an engine hands back: a stream of designs, and at its end a closing statement."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from dataclasses import dataclass
from typing import Literal

from facewright.constraints.design import NumberingDesign

Verdict = Literal["complete", "none", "best", "partial"]


@dataclass(frozen=True)
class Closing:
    """What an engine knows when its stream has ended.

    `reason` speaks to a designer, `proof` (a sentence or a formula a line) to a mathematician. `count` counts the
    designs within the label rules, `count_up_to_shift` those that no shift joins; `count_is` says whether they are
    all. `bound` is the bound reached, where a limit stopped a proof.
    """

    verdict: Verdict
    count: int
    count_up_to_shift: int
    count_is: Literal["all", "at least"]
    reason: str
    proof: tuple[str, ...] = ()
    bound: str | None = None


Stream = Generator[NumberingDesign, None, Closing]
"""How an engine is written: a generator that yields designs, each once, and returns its closing statement."""


class Answering:
    """An engine's answer while it arrives: iterate over it, then read `closing`."""

    def __init__(self, engine: str, stream: Stream) -> None:
        self.engine = engine
        self._stream = stream
        self._closing: Closing | None = None

    def __iter__(self) -> Iterator[NumberingDesign]:
        self._closing = yield from self._stream

    @property
    def closing(self) -> Closing:
        """The closing statement; raises RuntimeError before the stream has ended."""
        if self._closing is None:
            raise RuntimeError("closing: the stream of designs must end first")
        return self._closing
