"""The loops of `layout_guards`, compiled when first used."""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit

Array = Any
"""An array of whole numbers or of floats; the compiler finds out which."""


@njit(cache=True)
def shift_now(pulls: Array) -> float:
    """Half the greatest sum of absolute values of a column of `pulls`, shape (results, directions)."""
    worst = 0.0
    for direction in range(pulls.shape[1]):
        total = 0.0
        for result in range(pulls.shape[0]):
            total += abs(pulls[result, direction])
        worst = max(worst, total)
    return worst / 2


@njit(cache=True)
def shift_after(pulls: Array, probed: Array, rolled: Array, labels: Array, a: int, b: int) -> float:
    """The same, if the labels of faces a and b were exchanged."""
    one, other = labels[a], labels[b]
    totals = np.zeros(pulls.shape[1])
    for result in range(pulls.shape[0]):
        more = rolled[result, one] - rolled[result, other]
        for direction in range(pulls.shape[1]):
            moved = more * (probed[b, direction] - probed[a, direction]) if more != 0 else 0.0
            totals[direction] += abs(pulls[result, direction] + moved)
    return float(totals.max()) / 2


@njit(cache=True)
def swap_labels(pulls: Array, probed: Array, rolled: Array, labels: Array, a: int, b: int) -> None:
    """Exchanges the labels of faces a and b, and brings `pulls` up to date."""
    one, other = labels[a], labels[b]
    for result in range(pulls.shape[0]):
        more = rolled[result, one] - rolled[result, other]
        if more != 0:
            for direction in range(pulls.shape[1]):
                pulls[result, direction] += more * (probed[b, direction] - probed[a, direction])
    labels[a], labels[b] = other, one
