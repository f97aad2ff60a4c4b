"""Walking through the designs of a split question from the best down, box by box."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from facewright.constraints.design import NumberingDesign
from facewright.search.engines.splitting.split import Split
from facewright.search.report.scores import Settings
from facewright.search.selecting.bounds import GLYPHS, SLACK, Goal
from facewright.search.selecting.boxes import Bounded, Box, Boxes
from facewright.search.selecting.descent import Descent
from facewright.search.selecting.pools import pools_of
from facewright.search.stop import Stop, Stopped

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Whole = NDArray[np.int64]
    Floats = NDArray[np.float64]

MANY = 2_000_000
"""A box with more sets to begin is split, where that betters its bound."""

FEW = 40
"""Choices of each kind that a first look takes."""


class Walk:
    """The designs of a split question; `all_at_least` finds those that score so much."""

    def __init__(self, split: Split, settings: Settings, stop: Stop) -> None:
        import numpy as np

        self._split, self._settings, self._stop = split, settings, stop
        self._pools = pools_of(split, settings, stop)
        whole = np.array(split.lattice.top_vector, float)
        self._boxes = Boxes(self._pools, whole, settings.cost.glyph)
        self._bits = np.array([bits.bit_count() for bits in range(1 << len(GLYPHS))])
        self._first = list(self._boxes.first())

    def score(self, goal: Goal, design: NumberingDesign) -> int:
        """What a design scores."""
        from facewright.search.rank import score

        copies = [die.copies for die in self._split.question.dice]
        return goal.value(score(design, copies, self._settings).scores)

    def ceiling(self, goal: Goal) -> int:
        """No design scores more than this."""
        import math

        bounds = [self._bounded(goal, box) for box in self._first]
        most = max((one.most for one in bounds if one is not None), default=-math.inf)
        return math.floor(most + goal.slack + SLACK) if most > -math.inf else 0

    def some(self, goal: Goal, many: int) -> Iterator[tuple[int, NumberingDesign]]:
        """Some designs that score well, with their scores, so many from each of the first boxes at most.

        Raises:
            Stopped: the stop asked for it.
        """
        for box in self._first:
            bounded = self._bounded(goal, box)
            if bounded is None:
                continue
            descent = Descent(self._pools, self._split.lattice, bounded, -1e9, self._stop, FEW)
            left = many
            for sets in descent.sets():
                for places in zip(*(one[:left] for one in sets), strict=True):
                    design = self._design(places)
                    yield self.score(goal, design), design
                left -= len(sets[0])
                if left <= 0:
                    break

    def all_at_least(self, goal: Goal, score: int) -> Iterator[tuple[int, NumberingDesign]]:
        """Every design that scores so much, with its score, each once.

        Raises:
            Stopped: the stop asked for it, or memory would not do.
        """
        import numpy as np

        level = score - goal.slack - SLACK
        boxes = list(reversed(self._first))
        while boxes:
            box = boxes.pop()
            bounded = self._bounded(goal, box)
            if bounded is None or bounded.most < level:
                continue
            descent = Descent(self._pools, self._split.lattice, bounded, level, self._stop)
            if not descent.possible:
                continue
            halves = self._boxes.split(goal, box) if descent.rows() > MANY else []
            if halves:
                boxes += halves
                continue
            for sets in descent.sets():
                able = self._most(goal, sets) >= score
                for row in np.flatnonzero(able).tolist():
                    design = self._design([one[row] for one in sets])
                    reached = self.score(goal, design)
                    if reached >= score:
                        yield reached, design

    def _bounded(self, goal: Goal, box: Box) -> Bounded | None:
        if reason := self._stop():
            raise Stopped(reason)
        return self._boxes.bounded(goal, box)

    def _most(self, goal: Goal, sets: Sequence[Whole]) -> Floats:
        """What whole sets score at most: nearly what they score."""
        import numpy as np

        pools, points = self._pools, self._settings.cost
        rows = len(sets[0])
        adds = np.repeat(pools.fixed.adds[None], rows, axis=0)
        least = np.repeat(pools.fixed.least[None], rows, axis=0)
        glyphs = np.full(rows, pools.fixed.glyphs)
        different = []
        for pool, places in zip(pools.each, sets, strict=True):
            adds += pool.adds[places].sum(axis=1)
            least = np.minimum(least, pool.shares[places].min(axis=1))
            glyphs |= np.bitwise_or.reduce(pool.glyphs[places], axis=1)
            different.append(1 + (places[:, 1:] != places[:, :-1]).sum(axis=1))
        differing = np.sum(different, axis=0) if pools.apart else np.max(different, axis=0)
        legible = pools.long * pools.faces / -adds[:, 1] + adds[:, 0]
        familiar = adds[:, 2] + pools.hard * np.minimum(least.sum(axis=1), 100.0)
        cost = points.glyph * self._bits[glyphs] + points.different_die * differing - adds[:, 3]
        return goal.most(legible, familiar, cost)

    def _design(self, places: Sequence[Whole]) -> NumberingDesign:
        dice = self._split.question.dice
        labels: list[Sequence[int]] = [die.exactly or () for die in dice]
        for number, (kind, chosen) in enumerate(zip(self._split.kinds, places, strict=True)):
            for position, place in zip(kind.positions, chosen.tolist(), strict=True):
                choice = self._split.choices[number][int(self._pools.each[number].keys[place])]
                labels[position] = kind.labels(*choice)
        return NumberingDesign.of(dice, labels)
