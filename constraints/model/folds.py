"""The rule that dice, however read, have the target's chances: products of label counts, die by die."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import prod
from typing import Any

from facewright.constraints.distribution import Distribution
from facewright.constraints.division import scaled_ways
from facewright.constraints.model.counts import CountModel, Term
from facewright.constraints.readings.base import Reading


def post_folded(model: CountModel, reading: Reading, target: Distribution) -> None:
    """Adds that the ways of each result equal (n1…nk / M)·target, M being the target's outcomes.

    The dice are taken up in their order. P_i[s], the ways in which the first i dice lead to the state s of what
    the reading knows, is Σ P_(i-1)[t]·a_i[v] over all t and v that lead to s. A state can have no more ways than
    the results that it can lead to, nor can its products. Where the division leaves a fraction, or a result
    cannot be reached, the model has no solution.

    Args:
        model: label counts.
        reading: how the dice are read.
        target: the chances wanted.
    """
    ways = scaled_ways(target, [model.chances(die) for die in range(len(model.dice))])
    if ways is None:
        model.refute()
        return
    states = _States(model, reading, ways)
    so_far = {reading.start: Term.constant(1)}
    for die in range(len(model.dice)):
        products: dict[Any, list[Term]] = {}
        last = die == len(model.dice) - 1
        for known, times in so_far.items():
            for label, weight in model.weights(die).items():
                state = reading.step(known, label)
                product = model.product(
                    times, weight, states.room(state, die + 1), f"f{die}[{known},{label}]"
                )
                products.setdefault(reading.end(state) if last else state, []).append(product)
        if last:
            for result in sorted({*products, *ways}):
                model.equal(products.get(result, []), ways.get(result, 0))
        else:
            so_far = {state: model.sum(terms, f"p{die}[{state}]") for state, terms in products.items()}


class _States:
    """How many ways each state may have, given which results it can still lead to."""

    def __init__(self, model: CountModel, reading: Reading, ways: Mapping[int, int]) -> None:
        self._reading, self._ways = reading, ways
        self._labels: list[Sequence[int]] = [tuple(model.weights(die)) for die in range(len(model.dice))]
        self._times = [
            prod(model.chances(die) for die in range(at, len(model.dice))) for at in range(len(model.dice))
        ]
        self._times.append(1)
        self._known: dict[tuple[Any, int], frozenset[Any]] = {}

    def room(self, state: Any, taken: int) -> int:
        """The most ways that a state can have once so many dice are taken up."""
        results = self._results(state, taken)
        return sum(self._ways.get(result, 0) for result in results) // self._times[taken]

    def _results(self, state: Any, taken: int) -> frozenset[Any]:
        if taken == len(self._labels):
            return frozenset((self._reading.end(state),))
        key = (state, taken)
        if key not in self._known:
            steps = {self._reading.step(state, label) for label in self._labels[taken]}
            self._known[key] = frozenset().union(*(self._results(one, taken + 1) for one in steps))
        return self._known[key]
