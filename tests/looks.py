"""Dice without bias, rolled and looked at again and again: how often two tests raise an alarm."""

from __future__ import annotations

from math import log

import numpy as np
from facewright.search.rolls.evidence import Evidence
from scipy.stats import chi2


def looked_at(faces: int, runs: int, rolls: int, every: int, seed: int) -> tuple[float, float]:
    """The shares of logs in which the e-value ever reached 20, and in which chi-square, looked at every so many rolls,
    ever passed its limit of 5 %."""
    draws = np.random.default_rng(seed)
    limit = chi2.isf(0.05, faces - 1)
    alarms = peeked = 0
    looks = np.arange(every, rolls + 1, every)
    for _ in range(runs):
        rolled = draws.integers(0, faces, rolls)
        found = Evidence([1] * faces)
        found.add(rolled, np.ones(rolls, dtype=np.int64))
        alarms += found.log_highest >= log(20)
        shown = np.cumsum(rolled[:, None] == np.arange(faces), axis=0)[looks - 1]
        expected = looks[:, None] / faces
        peeked += bool((((shown - expected) ** 2 / expected).sum(axis=1) >= limit).any())
    return alarms / runs, peeked / runs
