"""Pearson's chi-square: how far counts are from what was expected, and how often chance alone goes so far.

Source: K. Pearson, "On the criterion …", Philosophical Magazine 50 (1900) 157–175 (from memory). The chi-square
distribution gives p where at least `LEAST` are expected in every cell; else p is exact, by summing the multinomial
chances of all less extreme counts, or simulated where that would take too long.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from math import lcm
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

LEAST = 5
"""Rolls expected in a cell at least, for the chi-square distribution to be used: common practice, and cautious."""

EXACT_STEPS = 200_000_000
"""Additions that an exact p may take: about a second."""

SIMULATED, FEWEST = 19_999, 999
"""Simulated counts for one p, and the fewest where there are very many cells."""

SIMULATED_CELLS = 3_000_000
"""Cells to simulate at most."""

DISTRIBUTION, EXACT, BY_SIMULATION = "chi-square distribution", "exact", "simulated"
"""Where a p comes from."""


@dataclass(frozen=True)
class ChiSquare:
    """The statistic, its degrees of freedom, p, and where p comes from."""

    statistic: float
    degrees: int
    p: float
    p_is: str


def pearson(counts: Sequence[int], expected: Sequence[Fraction | int]) -> Fraction:
    """The sum of (count − expected)² / expected, exact.

    Example:
        >>> pearson([3, 1], [2, 2])
        Fraction(1, 1)
    """
    return sum(
        (Fraction(c - e) ** 2 / Fraction(e) for c, e in zip(counts, expected, strict=True)), Fraction(0)
    )


def chi_square(counts: Sequence[int], ways: Sequence[int], seed: int = 0) -> ChiSquare:
    """Counts against the chances that these ways stand for.

    Params:
        counts: rolls in each cell; at least one roll, at least two cells.
        ways: the exact ways of each cell, positive.
        seed: of the simulation, where there is one.
    """
    from scipy.stats import chi2

    rolls, outcomes = sum(counts), sum(ways)
    statistic = float(pearson(counts, [Fraction(rolls * way, outcomes) for way in ways]))
    degrees = len(counts) - 1
    if rolls * min(ways) >= LEAST * outcomes:
        return ChiSquare(statistic, degrees, float(chi2.sf(statistic, degrees)), DISTRIBUTION)
    exact = _exact(counts, ways)
    if exact is not None:
        return ChiSquare(statistic, degrees, exact, EXACT)
    return ChiSquare(statistic, degrees, _simulated(counts, ways, seed), BY_SIMULATION)


def _exact(counts: Sequence[int], ways: Sequence[int]) -> float | None:
    """The chance of counts at least as far off, or None where it would take too long.

    In whole numbers the statistic is, up to a constant and a factor, Σ count² · (L / way), L a common multiple of
    the ways. Cell by cell a table keeps the chance of so many rolls with such a sum, for sums below the one found.
    """
    import numpy as np
    from scipy.stats import poisson

    common = reduce(lcm, ways)
    rolls, outcomes = sum(counts), sum(ways)
    found = sum(count * count * (common // way) for count, way in zip(counts, ways, strict=True))
    if len(ways) * rolls * rolls * found > EXACT_STEPS:
        return None
    table = np.zeros((rolls + 1, found))
    table[0, 0] = 1.0
    for way in ways:
        step, chances = common // way, poisson.pmf(np.arange(rolls + 1), rolls * way / outcomes)
        after = np.zeros_like(table)
        for count in range(rolls + 1):
            moved = count * count * step
            if moved >= found:
                break
            after[count:, moved:] += table[: rolls + 1 - count, : found - moved] * chances[count]
        table = after
    # independent Poisson counts given their sum are multinomial
    less = float(table[rolls].sum() / poisson.pmf(rolls, rolls))
    return min(1.0, max(0.0, 1.0 - less))


def _simulated(counts: Sequence[int], ways: Sequence[int], seed: int) -> float:
    """The share of simulated counts at least as far off, the found ones counted among them."""
    import numpy as np

    chances = np.array(ways, dtype=float) / sum(ways)
    rolls = sum(counts)
    expected = rolls * chances
    many = max(FEWEST, min(SIMULATED, SIMULATED_CELLS // len(ways)))
    found = _statistics(np.array([counts]), expected)[0]
    drawn = np.random.default_rng(seed).multinomial(rolls, chances, size=many)
    # equal statistics, summed in another order, must count as equal
    as_far = int((_statistics(drawn, expected) >= found * (1 - 1e-9)).sum())
    return (as_far + 1) / (many + 1)


def _statistics(counts: NDArray[np.int64], expected: NDArray[np.float64]) -> NDArray[np.float64]:
    found: NDArray[np.float64] = ((counts - expected) ** 2 / expected).sum(axis=1)
    return found


def alike(table: Sequence[Sequence[int]], seed: int = 0) -> ChiSquare | None:
    """Whether the rows of a table of counts (cavities, batches, dice) could come from the same die.

    Rows and columns without counts are left out; None where fewer than two rows or columns remain. With small
    expected counts p is simulated over tables with the same sums of rows and columns.
    """
    import numpy as np
    from scipy.stats import chi2, random_table

    counts = np.array(table, dtype=np.int64)
    counts = counts[counts.sum(axis=1) > 0][:, counts.sum(axis=0) > 0]
    if min(counts.shape) < 2:
        return None
    rows, columns = counts.sum(axis=1), counts.sum(axis=0)
    expected = np.outer(rows, columns) / counts.sum()
    statistic = float(((counts - expected) ** 2 / expected).sum())
    degrees = (counts.shape[0] - 1) * (counts.shape[1] - 1)
    if expected.min() >= LEAST:
        return ChiSquare(statistic, degrees, float(chi2.sf(statistic, degrees)), DISTRIBUTION)
    many = max(FEWEST, min(SIMULATED, SIMULATED_CELLS // counts.size))
    drawn = random_table(rows, columns, seed=np.random.default_rng(seed)).rvs(many)
    found = ((drawn - expected) ** 2 / expected).sum(axis=(1, 2))
    p = (int((found >= statistic * (1 - 1e-9)).sum()) + 1) / (many + 1)
    return ChiSquare(statistic, degrees, p, BY_SIMULATION)
