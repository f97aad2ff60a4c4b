"""What there is to choose from: each way to label a die, with what it adds to the scores of its set."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from facewright.search.engines.splitting.split import Split
from facewright.search.report.scores import Settings
from facewright.search.selecting.bounds import Adds, Marked, Marker
from facewright.search.stop import Stop, Stopped

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Whole = NDArray[np.int64]
    Marks = NDArray[np.bool_]

SHARES = 5
"""The parts of `familiar`."""


class Pool(NamedTuple):
    """The choices of one kind of die, those first that players know least.

    Each has its packed vector, its digits (shape (n, factors)), what it adds, its shares of `familiar`, the total of
    these, and its glyphs as bits.
    """

    keys: Whole
    digits: Floats
    adds: Floats
    shares: Floats
    known: Floats
    glyphs: Whole

    def some(self, which: Marks | Whole) -> Pool:
        """Those that are marked, or at these places."""
        return Pool(
            self.keys[which],
            self.digits[which],
            self.adds[which],
            self.shares[which],
            self.known[which],
            self.glyphs[which],
        )


class Held(NamedTuple):
    """Dice that are fixed: what they add, their least shares, the total of each one's shares, their glyphs."""

    adds: Floats
    least: Floats
    known: Floats
    glyphs: int


class Pools(NamedTuple):
    """The choices of every kind of die, how many dice each kind has, the dice that are fixed, and faces in all.

    `price` is what each die costs that differs from all others; `hard` how much the hardest die counts; `long` the
    points of `legible` for one character a face; `apart` tells whether dice of two kinds always differ.
    """

    each: tuple[Pool, ...]
    sizes: tuple[int, ...]
    fixed: Held
    dice: int
    faces: int
    price: float
    hard: float
    long: float
    apart: bool


def pools_of(split: Split, settings: Settings, stop: Stop) -> Pools:
    """The choices of a split question.

    Raises:
        Stopped: the stop asked for it.
    """
    dice = split.question.dice
    faces = sum(die.faces for die in dice)
    marker = Marker(settings, len(dice), faces)
    solids = {kind.die.solid for kind in split.kinds}
    return Pools(
        tuple(_pool(split, marker, number, stop) for number in range(len(split.kinds))),
        tuple(len(kind.positions) for kind in split.kinds),
        _fixed(split, marker),
        len(dice),
        faces,
        settings.cost.different_die,
        settings.shape.hardest_die,
        marker.long,
        len(solids) == len(split.kinds),
    )


def _fixed(split: Split, marker: Marker) -> Held:
    import numpy as np

    dice = [die for die in split.question.dice if die.exactly]
    marked = [marker.of(die.solid, die.copies, tuple(sorted(die.exactly or ()))) for die in dice]
    shares = _rows([one.shares for one in marked], SHARES)
    glyphs = 0
    for one in marked:
        glyphs |= one.glyphs
    adds = _rows([one.adds for one in marked], len(Adds._fields)).sum(axis=0)
    return Held(adds, shares.min(axis=0, initial=np.inf), shares.sum(axis=1), glyphs)


def _pool(split: Split, marker: Marker, number: int, stop: Stop) -> Pool:
    import numpy as np

    kind, chosen = split.kinds[number], split.choices[number]
    marked: list[tuple[int, Marked, tuple[int, ...]]] = []
    for packed, (vector, offset) in chosen.items():
        if reason := stop():
            raise Stopped(reason)
        labels = tuple(kind.labels(vector, offset))
        marked.append((packed, marker.of(kind.die.solid, kind.die.copies, labels), (*vector, offset)))
    marked.sort(key=lambda one: (one[1].adds.mean, one[0]))
    shares = _rows([one.shares for _, one, _ in marked], SHARES)
    return Pool(
        np.array([packed for packed, _, _ in marked], np.int64),
        _rows([digits for _, _, digits in marked], len(split.lattice.top_vector)),
        _rows([one.adds for _, one, _ in marked], len(Adds._fields)),
        shares,
        shares.sum(axis=1),
        np.array([one.glyphs for _, one, _ in marked], np.int64),
    )


def _rows(rows: object, columns: int) -> Floats:
    import numpy as np

    array: Floats = np.array(rows, float).reshape(-1, columns)
    return array
