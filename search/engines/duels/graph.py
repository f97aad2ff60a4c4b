"""The graph of a ring: a way to label a die is a vertex, a duel won often enough an edge, a design a closed walk."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations_with_replacement
from math import comb, gcd, prod
from typing import TYPE_CHECKING, Any

from facewright.constraints.labels import Die
from facewright.search.engines.duels.problem import Labels, Problem
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, Stopped, never

if TYPE_CHECKING:
    import numpy as np

    Table = np.ndarray[Any, np.dtype[Any]]

MOST_VERTICES = 6_000
"""How many ways to label one die may have: a table of edges then takes 36 MB."""

MOST_WALKS = 2**62
"""Counts are exact in 64 bits: a ring that may have more closed walks than this is not counted."""

ROWS = 512
"""Rows of a product worked out at a time."""


def ways_to_label(die: Die) -> int:
    """An upper bound on the number of vertices of a die; exact unless `repeats` bars some."""
    return 1 if die.exactly is not None else comb(len(die.rules.allowed()) + die.faces - 1, die.faces)


def vertices_of(die: Die) -> list[tuple[int, ...]]:
    """Every way to label a die within its rules, in lexicographic order."""
    if die.exactly is not None:
        return [die.exactly]
    most = die.rules.repeats or die.faces
    every = combinations_with_replacement(die.rules.allowed(), die.faces)
    if most >= die.faces:
        return list(every)
    return [labels for labels in every if max(Counter(labels).values()) <= most]


def winning(mine: Sequence[Sequence[int]], theirs: Sequence[Sequence[int]], need: int, owned: bool) -> Table:
    """Whether a die of the first list wins at least `need` outcomes against one of the second, shape (first, second).

    One product: counts of labels, and for the other die how many labels are smaller. With `owned` dice that share a
    label have no edge either.
    """
    import numpy as np

    labels = sorted({label for die in (*mine, *theirs) for label in die})
    place = {label: at for at, label in enumerate(labels)}

    def counts(dice: Sequence[Sequence[int]]) -> Table:
        table = np.zeros((len(dice), len(labels)), dtype=np.float32)
        for row, die in enumerate(dice):
            for label in die:
                table[row, place[label]] += 1
        return table

    ours, others = counts(mine), counts(theirs)
    # sums of at most faces x faces, which float32 holds exactly
    smaller = np.cumsum(others, axis=1) - others
    edges = np.empty((len(mine), len(theirs)), dtype=bool)
    for at in range(0, len(mine), ROWS):
        edges[at : at + ROWS] = ours[at : at + ROWS] @ smaller.T >= need
        if owned:
            edges[at : at + ROWS] &= ours[at : at + ROWS] @ others.T == 0
    return edges


class Ring:
    """The closed walks of a ring of dice, for given needs.

    Args:
        vertices: for each die of the ring, its ways to be labelled.
        edges: for each die the table of its edges to the next.
        stop: asked whether to stop early; then Stopped is raised.
    """

    def __init__(
        self, vertices: Sequence[Sequence[tuple[int, ...]]], edges: Sequence[Table], stop: Stop = never
    ) -> None:
        self.stop = stop
        self.vertices, self.edges = _trimmed(vertices, edges, stop)

    @property
    def size(self) -> int:
        """How many dice stand in the ring."""
        return len(self.edges)

    def walk(self, report: Progress = silent) -> Labels | None:
        """One closed walk; None where there is none."""
        import numpy as np

        first = len(self.vertices[0])
        for at in range(0, first, ROWS):
            report("labellings of the first die", at, first)
            reached = [np.eye(first, dtype=bool)[at : at + ROWS]]
            for table in self.edges:
                self._ask()
                reached.append(_product(reached[-1], table) > 0)
            rows = np.arange(len(reached[-1]))
            closed = np.flatnonzero(reached[-1][rows, at + rows])
            if len(closed):
                row = int(closed[0])
                return self._traced([one[row] for one in reached], at + row)
        return None

    def count(self, length: int | None = None, report: Progress = silent) -> int:
        """The number of closed walks; of those that repeat after `length` dice where that is given, a part of the ring.

        Raises OverflowError where it may not fit into 64 bits.
        """
        import numpy as np

        size = self.size if length is None else length
        tables = self.edges[:size]
        if prod(len(table) for table in tables) >= MOST_WALKS:
            raise OverflowError("more closed walks than 64 bits may hold")
        if size == 1:
            return int(np.trace(tables[0]))
        half = (size + 1) // 2
        total = 0
        back = tables[half]
        for table in tables[half + 1 :]:
            self._ask()
            back = _product(back, table)
        for at in range(0, len(tables[0]), ROWS):
            report("labellings of the first die", at, len(tables[0]))
            there = tables[0][at : at + ROWS]
            for table in tables[1:half]:
                self._ask()
                there = _product(there, table)
            part = there.astype(np.int64) * back[:, at : at + ROWS].T.astype(np.int64)
            total += int(part.sum())
        return total

    def walks(self, report: Progress = silent) -> Iterator[Labels]:
        """Every closed walk, those of the least first labels first."""
        import numpy as np

        for start in range(len(self.vertices[0])):
            self._ask()
            report("labellings of the first die", start, len(self.vertices[0]))
            goal = np.zeros(len(self.vertices[0]), dtype=bool)
            goal[start] = True
            # for each die of the ring, the labellings from which the walk can still close
            closing: list[Table] = [goal]
            for table in reversed(self.edges):
                closing.append(np.asarray(table[:, closing[-1]].any(axis=1)))
            closing.reverse()
            if closing[0][start]:
                yield from self._closed([start], closing)

    def _closed(self, walk: list[int], closing: Sequence[Table]) -> Iterator[Labels]:
        import numpy as np

        at = len(walk)
        if at == self.size:
            yield tuple(self.vertices[die][one] for die, one in enumerate(walk))
            return
        for one in np.flatnonzero(self.edges[at - 1][walk[-1]] & closing[at]):
            yield from self._closed([*walk, int(one)], closing)

    def _traced(self, reached: Sequence[Table], start: int) -> Labels:
        """A closed walk from the sets that were reached, step by step backwards."""
        walk = [start]
        for at in reversed(range(1, self.size)):
            before = reached[at] & self.edges[at][:, walk[-1]]
            walk.append(int(before.argmax()))
        order = [start, *reversed(walk[1:])]
        return tuple(self.vertices[die][one] for die, one in enumerate(order))

    def _ask(self) -> None:
        if (asked := self.stop()) is not None:
            raise Stopped(asked)


def ring_of(problem: Problem, needs: Sequence[int], stop: Stop = never) -> Ring:
    """The graph of a problem whose pattern is a ring; equal duels share one table."""
    vertices = {die: vertices_of(die) for die in dict.fromkeys(problem.dice)}
    tables: dict[tuple[Die, Die, int], Table] = {}
    edges = []
    for (one, other), need in zip(problem.arcs, needs, strict=True):
        key = (problem.dice[one], problem.dice[other], need)
        if key not in tables:
            tables[key] = winning(vertices[key[0]], vertices[key[1]], need, problem.owned)
        edges.append(tables[key])
    return Ring([vertices[die] for die in problem.dice], edges, stop)


def count_up_to_turns(ring: Ring, turns: Sequence[tuple[int, ...]], report: Progress = silent) -> int:
    """The number of closed walks, where those that a rotation joins count once.

    By Burnside's lemma; a rotation by r leaves those walks that repeat after gcd(r, length) dice. Raises OverflowError
    as `Ring.count` does.
    """
    known: dict[int, int] = {}
    total = 0
    for turn in turns:
        length = gcd(turn[0], ring.size) or ring.size
        if length not in known:
            known[length] = ring.count(length, report)
        total += known[length]
    return total // len(turns)


def _trimmed(
    vertices: Sequence[Sequence[tuple[int, ...]]], edges: Sequence[Table], stop: Stop
) -> tuple[list[list[tuple[int, ...]]], list[Table]]:
    """The graph without the vertices that no edge enters or leaves, again and again until none is left."""
    import numpy as np

    size = len(edges)
    alive = [np.ones(len(one), dtype=bool) for one in vertices]
    changed = True
    while changed:
        changed = False
        for at in range(size):
            if (asked := stop()) is not None:
                raise Stopped(asked)
            after, before = alive[(at + 1) % size], alive[at - 1]
            kept = alive[at] & edges[at][:, after].any(axis=1) & edges[at - 1][before].any(axis=0)
            if kept.sum() < alive[at].sum():
                alive[at] = kept
                changed = True
    short: dict[tuple[int, bytes, bytes], Table] = {}
    tables = []
    for at in range(size):
        after = alive[(at + 1) % size]
        key = (id(edges[at]), alive[at].tobytes(), after.tobytes())
        if key not in short:
            short[key] = edges[at][np.ix_(alive[at], after)]
        tables.append(short[key])
    left = [
        [one for one, kept in zip(ways, mask, strict=True) if kept]
        for ways, mask in zip(vertices, alive, strict=True)
    ]
    return left, tables


def _product(left: Table, right: Table) -> Table:
    """A product of tables of whole numbers, exact: in 32 bits while every sum stays below 2^24, else in 64."""
    import numpy as np

    most = float(left.max(initial=0)) * len(right) * float(right.max(initial=0))
    if most < 2**24:
        return left.astype(np.float32) @ right.astype(np.float32)
    if most < 2**53:
        return left.astype(np.float64) @ right.astype(np.float64)
    raise OverflowError("more walks than a product holds exactly")
