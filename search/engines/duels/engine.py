"""The engine `duels`: each die beats the next, or whatever pattern is wanted; the best least chance, or a given one."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from fractions import Fraction
from itertools import islice

from facewright.constraints.contest import Contest
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.duels.gap import Gap
from facewright.search.engines.duels.methods import Method, method_of, spread_method_of
from facewright.search.engines.duels.problem import Labels, Problem, Wins, spread_out
from facewright.search.engines.duels.wording import all_words, best_words, none_words, open_words, some_words
from facewright.search.progress import PREPARING, Progress
from facewright.search.stop import Stop, Stopped
from facewright.search.words import conditions, stopped

FAILURES = 64
"""Coolings without a new design after which annealing is given up."""

HALF = Fraction(1, 2)


class Duels:
    """Complete wherever the graph of a ring or a sweep over the labels can hold the question; see `methods`."""

    name = "duels"

    def answer(self, question: Contest, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams up to `limit` designs, each once; of the best one, or as many as `stop.designs` says."""
        dice = question.dice
        problem = Problem(dice, question.arcs(len(dice)), question.ties == "none")
        if not problem.fillable():
            return Answering(self.name, _cannot_be_filled(question))
        stream = _best if question.best else _bounded
        return Answering(self.name, stream(question, problem, limit, stop, seed, report))


def _cannot_be_filled(question: Contest) -> Stream:
    yield from ()
    reason = f"{conditions(question)} no numbering exists: some die has more faces than labels are allowed."
    return Closing("none", 0, 0, "all", reason, ("By the label rules alone.",))


def _best(question: Contest, problem: Problem, limit: int, stop: Stop, seed: int, report: Progress) -> Stream:
    """One design with the greatest least chance, or as many as the brief wants."""
    gap = Gap(problem, stop, seed, report)
    try:
        method = gap.close()
    except Stopped as asked:
        return (yield from _cut_short(question, gap, limit, str(asked)))
    if not gap.closed:
        return (yield from _cut_short(question, gap, limit, "there are too many numberings to look at all"))
    proof = () if method is None else method.proof
    if gap.best <= HALF or gap.found is None:
        return Closing("none", 0, 0, "all", none_words(question, gap.best), proof)
    listed = 0
    many = min(limit, question.stop.designs or 1)
    for labels in islice(_as_good(problem, gap, many, method), many):
        listed += 1
        yield question.design(problem.dice, labels)
    known = max(1, listed)
    return Closing("best", known, known, "at least", best_words(question, gap.best), proof)


def _as_good(problem: Problem, gap: Gap, many: int, method: Method | None) -> Iterator[Labels]:
    """The best design found, then others that are as good."""
    if gap.found is None:
        return
    first = problem.canonical(gap.found)
    yield first
    whole = method_of(problem, gap.stop, gap.report) or method
    if many > 1 and whole is not None:
        try:
            for labels in map(problem.canonical, whole.designs(problem.needs(gap.best))):
                if labels != first:
                    yield labels
        except Stopped:
            return


def _cut_short(question: Contest, gap: Gap, limit: int, why: str) -> Stream:
    chance = gap.best if gap.found is not None and gap.best > HALF else None
    known = int(chance is not None)
    if gap.found is not None and known and limit:
        yield question.design(gap.problem.dice, gap.found)
    reason = open_words(question, chance, gap.bound, why)
    return Closing("partial", known, known, "at least", reason, bound=str(gap.bound))


def _bounded(
    question: Contest, problem: Problem, limit: int, stop: Stop, seed: int, report: Progress
) -> Stream:
    """Every design whose duels are all won with the chance asked for."""
    asked = question.chance_at_least or Fraction(0)
    cut = bisect_right if question.strictly else bisect_left
    place = cut(problem.candidates, asked)
    if place == len(problem.candidates):
        return Closing("none", 0, 0, "all", none_words(question, None), ("No chance is above 1.",))
    needs = problem.needs(problem.candidates[place])
    gap = Gap(problem, stop, seed, report)
    listed = 0
    try:
        method = method_of(problem, stop, report)
        decider = method or spread_method_of(problem, stop, report)
        if decider is not None and decider.witness(needs) is None:
            return _refuted(question, gap, place, decider)
        if decider is None:
            gap.bound_by_parts()
            if gap.open <= place:
                return _refuted(question, gap, place, None)
        some = (
            decider.designs(needs) if decider is not None else _annealed(problem, needs, stop, seed, report)
        )
        for labels in islice(some, limit):
            listed += 1
            yield question.design(problem.dice, labels)
        count = None if method is None else method.count(needs)
    except Stopped as why:
        return Closing("partial", listed, listed, "at least", stopped(listed, str(why)))
    if count is None:
        return Closing("partial", listed, listed, "at least", some_words(listed))
    proof = () if method is None else method.proof
    return Closing("complete", count, count, "all", all_words(question, count, listed), proof)


def _refuted(question: Contest, gap: Gap, place: int, method: Method | None) -> Closing:
    """The closing where the chance is out of reach, with the best that is within it."""
    gap.open = min(gap.open, place)
    best: Fraction | None = None
    try:
        if method is not None:
            gap.narrow(method)
            best = gap.best
    except Stopped:
        best = None
    proof = () if method is None else method.proof
    return Closing("none", 0, 0, "all", none_words(question, best), proof)


def _annealed(problem: Problem, needs: Wins, stop: Stop, seed: int, report: Progress) -> Iterator[Labels]:
    """Designs found by annealing, each once, until none has been new for some time."""
    from facewright.search.engines.duels.annealing import cooled

    searched = spread_out(problem) or problem
    report(PREPARING, 0, None)
    known: set[Labels] = set()
    tried = failed = 0
    while failed < FAILURES:
        if (asked := stop()) is not None:
            raise Stopped(asked)
        report("coolings", tried, None)
        found = cooled(searched, needs, (seed * 1_000_003 + tried) % 2**31)
        tried += 1
        failed += 1
        if found is not None and not found[1]:
            labels = problem.canonical(found[0])
            if labels not in known:
                known.add(labels)
                failed = 0
                yield labels
