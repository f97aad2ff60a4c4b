"""A test that stays valid when one looks after every roll: an e-value, multiplied up roll by roll.

Before each roll a bet is laid on what comes next, from what came so far: the chance of cell i is taken to be (C·p_i +
n_i) / (C + n), with p_i the design's chance, n_i of n rolls so far in the cell, and C = c times the number of cells.
The e-value is the product of these chances over the design's own. While the die keeps the design's chances its mean
is 1 at any time, so that it ever reaches 1/level with a chance of at most the level, however often one looks (Ville's
inequality). Bets of several c are mixed in equal parts, since each finds biases of about 1/√c soonest: the mean of
e-values is one. The value at the end does not depend on the order of the rolls; the highest on the way means nothing
where that order is lost, in a table of counts or a sorted one.

Source: M. Lindon and A. Malek, "Anytime-valid inference for multinomial count data", NeurIPS 2022, arXiv 2011.03567
(abstract read); that 1/c should be about the square of the bias is a rule of thumb of our own simulations.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

CONCENTRATIONS = (4.0, 16.0, 64.0, 256.0, 1024.0)
"""Each c that is mixed: biases of about 50, 25, 12, 6 and 3 % of a cell's chance."""

MANY = 4
"""With so many rolls a cell that came up, rows in which equal cells all stand together are sorted."""

KEPT = 512
"""Points of a path that are kept, at most twice as many."""


class Evidence:
    """The e-value of one view, kept up to date roll by roll, with the highest that it reached.

    Params:
        ways: the exact ways of each cell, positive.
    """

    def __init__(self, ways: Sequence[int]) -> None:
        import numpy as np

        chances = np.array(ways, dtype=float) / sum(ways)
        self._log_chances = np.log(chances)
        self._whole = np.array(CONCENTRATIONS) * len(ways)
        self._alpha = self._whole[:, None] * chances
        self.counts = np.zeros(len(ways), dtype=np.int64)
        self.rolls = 0
        self._logs = np.zeros(len(CONCENTRATIONS))
        self.log_highest, self.highest_at = 0.0, 0
        self._path: list[tuple[int, float]] = [(0, 0.0)]
        self._stride, self._seen = 1, 0
        self._changes, self._last, self._summed = 0, -1, False

    @property
    def ordered(self) -> bool:
        """Whether the rows can stand in the order of rolling: one roll each, and not sorted by what they show."""
        known = int((self.counts > 0).sum())
        return not self._summed and (self.rolls < MANY * known or self._changes > known)

    @property
    def log_value(self) -> float:
        """The natural logarithm of the e-value now."""
        return float(_mixed(self._logs[:, None])[0])

    @property
    def path(self) -> list[tuple[int, float]]:
        """Some points (rolls, logarithm of the e-value) from the first roll to the last."""
        last = (self.rolls, self.log_value)
        return self._path if self._path[-1] == last else [*self._path, last]

    def add(self, cells: NDArray[np.int64], times: NDArray[np.int64]) -> None:
        """Takes up rows in their order: the cell of each and how many rolls it stands for, at least one."""
        import numpy as np

        if not len(cells):
            return
        before = _earlier(cells, times) + self.counts[cells]
        ends = self.rolls + np.cumsum(times)
        logs = self._logs[:, None] + np.cumsum(self._steps(cells, times, before, ends - times), axis=1)
        mixed = _mixed(logs)
        at = int(mixed.argmax())
        if mixed[at] > self.log_highest:
            self.log_highest, self.highest_at = float(mixed[at]), int(ends[at])
        self._keep(ends, mixed)
        self._summed |= int(times.max()) > 1
        self._changes += int((np.diff(cells, prepend=self._last) != 0).sum())
        self._last = int(cells[-1])
        self._logs = logs[:, -1]
        self.counts += np.bincount(cells, weights=times, minlength=len(self.counts)).astype(np.int64)
        self.rolls = int(ends[-1])

    def _steps(
        self,
        cells: NDArray[np.int64],
        times: NDArray[np.int64],
        before: NDArray[np.int64],
        rolled: NDArray[np.int64],
    ) -> NDArray[np.float64]:
        """The logarithm of the factor of each row, shape (concentrations, rows)."""
        import numpy as np

        own, whole = self._alpha[:, cells] + before, self._whole[:, None] + rolled
        if int(times.max()) == 1:
            bet: NDArray[np.float64] = np.log(own) - np.log(whole)
        else:
            from scipy.special import gammaln

            bet = gammaln(own + times) - gammaln(own) - gammaln(whole + times) + gammaln(whole)
        return bet - times * self._log_chances[cells]

    def _keep(self, ends: NDArray[np.int64], mixed: NDArray[np.float64]) -> None:
        """Keeps every so many-th row, twice as many apart whenever there are too many."""
        first = -self._seen % self._stride
        self._path += [
            (int(end), float(log))
            for end, log in zip(ends[first :: self._stride], mixed[first :: self._stride], strict=True)
        ]
        self._seen += len(ends)
        while len(self._path) > 2 * KEPT:
            self._path = self._path[::2]
            self._stride *= 2


def log_e_values(counts: NDArray[np.int64], ways: Sequence[int]) -> NDArray[np.float64]:
    """The logarithm of the e-value of each row of counts, shape (rows, cells), whatever the order of the rolls."""
    import numpy as np
    from scipy.special import gammaln

    chances = np.array(ways, dtype=float) / sum(ways)
    rolls = counts.sum(axis=1)
    plain = counts @ np.log(chances)
    logs = []
    for concentration in CONCENTRATIONS:
        whole = concentration * len(ways)
        alpha = whole * chances
        bets = (gammaln(alpha + counts) - gammaln(alpha)).sum(axis=1)
        logs.append(bets - gammaln(whole + rolls) + gammaln(whole) - plain)
    return _mixed(np.array(logs))


def _mixed(logs: NDArray[np.float64]) -> NDArray[np.float64]:
    """The logarithm of the mean over the first axis of numbers given by their logarithms."""
    import numpy as np

    top = logs.max(axis=0)
    mean: NDArray[np.float64] = top + np.log(np.exp(logs - top).mean(axis=0))
    return mean


def _earlier(cells: NDArray[np.int64], times: NDArray[np.int64]) -> NDArray[np.int64]:
    """For each row the rolls of earlier rows in the same cell."""
    import numpy as np

    order = np.argsort(cells, kind="stable")
    sums = np.cumsum(times[order]) - times[order]
    firsts = np.searchsorted(cells[order], cells[order], side="left")
    found = np.empty_like(sums)
    found[order] = sums - sums[firsts]
    return found
