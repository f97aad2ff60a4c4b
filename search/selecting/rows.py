"""Sets of dice begun, many at once, and how many of them there are."""

from __future__ import annotations

from math import comb
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Whole = NDArray[np.int64]


class Rows(NamedTuple):
    """Sets begun: the places chosen, shape (n, dice so far); what of the whole is left; the sums of the reduced values
    and of both lines; the least shares; the total of the least known die; how many of the current kind differ."""

    places: NDArray[np.int32]
    left: Whole
    reduced: Floats
    lines: Floats
    least: Floats
    known: Floats
    different: Whole

    def some(self, which: NDArray[np.bool_] | NDArray[np.int64] | slice) -> Rows:
        """Those that are marked."""
        return Rows(
            self.places[which],
            self.left[which],
            self.reduced[which],
            self.lines[which],
            self.least[which],
            self.known[which],
            self.different[which],
        )


def multisets(choices: int, dice: int, different: int | None) -> int:
    """How many sets of so many dice there are, at most so many of them different."""
    if different is None:
        return comb(choices + dice - 1, dice)
    return sum(comb(choices, one) * comb(dice - 1, one - 1) for one in range(1, min(dice, different) + 1))
