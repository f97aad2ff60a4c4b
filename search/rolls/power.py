"""How many rolls show a bias, and which bias so many rolls show: the chi-square test before it is made.

The test's statistic under a bias has, nearly, a noncentral chi-square distribution with noncentrality N·w², w² the
sum of (chance − design's chance)² / design's chance. Source: J. Cohen, *Statistical Power Analysis for the Behavioral
Sciences* (1988), chapter 7 (from memory). For one face of F off by the share d, w² = d² / (F − 1).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, inf, sqrt

from facewright.search.rolls.views import Off, View

LARGEST = 1e12
"""Rolls past which nobody rolls."""


@dataclass(frozen=True)
class Hardest:
    """The face whose bias a view shows least: its name and w² for a face off by its whole chance (d = 1)."""

    name: str
    effect: float
    moves: tuple[float, ...]


def hardest(view: View) -> Hardest | None:
    """The bias of one face that is hardest to see in a view; None where nothing is known of it."""
    offs = list(view.offs())
    if not offs:
        return None
    name, moves = min(offs, key=lambda one: effect(one, view.ways))
    return Hardest(name, effect((name, moves), view.ways), moves)


def effect(off: Off, ways: Sequence[int]) -> float:
    """w² of a face off by its whole chance."""
    outcomes = sum(ways)
    return sum(move * move * outcomes / way for move, way in zip(off[1], ways, strict=True))


def certainty(rolls: int, effect: float, degrees: int, level: float) -> float:
    """The chance that the chi-square test at a level finds a bias with this w² in so many rolls."""
    from scipy.stats import chi2, ncx2

    limit = chi2.isf(level, degrees)
    return level if rolls * effect <= 0 else float(ncx2.sf(limit, degrees, rolls * effect))


def noncentrality(degrees: int, level: float, wanted: float) -> float:
    """The noncentrality at which the test at a level is passed with the wanted certainty.

    Raises: ValueError where the certainty wanted is not above the level.
    """
    from scipy.optimize import brentq
    from scipy.stats import chi2, ncx2

    if not level < wanted < 1:
        raise ValueError(
            f"certainty: found {wanted}; accepted: more than the level, {level}, and less than 1"
        )
    limit = chi2.isf(level, degrees)
    most = 16.0
    while ncx2.sf(limit, degrees, most) < wanted:
        most *= 2
    return float(brentq(lambda x: ncx2.sf(limit, degrees, x) - wanted, 1e-12, most, xtol=1e-9))


def rolls_needed(effect: float, degrees: int, level: float, wanted: float) -> int | None:
    """The fewest rolls, fixed beforehand, that show a bias with this w²; None where no number does.

    Example:
        >>> rolls_needed(0.2**2 / 5, 5, 0.05, 0.8)
        1604
    """
    if effect <= 0:
        return None
    rolls = noncentrality(degrees, level, wanted) / effect
    return ceil(rolls - 1e-6) if rolls < LARGEST else None


def seen_share(rolls: int, effect: float, degrees: int, level: float, wanted: float) -> float:
    """The share d by which a face must be off to be seen in so many rolls; `effect` is w² at d = 1."""
    if rolls * effect <= 0:
        return inf
    return sqrt(noncentrality(degrees, level, wanted) / (rolls * effect))
