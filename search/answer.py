"""Answers: what an engine streams and closes with, and the whole that is made of it."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Literal

from facewright.constraints.contest import Contest, DiceQuestion
from facewright.constraints.design import NumberingDesign
from facewright.constraints.duels import least_chance
from facewright.constraints.grammar import capital, counted, number, series
from facewright.constraints.labels import Die
from facewright.search.words import best_listed, best_wanted, conditions, dice_words, first_found, stopped

if TYPE_CHECKING:
    import pandas as pd
    from facewright.search.laying import LaidOut

Verdict = Literal["complete", "none", "best", "partial"]
Cause = Literal["division", "factor", "clash", "search"]
"""What rules every design out, the plainest first."""


@dataclass(frozen=True)
class Closing:
    """What an engine knows when its stream has ended.

    `reason` speaks to a designer, `proof` (a sentence or a formula a line) to a mathematician. `count` counts the
    designs within the label rules, `count_up_to_shift` those that no shift joins; `count_is` says whether they are
    all. `bound` is the bound reached, where a limit stopped a proof. `cause` says for none what rules every design out:
    a division, a factor that fits nowhere, a clash of rules, or only the search that found nothing. `selection` is
    there where the best are listed: `by`, what they were selected by, `cheapest`, the least cost of all designs,
    `bound`, the score that no other exceeds (None where there was no way to select them), `cut`, what cut it short.
    """

    verdict: Verdict
    count: int
    count_up_to_shift: int
    count_is: Literal["all", "at least"]
    reason: str
    proof: tuple[str, ...] = ()
    bound: str | None = None
    cause: Cause | None = None
    selection: dict[str, Any] | None = None


Stream = Generator[NumberingDesign, None, Closing]
"""How an engine is written: a generator that yields designs, each once, and returns its closing statement."""


class Answering:
    """An engine's answer while it arrives: iterate over it, then read `closing`."""

    def __init__(self, engine: str, stream: Generator[Any, None, Closing]) -> None:
        self.engine = engine
        self._stream = stream
        self._closing: Closing | None = None

    def __iter__(self) -> Iterator[Any]:
        self._closing = yield from self._stream

    @property
    def stream(self) -> Generator[Any, None, Closing]:
        """The stream itself, for an engine that hands a question on."""
        return self._stream

    @property
    def closing(self) -> Closing:
        """The closing statement; raises RuntimeError before the stream has ended."""
        if self._closing is None:
            raise RuntimeError("closing: the stream of designs must end first")
        return self._closing


@dataclass(frozen=True)
class SetOutcome:
    """What was found out about one set of dice: the engine that answered, its closing, the designs listed, seconds."""

    dice: tuple[Die, ...]
    engine: str
    closing: Closing
    listed: int
    seconds: float


@dataclass(frozen=True)
class FoundDesign:
    """A design of an answer: the position of its set of dice, and how far it is from the target."""

    design: NumberingDesign
    set: int
    distance: Fraction


@dataclass(frozen=True)
class Answer:
    """A question answered: the verdict over all its sets of dice, and the designs listed, each of them recounted.

    `outcomes` has one entry a set that was tried, in the order of `question.sets`; a stop can leave the last ones out.
    `layouts` holds the dice of the best design laid out, where the brief wants that.
    """

    question: DiceQuestion
    outcomes: tuple[SetOutcome, ...]
    found: tuple[FoundDesign, ...]
    seed: int = 0
    layouts: tuple[LaidOut, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """complete, none or best where every set was settled, else partial."""
        verdicts = {outcome.closing.verdict for outcome in self.outcomes}
        if len(self.outcomes) < len(self.question.sets) or "partial" in verdicts:
            return "partial"
        if "best" in verdicts:
            return "best"
        return "complete" if self.count else "none"

    @property
    def count(self) -> int:
        """How many designs there are within the label rules (at least, where `count_is` says so)."""
        return max(sum(outcome.closing.count for outcome in self.outcomes), len(self.found))

    @property
    def count_up_to_shift(self) -> int:
        """How many there are when those that a shift joins count once."""
        known = sum(outcome.closing.count_up_to_shift for outcome in self.outcomes)
        if self.count_is == "all" or isinstance(self.question, Contest):
            return max(known, len(self.found))
        sets = self.question.sets
        return max(known, len({(one.set, one.design.up_to_shift(sets[one.set])) for one in self.found}))

    @property
    def count_is(self) -> Literal["all", "at least"]:
        """Whether the counts are of all designs."""
        whole = len(self.outcomes) == len(self.question.sets)
        return "all" if whole and all(o.closing.count_is == "all" for o in self.outcomes) else "at least"

    @property
    def seconds(self) -> float:
        """The time that the engines and the recount took."""
        return sum(outcome.seconds for outcome in self.outcomes)

    @property
    def engine(self) -> str:
        """The names of the engines that answered, in order of appearance."""
        return " + ".join(dict.fromkeys(outcome.engine for outcome in self.outcomes)) or "division"

    @property
    def reason(self) -> str:
        """One or two sentences that a designer understands, with the conditions in the same breath."""
        if len(self.question.sets) == 1 and not self.question.choice:
            return (
                self.outcomes[0].closing.reason if self.outcomes else stopped(len(self.found), "interrupted")
            )
        return chosen(self)

    @property
    def proof(self) -> tuple[str, ...]:
        """How it was proved, a sentence or formula a line, where there is one set of dice."""
        return self.outcomes[0].closing.proof if len(self.outcomes) == 1 else ()

    def table(self) -> pd.DataFrame:
        """One row a design, best first; see `facewright.search.report.notebook.table`."""
        from facewright.search.report.notebook import table

        return table(self)

    def _repr_html_(self) -> str:
        from facewright.search.report.notebook import view

        return view(self)

    @property
    def cause(self) -> Cause | None:
        """What rules every design out, where one set of dice has none."""
        return self.outcomes[0].closing.cause if len(self.outcomes) == 1 and self.verdict == "none" else None

    @property
    def bound(self) -> str | None:
        """The bound reached where a limit stopped a proof."""
        return next((o.closing.bound for o in self.outcomes if o.closing.bound is not None), None)


def chosen(answer: Answer) -> str:
    """The verdict over several sets of dice, in words."""
    question = answer.question
    best = best_of_all(answer)
    tried, dropped = len(answer.outcomes), len(question.dropped)
    every = len(question.sets) + dropped
    able = sum(outcome.closing.count > 0 for outcome in answer.outcomes)
    parts = []
    if dropped:
        parts.append(f"{number(dropped)} {'drops' if dropped == 1 else 'drop'} out before any search")
    none = sum(outcome.closing.verdict == "none" for outcome in answer.outcomes)
    if none:
        parts.append(f"{number(none)} {'has' if none == 1 else 'have'} no numbering")
    cut = sum(o.closing.verdict == "partial" and not o.closing.count for o in answer.outcomes)
    if cut:
        parts.append(f"{number(cut)} {'was' if cut == 1 else 'were'} cut short with nothing found")
    left = len(question.sets) - tried
    if left:
        parts.append(f"{number(left)} {'was' if left == 1 else 'were'} not reached")
    rest = f" Of the others {', '.join(parts)}." if parts else ""
    some = (
        capital(counted(answer.count, "numbering"))
        if answer.count_is == "all"
        else f"At least {answer.count:,} numberings"
    )
    if not answer.count:
        ended = "None does it" if answer.verdict == "none" else "None was found before the search ended"
        return f"{capital(counted(every, 'set'))} of dice stood to choose from. {ended}: {', '.join(parts)}."
    by, listed = _selection(answer), len(answer.found)
    others = f" {conditions(question)} there are no others." if answer.verdict == "complete" or by else ""
    does = "does" if answer.count == 1 else "do"
    listing = best_listed(question, listed, by["bound"], by["cut"]) if by else first_found(listed)
    shown = f"; {listing}" if 0 < listed < answer.count else ""
    where = "" if every == 1 else f", on {number(able)} of {number(every)} sets of dice"
    advice = best_wanted(question, answer.count, listed) if others and not by else ""
    return f"{best}{some} {does} it{where}{shown}.{others}{rest}{advice}"


def _selection(answer: Answer) -> dict[str, Any] | None:
    """How the best of all sets of dice were selected, if they were."""
    given = next((outcome.closing.selection for outcome in answer.outcomes if outcome.closing.count), None)
    return given if given and given.get("bound") is not None else None


def best_of_all(answer: Answer) -> str:
    """Where the greatest least chance of all sets is, if that is what was asked for; else nothing."""
    question = answer.question
    if not isinstance(question, Contest) or not question.best or not answer.found:
        return ""
    reached: dict[Fraction, list[int]] = {}
    for one in answer.found:
        dice = [die.labels for die in one.design.dice]
        reached.setdefault(least_chance(dice, question.arcs(len(dice))), []).append(one.set)
    most = max(reached)
    where = series(dict.fromkeys(dice_words(question.sets[at]) for at in reached[most]))
    return f"The greatest least chance is {most}, on {where}. "
