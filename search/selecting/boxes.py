"""Boxes of sets of dice, and the most that a set in one of them can score.

The score is convex in the characters and in the cost, and of the least known die only the total of its shares bounds
it. Between two ends a convex function lies below its chord: so in a box, which has ends for all three, a sum over the
dice bounds the score, and the closer the ends are, the better.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from facewright.search.selecting.bounds import GLYPHS, Goal
from facewright.search.selecting.pools import Pool, Pools
from facewright.search.selecting.relaxed import Kind, Limited, Relaxed, relaxed

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

CLOSE = 0.02
"""A box is not split where that betters its bound by less."""


class Ends(NamedTuple):
    """From where to where a sum lies."""

    low: float
    high: float

    def halves(self) -> tuple[Ends, Ends]:
        """The lower and the upper half."""
        middle = (self.low + self.high) / 2
        return Ends(self.low, middle), Ends(middle, self.high)


class Box(NamedTuple):
    """Sets of dice: how many of each kind differ (None: as they like); the shares of the least known die; the
    characters and the cost of all dice, without what differing dice and glyphs cost."""

    different: tuple[int, ...] | None
    known: Ends
    characters: Ends
    cost: Ends


class Line(NamedTuple):
    """A sum over the dice that bounds the score: what each choice adds, an array a kind; what is added once; and what
    each point of the least known die adds besides."""

    each: tuple[Floats, ...]
    once: float
    hardest: float


class Bounded(NamedTuple):
    """A box with its bound: by line `best` of `lines`, with the prices on it `relaxed`, of the choices `kept`."""

    box: Box
    most: float
    lines: tuple[Line, Line]
    best: int
    relaxed: Relaxed
    kept: tuple[NDArray[np.int64], ...]


class Boxes:
    """The boxes of a question, and what bounds the scores in them."""

    def __init__(self, pools: Pools, whole: Floats, glyph_price: float) -> None:
        self._pools, self._whole = pools, whole
        self._known: dict[tuple[type[Goal], float, Box], Bounded | None] = {}
        self._glyphs = glyph_price * self._needed() if glyph_price else 0.0

    def _needed(self) -> int:
        """How many glyphs stand on every set: those without which no set adds up to the whole."""
        import numpy as np

        glyphs, pools = self._pools.fixed.glyphs, self._pools.each
        for bit in range(len(GLYPHS)):
            without = [np.flatnonzero(pool.glyphs & 1 << bit == 0) for pool in pools]
            kinds = self._kinds(
                [pool.digits[places] for pool, places in zip(pools, without, strict=True)], None
            )
            bound = relaxed([np.zeros(len(places)) for places in without], kinds, self._whole, ())
            if bound is None or bound.most < -1:
                glyphs |= 1 << bit
        return glyphs.bit_count()

    def first(self) -> Iterator[Box]:
        """The boxes that hold all sets."""
        import numpy as np

        pools = self._pools
        known = Ends(0.0, float(np.min(pools.fixed.known, initial=100.0)))
        ends = []
        for column in (1, 3):
            sums = [
                sum(
                    size * float(worst(-pool.adds[:, column]))
                    for pool, size in zip(pools.each, pools.sizes, strict=True)
                )
                for worst in (np.min, np.max)
            ]
            ends.append(self._tightened(column, Ends(*sums)))
        for different in self._differences():
            yield Box(different, known, *ends)

    def _differences(self) -> Iterator[tuple[int, ...] | None]:
        from itertools import product
        from math import prod

        if not self._pools.apart or prod(self._pools.sizes) > MOST_DIFFERENCES:
            yield None
        else:
            yield from product(*(range(1, size + 1) for size in self._pools.sizes))

    def _tightened(self, column: int, ends: Ends) -> Ends:
        kinds = self._kinds([pool.digits for pool in self._pools.each], None)
        low, high = (
            relaxed([sign * pool.adds[:, column] for pool in self._pools.each], kinds, self._whole, ())
            for sign in (1, -1)
        )
        if low is None or high is None:
            return ends
        return Ends(max(ends.low, -low.most), max(ends.low, -low.most, min(ends.high, high.most)))

    def _kinds(self, digits: Sequence[Floats], different: tuple[int, ...] | None) -> list[Kind]:
        sizes = self._pools.sizes
        return [
            Kind(one, size, None if different is None else different[number])
            for number, (one, size) in enumerate(zip(digits, sizes, strict=True))
        ]

    def dear(self, box: Box) -> float:
        """What the glyphs and the dice that differ cost at least, with the dice that are fixed."""
        pools = self._pools
        differing = (len(pools.sizes) if pools.apart else 1) if box.different is None else sum(box.different)
        return self._glyphs + pools.price * differing - float(pools.fixed.adds[3])

    def bounded(self, goal: Goal, box: Box) -> Bounded | None:
        """The box with its bound; None where no set lies in it."""
        key = (type(goal), goal.least_cost, box)
        if key not in self._known:
            self._known[key] = self._bounded(goal, box)
        return self._known[key]

    def _bounded(self, goal: Goal, box: Box) -> Bounded | None:
        import numpy as np

        kept = tuple(np.flatnonzero(pool.known >= box.known.low - TINY) for pool in self._pools.each)
        pools = [pool.some(which) for pool, which in zip(self._pools.each, kept, strict=True)]
        kinds = self._kinds([pool.digits for pool in pools], box.different)
        limits = [
            Limited(tuple(-pool.adds[:, column] for pool in pools), *ends)
            for column, ends in ((1, box.characters), (3, box.cost))
        ]
        lines = self._lines(goal, box, pools)
        found = []
        for number, line in enumerate(lines):
            bound = relaxed(line.each, kinds, self._whole, limits)
            if bound is None:
                return None
            found.append((bound.most + line.once + line.hardest * box.known.high, number, bound))
            if not lines[1].hardest:  # then both lines are the same
                break
        most, best, bound = min(found, key=lambda one: one[:2])
        return Bounded(box, most, lines, best, bound, kept)

    def _lines(self, goal: Goal, box: Box, pools: Sequence[Pool]) -> tuple[Line, Line]:
        """The score bounded by a sum: the hardest die counted as the mean of all, and counted by itself."""
        fixed, dice = self._pools.fixed, self._pools.dice
        slope, at_none = _chord(self._legible, self._characters(box))
        rises, at_nothing = _chord(goal.economy, self._costs(goal, box))
        once = (
            goal.legible * (at_none + float(fixed.adds[0]))
            + at_nothing
            + goal.familiar * float(fixed.adds[2])
        )
        once += goal.legible * slope * -float(fixed.adds[1]) + rises * self.dear(box)
        hardest = goal.familiar * self._pools.hard
        each = [
            goal.legible * (pool.adds[:, 0] - slope * pool.adds[:, 1])
            + goal.familiar * pool.adds[:, 2]
            - rises * pool.adds[:, 3]
            for pool in pools
        ]
        mean = [one + hardest / dice * pool.known for one, pool in zip(each, pools, strict=True)]
        return (
            Line(tuple(mean), once + hardest / dice * float(fixed.known.sum()), 0.0),
            Line(tuple(each), once, hardest),
        )

    def _legible(self, characters: float) -> float:
        return self._pools.long * self._pools.faces / characters

    def _characters(self, box: Box) -> Ends:
        """Those of all dice, with the fixed ones."""
        fixed = float(self._pools.fixed.adds[1])
        return Ends(box.characters.low - fixed, box.characters.high - fixed)

    def _costs(self, goal: Goal, box: Box) -> Ends:
        """Of whole sets."""
        low, high = (end + self.dear(box) for end in box.cost)
        return Ends(max(low, goal.least_cost), max(low, high, goal.least_cost))

    def split(self, goal: Goal, box: Box) -> list[Box]:
        """The box in two halves, across what loosens its bound most; none where that betters little."""
        loose = {
            "known": goal.familiar * self._pools.hard * (box.known.high - box.known.low),
            "characters": goal.legible * _sag(self._legible, self._characters(box)),
            "cost": _sag(goal.economy, self._costs(goal, box)),
        }
        across = max(loose, key=lambda name: loose[name])
        if loose[across] < CLOSE:
            return []
        return [box._replace(**{across: half}) for half in getattr(box, across).halves()]


TINY = 1e-9
"""More than floats lose in a total of shares."""

MOST_DIFFERENCES = 200
"""Boxes at most by how many dice differ."""


def _chord(of: Callable[[float], float], ends: Ends) -> tuple[float, float]:
    """Slope and value at 0 of the chord of a function."""
    low, high = ends
    if high - low < TINY:
        return 0.0, of(low)
    slope = (of(high) - of(low)) / (high - low)
    return slope, of(low) - slope * low


def _sag(of: Callable[[float], float], ends: Ends) -> float:
    """How far a chord lies above the middle of a function."""
    low, high = ends
    return (of(low) + of(high)) / 2 - of((low + high) / 2)
