"""Walking through the ways to combine dice, leaving out every branch that cannot score high enough."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple, Protocol

from facewright.constraints.design import NumberingDesign
from facewright.search.engines.splitting.split import Split
from facewright.search.report.scores import Settings
from facewright.search.selecting.bounds import Adds, Marked, Marker
from facewright.search.selecting.reach import Reach, joined, marks_of, nothing, with_block
from facewright.search.stop import Stop, Stopped

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


class Goal(Protocol):
    """What is to be as great as possible."""

    def value(self, scores: dict[str, int | float]) -> int:
        """What a design scores."""

    def most(self, legible: Floats, familiar: Floats, cost: Floats) -> Floats:
        """The most that sets can score whose scores are at most, whose cost is at least, so much."""


class Pool(NamedTuple):
    """The choices of one kind of die, those first that players know least: vectors, what they add, shares, glyphs."""

    keys: NDArray[np.int64]
    adds: Floats
    shares: Floats
    glyphs: NDArray[np.int64]

    def some(self, which: NDArray[np.bool_]) -> Pool:
        """Those that are marked."""
        return Pool(self.keys[which], self.adds[which], self.shares[which], self.glyphs[which])


class Held(NamedTuple):
    """Dice chosen so far: their places in each pool, what they add, their least shares, their glyphs as bits."""

    places: tuple[tuple[int, ...], ...]
    adds: Floats
    least: Floats
    glyphs: int


class Walk:
    """The designs of a split question; `all_at_least` finds those that score so much."""

    def __init__(self, split: Split, settings: Settings, stop: Stop) -> None:
        import numpy as np

        dice = split.question.dice
        self._split, self._settings, self._stop = split, settings, stop
        self._faces = sum(die.faces for die in dice)
        self._marker = Marker(settings, len(dice), self._faces)
        self._hard = settings.shape.hardest_die
        self._sizes = tuple(len(kind.positions) for kind in split.kinds)
        solids = {kind.die.solid for kind in split.kinds}
        # dice of two kinds on one solid may be equal: then what differs cannot be counted kind by kind
        self._apart = len(solids) == len(split.kinds)
        self._price = settings.cost.different_die if self._apart else 0.0
        self._bits = np.array([bin(bits).count("1") for bits in range(1 << 11)])
        self._pools = [self._pool(number) for number in range(len(split.kinds))]
        fixed = [
            self._marker.of(die.solid, die.copies, tuple(sorted(die.exactly))) for die in dice if die.exactly
        ]
        adds = np.array([one.adds for one in fixed]).reshape(-1, len(Adds._fields)).sum(axis=0)
        least = np.min([np.full(5, np.inf), *(np.array(one.shares) for one in fixed)], axis=0)
        glyphs = 0
        for one in fixed:
            glyphs |= one.glyphs
        self._start = Held(((),) * len(self._sizes), adds, least, glyphs)

    def _pool(self, number: int) -> Pool:
        import numpy as np

        kind, chosen = self._split.kinds[number], self._split.choices[number]
        marked: list[tuple[int, Marked]] = []
        for packed, choice in chosen.items():
            if reason := self._stop():
                raise Stopped(reason)
            labels = tuple(kind.labels(*choice))
            marked.append((packed, self._marker.of(kind.die.solid, kind.die.copies, labels)))
        marked.sort(key=lambda one: (one[1].adds.mean, one[0]))
        return Pool(
            np.array([packed for packed, _ in marked], np.int64),
            np.array([one.adds for _, one in marked], float).reshape(-1, len(Adds._fields)),
            np.array([one.shares for _, one in marked], float).reshape(-1, 5),
            np.array([one.glyphs for _, one in marked], np.int64),
        )

    def ceiling(self, goal: Goal) -> int:
        """No design scores more than this, whatever the combination; each kind must have a choice."""
        adds = self._start.adds + self._best_of_others(self._pools, None)
        return int(self._bound(goal, adds[None], self._start.least[None], None, None)[0])

    def all_at_least(self, goal: Goal, score: int) -> Iterator[tuple[int, NumberingDesign]]:
        """Every design that scores so much, with its score, each once.

        Raises:
            Stopped: the stop asked for it.
        """
        pools = self._promising(self._pools, goal, score)
        if pools is None:
            return
        reached = _Reached(self._split, pools, self._price, self._stop)
        slots = [number for number, size in enumerate(self._sizes) for _ in range(size)]
        places = [{int(key): place for place, key in enumerate(pool.keys)} for pool in pools]
        yield from self._from(
            goal, score, pools, reached, slots, places, self._split.lattice.top, self._start
        )

    def _promising(self, pools: list[Pool], goal: Goal, score: int) -> list[Pool] | None:
        """The choices that some design with such a score might hold; None where a kind has none left."""
        import numpy as np

        while all(len(pool.keys) for pool in pools):
            left = []
            for number, pool in enumerate(pools):
                adds = self._start.adds + pool.adds + self._best_of_others(pools, number)
                least = np.minimum(self._start.least, pool.shares)
                left.append(pool.some(self._bound(goal, adds, least, pool.glyphs, None) >= score))
            if all(len(one.keys) == len(other.keys) for one, other in zip(left, pools, strict=True)):
                return self._completable(left, goal, score)
            pools = left
        return None

    def _completable(self, pools: list[Pool], goal: Goal, score: int) -> list[Pool] | None:
        """Of the choices, those that the other dice can complete to a design that might score so much."""
        import numpy as np

        reached = _Reached(self._split, pools, self._price, self._stop)
        left = []
        for number, pool in enumerate(pools):
            sizes = tuple(size - (place == number) for place, size in enumerate(self._sizes))
            rest, there = _rest(self._split, reached.by(sizes), self._split.lattice.top, pool.keys)
            adds = self._start.adds + pool.adds + rest
            adds[:, 3] += self._price  # the die itself, which one of the others may equal
            least = np.minimum(self._start.least, pool.shares)
            left.append(pool.some(there & (self._bound(goal, adds, least, pool.glyphs, None) >= score)))
        return left if all(len(pool.keys) for pool in left) else None

    def _best_of_others(self, pools: list[Pool], without: int | None) -> Floats:
        import numpy as np

        most = np.zeros(len(Adds._fields))
        for number, (pool, size) in enumerate(zip(pools, self._sizes, strict=True)):
            most += (size - (number == without)) * pool.adds.max(axis=0)
        return most

    def _bound(
        self,
        goal: Goal,
        adds: Floats,
        least: Floats,
        glyphs: NDArray[np.int64] | None,
        different: NDArray[np.int64] | None,
    ) -> Floats:
        """The most that sets can score that add so much, with these least shares, glyphs and dice that differ."""
        import numpy as np

        points = self._settings.cost
        legible = self._marker.long * self._faces / -adds[:, 1] + adds[:, 0]
        hardest = np.minimum(least.sum(axis=1), 100.0)
        familiar = adds[:, 2] + self._hard * hardest
        drawn = 0 if glyphs is None else self._bits[glyphs]
        cost = (
            -adds[:, 3]
            + points.glyph * drawn
            + points.different_die * (1 if different is None else different)
        )
        return goal.most(legible, familiar, cost)

    def _from(
        self,
        goal: Goal,
        score: int,
        pools: list[Pool],
        reached: _Reached,
        slots: Sequence[int],
        places: list[dict[int, int]],
        left: int,
        held: Held,
    ) -> Iterator[tuple[int, NumberingDesign]]:
        import numpy as np

        if reason := self._stop():
            raise Stopped(reason)
        if not slots:
            if left == 0:
                yield from self._scored(goal, score, pools, held)
            return
        number, *later = slots
        pool, mine = pools[number], held.places[number]
        first = mine[-1] if mine else 0
        if not later:
            place = places[number].get(left)
            if place is not None and place >= first:
                yield from self._scored(goal, score, pools, _with(held, pools, number, place))
            return
        sizes = tuple(later.count(kind) for kind in range(len(self._sizes)))
        part = slice(first, None)
        rest, there = _rest(self._split, reached.by(sizes), left, pool.keys[part])
        adds = held.adds + pool.adds[part] + rest
        least = np.minimum(held.least, pool.shares[part])
        adds[:, 3] += self._price  # the first of the dice left may equal this one
        distinct = [len(set(one)) for one in held.places]
        distinct[number] += 1
        different = np.full(len(there), sum(distinct) if self._apart else max(distinct))
        if mine and self._apart:
            different[0] -= 1  # the same die once more
        elif mine:
            different[:1] = max(1, *(len(set(one)) for one in held.places))
        glyphs = held.glyphs | pool.glyphs[part]
        able = there & (self._bound(goal, adds, least, glyphs, different) >= score)
        for place in np.flatnonzero(able).tolist():
            following = _with(held, pools, number, first + place)
            yield from self._from(
                goal, score, pools, reached, later, places, left - int(pool.keys[first + place]), following
            )

    def _scored(
        self, goal: Goal, score: int, pools: list[Pool], held: Held
    ) -> Iterator[tuple[int, NumberingDesign]]:
        from facewright.search.rank import score as scores_for

        dice = self._split.question.dice
        labels: list[Sequence[int]] = [die.exactly or () for die in dice]
        for number, kind in enumerate(self._split.kinds):
            for position, place in zip(kind.positions, held.places[number], strict=True):
                choice = self._split.choices[number][int(pools[number].keys[place])]
                labels[position] = kind.labels(*choice)
        design = NumberingDesign.of(dice, labels)
        reached = goal.value(scores_for(design, [die.copies for die in dice], self._settings).scores)
        if reached >= score:
            yield reached, design


class _Reached:
    """What dice of each kind add at most for each sum of their vectors, worked out when asked for.

    Dice are taken in blocks of equal ones, and each block costs the price of a die that differs: so no set comes out
    dearer than it is.
    """

    def __init__(self, split: Split, pools: list[Pool], price: float, stop: Stop) -> None:
        self._lattice, self._pools, self._price, self._stop = split.lattice, pools, price, stop
        self._known: dict[tuple[int, ...], Reach] = {}
        self._blocks: dict[tuple[int, int], Reach] = {}

    def by(self, sizes: tuple[int, ...]) -> Reach:
        """With so many dice of each kind."""
        if sizes not in self._known:
            number = max((n for n, size in enumerate(sizes) if size), default=None)
            if number is None:
                self._known[sizes] = nothing(len(Adds._fields))
            else:
                parts = []
                for times in range(1, sizes[number] + 1):
                    fewer = tuple(size - times * (n == number) for n, size in enumerate(sizes))
                    block = self._block(number, times)
                    parts.append(with_block(self._lattice, self.by(fewer), block, self._stop))
                self._known[sizes] = joined(parts)
        return self._known[sizes]

    def _block(self, number: int, times: int) -> Reach:
        """So many equal dice of a kind."""
        import numpy as np

        if (number, times) not in self._blocks:
            pool = self._pools[number]
            grown = [self._lattice.times(times, int(key)) for key in pool.keys]
            fits = np.array([key is not None for key in grown], bool)
            adds = times * pool.adds[fits]
            adds[:, 3] -= self._price
            keys = np.array([key for key in grown if key is not None], np.int64)
            self._blocks[number, times] = Reach(keys, adds)
        return self._blocks[number, times]


def _rest(
    split: Split, reach: Reach, whole: int, keys: NDArray[np.int64]
) -> tuple[Floats, NDArray[np.bool_]]:
    """What the dice left add at most beside each of these vectors, and whether they can complete it to the whole."""
    import numpy as np

    lattice = split.lattice
    left = whole - keys
    places, there = reach.at(left)
    fits = (left >= 0) & there
    fits &= marks_of(lattice, keys) + marks_of(lattice, np.maximum(left, 0)) == lattice.carry_mark(whole)
    if not len(reach.keys):
        return np.zeros((len(keys), reach.most.shape[1])), fits
    return reach.most[places], fits


def _with(held: Held, pools: list[Pool], number: int, place: int) -> Held:
    import numpy as np

    pool = pools[number]
    return Held(
        tuple((*one, place) if n == number else one for n, one in enumerate(held.places)),
        held.adds + pool.adds[place],
        np.minimum(held.least, pool.shares[place]),
        held.glyphs | int(pool.glyphs[place]),
    )
