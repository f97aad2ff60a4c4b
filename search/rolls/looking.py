"""How many rolls the test that may be looked at after every roll takes, by simulation."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, log
from typing import TYPE_CHECKING

from facewright.search.rolls.evidence import CONCENTRATIONS, log_e_values

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

RUNS, STEPS = 400, 160
"""Simulated rolls of a biased die, and how often each is looked at: seldom enough to be quick, often enough that the
number of rolls is at most a fortieth too large."""

SUMS = 40_000_000
"""Logarithms of gamma functions that one simulation may take: about two seconds."""

REACH = 4.0
"""How far it is simulated, in the number of rolls fixed beforehand for the same certainty."""


@dataclass(frozen=True)
class Looked:
    """Rolls after which a bias is found, in half of all cases and with the wanted certainty; None: farther off."""

    half: int | None
    wanted: int | None


def rolls_looked(
    ways: Sequence[int],
    moves: Sequence[float],
    share: float,
    level: float,
    wanted: float,
    fixed: int,
    seed: int,
) -> Looked | None:
    """Simulates a die with a face off by `share`, looked at until the e-value reaches 1/level.

    Params:
        ways: the exact ways of each cell.
        moves: how each cell's chance moves per unit of the share.
        share: the bias, as a share of the face's own chance.
        level, wanted: the level and the certainty.
        fixed: the rolls that the chi-square test takes, as a scale.
        seed: of the simulation.
    Returns: None where there are too many cells to simulate, or the bias leaves a cell no chance.
    """
    import numpy as np

    chances = np.array(ways, dtype=float) / sum(ways) + share * np.array(moves)
    runs = min(RUNS, SUMS // (len(ways) * STEPS * len(CONCENTRATIONS)))
    if runs < RUNS // 4 or chances.min() < 0:
        return None
    step = max(1, ceil(REACH * fixed / STEPS))
    draws = np.random.default_rng(seed)
    counts: NDArray[np.int64] = np.zeros((runs, len(ways)), dtype=np.int64)
    stopped = np.full(runs, np.inf)
    for number in range(1, STEPS + 1):
        waiting = np.flatnonzero(np.isinf(stopped))
        if len(waiting) < (1 - wanted) * runs:
            break
        counts[waiting] += draws.multinomial(step, chances / chances.sum(), size=len(waiting))
        passed = log_e_values(counts[waiting], ways) >= log(1 / level)
        stopped[waiting[passed]] = number * step
    half, most = np.quantile(stopped, (0.5, wanted), method="higher")
    return Looked(*(None if np.isinf(one) else int(one) for one in (half, most)))
