"""How many faces may show at most each value: vectors of counts that rise, value by value, to the faces of the dice.

For a label of a given rank from below (the lowest, the middle, the highest of those that come up) the chances depend on
these counts alone: the result is at most t exactly when at least `rank` dice show at most t.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import prod

from facewright.constraints.design import NumberingDesign
from facewright.constraints.division import scaled_ways
from facewright.constraints.labels import interchangeable
from facewright.constraints.question import Numbering
from facewright.search.stop import Stop, Stopped

Counts = tuple[int, ...]
"""For each die how many of its faces show at most some value."""

State = tuple[Counts, tuple[bool, ...]]
"""Counts, and which interchangeable neighbours are still alike: these stand in the order of their labels."""

ASKED_EVERY = 500
"""States between two questions whether to stop."""


@dataclass(frozen=True)
class Rising:
    """The levels that counts rise through.

    `values` are all labels and results, rising; `wanted[at]` the ways of all results up to a value; `least` and `most`
    say how many faces of each die may show a value; `pairs` are interchangeable neighbours.
    """

    faces: Counts
    rank: int
    values: tuple[int, ...]
    wanted: tuple[int, ...]
    least: tuple[Counts, ...]
    most: tuple[Counts, ...]
    pairs: tuple[tuple[int, int], ...]

    @classmethod
    def of(cls, question: Numbering, rank: int) -> Rising:
        """The levels of a question whose division leaves no fraction."""
        dice = question.dice
        ways = scaled_ways(question.target, [die.faces for die in dice])
        if ways is None:
            raise ValueError("question: ways that are whole are needed")
        allowed = [set(die.exactly or die.rules.allowed()) for die in dice]
        values = sorted({*ways, *(label for labels in allowed for label in labels)})
        least, most = [], []
        for value in values:
            low, high = [], []
            for die, labels in zip(dice, allowed, strict=True):
                times = die.faces if die.rules.repeats is None else min(die.faces, die.rules.repeats)
                fixed = None if die.exactly is None else die.exactly.count(value)
                low.append(fixed or 0)
                high.append((times if value in labels else 0) if fixed is None else fixed)
            least.append(tuple(low))
            most.append(tuple(high))
        wanted = accumulate(ways.get(value, 0) for value in values)
        return cls(
            tuple(die.faces for die in dice),
            rank,
            tuple(values),
            tuple(wanted),
            tuple(least),
            tuple(most),
            tuple(pair for group in interchangeable(dice) for pair in pairwise(group)),
        )

    @property
    def start(self) -> State:
        """Before the least value: no face shows less, all are alike."""
        return (0,) * len(self.faces), (True,) * len(self.pairs)

    def steps(self, at: int, state: State) -> Iterator[State]:
        """The states after the value `at`, from the state before it."""
        counts, alike = state
        rest = [sum(row) for row in zip(*self.most[at + 1 :], strict=True)] or [0] * len(counts)
        low = [max(c + s, n - r) for c, s, n, r in zip(counts, self.least[at], self.faces, rest, strict=True)]
        high = [min(c + s, n) for c, s, n in zip(counts, self.most[at], self.faces, strict=True)]
        held = {
            second: (first, at_pair) for at_pair, (first, second) in enumerate(self.pairs) if alike[at_pair]
        }
        for found in self.vectors(self.wanted[at], low, high):
            steps = [now - before for now, before in zip(found, counts, strict=True)]
            if any(steps[first] < steps[second] for second, (first, _) in held.items()):
                continue
            still = tuple(
                was and steps[first] == steps[second]
                for was, (first, second) in zip(alike, self.pairs, strict=True)
            )
            yield found, still

    def vectors(self, wanted: int, low: Sequence[int], high: Sequence[int]) -> Iterator[Counts]:
        """Every vector of counts between bounds with so many ways in which at least `rank` dice stay within them."""
        if any(a > b for a, b in zip(low, high, strict=True)):
            return
        tails = [self._tails(bounds) for bounds in (low, high)]
        yield from self._chosen(wanted, low, high, tails, [1, *[0] * self.rank], ())

    def _chosen(
        self,
        wanted: int,
        low: Sequence[int],
        high: Sequence[int],
        tails: list[list[list[int]]],
        ways: list[int],
        chosen: Counts,
    ) -> Iterator[Counts]:
        """The rest of a vector, die by die; `ways[j]` says in how many ways j of the dice before stay within counts."""
        die = len(chosen)
        least, most = (_reach(ways, tail[die], self.rank) for tail in tails)
        if not least <= wanted <= most:
            return
        if die < len(self.faces) - 1:
            for count in range(low[die], high[die] + 1):
                further = self._rolled(ways, count, self.faces[die])
                yield from self._chosen(wanted, low, high, tails, further, (*chosen, count))
            return
        # the ways are linear in the last count
        known, slope = ways[self.rank] * self.faces[die], ways[self.rank - 1]
        if slope:
            count, left = divmod(wanted - known, slope)
            if not left and low[die] <= count <= high[die]:
                yield (*chosen, count)
        elif known == wanted:
            yield from ((*chosen, count) for count in range(low[die], high[die] + 1))

    def _rolled(self, ways: list[int], count: int, faces: int) -> list[int]:
        """The ways with one die more, of which so many faces stay within; as many as the rank are not told apart."""
        further = [0] * (self.rank + 1)
        for within, times in enumerate(ways):
            if within == self.rank:
                further[within] += times * faces
            else:
                further[within] += times * (faces - count)
                further[within + 1] += times * count
        return further

    def _tails(self, counts: Sequence[int]) -> list[list[int]]:
        """For each die the ways of it and all after it, where these counts hold."""
        tails = [[1, *[0] * self.rank]]
        for count, faces in zip(reversed(counts), reversed(self.faces), strict=True):
            tails.append(self._rolled(tails[-1], count, faces))
        return tails[::-1]

    def levels(self, stop: Stop) -> list[dict[State, int]]:
        """For each value the states before it from which the end can be reached, each with in how many ways.

        Raises:
            Stopped: `stop` asked for it.
        """
        before: list[list[State]] = [[self.start]]
        visited = 0
        for at in range(len(self.values)):
            after: dict[State, None] = {}
            for state in before[-1]:
                after.update(dict.fromkeys(self.steps(at, state)))
                visited = _counted(visited, stop)
            before.append(list(after))
        ends = {state: 1 for state in before[-1] if state[0] == self.faces}
        found = [ends]
        for at in range(len(self.values) - 1, -1, -1):
            here = {}
            for state in before[at]:
                ways = sum(found[-1].get(after, 0) for after in self.steps(at, state))
                visited = _counted(visited, stop)
                if ways:
                    here[state] = ways
            found.append(here)
        return found[::-1]

    def designs(
        self, question: Numbering, levels: list[dict[State, int]], stop: Stop
    ) -> Iterator[NumberingDesign]:
        """Every design, along the states from which the end can be reached.

        Raises:
            Stopped: `stop` asked for it.
        """
        for number, path in enumerate(self._paths(levels)):
            if number % ASKED_EVERY == 0 and (asked := stop()):
                raise Stopped(asked)
            labels: list[list[int]] = [[] for _ in self.faces]
            for value, (before, after) in zip(self.values, pairwise(path), strict=True):
                for die, (one, other) in enumerate(zip(before, after, strict=True)):
                    labels[die] += [value] * (other - one)
            yield NumberingDesign.of(question.dice, labels)

    def _paths(self, levels: list[dict[State, int]]) -> Iterator[list[Counts]]:
        if self.start not in levels[0]:
            return
        open_steps = [iter([self.start])]
        path: list[State] = []
        while open_steps:
            state = next(open_steps[-1], None)
            if state is None:
                open_steps.pop()
                if path:
                    path.pop()
                continue
            if state not in levels[len(path)]:
                continue
            path.append(state)
            if len(path) > len(self.values):
                yield [counts for counts, _ in path]
                path.pop()
            else:
                open_steps.append(self.steps(len(path) - 1, state))

    def stuck(self) -> int | None:
        """The first value up to which no counts whatever have as many ways as wanted; None where each has some."""
        none = [0] * len(self.faces)
        for value, wanted in zip(self.values, self.wanted, strict=True):
            if next(self.vectors(wanted, none, self.faces), None) is None:
                return value
        return None

    @property
    def outcomes(self) -> int:
        """All ways of the dice."""
        return prod(self.faces)


def _reach(ways: list[int], tail: list[int], rank: int) -> int:
    """In how many ways at least `rank` dice stay within, before and after put together."""
    return sum(a * sum(tail[max(0, rank - within) :]) for within, a in enumerate(ways) if a)


def _counted(visited: int, stop: Stop) -> int:
    if visited % ASKED_EVERY == 0 and (asked := stop()):
        raise Stopped(asked)
    return visited + 1
