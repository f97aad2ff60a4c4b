"""Few designs: so many are sooner listed and scored one by one than bounded."""

from __future__ import annotations

from collections.abc import Sequence

from facewright.constraints.labels import Die

FEW = 5_000
"""So many designs are few: about a second's work, as bounds take whatever they are for (docs/benchmarks.md)."""

SHARE = 10
"""So are so many times as many as are wanted."""

MOST_SPARE = 1_000
"""Up to so many are held beside those that are listed, to be scored without being looked for again."""

MOST_PASSED = 100_000
"""So many are held where the engine passes through all of them in any case, and would take as long again."""

PASSING = ("sifting", "solver")
"""The engines that count no design without passing it."""


MOST_OF_TWO = 500_000
"""So many designs of two dice are few: no more than one die can be chosen in ways, which bounds go through too."""

PAIR = 2


def few(most: int, sets: Sequence[Sequence[Die]] = ()) -> int:
    """Up to so many designs are few where `most` are wanted, of these sets of dice (those that are fixed do not
    count)."""
    two = bool(sets) and all(sum(die.exactly is None for die in dice) <= PAIR for dice in sets)
    return max(FEW, MOST_OF_TWO if two else 0, SHARE * most)


def spare(most: int, engine: str) -> int:
    """So many designs of an engine are held, where `most` are wanted, until it is known whether they are all."""
    return MOST_PASSED if engine in PASSING else min(few(most), max(most, MOST_SPARE))
