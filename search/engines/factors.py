"""The engine `factors`: exact totals, by dealing irreducible factors over the integers to the dice.

If the dice give the target's chances, the product of their polynomials is (n1…nk/M)·T. The integers' polynomials factor
in one way only, so each die is a divisor: a part of the content times a product of irreducible factors. Whoever lists
the divisors without negative coefficient and combines them lists every design; docs/method.md has the proof.
"""

from __future__ import annotations

from facewright.constraints.question import Numbering
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.splitting.problem import Obstacle, problem_of
from facewright.search.engines.splitting.reasons import CAUSES, how_proved, why_none
from facewright.search.engines.splitting.split import Shape, Split
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped
from facewright.search.words import completed, conditions, stopped

COUNT_FIRST = 4
"""From so many dice on the designs are counted before they are listed: the counts show where no design can follow."""


class Factors:
    """Complete and exact for any number of dice and any distribution, label rules included."""

    name = "factors"

    def accepts(self, question: Numbering) -> bool:
        """Plain questions for totals."""
        return question.read == "total" and question.plain

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams the designs, each once; see `Engine`. The seed changes nothing: there is no chance in it."""
        return Answering(self.name, _stream(question, limit, stop, report))


def _stream(question: Numbering, limit: int, stop: Stop, report: Progress) -> Stream:
    found = 0
    shapes: set[Shape] = set()
    try:
        problem = problem_of(question, stop)
        if isinstance(problem, Obstacle):
            return _none(question, problem, problem.proof, stop, report)
        split = Split.of(question, problem, stop, report)
        if len(question.dice) >= COUNT_FIRST and split.ways.countable:
            report("counting", 0, None)
            _ = split.ways.count
        listing = split.listing(stop)
        more = False
        for design, shape in split.designs(listing):
            if found == limit:
                more = True
                break
            found += 1
            shapes.add(shape)
            yield design
        if listing.stopped:
            raise Stopped(listing.stopped)
        if not found and not more:
            return _none(question, split, how_proved(problem, split), stop, report)
        if more:
            report("counting", 0, None)
            count, up_to_shift = split.ways.count, split.count_up_to_shift(stop)
        else:
            count, up_to_shift = found, len(shapes)
    except Stopped as asked:
        return Closing("partial", found, len(shapes), "at least", stopped(found, str(asked)))
    return Closing(
        "complete", count, up_to_shift, "all", completed(question, count, found), how_proved(problem, split)
    )


def _none(
    question: Numbering, found: Obstacle | Split, proof: tuple[str, ...], stop: Stop, report: Progress
) -> Closing:
    """Why there is none; in fewer words where a stop cuts the search for the reason short: none stays proved."""
    try:
        words, cause = why_none(question, found, stop, report)
    except Stopped:
        if isinstance(found, Obstacle):
            words, cause = found.words, CAUSES[found.kind]
        else:
            tried = "every way to combine the target's parts was tried"
            words, cause = f"{conditions(question)} no numbering does it: {tried}.", "search"
    return Closing("none", 0, 0, "all", words, proof, cause=cause)
