"""Going down through the sets of dice of a box, die by die, many at once, leaving out what cannot score high enough."""

from __future__ import annotations

from collections.abc import Iterator
from math import prod
from typing import TYPE_CHECKING

from facewright.search.engines.splitting.lattice import Lattice
from facewright.search.selecting.boxes import TINY, Bounded
from facewright.search.selecting.pools import Pool, Pools
from facewright.search.selecting.reach import Reach, marks_of, nothing, with_block
from facewright.search.selecting.relaxed import best_of
from facewright.search.selecting.rows import Rows, multisets
from facewright.search.stop import Stop, Stopped

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Whole = NDArray[np.int64]

ROWS = 400_000
"""Sets looked at together."""

SUMS = 3_000_000
"""Sums of dice worked out beforehand, one by one, at most."""


class Descent:
    """The sets of a box whose bound reaches a level."""

    def __init__(
        self,
        pools: Pools,
        lattice: Lattice,
        bounded: Bounded,
        level: float,
        stop: Stop,
        widest: int | None = None,
    ) -> None:
        import numpy as np

        self._all, self._lattice, self._bounded, self._level, self._stop = (
            pools,
            lattice,
            bounded,
            level,
            stop,
        )
        self._slots = [kind for kind, size in enumerate(pools.sizes) for _ in range(size)]
        caps = bounded.relaxed.caps
        base = bounded.lines[bounded.best]
        self._once = base.once + base.hardest * bounded.box.known.high
        self.kept: list[Whole] = []
        self.pools: list[Pool] = []
        self._reduced: list[Floats] = []
        self._lines: list[Floats] = []
        for number, (places, cap) in enumerate(zip(bounded.kept, caps, strict=True)):
            able = cap + self._once >= level
            if widest is not None and able.sum() > widest:
                able &= cap >= np.partition(cap, len(cap) - widest)[len(cap) - widest]
            self.kept.append(places[able])
            self.pools.append(pools.each[number].some(places[able]))
            self._reduced.append(bounded.relaxed.reduced[number][able])
            self._lines.append(np.stack([line.each[number][able] for line in bounded.lines], axis=1))
        different = bounded.box.different
        self._different = [None] * len(self.pools) if different is None else list(different)
        self.possible = all(
            len(one.keys) >= (d or 1) for one, d in zip(self.pools, self._different, strict=True)
        )

    def rows(self) -> float:
        """About how many sets will be begun before sums of the rest are known."""
        early = self._slots[: len(self._slots) - self._depth()]
        return float(
            prod(
                multisets(len(self.pools[kind].keys), early.count(kind), self._different[kind])
                for kind in set(early)
            )
        )

    def _depth(self) -> int:
        """For how many of the last dice all sums are worked out beforehand."""
        sums, depth = 1.0, 0
        for kind in reversed(self._slots[1:]):
            size = len(self.pools[kind].keys)
            if sums * size > SUMS or depth > len(self._slots) // 2:
                break
            sums, depth = min(sums * size / (1 if depth == 0 else 2), self._lattice.cells), depth + 1
        return depth

    def sets(self) -> Iterator[list[Whole]]:
        """Arrays of sets, the places of each kind's dice among all its choices, shape (n, dice of the kind).

        Raises:
            Stopped: the stop asked for it, or memory would not do.
        """
        import numpy as np

        if not self.possible:
            return
        self._reaches = self._sums()
        self._rest = self._best_rest()
        fixed = self._all.fixed
        first = Rows(
            np.zeros((1, 0), np.int32),
            np.array([self._lattice.top]),
            np.zeros(1),
            np.zeros((1, 2)),
            fixed.least[None],
            np.array([np.min(fixed.known, initial=np.inf)]),
            np.zeros(1, np.int64),
        )
        stack = [first]
        while stack:
            rows = stack.pop()
            done = rows.places.shape[1]
            if done == len(self._slots):
                yield self._by_kind(rows)
                continue
            if len(rows.left) > 1 and self._wide(rows, done) > ROWS:
                half = len(rows.left) // 2
                stack += [rows.some(slice(half, None)), rows.some(slice(half))]
                continue
            if reason := self._stop():
                raise Stopped(reason)
            further = self._further(rows, done)
            if len(further.left):
                stack.append(further)

    def _by_kind(self, rows: Rows) -> list[Whole]:
        sets, start = [], 0
        for kept, size in zip(self.kept, self._all.sizes, strict=True):
            sets.append(kept[rows.places[:, start : start + size]])
            start += size
        return sets

    def _sums(self) -> dict[int, Reach]:
        """For each position near the end, what the dice from there on can add up to, and what they add at most."""
        reaches = {len(self._slots): nothing(2)}
        for position in range(len(self._slots) - 1, len(self._slots) - 1 - self._depth(), -1):
            kind = self._slots[position]
            one = Reach(self.pools[kind].keys, self._lines[kind])
            reaches[position] = with_block(self._lattice, reaches[position + 1], one, self._stop)
        return reaches

    def _best_rest(self) -> list[dict[tuple[int, int], float]]:
        """For each position, by how many of the kind's dice are left and how many of them must be new: the most that
        the reduced values of these and of all later kinds add."""
        later, table = 0.0, []
        for number in reversed(range(len(self.pools))):
            size, different, reduced = self._all.sizes[number], self._different[number], self._reduced[number]
            best = {}
            for left in range(size + 1):
                for new in range(min(left, different or 0) + 1):
                    best[left, new] = later + best_of(reduced, left, new)
            table.append(best)
            later += best_of(reduced, size, different)
        return table[::-1]

    def _spans(self, rows: Rows, done: int) -> tuple[Whole, Whole]:
        """From where to where the next die may be chosen: dice of a kind stand in order."""
        import numpy as np

        kind = self._slots[done]
        size = len(self.pools[kind].keys)
        if self._begins(done):
            return np.zeros(len(rows.left), np.int64), np.full(len(rows.left), size)
        low = rows.places[:, -1].astype(np.int64)
        high = np.full(len(low), size)
        different = self._different[kind]
        if different is not None:
            left = self._slots[done:].count(kind)
            high = np.where(rows.different == different, low + 1, high)
            low = np.where(different - rows.different >= left, low + 1, low)
        return low, np.maximum(low, high)

    def _begins(self, done: int) -> bool:
        """Whether the next die is the first of its kind."""
        return done == 0 or self._slots[done - 1] != self._slots[done]

    def _wide(self, rows: Rows, done: int) -> int:
        low, high = self._spans(rows, done)
        return int((high - low).sum())

    def _further(self, rows: Rows, done: int) -> Rows:
        """The sets with one die more, those that can reach the level."""
        import numpy as np

        kind = self._slots[done]
        low, high = self._spans(rows, done)
        many = high - low
        parent = np.repeat(np.arange(len(many)), many)
        place = np.arange(len(parent)) - np.repeat(np.cumsum(many) - many, many) + low[parent]
        begins = self._begins(done)
        new = np.ones(len(place), bool) if begins else place != rows.places[parent, -1]
        different = np.where(begins, 0, rows.different[parent]) + new
        reduced = rows.reduced[parent] + self._reduced[kind][place]
        able = self._hopeful(kind, done, reduced, different)
        parent, place, different, reduced = parent[able], place[able], different[able], reduced[able]
        key = self.pools[kind].keys[place]
        left = rows.left[parent] - key
        whole = marks_of(self._lattice, rows.left)[parent]
        fits = (left >= 0) & (
            marks_of(self._lattice, key) + marks_of(self._lattice, np.maximum(left, 0)) == whole
        )
        lines = rows.lines[parent] + self._lines[kind][place]
        known = np.minimum(rows.known[parent], self.pools[kind].known[place])
        least = np.minimum(rows.least[parent], self.pools[kind].shares[place])
        reach = self._reaches.get(done + 1)
        most = np.zeros_like(lines)
        if reach is not None:
            places, there = reach.at(left)
            fits &= there
            most = reach.most[places] if len(reach.keys) else most
        bound = self._most(lines + most, least) if reach is not None else np.full(len(fits), np.inf)
        fits &= (bound >= self._level) & self._hard_enough(kind, known)
        further = Rows(
            np.concatenate([rows.places[parent], place[:, None].astype(np.int32)], axis=1),
            left,
            reduced,
            lines,
            least,
            known,
            different,
        )
        order = np.flatnonzero(fits)
        if reach is not None:
            order = order[np.argsort(-bound[order], kind="stable")]
        return further.some(order)

    def _hopeful(self, kind: int, done: int, reduced: Floats, different: Whole) -> NDArray[np.bool_]:
        """Which can reach the level by the reduced values."""
        import numpy as np

        left = self._slots[done + 1 :].count(kind)
        wanted = self._different[kind]
        rest = self._rest[kind]
        if wanted is None:
            best: Floats = np.full(len(reduced), rest[left, 0])
        else:
            lacking = np.minimum(np.arange(wanted + 1), left)
            best = np.array([rest[left, int(one)] for one in lacking])[np.maximum(wanted - different, 0)]
        hopeful: NDArray[np.bool_] = (
            reduced + best + self._bounded.relaxed.constant + self._once >= self._level
        )
        return hopeful

    def _most(self, lines: Floats, least: Floats) -> Floats:
        """The most that sets score which add so much on both lines, with these least shares."""
        import numpy as np

        mean, own = self._bounded.lines
        hardest = np.minimum(least.sum(axis=1), self._bounded.box.known.high)
        most: Floats = np.minimum(
            lines[:, 0] + mean.once + mean.hardest * hardest, lines[:, 1] + own.once + own.hardest * hardest
        )
        return most

    def _hard_enough(self, kind: int, known: Floats) -> NDArray[np.bool_]:
        """Which hold a die as little known as the box asks, or may still get one."""
        import numpy as np

        _low, high = self._bounded.box.known
        least = min((float(pool.known[0]) for pool in self.pools[kind + 1 :]), default=np.inf)
        enough: NDArray[np.bool_] = np.minimum(known, least) <= high + TINY
        return enough
