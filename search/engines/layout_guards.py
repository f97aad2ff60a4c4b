"""The shift of a layout under a flaw, kept up to date from swap to swap."""

from __future__ import annotations

from typing import Any

import numpy as np
from facewright.search.engines.layout_guards_kernel import shift_after, shift_now, swap_labels
from numpy.typing import NDArray


class GuardSums:
    """What a flaw makes of a layout in fixed directions, where labels change places two at a time.

    A swap costs as many operations as results that it touches times directions: two results where the die is
    rolled alone.

    Args:
        probed: shape (faces, directions), from `flaw_probes.probes`.
        rolled: shape (results, labels), from `flaws.rolled`.
        labels: for each face the number of its label among the columns of `rolled`.
    """

    def __init__(self, probed: NDArray[np.float64], rolled: NDArray[np.float64], labels: Any) -> None:
        self.labels = np.array(labels, np.int64)
        self._probed = np.ascontiguousarray(probed)
        self._rolled = np.ascontiguousarray(rolled)
        self._pulls = np.ascontiguousarray(rolled[:, self.labels] @ probed)

    def shift(self) -> float:
        """The total variation distance per unit of flaw, in the worst of the directions."""
        return float(shift_now(self._pulls))

    def after(self, a: int, b: int) -> float:
        """The shift if the labels of two faces were exchanged."""
        return float(shift_after(self._pulls, self._probed, self._rolled, self.labels, a, b))

    def swap(self, a: int, b: int) -> None:
        """Exchanges the labels of two faces."""
        swap_labels(self._pulls, self._probed, self._rolled, self.labels, a, b)
