"""The finding: annealing on label counts; the ways of the totals follow each move."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

if TYPE_CHECKING:
    from facewright.search.engines.nearest.problem import Problem, Whole

MOVES = 40_000
"""Moves of one cooling."""

IN_A_ROW = 16
"""Moves of one die before another has its turn: so long the ways of all the others stand."""


def cooled(given: Problem, seed: int) -> tuple[Whole, int] | None:
    """One cooling from random labels.

    Returns: the best counts met, shape (free dice, labels), and their deviation; None where some die cannot be filled.
    """
    best = np.zeros_like(given.most)
    cost = _cool(
        given.m,
        given.largest,
        given.wanted,
        given.most,
        given.faces,
        given.fixed,
        given.outside,
        seed,
        MOVES,
        best,
    )
    return None if cost < 0 else (best, int(cost))


@njit(cache=True)
def _cool(  # type: ignore[no-untyped-def]  # noqa: PLR0912, PLR0915 - one loop: the compiler wants it so
    m, largest, wanted, most, faces, fixed, outside, seed, moves, best
):
    np.random.seed(seed)
    dice, levels = most.shape
    counts = np.zeros((dice, levels), dtype=np.int64)
    for die in range(dice):
        if most[die].sum() < faces[die]:
            return -1
        for _ in range(faces[die]):
            while True:
                i = np.random.randint(levels)
                if counts[die, i] < most[die, i]:
                    counts[die, i] += 1
                    break
    totals = len(wanted)
    least = np.int64(-1)
    off = np.zeros(totals, dtype=np.int64)
    rest = np.zeros(totals, dtype=np.int64)
    heat = 0.35 * m * fixed.sum() * max(1.0, faces.max())
    cool = (0.02 * m / heat) ** (1.0 / max(1, moves // IN_A_ROW))
    for _ in range(moves // IN_A_ROW):
        heat *= cool
        die = np.random.randint(dice)
        # the ways of all other dice together, and the deviations
        rest[:] = 0
        rest[: len(fixed)] = fixed
        for other in range(dice):
            if other != die:
                grown = np.zeros(totals, dtype=np.int64)
                for i in range(levels):
                    if counts[other, i]:
                        for t in range(totals - i):
                            grown[t + i] += counts[other, i] * rest[t]
                rest[:] = grown
        last = totals - 1
        while last > 0 and rest[last] == 0:
            last -= 1
        for t in range(totals):
            off[t] = -wanted[t]
        for i in range(levels):
            if counts[die, i]:
                for t in range(min(last + 1, totals - i)):
                    off[t + i] += m * counts[die, i] * rest[t]
        now = outside
        for t in range(totals):
            now = max(now, abs(off[t])) if largest else now + abs(off[t])
        if least < 0 or now < least:
            least = now
            best[:] = counts
        for _move in range(IN_A_ROW):
            i = np.random.randint(levels)
            if counts[die, i] == 0:
                continue
            j = np.random.randint(levels)
            if np.random.random() < 0.7:
                j = i + (1 if np.random.random() < 0.5 else -1)
            if j < 0 or j >= levels or j == i or counts[die, j] >= most[die, j]:
                continue
            then = now
            if largest:
                then = outside
                for t in range(totals):
                    here = off[t]
                    if 0 <= t - i <= last:
                        here -= m * rest[t - i]
                    if 0 <= t - j <= last:
                        here += m * rest[t - j]
                    then = max(then, abs(here))
            else:
                for t in range(min(i, j), min(totals, max(i, j) + last + 1)):
                    here = off[t]
                    if 0 <= t - i <= last:
                        here -= m * rest[t - i]
                    if 0 <= t - j <= last:
                        here += m * rest[t - j]
                    then += abs(here) - abs(off[t])
            if then <= now or np.random.random() < np.exp((now - then) / heat):
                for t in range(last + 1):
                    if t + i < totals:
                        off[t + i] -= m * rest[t]
                    if t + j < totals:
                        off[t + j] += m * rest[t]
                counts[die, i] -= 1
                counts[die, j] += 1
                now = then
                if now < least:
                    least = now
                    best[:] = counts
    return least
