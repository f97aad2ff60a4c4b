"""Designs of several runs and batches side by side: the Pareto front first, the weights second.

Designs are read as a stream, once the least cost is known. What is held grows with the number of different values on
the front and with how many designs are wanted, not with how many there are.
"""

from __future__ import annotations

import heapq
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from facewright.constraints.errors import UsageError
from facewright.search.compared_sources import VALUES, Condition, Entry, Source, source_of

WEIGHTS = {"readability": 2, "cost": 1}
"""What counts how much, among designs that are on the front alike, or behind it alike."""

MOST_BOUNDS = 100_000
"""So many costs are held from which on scores are known to be bettered: they save comparisons and no more."""

CONDITION = re.compile(
    r"\s*(legible|familiar|readability|cost|distance)\s*(<=|>=|<|>|=)\s*(\d+(?:\.\d+)?(?:/\d+)?)\s*"
)


@dataclass(frozen=True)
class Compared:
    """A design of some run: `name` is the run and its id; `values` by criterion, `readability` besides."""

    name: str
    id: str
    dice: tuple[str, ...]
    values: dict[str, Any]
    front: bool = False
    overall: int = 0


def conditions(texts: Sequence[str]) -> tuple[Condition, ...]:
    """Conditions such as "legible >= 80"; raises UsageError with every one that is none."""
    found, wrong = [], []
    for text in texts:
        read = CONDITION.fullmatch(text)
        if read is None:
            wrong.append(repr(text))
        else:
            found.append((read[1], read[2], Fraction(read[3])))
    if wrong:
        raise UsageError(
            f'--keep: found {", ".join(wrong)}; accepted: a name and a bound, such as "legible >= 80" (legible, '
            "familiar, readability, cost or distance; <, <=, =, >= or >)"
        )
    return tuple(found)


def compared(names: Sequence[str], keep: Sequence[Condition], most: int) -> tuple[list[Compared], int, int]:
    """The best designs of runs and batches.

    Params:
        names: runs or batches, by name or folder.
        keep: conditions that every design must meet.
        most: how many are given.
    Returns: the best in order; how many are on the front; how many were compared.
    Raises: UsageError, RunError where there is no such run, or one without scores.
    """
    sources = [source_of(name) for name in names]
    costs = [source.cheapest(keep) for source in sources]
    cheapest = min((one for one in costs if one is not None), default=0.0)
    front, best, many = Front(most), _Best(most), 0
    for source in sources:
        for entry in source.entries(keep):
            many += 1
            overall = _overall(entry.values, cheapest)
            front.take(entry, overall, source)
            best.take(entry, overall, source)
    leading = front.designs()
    known = {entry.name for _, entry, _ in leading}
    ordered = [(*row, True) for row in leading]
    ordered += [(*row, False) for row in best.designs() if row[1].name not in known]
    return [_told(*row) for row in ordered[:most]], front.size, many


Row = tuple[int, Entry, Source]
"""A design with its overall score and where it comes from."""


class Front:
    """The designs that no other betters.

    Equal values stand together, with the first `most` of their designs by overall score and name: all are counted.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._groups: dict[tuple[Any, ...], list[Row]] = {}
        self._sizes: dict[tuple[Any, ...], int] = {}
        self._bounds: dict[tuple[Any, ...], tuple[float, bool]] = {}

    @property
    def size(self) -> int:
        """How many designs are on the front."""
        return sum(self._sizes.values())

    def take(self, entry: Entry, overall: int, source: Source) -> None:
        """Takes a design in unless another betters it; what it betters goes."""
        legible, familiar, _, cost, distance = entry.values
        alike = (legible, familiar, distance)
        # what costs more than a design alike is bettered, and so is what costs as much as one that is bettered
        if (bound := self._bounds.get(alike)) is not None and (cost, False) >= bound:
            return
        place = (-legible, -familiar, cost, distance)
        group = self._groups.get(place)
        if group is None:
            if len(self._bounds) == MOST_BOUNDS:
                self._bounds.clear()
            bettered = any(_no_worse(other, place) for other in self._groups)
            self._bounds[alike] = (cost, not bettered)
            if bettered:
                return
            for other in [one for one in self._groups if _no_worse(place, one)]:
                del self._groups[other], self._sizes[other]
            group = self._groups[place] = []
            self._sizes[place] = 0
        self._sizes[place] += 1
        group.append((overall, entry, source))
        if len(group) > 2 * self._most:
            group.sort(key=_best_first)
            del group[self._most :]

    def designs(self) -> list[Row]:
        """The designs of the front that are held, the best first."""
        return sorted((row for group in self._groups.values() for row in group), key=_best_first)


class _Best:
    """The designs with the best overall scores, of equal ones those that came first."""

    def __init__(self, most: int) -> None:
        self._most, self._many = most, 0
        self._heap: list[tuple[int, int, Entry, Source]] = []

    def take(self, entry: Entry, overall: int, source: Source) -> None:
        self._many += 1
        if len(self._heap) == self._most and overall <= self._heap[0][0]:
            return
        push = heapq.heappush if len(self._heap) < self._most else heapq.heapreplace
        push(self._heap, (overall, -self._many, entry, source))

    def designs(self) -> Iterator[Row]:
        for overall, _, entry, source in sorted(self._heap, key=lambda row: (-row[0], -row[1])):
            yield overall, entry, source


def _best_first(row: Row) -> tuple[int, str]:
    return -row[0], row[1].name


def _overall(values: tuple[Any, ...], cheapest: float) -> int:
    _, _, readability, cost, _ = values
    economy = 100 * cheapest / cost if cost else 100.0
    whole = WEIGHTS["readability"] * readability + WEIGHTS["cost"] * economy
    return int(whole / sum(WEIGHTS.values()) + 0.5)


def _no_worse(one: tuple[Any, ...], other: tuple[Any, ...]) -> bool:
    """Whether values, less being better, are nowhere worse than others."""
    return one[0] <= other[0] and one[1] <= other[1] and one[2] <= other[2] and bool(one[3] <= other[3])


def _told(overall: int, entry: Entry, source: Source, front: bool) -> Compared:
    values = dict(zip(VALUES, entry.values, strict=True))
    return Compared(entry.name, entry.id, source.dice(entry), values, front, overall)
