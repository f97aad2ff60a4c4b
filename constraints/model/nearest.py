"""How far the results of dice are from a target, as numbers of a CP-SAT model of label counts."""

from __future__ import annotations

from collections.abc import Mapping
from math import gcd
from typing import TYPE_CHECKING, Any

from facewright.constraints.distribution import Distribution
from facewright.constraints.model.counts import LARGEST_SUM, CountModel, Term

if TYPE_CHECKING:
    from facewright.constraints.readings.base import Reading

MOST_PRODUCTS = 20_000
"""How many products of counts a model may hold."""


def too_many_products(model: CountModel, reading: Reading) -> bool:
    """Whether the ways of the results would take too many products."""
    states: set[Any] = {reading.start}
    many = 0
    for die in range(len(model.dice)):
        labels = model.labels(die)
        many += len(states) * len(labels)
        if many > MOST_PRODUCTS:
            return True
        states = {reading.step(state, label) for state in states for label in labels}
    return False


def widest_result(model: CountModel, reading: Reading) -> int:
    """The greatest distance of a result, all of which are numbers, from 0."""
    states: set[Any] = {reading.start}
    for die in range(len(model.dice)):
        states = {reading.step(state, label) for state in states for label in model.labels(die)}
    return max((abs(reading.end(state)) for state in states), default=0)


def ways_of_results(model: CountModel, reading: Reading) -> dict[Any, Term]:
    """The ways of every result that the dice can have: a chain of products of label counts, die by die.

    Each step keeps one number for each state that the reading can be in. The sums of the products over the labels
    of a die are its faces times what it multiplies; posted as well, since they tighten the linear relaxation.
    """
    so_far: dict[Any, Term] = {reading.start: Term.constant(1)}
    times = 1
    for place in range(len(model.dice)):
        products: dict[Any, list[Term]] = {}
        chances = model.chances(place)
        most = times * chances
        columns: dict[int, list[Term]] = {label: [] for label in model.weights(place)}
        for state, ways in so_far.items():
            row = []
            for label, count in model.weights(place).items():
                product = model.product(ways, count, most, f"q{place}[{state},{label}]")
                products.setdefault(reading.step(state, label), []).append(product)
                columns[label].append(product)
                row.append(product)
            model.linear([(chances, ways), *((-1, one) for one in row)], 0, 0)
        for label, column in columns.items():
            model.linear([(times, model.weights(place)[label]), *((-1, one) for one in column)], 0, 0)
        so_far = {state: _sum(model, terms, most, f"p{place}[{state}]") for state, terms in products.items()}
        times = most
    results: dict[Any, list[Term]] = {}
    for state, ways in so_far.items():
        results.setdefault(reading.end(state), []).append(ways)
    return {result: _sum(model, terms, times, f"w[{result}]") for result, terms in results.items()}


def deviations(model: CountModel, ways: Mapping[Any, Term], target: Distribution) -> dict[Any, Term]:
    """|M·J_r − N·T_r| for every result r: M the outcomes of the target, N those of the dice."""
    m, n = target.outcomes, model.outcomes
    gaps = {}
    for result in sorted({*ways, *target.ways}):
        wanted = n * target.ways.get(result, 0)
        term = ways.get(result, Term.constant(0))
        if isinstance(term.value, int):
            gaps[result] = Term.constant(abs(m * term.value - wanted))
            continue
        over = wanted % m
        least = min(over, m - over)
        gap = model.whole(least, max(m * term.most, wanted), f"d[{result}]")
        model.linear([(1, gap), (-m, term)], -wanted, LARGEST_SUM)
        model.linear([(1, gap), (m, term)], wanted, LARGEST_SUM)
        gaps[result] = gap
    return gaps


def sum_of(model: CountModel, terms: Mapping[Any, Term], name: str) -> Term:
    """The sum of some terms as one."""
    return _sum(model, list(terms.values()), sum(term.most for term in terms.values()), name)


def largest_of(model: CountModel, terms: Mapping[Any, Term], name: str) -> Term:
    """A number that is at least each of some terms; the least such is their largest."""
    top = model.whole(
        max(term.least for term in terms.values()), max(term.most for term in terms.values()), name
    )
    for term in terms.values():
        model.linear([(1, top), (-1, term)], 0, LARGEST_SUM)
    return top


def mean_deviation(model: CountModel, target: Distribution) -> tuple[Term, int]:
    """How far the mean total is from the target's, and over what: |M·Σ_d S_d·N/n_d − N·Σ t·T_t|, over M·N."""
    m, n = target.outcomes, model.outcomes
    wanted = n * sum(result * ways for result, ways in target.pairs)
    parts = [
        (m * (n // die.faces) * label, count)
        for place, die in enumerate(model.dice)
        for label, count in model.counts(place).items()
    ]
    return _absolute(model, parts, wanted, "mean"), m * n


def variance_deviation(model: CountModel, target: Distribution) -> tuple[Term, int]:
    """How far the variance of the total is from the target's, and over what.

    The variance of independent dice is Σ_d (n_d·Q_d − S_d²)/n_d², Q_d the sum of squared labels. Labels are counted
    from their die's least, which changes no variance.
    """
    n = model.outcomes
    mine, wanted, unit = _variance_wanted(model, target)
    parts: list[tuple[int, Term]] = []
    for place, die in enumerate(model.dice):
        counts = model.counts(place)
        low = min(counts, default=0)
        scale = mine * (n // die.faces) ** 2
        parts += [(scale * die.faces * (label - low) ** 2, count) for label, count in counts.items()]
        span = max(counts, default=0) - low
        total = model.whole(0, die.faces * span, f"s{place}")
        model.linear([(-1, total), *((label - low, count) for label, count in counts.items())], 0, 0)
        square = model.product(total, total, (die.faces * span) ** 2, f"ss{place}")
        parts.append((-scale, square))
    return _absolute(model, parts, wanted, "variance"), unit


def mean_of_results(model: CountModel, ways: Mapping[int, Term], target: Distribution) -> tuple[Term, int]:
    """How far the mean result of any reading is from the target's, and over what: |M·Σ r·J_r − N·Σ r·T_r| over M·N."""
    m, n = target.outcomes, model.outcomes
    wanted = n * sum(result * times for result, times in target.pairs)
    parts = [(m * result, term) for result, term in ways.items()]
    return _absolute(model, parts, wanted, "mean"), m * n


def variance_of_results(
    model: CountModel, ways: Mapping[int, Term], target: Distribution
) -> tuple[Term, int]:
    """How far the variance of the result of any reading is from the target's, and over what.

    It is (N·Σ r²·J_r − (Σ r·J_r)²)/N². Results are counted from the least, which changes no variance.
    """
    n = model.outcomes
    mine, wanted, unit = _variance_wanted(model, target)
    low, span = min(ways), max(ways) - min(ways)
    total = model.whole(0, n * span, "s")
    model.linear([(-1, total), *((result - low, term) for result, term in ways.items())], 0, 0)
    square = model.product(total, total, (n * span) ** 2, "ss")
    parts = [(mine * n * (result - low) ** 2, term) for result, term in ways.items()]
    return _absolute(model, [*parts, (-mine, square)], wanted, "variance"), unit


def _variance_wanted(model: CountModel, target: Distribution) -> tuple[int, int, int]:
    """By what N² times the variance of the dice is multiplied, what that should be, and over what both stand."""
    m, n = target.outcomes, model.outcomes
    first = sum(result * times for result, times in target.pairs)
    second = sum(result * result * times for result, times in target.pairs)
    common = gcd(m, n)
    return (m // common) ** 2, (n // common) ** 2 * (m * second - first * first), (m // common * n) ** 2


def _absolute(model: CountModel, parts: list[tuple[int, Term]], wanted: int, name: str) -> Term:
    most = sum(abs(weight) * max(abs(term.least), abs(term.most)) for weight, term in parts) + abs(wanted)
    gap = model.whole(0, most, name)
    model.linear([(1, gap), *((-weight, term) for weight, term in parts)], -wanted, 2 * LARGEST_SUM)
    model.linear([(1, gap), *parts], wanted, 2 * LARGEST_SUM)
    return gap


def _sum(model: CountModel, terms: list[Term], most: int, name: str) -> Term:
    if len(terms) == 1:
        return terms[0]
    result = model.whole(sum(term.least for term in terms), min(most, sum(term.most for term in terms)), name)
    model.linear([(-1, result), *((1, term) for term in terms)], 0, 0)
    return result
