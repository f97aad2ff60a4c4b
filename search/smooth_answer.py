"""The answer to a question of a smooth body: the verdict, and the body found, recounted."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from facewright.constraints.smooth import Smooth
from facewright.constraints.smooth_design import SmoothDesign
from facewright.search.answer import Closing, Verdict
from facewright.search.words import stopped

NO_DISTANCE = Fraction(0)
"""A body has no distribution to be far from."""


@dataclass(frozen=True)
class SmoothOutcome:
    """What was found out: the engine that answered, its closing, the designs listed, seconds."""

    engine: str
    closing: Closing
    listed: int
    seconds: float


@dataclass(frozen=True)
class FoundBody:
    """A design of an answer."""

    design: SmoothDesign
    set: int = 0
    distance: Fraction = NO_DISTANCE

    @property
    def id(self) -> str:
        """The id of the design."""
        return self.design.id


@dataclass(frozen=True)
class SmoothAnswer:
    """A question of a smooth body answered; `outcomes` has one entry, or none where a stop came before any search.

    `layouts` holds what stands at the rests of the body, where the brief asks for that: one entry, or none.
    """

    question: Smooth
    outcomes: tuple[SmoothOutcome, ...]
    found: tuple[FoundBody, ...]
    seed: int = 0
    layouts: tuple[Any, ...] = ()

    @property
    def ranked(self) -> list[FoundBody]:
        """The designs: one, or none."""
        return list(self.found)

    @property
    def closing(self) -> Closing:
        """What the engine closed with; where it never came to that, that it was stopped."""
        if self.outcomes:
            return self.outcomes[0].closing
        return Closing("partial", 0, 0, "at least", stopped(0, "interrupted"))

    @property
    def verdict(self) -> Verdict:
        """The verdict."""
        return self.closing.verdict

    @property
    def count(self) -> int:
        """How many designs are known."""
        return max(self.closing.count, len(self.found))

    @property
    def count_is(self) -> Literal["all", "at least"]:
        """Whether the count is of all designs."""
        return self.closing.count_is

    @property
    def seconds(self) -> float:
        """The time that the engine and the recount took."""
        return sum(one.seconds for one in self.outcomes)

    @property
    def engine(self) -> str:
        """The name of the engine that answered."""
        return self.outcomes[0].engine if self.outcomes else "smooth"

    @property
    def proof(self) -> tuple[str, ...]:
        """How it was proved, a sentence a line."""
        return self.closing.proof

    @property
    def bound(self) -> str | None:
        """What no body of the question exceeds, where the verdict does not say it."""
        return self.closing.bound

    @property
    def reason(self) -> str:
        """One or two sentences that a designer understands."""
        return self.closing.reason
