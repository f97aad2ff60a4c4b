"""The engine `nearest solver`: the nearest by any reading and measure, by a CP-SAT model; for few outcomes."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from facewright.constraints.design import NumberingDesign
from facewright.constraints.model.anchor import post_anchor
from facewright.constraints.model.counts import LARGEST_SUM, CountModel, Term
from facewright.constraints.model.exchange import post_exchange
from facewright.constraints.model.further import post_further
from facewright.constraints.model.nearest import (
    deviations,
    largest_of,
    mean_deviation,
    mean_of_results,
    sum_of,
    too_many_products,
    variance_deviation,
    variance_of_results,
    ways_of_results,
    widest_result,
)
from facewright.constraints.question import Numbering
from facewright.constraints.readings import READINGS
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.solver_run import SolverRun
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped
from facewright.search.words import conditions

Goal = Callable[[CountModel], tuple[Term, int]]
"""Posts what is to be least, and says over what it stands."""


class NearestSolver:
    """Complete for every reading and measure, as long as the model stays of bearable size."""

    name = "nearest solver"

    def accepts(self, question: Numbering) -> bool:
        """Nearest, a known reading, some die to number, and few enough products and ways."""
        if question.accept != "nearest" or question.read not in READINGS:
            return False
        if question.nearest == "moments-first" and question.read == "side-by-side":
            return False
        if all(die.exactly is not None for die in question.dice):
            return False
        model = CountModel(question.dice, question.again)
        scale = (question.target.outcomes * model.outcomes) ** (
            2 if question.nearest == "moments-first" else 1
        )
        if too_many_products(model, question.reading):
            return False
        squares = 1
        if question.nearest == "moments-first":
            squares = (_spread(model, question) + 1) ** 2
        return scale * squares * 8 < LARGEST_SUM

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams one design that nothing is nearer than."""
        return Answering(self.name, _stream(question, stop, seed, report))


def _spread(model: CountModel, question: Numbering) -> int:
    """The greatest number whose square counts: of plain totals a label, else a result."""
    if _plain_total(question):
        labels = (abs(label) for die in range(len(model.dice)) for label in model.labels(die))
        return max(labels, default=0)
    return widest_result(model, question.reading)


def _plain_total(question: Numbering) -> bool:
    """Whether mean and variance are sums over the dice."""
    return question.read == "total" and not question.again


def goals(question: Numbering) -> tuple[tuple[str, Goal], ...]:
    """What is to be least, one after the other, each with its words."""
    reading, target = question.reading, question.target
    known: dict[Any, Term] = {}

    def ways(model: CountModel) -> dict[Any, Term]:
        # posted once: all goals are of one model
        if not known:
            known.update(ways_of_results(model, reading))
        return known

    def gaps(model: CountModel) -> dict[object, Term]:
        return deviations(model, ways(model), target)

    def total_variation(model: CountModel) -> tuple[Term, int]:
        return sum_of(model, gaps(model), "distance"), 2 * target.outcomes * model.outcomes

    def largest(model: CountModel) -> tuple[Term, int]:
        return largest_of(model, gaps(model), "largest"), target.outcomes * model.outcomes

    if question.nearest == "largest":
        return (("largest deviation of a chance", largest),)
    distance: tuple[str, Goal] = ("total variation distance", total_variation)
    if question.nearest == "total-variation":
        return (distance,)

    def mean(model: CountModel) -> tuple[Term, int]:
        if _plain_total(question):
            return mean_deviation(model, target)
        return mean_of_results(model, ways(model), target)

    def variance(model: CountModel) -> tuple[Term, int]:
        if _plain_total(question):
            return variance_deviation(model, target)
        return variance_of_results(model, ways(model), target)

    return (("deviation of the mean", mean), ("deviation of the variance", variance), distance)


def _stream(question: Numbering, stop: Stop, seed: int, report: Progress) -> Stream:
    reached: list[tuple[str, Fraction]] = []
    model = CountModel(question.dice, question.again)
    if question.anchored:
        post_anchor(model)
    for rule in question.also:
        post_further(model, rule)
    post_exchange(model)
    best: NumberingDesign | None = None
    variables = 0
    for words, goal in goals(question):
        term, unit = goal(model)
        found, cost, bound, asked = _least(model, question, term, seed, stop, report)
        best = found or best
        variables = max(variables, len(model.cp.proto.variables))
        if best is None and not asked:
            reason = f"{conditions(question)} no numbering exists: the rules cannot all be kept."
            return Closing("none", 0, 0, "all", reason, ("By CP-SAT on the rules alone.",), cause="search")
        if asked:
            low = Fraction(bound, unit)
            if best is None:
                reason = f"Nothing was found before the search ended early ({asked})."
                return Closing("partial", 0, 0, "at least", reason, _proof(variables), str(low))
            yield best
            reason = f"{_so_far(reached)} The search ended early ({asked}): no {words} below {low} exists."
            return Closing("partial", 1, 1, "at least", reason.strip(), _proof(variables), str(low))
        model.linear([(1, term)], 0, cost)
        reached.append((words, Fraction(cost, unit)))
    assert best is not None
    yield best
    told = " and ".join(f"{value} ({words})" for words, value in reached)
    exact = not reached[-1][1]
    lead = (
        "This numbering gives the target's chances exactly."
        if exact
        else f"The nearest numbering misses the target's chances by {told}."
    )
    reason = f"{lead} {conditions(question)} nothing is nearer."
    return Closing("best", 1, 1, "at least", reason, _proof(variables), str(reached[-1][1]))


def _least(
    model: CountModel, question: Numbering, term: Term, seed: int, stop: Stop, report: Progress
) -> tuple[NumberingDesign | None, int, int, str | None]:
    """The design with the least of a term, how much that is, a bound below it, and whether it was stopped."""
    model.cp.maximize(-term.value)
    run = SolverRun(model, seed)
    best: NumberingDesign | None = None
    asked: str | None = None
    solutions = run.solutions(stop)
    try:
        for tried, labels in enumerate(solutions, start=1):
            best = NumberingDesign.of(question.dice, labels)
            report("nearer designs found", tried, None)
            if isinstance(term.value, int):
                break
    except Stopped as reason:
        asked = str(reason)
    finally:
        solutions.close()
    if isinstance(term.value, int):
        return best, term.value, term.value, asked
    bound = term.least if run.bound is None else max(term.least, -run.bound)
    return best, bound, bound, asked


def _so_far(reached: list[tuple[str, Fraction]]) -> str:
    return "" if not reached else f"The {reached[-1][0]} is {reached[-1][1]} at the least."


def _proof(variables: int) -> tuple[str, ...]:
    return (
        "Counts a[d, v] say how often die d carries label v; the ways of each result are sums of their products.",
        "The deviations |M·J_r − N·T_r| are whole numbers; CP-SAT made what is asked for least, goal after goal.",
        f"The model has {variables:,} variables; interchangeable dice stand in lexicographic order.",
    )
