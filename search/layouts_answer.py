"""The answer to a question of a layout: what its solid allows, and the layouts found, each recounted."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.search.answer import Verdict
from facewright.search.readouts_answer import SolidOutcome
from facewright.search.words import stopped

NO_DISTANCE = Fraction(0)
"""A layout leaves every distribution as it is."""


@dataclass(frozen=True)
class FoundLayout:
    """A design of an answer."""

    design: LayoutDesign
    set: int = 0
    distance: Fraction = NO_DISTANCE

    @property
    def id(self) -> str:
        """The id of the design."""
        return self.design.id


@dataclass(frozen=True)
class LayoutAnswer:
    """A question of a layout answered; `outcomes` has one entry, or none where a stop came before any search.

    `layouts` is empty: it belongs to answers of other kinds, whose best design is laid out beside.
    """

    question: Layout
    outcomes: tuple[SolidOutcome, ...]
    found: tuple[FoundLayout, ...]
    seed: int = 0
    layouts: tuple[Any, ...] = ()

    @property
    def ranked(self) -> list[FoundLayout]:
        """The designs, best by the goals of the question first."""
        return ranked(self.question, self.found)

    @property
    def verdict(self) -> Verdict:
        """The engine's verdict; partial where it never came to one."""
        return self.outcomes[0].closing.verdict if self.outcomes else "partial"

    @property
    def count(self) -> int:
        """How many designs there are, up to the symmetries that join them (at least, where `count_is` says so)."""
        return max(sum(one.closing.count for one in self.outcomes), len(self.found))

    @property
    def count_is(self) -> Literal["all", "at least"]:
        """Whether the count is of all designs."""
        return self.outcomes[0].closing.count_is if self.outcomes else "at least"

    @property
    def seconds(self) -> float:
        """The time that the engine and the recount took."""
        return sum(one.seconds for one in self.outcomes)

    @property
    def engine(self) -> str:
        """The name of the engine that answered."""
        return self.outcomes[0].engine if self.outcomes else "layout"

    @property
    def proof(self) -> tuple[str, ...]:
        """How it was proved, a sentence a line."""
        return self.outcomes[0].closing.proof if self.outcomes else ()

    @property
    def bound(self) -> str | None:
        """The bound reached where a limit stopped a proof."""
        return self.outcomes[0].closing.bound if self.outcomes else None

    @property
    def reason(self) -> str:
        """One or two sentences that a designer understands."""
        return self.outcomes[0].closing.reason if self.outcomes else stopped(0, "interrupted")


def ranked(question: Layout, found: tuple[FoundLayout, ...]) -> list[FoundLayout]:
    """The designs, best by the goals of the question first; equally good ones by id."""
    return sorted(found, key=lambda one: (*misses(question, one.design), one.id))


def misses(question: Layout, design: LayoutDesign) -> tuple[Any, ...]:
    """By how much a design misses each goal of the question, in its order; 0 where it does not.

    The difference of the least and the greatest sum of opposite faces; the largest difference of a vertex's sum from
    its ideal; pairs of equal labels that touch, across edges first; consecutive neighbours; the guards' shifts.
    """
    balance, shifts = design.balance, dict(design.balance.shifts)
    aim = Fraction(2 * sum(x for x in design.labels if isinstance(x, int)), len(design.labels))
    missed: dict[str, Any] = {
        "opposite-sums": max((abs(one - aim) for one in balance.opposite), default=Fraction(0)),
        "even-vertices": balance.deviation or Fraction(0),
        "apart": balance.touching,
        "no-neighbours": balance.consecutive,
    }
    return tuple(
        missed[goal] if goal in missed else shifts[goal].worst if goal in shifts else 0.0
        for goal in question.goals
    )
