"""The answer to a question of readouts: what each solid allows, and the marks found, each recounted."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Literal

from facewright.constraints.grammar import counted, number, series
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.constraints.solids.names import solid_named
from facewright.search.answer import Closing, Verdict
from facewright.search.words import stopped

if TYPE_CHECKING:
    from facewright.search.laying import LaidOut

NAMED = 4
"""How many solids a verdict names."""


@dataclass(frozen=True)
class SolidOutcome:
    """What was found out about one solid: the engine that answered, its closing, the designs listed, seconds."""

    solid: str
    engine: str
    closing: Closing
    listed: int
    seconds: float

    @property
    def rests(self) -> int:
        """In how many ways the solid comes to lie still."""
        return solid_named(self.solid)[1]


@dataclass(frozen=True)
class FoundMarks:
    """A design of an answer: the position of its solid, and its dependence."""

    design: ReadoutsDesign
    set: int
    distance: Fraction

    @property
    def id(self) -> str:
        """The id of the design."""
        return self.design.id


@dataclass(frozen=True)
class ReadoutsAnswer:
    """A question of readouts answered: `outcomes` has one entry a solid that was tried, in the question's order.

    `layouts` holds the best design with its marks moved apart, where the brief wants that.
    """

    question: Readouts
    outcomes: tuple[SolidOutcome, ...]
    found: tuple[FoundMarks, ...]
    seed: int = 0
    layouts: tuple[LaidOut, ...] = ()

    @property
    def ranked(self) -> list[FoundMarks]:
        """The designs, the least dependent first, then those read on top, then those with the fewest marks and cuts."""
        return sorted(self.found, key=self._order)

    @property
    def verdict(self) -> Verdict:
        """None where no solid allows any marks; best where nothing can be better than the best found; else partial.

        Complete where every design on every solid is listed or counted. An exactly independent design is best, even
        where other solids were not settled.
        """
        verdicts = {one.closing.verdict for one in self.outcomes}
        whole = len(self.outcomes) == len(self.question.solids)
        if whole and "partial" not in verdicts:
            some = verdicts - {"none"}
            if not some:
                return "none"
            return "complete" if some == {"complete"} else "best"
        if not self.found or not whole:
            return "best" if self.found and not self._key(self.ranked[0].design)[0] else "partial"
        least = self._key(self.ranked[0].design)[0]
        bounds = [
            Fraction(one.closing.bound or 0) for one in self.outcomes if one.closing.verdict == "partial"
        ]
        return "best" if least <= min(bounds) else "partial"

    @property
    def count(self) -> int:
        """How many designs there are, up to the symmetries that join them (at least, where `count_is` says so)."""
        return max(sum(one.closing.count for one in self.outcomes), len(self.found))

    @property
    def count_is(self) -> Literal["all", "at least"]:
        """Whether the count is of all designs."""
        whole = len(self.outcomes) == len(self.question.solids)
        return "all" if whole and all(one.closing.count_is == "all" for one in self.outcomes) else "at least"

    @property
    def seconds(self) -> float:
        """The time that the engine and the recount took."""
        return sum(one.seconds for one in self.outcomes)

    @property
    def engine(self) -> str:
        """The names of the engines that answered."""
        return " + ".join(dict.fromkeys(one.engine for one in self.outcomes)) or "readouts"

    @property
    def proof(self) -> tuple[str, ...]:
        """How it was proved, a sentence a line, where there is one solid."""
        return self.outcomes[0].closing.proof if len(self.outcomes) == 1 else ()

    @property
    def bound(self) -> str | None:
        """The bound reached where a limit stopped a proof: no dependence is below it."""
        if self.verdict != "partial":
            return None
        bounds = [one.closing.bound for one in self.outcomes if one.closing.bound is not None]
        return min(bounds, key=Fraction) if bounds else None

    @property
    def reason(self) -> str:
        """One or two sentences that a designer understands."""
        if len(self.question.solids) == 1:
            return self.outcomes[0].closing.reason if self.outcomes else stopped(0, "interrupted")
        return _chosen(self)

    def table(self) -> list[dict[str, Any]]:
        """One row a solid: those with the least dependence first, then those with no marks."""
        best: dict[int, ReadoutsDesign] = {}
        for one in self.ranked:
            best.setdefault(one.set, one.design)
        rows = [_row(outcome, best.get(at)) for at, outcome in enumerate(self.outcomes)]
        order = {at: place for place, at in enumerate(best)}
        placed = sorted(range(len(rows)), key=lambda at: (order.get(at, len(order)), rows[at]["rests"]))
        return [rows[at] for at in placed]

    def _order(self, one: FoundMarks) -> tuple[Any, ...]:
        return (*self._key(one.design), from_below(one.design.solid), *one.design.order)

    def _key(self, design: ReadoutsDesign) -> tuple[Fraction, ...]:
        """What the question wants to be least."""
        if self.question.measure == "pairs" and len(design.pairs) > 1:
            return max(design.pairs), sum(design.pairs, Fraction(0))
        return (design.dependence,)

    def least(self, design: ReadoutsDesign) -> Fraction:
        """A design's dependence by the measure of the question."""
        return self._key(design)[0]


def from_below(name: str) -> bool:
    """Whether a solid must be picked up to read the face below."""
    from facewright.constraints.solids import solid

    return solid(name).read == "face below"


def _row(outcome: SolidOutcome, design: ReadoutsDesign | None) -> dict[str, Any]:
    from facewright.constraints.solids import solid

    closing = outcome.closing
    body = None if design is None else solid(outcome.solid)
    return {
        "solid": outcome.solid,
        "rests": outcome.rests,
        "read": None if body is None else body.read,
        "settles": None if body is None else round(min(rest.settle for rest in body.rests), 4),
        "verdict": closing.verdict,
        "proved": closing.verdict != "partial",
        "dependence": None if design is None else str(design.dependence),
        "largest_pair": None if design is None or not design.pairs else str(max(design.pairs)),
        "marks": None if design is None else design.marks,
        "cuts": None if design is None else design.cuts,
        "design": None if design is None else design.id,
        "count": closing.count,
        "count_is": closing.count_is,
        "bound": closing.bound,
        "reason": closing.reason,
        "proof": list(closing.proof),
    }


def _chosen(answer: ReadoutsAnswer) -> str:
    """The verdict over several solids, in words."""
    tried, every = len(answer.outcomes), len(answer.question.solids)
    names = series(one.name for one in answer.question.readouts)
    none = sum(one.closing.verdict == "none" for one in answer.outcomes)
    open_ = sum(one.closing.verdict == "partial" for one in answer.outcomes)
    parts = [f"{number(none)} {'has' if none == 1 else 'have'} no such marks"] if none else []
    parts += [f"{number(open_)} {'was' if open_ == 1 else 'were'} not settled"] if open_ else []
    left = every - tried
    parts += [f"{number(left)} {'was' if left == 1 else 'were'} not reached"] if left else []
    rest = f" Of the {counted(every, 'solid')} asked for, {', '.join(parts)}." if parts else ""
    if not answer.found:
        return f"No solid was found that carries {names}.{rest}"
    ranked = answer.ranked
    least = answer.least(ranked[0].design)
    first = list(dict.fromkeys(one.design.solid for one in ranked if answer.least(one.design) == least))
    shown = [f"the {one}" for one in first[:NAMED]]
    others = len(first) - len(shown)
    some = series([*shown, counted(others, "other")] if others else shown)
    if not least:
        shown_on_top = not from_below(first[0]) and any(from_below(one) for one in first)
        among = "those read on top" if shown_on_top else "the markings found"
        lead = f"On {some} {names} are exactly independent; of {among} that of the {first[0]} has the fewest marks"
        if len(first) == 1:
            alone = "" if left or open_ else " alone"
            lead = f"On {some}{alone} {names} are exactly independent, with these marks"
        return f"{lead}: {ranked[0].design.marks} to read, {ranked[0].design.cuts} copies to cut.{rest}"
    if answer.verdict == "best":
        lead = f"The least dependence is {least}, on {some}; none of the solids makes {names} exactly independent."
        return lead + rest
    return f"The least dependence found is {least}, on {some}.{rest}"
