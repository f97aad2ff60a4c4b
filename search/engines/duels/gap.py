"""The gap between the best design found and what is refuted, narrowed from both sides until there is none."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import replace
from fractions import Fraction
from math import cos, pi

from facewright.constraints.duels import least_chance, ring
from facewright.search.engines.duels.methods import Method, bounding_method_of, method_of, spread_method_of
from facewright.search.engines.duels.problem import Labels, Problem, cycles_of, spread_out
from facewright.search.progress import PREPARING, Progress, silent
from facewright.search.stop import Stop, Stopped

LARGE = 150
"""From so many outcomes a duel on, annealing looks for a good design before the proof begins."""

COOLINGS = 8
"""Coolings without success after which a chance is taken to be out of reach of annealing."""


class Gap:
    """What is known of the greatest least chance.

    `found` is the best design so far. `reached` counts how many of the problem's candidate chances it reaches, `open`
    how many are not refuted: the gap is closed where the two are equal.
    """

    def __init__(self, problem: Problem, stop: Stop, seed: int, report: Progress) -> None:
        self.problem, self.stop, self.seed, self.report = problem, stop, seed, report
        self.found: Labels | None = None
        self.reached = 0
        self.open = len(problem.candidates)

    @property
    def closed(self) -> bool:
        """Whether nothing better than the best found can exist."""
        return self.reached >= self.open

    @property
    def best(self) -> Fraction:
        """The least chance of the best design found; 0 where there is none."""
        return self._chance(self.reached)

    @property
    def bound(self) -> Fraction:
        """No design's least chance is above it."""
        return self._chance(self.open)

    def close(self) -> Method | None:
        """Narrows the gap as far as the methods go.

        Returns: the method that decides the whole problem; None where there is none, and the gap may stay open.

        Raises:
            Stopped: the stop asked for it.
        """
        spread = spread_method_of(self.problem, self.stop, self.report)
        whole = spread or method_of(self.problem, self.stop, self.report)
        if whole is None or max(self.problem.outcomes) >= LARGE:
            self.anneal()
        if spread is None:
            self._bound_freely()
        if whole is None:
            self.bound_by_parts()
        else:
            self.narrow(whole)
        return whole

    def narrow(self, method: Method) -> None:
        """Narrows the gap until it is closed: from a guess downwards in growing steps, then by halves."""
        place, step = min(self.open, self._guess() + 1), 1
        while not self.closed:
            self.report("chances left", self.open - self.reached, None)
            place = max(place, self.reached + 1)
            labels = method.witness(self.problem.needs(self.problem.candidates[place - 1]))
            if labels is None:
                self.open = place - 1
                place, step = self.open + 1 - step, 2 * step
            else:
                self._keep(labels)
                place = (self.reached + self.open + 1) // 2

    def anneal(self) -> None:
        """Raises the best found as long as annealing finds better."""
        from facewright.search.engines.duels.annealing import cooled

        self.report(PREPARING, 0, None)
        problem = spread_out(self.problem) or self.problem
        tried = 0
        while not self.closed and tried < COOLINGS:
            if (asked := self.stop()) is not None:
                raise Stopped(asked)
            self.report("coolings", tried, COOLINGS)
            wanted = problem.needs(self.problem.candidates[self.reached])
            found = cooled(problem, wanted, (self.seed * 1_000_003 + self.reached + tried) % 2**31)
            tried += 1
            if found is not None and not found[1]:
                self._keep(found[0])
                tried = 0

    def bound_by_parts(self) -> None:
        """Refutes what no cycle of three of the dice, or two, can reach."""
        known: dict[Problem, int] = {}
        for cycle in cycles_of(self.problem.arcs):
            dice = tuple(self.problem.dice[at] for at in cycle)
            part = replace(self.problem, dice=dice, arcs=ring(len(cycle)))
            if len(dice) < len(self.problem.dice) and part not in known:
                own = Gap(part, self.stop, self.seed, silent)
                own.close()
                known[part] = bisect_right(self.problem.candidates, own.bound)
                self.open = min(self.open, known[part])

    def _bound_freely(self) -> None:
        """Refutes what no dice of these sizes reach with any labels."""
        method = bounding_method_of(self.problem, self.stop, self.report)
        if method is not None:
            free = Gap(self.problem, self.stop, self.seed, self.report)
            free.reached = self.reached
            free.narrow(method)
            self.open = min(self.open, free.open)

    def _guess(self) -> int:
        """How many candidates lie within what dice with ever more faces come near to: where to look first, no proof.

        For a ring of k that is 1 − 1/(4·cos²(π/(k + 2))); of other patterns a ring of three is taken.

        Source: S. Trybula, "On the paradox of n random variables", Zastos. Mat. 8 (1965) 143-156, from memory.
        """
        size = len(self.problem.dice) if self.problem.cyclic else 3
        return bisect_right(self.problem.candidates, 1 - 1 / (4 * cos(pi / (size + 2)) ** 2))

    def _keep(self, labels: Labels) -> None:
        reached = bisect_right(self.problem.candidates, least_chance(labels, self.problem.arcs))
        if self.found is None or reached > self.reached:
            self.found, self.reached = labels, reached

    def _chance(self, count: int) -> Fraction:
        return self.problem.candidates[count - 1] if count else Fraction(0)
