"""How much dice can add at most while their vectors add up to a given one: sums in a lattice, the greatest kept."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from facewright.search.engines.splitting.lattice import CHUNK, Lattice
from facewright.search.stop import Stop, Stopped

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MOST_SUMS = 2_000_000
"""Vectors kept at most: some 100 MB."""


class Reach(NamedTuple):
    """Packed vectors, ascending, shape (n,); and for each the most that dice with that sum add, shape (n, columns).

    Each column's greatest is taken by itself: no dice need reach all of them at once.
    """

    keys: NDArray[np.int64]
    most: NDArray[np.float64]

    def at(self, keys: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
        """Where these vectors stand, and which of them do."""
        import numpy as np

        if not len(self.keys):
            return np.zeros(len(keys), np.int64), np.zeros(len(keys), bool)
        places = np.minimum(np.searchsorted(self.keys, keys), len(self.keys) - 1)
        there: NDArray[np.bool_] = self.keys[places] == keys
        return places, there


def nothing(columns: int) -> Reach:
    """No dice: the vector 0, which adds nothing."""
    import numpy as np

    return Reach(np.zeros(1, np.int64), np.zeros((1, columns)))


def marks_of(lattice: Lattice, keys: NDArray[np.int64]) -> NDArray[np.int64]:
    """The carry marks of packed vectors."""
    import numpy as np

    packed: Any = keys
    marks: NDArray[np.int64] = np.zeros_like(keys) + lattice.carry_mark(packed)
    return marks


def with_block(lattice: Lattice, reach: Reach, one: Reach, stop: Stop) -> Reach:
    """What is reached with more dice, whose choices need not be sorted.

    Raises:
        Stopped: `stop` asked for it, or there is more than memory holds.
    """
    import numpy as np

    keys = np.empty(0, np.int64)
    most = np.empty((0, reach.most.shape[1]))
    marks, own = marks_of(lattice, reach.keys), marks_of(lattice, one.keys)
    rows = max(1, CHUNK // 4 // max(1, len(reach.keys)))
    for first in range(0, len(one.keys), rows):
        if reason := stop():
            raise Stopped(reason)
        part = slice(first, first + rows)
        whole = one.keys[part, None] + reach.keys
        fits = (whole < lattice.cells) & (marks_of(lattice, whole) == own[part, None] + marks)
        adds = (one.most[part, None, :] + reach.most)[fits]
        keys, most = _greatest(np.concatenate([keys, whole[fits]]), np.concatenate([most, adds]))
        if len(keys) > MOST_SUMS:
            raise Stopped("more ways to combine the dice came up than memory holds")
    return Reach(keys, most)


def _greatest(
    keys: NDArray[np.int64], values: NDArray[np.float64]
) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Each vector once, with the greatest value of each column."""
    import numpy as np

    if not len(keys):
        return keys, values
    order = np.argsort(keys, kind="stable")
    keys, values = keys[order], values[order]
    starts = np.flatnonzero(np.concatenate([[True], keys[1:] != keys[:-1]]))
    return keys[starts], np.maximum.reduceat(values, starts, axis=0)
