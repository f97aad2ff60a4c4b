"""The two complete methods for duels, behind one face: the graph of a ring, and the sweep."""

from __future__ import annotations

from collections.abc import Iterator
from math import prod
from typing import Protocol

from facewright.search.engines.duels.counting import TooMany, counted_up_to_exchange
from facewright.search.engines.duels.frame import Frame
from facewright.search.engines.duels.graph import (
    MOST_VERTICES,
    MOST_WALKS,
    Ring,
    count_up_to_turns,
    ring_of,
    ways_to_label,
)
from facewright.search.engines.duels.problem import Labels, Problem, Wins, freed, spread_out
from facewright.search.engines.duels.sweep import Needs
from facewright.search.progress import Progress
from facewright.search.stop import Stop

GRAPH_SPEED = 1e10
"""Products of a graph worked out in a second, about; with `SWEEP_SPEED` it decides which method is taken."""

SWEEP_SPEED = 4e5
"""Choices that a sweep looks at in a second, about."""

MOST_STEPS = 20_000_000
"""How many choices (label, faces used, faces that take it) a sweep may look at: some tens of seconds' worth."""

MOST_STEPS_ONCE = 2_000_000
"""The same where each label stands on one face: there are few choices then, but many wins to be told apart."""

HEAVIER = 4
"""How much heavier a sweep gets with each arc beyond those of a ring."""


class Method(Protocol):
    """Decides, counts and lists the designs of one problem; Stopped is raised where the stop asks for it."""

    proof: tuple[str, ...]

    def witness(self, needs: Wins) -> Labels | None:
        """A design that wins so much; None where there is none."""
        ...

    def count(self, needs: Wins) -> int | None:
        """How many there are, those that an exchange joins once; None where it cannot be told."""
        ...

    def designs(self, needs: Wins) -> Iterator[Labels]:
        """All of them, those that an exchange joins once."""
        ...


class ByGraph:
    """The graph of a ring."""

    proof: tuple[str, ...] = (
        "Each way to label a die is a vertex; an edge leads to a way to label the next die that is beaten often "
        "enough, all of them found by one product of matrices. A design is a closed walk.",
        "Vertices that no edge enters or leaves were taken out, again and again; walks were counted by products, and "
        "those that a rotation joins once by Burnside's lemma.",
    )

    def __init__(self, problem: Problem, stop: Stop, report: Progress) -> None:
        self._problem, self._stop, self._report = problem, stop, report
        self._known: tuple[Wins, Ring] | None = None

    def witness(self, needs: Wins) -> Labels | None:
        """See `Method`."""
        return self._ring(needs).walk(self._report)

    def count(self, needs: Wins) -> int | None:
        """See `Method`."""
        try:
            return count_up_to_turns(self._ring(needs), self._problem.symmetries, self._report)
        except OverflowError:
            return None

    def designs(self, needs: Wins) -> Iterator[Labels]:
        """See `Method`."""
        for labels in self._ring(needs).walks(self._report):
            if self._problem.canonical(labels) == labels:
                yield labels

    def _ring(self, needs: Wins) -> Ring:
        if self._known is None or self._known[0] != needs:
            self._known = needs, ring_of(self._problem, needs, self._stop)
        return self._known[1]


class BySweep:
    """The sweep."""

    proof: tuple[str, ...] = (
        "Labels were decided from the least up. For each label and each way of faces used so far, the least wins with "
        "which every duel can still be won often enough were worked out backwards; of vectors of wins those that ask "
        "more than another were dropped, which loses nothing.",
        "What is said to be impossible has no such vector before the first label.",
    )

    def __init__(self, problem: Problem, stop: Stop, report: Progress) -> None:
        self._problem, self._stop, self._report = problem, stop, report
        self._frame = Frame(problem)
        self._known: tuple[Wins, Needs] | None = None

    def witness(self, needs: Wins) -> Labels | None:
        """See `Method`."""
        return next(self._needs(needs).designs(), None)

    def count(self, needs: Wins) -> int | None:
        """See `Method`."""
        try:
            return counted_up_to_exchange(self._needs(needs), self._stop, self._report)
        except TooMany:
            return None

    def designs(self, needs: Wins) -> Iterator[Labels]:
        """See `Method`."""
        for labels in self._needs(needs).designs():
            if self._problem.canonical(labels) == labels:
                yield labels

    def _needs(self, needs: Wins) -> Needs:
        if self._known is None or self._known[0] != needs:
            self._known = needs, Needs(self._frame, needs, self._stop, self._report)
        return self._known[1]


def method_of(problem: Problem, stop: Stop, report: Progress) -> Method | None:
    """The quicker of the methods that can take the whole problem; None where none can."""
    graph, sweep = _graph_seconds(problem), _sweep_seconds(problem)
    if graph is None and sweep is None:
        return None
    if sweep is None or (graph is not None and graph < sweep):
        return ByGraph(problem, stop, report)
    return BySweep(problem, stop, report)


def spread_method_of(problem: Problem, stop: Stop, report: Progress) -> Method | None:
    """The sweep over each label once, where it decides the whole problem; None where it does not, or is too large."""
    spread = spread_out(problem)
    return (
        BySweep(spread, stop, report) if spread is not None and _sweep_seconds(spread) is not None else None
    )


def bounding_method_of(problem: Problem, stop: Stop, report: Progress) -> Method | None:
    """The sweep over each label once, without label rules: what it refutes no design reaches; None if too large."""
    free = freed(problem)
    return BySweep(free, stop, report) if _sweep_seconds(free) is not None else None


def _graph_seconds(problem: Problem) -> float | None:
    """About how long the graph takes; None where it does not fit the problem."""
    sizes = [ways_to_label(die) for die in problem.dice]
    fits = problem.cyclic and (not problem.owned or len(sizes) <= 3) and max(sizes) <= MOST_VERTICES
    if not fits or prod(sizes) >= MOST_WALKS:
        return None
    return sum(sizes[at - 2] * sizes[at - 1] * sizes[at] for at in range(len(sizes))) / GRAPH_SPEED


def _sweep_seconds(problem: Problem) -> float | None:
    """About how long the sweep takes; None where it is too large.

    Vectors of wins with more entries are less often comparable: each arc beyond a ring's makes the steps heavier.
    """
    steps = Frame(problem).steps() * HEAVIER ** max(0, len(problem.arcs) - len(problem.dice))
    most = MOST_STEPS if not problem.once else MOST_STEPS_ONCE
    return steps / SWEEP_SPEED if steps <= most else None
