"""The engine `nearest totals`: the design whose totals come nearest to a target, proved to be so."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

from facewright.constraints.design import NumberingDesign
from facewright.constraints.grammar import capital, counted
from facewright.constraints.question import Numbering
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.nearest import problem as problems
from facewright.search.engines.nearest.problem import Problem
from facewright.search.progress import PREPARING, Progress
from facewright.search.stop import Stop
from facewright.search.words import conditions

if TYPE_CHECKING:
    from facewright.search.engines.nearest.problem import Whole

COOLINGS = 24
"""Coolings before the proof begins, as long as the best still improves, twice as many."""

MORE_COOLINGS = 240
"""So many more follow, once, where a proof turns out to be long."""

LONG = 60_000
"""Branches after which it is long."""

ONE_GO = range(1_000_000, 20_000_000)
"""After so many branches the rest of the way is worth one go; after more another bound on the way is."""

RUNGS = (Fraction(1, 4), Fraction(1, 2), Fraction(3, 4), Fraction(1))
"""Shares of the gap between bound and best at which the proof stops over, so that a run cut short has a bound."""


class NearestTotals:
    """The nearest totals by total variation distance or by largest deviation; complete."""

    name = "nearest totals"

    def accepts(self, question: Numbering) -> bool:
        """Nearest, read as a total, with a die to number; see `problem.refusal`."""
        return problems.refusal(question) is None

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams one design that nothing is nearer than; up to `stop.designs` equally near ones if asked for."""
        return Answering(self.name, _stream(question, limit, stop, seed, report))


def _stream(question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Stream:
    given = problems.problem(question)
    table, low = problems.bounds(given), problems.floors(given)
    bound = problems.arithmetic_bound(given, table)
    found = _annealed(given, bound, stop, seed, report)
    if found is None:
        reason = (
            f"{conditions(question)} no numbering exists: some die has more faces than labels are allowed."
        )
        return Closing("none", 0, 0, "all", reason, ("By the label rules alone.",), cause="clash")
    best, cost = found
    nodes, proved, more_tried = 0, bound, False
    asked = stop()
    for rung in RUNGS:
        if cost == proved or asked:
            break
        if nodes > LONG and not more_tried:
            more_tried = True
            further = _annealed(
                given, proved, stop, seed, report, range(2 * COOLINGS, 2 * COOLINGS + MORE_COOLINGS)
            )
            best, cost = min((best, cost), further or (best, cost), key=lambda one: one[1])
            asked = stop()
            if cost == proved or asked:
                break
        if rung < 1 and nodes in ONE_GO:
            continue
        below = proved + max(1, ceil((cost - proved) * rung))
        better, better_cost, more, asked = _nearer(given, table, low, below, stop, report, nodes)
        nodes += more
        if better is not None:
            best, cost = better, better_cost
        if not asked:
            proved = min(cost, below) if better is None else cost
    design = given.design(best)
    distance, least = given.share(cost), given.share(proved)
    if asked and cost > proved:
        yield design
        reason = (
            f"This numbering misses the target by {distance} ({_measure(given)}). The search ended early ({asked}): "
            f"nothing is nearer than {least}, but a nearer one may exist."
        )
        return Closing("partial", 1, 1, "at least", reason, _proof(given, bound, nodes), str(least))
    told = f"{_best_words(given, distance)} {conditions(question)} nothing is nearer."
    if not (question.stop.designs and question.stop.designs > 1 and limit > 1):
        yield design
        return Closing("best", 1, 1, "at least", told, _proof(given, bound, nodes), str(least))
    return (yield from _all(question, given, (table, low), cost, limit, stop, report, told))


def _annealed(
    given: Problem, bound: int, stop: Stop, seed: int, report: Progress, which: range | None = None
) -> tuple[Whole, int] | None:
    """The best of some coolings: of those of these numbers, or of the first, as many as it takes."""
    from facewright.search.engines.nearest.annealing import cooled

    best: tuple[Whole, int] | None = None
    at, last = (0, COOLINGS) if which is None else (which.start, which.stop)
    report(PREPARING, 0, None)
    while at < last and not (best and stop()):
        report("coolings", at, last)
        one = cooled(given, (seed * 1_000_003 + at) % 2**31)
        if one is None:
            return None
        if best is None or one[1] < best[1]:
            best = one
            last = last if which else max(last, min(2 * COOLINGS, at + COOLINGS))
        at += 1
        if best[1] == bound:
            break
    return best


def _nearer(
    given: Problem, table: Whole, low: Whole, below: int, stop: Stop, report: Progress, before: int
) -> tuple[Whole | None, int, int, str | None]:
    """The nearest design that deviates less than `below`, its deviation, the branches, and whether it was stopped."""
    from facewright.search.engines.nearest.chain import Chain

    chain = Chain(given, table, low, below, improve=True)
    report(PREPARING, 0, None)
    best: Whole | None = None
    ended, asked = False, None
    while not ended and not asked:
        found, ended = chain.go_on()
        best = found[-1] if found else best
        report("branches", before + chain.nodes, None)
        asked = None if ended else stop()
    return best, chain.below, chain.nodes, asked


def _all(
    question: Numbering,
    given: Problem,
    bounds: tuple[Whole, Whole],
    cost: int,
    limit: int,
    stop: Stop,
    report: Progress,
    told: str,
) -> Stream:
    """Every design as near as the nearest, up to the limit."""
    from facewright.search.engines.nearest.chain import Chain

    chain = Chain(given, *bounds, cost + 1, improve=False)
    known: set[str] = set()
    shapes: set[NumberingDesign] = set()
    ended, asked = False, None
    proof = _proof(given, cost, chain.nodes)
    while not ended and not asked and len(known) < limit:
        found, ended = chain.go_on()
        for counts in found:
            design = given.design(counts)
            if len(known) < limit and design.id not in known:
                known.add(design.id)
                shapes.add(design.up_to_shift(given.dice))
                yield design
        report("designs found", len(known), None)
        asked = None if ended else stop()
    many = len(known)
    share = str(given.share(cost))
    if ended and many < limit:
        only = "It is the only one." if many == 1 else f"{capital(counted(many, 'numbering'))} are as near."
        return Closing("best", many, len(shapes), "all", f"{told} {only}", proof, share)
    why = f" ({asked})" if asked else ""
    some = f"{told} {capital(counted(many, 'numbering'))} as near {'is' if many == 1 else 'are'} listed{why}."
    return Closing("best", many, len(shapes), "at least", some, proof, share)


def _measure(given: Problem) -> str:
    return "largest deviation of a chance" if given.largest else "total variation distance"


def _best_words(given: Problem, distance: Fraction) -> str:
    if not distance:
        return "This numbering gives the target's chances exactly."
    moved = "" if given.largest else ": so much chance would have to move from some results to others"
    return f"The nearest numbering misses the target's chances by {distance} ({_measure(given)}){moved}."


def _proof(given: Problem, bound: int, nodes: int) -> tuple[str, ...]:
    unit = "M·N" if given.largest else "2·M·N"
    return (
        f"The ways J_t of each total deviate from N·T_t/M, with N = {given.n:,} and M = {given.m:,}; a deviation is "
        f"counted as |M·J_t − N·T_t| over {unit}.",
        f"Whole ways J_t that add up to N deviate by {given.share(bound)} at least, whatever the labels.",
        "With all labels up to low + k chosen, the ways of the total least + k are settled; branches were left as soon "
        "as the settled deviations, with that bound for the rest, reached the best.",
        f"{nodes:,} branches were visited; nothing nearer was found.",
    )
