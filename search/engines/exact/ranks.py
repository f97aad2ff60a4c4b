"""The engine `ranks`: the lowest, the middle or the highest, by the counts of faces that show at most each value."""

from __future__ import annotations

from dataclasses import replace
from math import prod

from facewright.constraints.labels import LabelRules
from facewright.constraints.question import Numbering
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.exact.division import barred_by_division
from facewright.search.engines.exact.rising import Rising
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped
from facewright.search.words import completed, conditions, dice_words, stopped

MOST_VECTORS = 20_000
"""Up to so many vectors of counts: past them the solver is asked instead."""


NO_PATH = "the numbers of faces that show at most each value cannot rise from value to value as wanted"
"""What is wrong where every number alone is possible."""


class Ranks:
    """Complete and exact for readings that keep the label of one rank."""

    name = "ranks"

    def accepts(self, question: Numbering) -> bool:
        """Plain questions for the lowest, the middle or the highest, with few enough vectors of counts."""
        if question.read not in ("lowest", "middle", "highest") or not question.plain:
            return False
        return prod(die.faces + 1 for die in question.dice) <= MOST_VECTORS

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams the designs, each once; see `Engine`. The seed changes nothing: there is no chance in it."""
        return Answering(self.name, _stream(question, limit, stop, report))


def rank_of(question: Numbering) -> int:
    """Which label counts, from 1 for the least."""
    dice = len(question.dice)
    return {"lowest": 1, "middle": (dice + 1) // 2, "highest": dice}[question.read]


def _stream(question: Numbering, limit: int, stop: Stop, report: Progress) -> Stream:
    barred = barred_by_division(question)
    if barred is not None:
        return barred
    rising = Rising.of(question, rank_of(question))
    stuck = rising.stuck()
    if stuck is not None:
        words = _stuck_words(question, rising, stuck)
        return Closing("none", 0, 0, "all", words, _proof(rising, "no solution"), cause="factor")
    listed = 0
    try:
        report("counts", 0, None)
        levels = rising.levels(stop)
        count = levels[0].get(rising.start, 0)
        for design in rising.designs(question, levels, stop):
            if listed == limit:
                break
            listed += 1
            yield design
            report("designs found", listed, count)
    except Stopped as asked:
        return Closing("partial", listed, listed, "at least", stopped(listed, str(asked)))
    if not count and _fits_nowhere(question, stop):
        words = f"No labels on {dice_words(question.dice)} can do it, whatever they are: {NO_PATH}."
        return Closing(
            "none", 0, 0, "all", words, _proof(rising, "no path, nor with any labels"), cause="factor"
        )
    if not count:
        reason = f"{conditions(question)} no numbering does it: {NO_PATH}."
        return Closing("none", 0, 0, "all", reason, _proof(rising, "no path"), cause="search")
    reason = completed(question, count, listed)
    return Closing("complete", count, count, "all", reason, _proof(rising, f"{count:,} paths"))


def _fits_nowhere(question: Numbering, stop: Stop) -> bool:
    """Whether no labels whatever do it; False where a stop comes first, or where some die is fixed.

    Labels below the least result and above the greatest can be moved there: no result changes.
    """
    if any(die.exactly is not None for die in question.dice):
        return False
    rules = LabelRules(question.target.least, question.target.greatest)
    free = question.alone(tuple(replace(die, rules=rules) for die in question.dice))
    rising = Rising.of(free, rank_of(free))
    try:
        return rising.start not in rising.levels(stop)[0]
    except Stopped:
        return False


def _stuck_words(question: Numbering, rising: Rising, value: int) -> str:
    wanted = rising.wanted[rising.values.index(value)]
    outcomes = rising.outcomes
    start = f"No labels on {dice_words(question.dice)} can do it, whatever they are."
    share = f"A result of at most {value} would need {wanted:,} of the {outcomes:,} ways"
    if question.read == "highest":
        return (
            f"{start} {share}, which is no product of numbers of faces, one a die, that show at most {value}."
        )
    if question.read == "lowest":
        left = f"A result above {value} would need {outcomes - wanted:,} of the {outcomes:,} ways"
        return f"{start} {left}, which is no product of numbers of faces, one a die, that show more than {value}."
    return f"{start} {share}, and no numbers of faces that show at most {value} give so many."


def _proof(rising: Rising, end: str) -> tuple[str, ...]:
    sign = {1: "N − Π (nᵢ − Cᵢ(t))", len(rising.faces): "Π Cᵢ(t)"}.get(rising.rank)
    form = f", which is {sign}," if sign else ""
    return (
        f"Cᵢ(t) faces of die i show at most t. The result is at most t in as many ways as at least {rising.rank} of "
        f"the dice show at most t{form} and that must be Σ over r ≤ t of (n₁…nₖ / M) · T_r.",
        "The counts rise from 0 to nᵢ, value by value, by as many faces as the label rules allow; each rising sequence "
        "is one numbering.",
        f"All of them were followed over {len(rising.values):,} values, interchangeable dice in order: {end}.",
    )
