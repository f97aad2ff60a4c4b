"""The cell that stands out most, judged for having been picked out of many; and what range each count may have.

Every cell alone is a binomial count, tested exactly on both sides. The least p of K cells times K (Bonferroni) bounds
the chance that any cell goes so far; that holds for any dependence between the cells and any number of rolls. It
loses little here: multinomial counts are almost independent, and for those K·p exceeds 1 − (1 − p)^K by less than
K·p²·K/2. Two cells are one count, tested once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


@dataclass(frozen=True)
class Largest:
    """The position of the cell that stands out most, and its p after correction."""

    place: int
    p: float


def largest(counts: Sequence[int], ways: Sequence[int]) -> Largest:
    """The cell whose count chance alone would explain least.

    Params:
        counts: rolls in each cell.
        ways: the exact ways of each cell.
    """
    import numpy as np
    from scipy.stats import binom

    observed, chances = np.array(counts), _chances(ways)
    rolls = int(observed.sum())
    below, above = binom.cdf(observed, rolls, chances), binom.sf(observed - 1, rolls, chances)
    sides = np.minimum(1.0, 2 * np.minimum(below, above))
    off = np.abs(observed - rolls * chances) / np.sqrt(rolls * chances * (1 - chances))
    # where p is too small for a float, how far off it is in standard deviations decides
    place = int(np.lexsort((-off, sides))[0])
    return Largest(place, min(1.0, float(sides[place]) * tries(len(ways))))


def tries(cells: int) -> int:
    """How many different counts there are among so many cells that sum up to the rolls."""
    return cells if cells > 2 else 1


def ranges(rolls: int, ways: Sequence[int], level: float) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """For each cell the least and the greatest count such that all lie within with a chance of at least 1 − level."""
    from scipy.stats import binom

    tail = level / tries(len(ways)) / 2
    low = binom.ppf(tail, rolls, _chances(ways)).astype("int64")
    high = binom.isf(tail, rolls, _chances(ways)).astype("int64")
    return low, high


def _chances(ways: Sequence[int]) -> NDArray[np.float64]:
    import numpy as np

    found: NDArray[np.float64] = np.array(ways, dtype=float) / sum(ways)
    return found
