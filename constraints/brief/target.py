"""The target of a brief: from `like` or `ways` to an exact distribution."""

from __future__ import annotations

import re
from dataclasses import dataclass

from facewright.constraints.brief.faults import Faults, Path
from facewright.constraints.brief.models import AlsoPart, NumberingPart, fields_of
from facewright.constraints.distribution import Distribution
from facewright.constraints.like import parse_like
from facewright.constraints.own import LABEL_BOUND
from facewright.constraints.texts import TextError, quoted

WIDEST = 100_000
"""How far apart the least and the greatest result may be."""

_WHOLE = re.compile(r"0|-?[1-9][0-9]{0,8}")


def target_of(brief: NumberingPart, faults: Faults) -> Distribution | None:
    """The distribution wanted; None, with the fault, where the brief does not say it soundly."""
    return target_in(brief, brief.read, (), faults)


def target_in(
    part: NumberingPart | AlsoPart, read: str | None, path: Path, faults: Faults
) -> Distribution | None:
    """The distribution that `like` or `ways` of a table say; None, with the fault, where they do not soundly.

    Params:
        part: the table.
        read: how the dice are read.
        path: where the table stands.
        faults: takes what is wrong.
    """
    wanted = _Wanted(part.like, part.ways, path, faults)
    return wanted.side_by_side() if read == "side-by-side" else wanted.in_numbers()


@dataclass(frozen=True)
class _Wanted:
    """The two keys of a table that say a target, and where the table stands."""

    like: str | None
    ways: dict[str, int] | None
    path: Path
    faults: Faults

    def in_numbers(self) -> Distribution | None:
        """A target whose results are numbers."""
        if self.like is not None and self.ways is not None:
            self._add("ways", "both `like` and `ways`", "one of them: they say the same thing in two forms")
            self._from_like(self.like)
            self._from_ways(self.ways)
            return None
        if self.like is not None:
            return self._from_like(self.like)
        if self.ways is not None:
            return self._from_ways(self.ways)
        self._missing("like", 'like = "2d6", or ways = { 2 = 1, 3 = 2, 4 = 1 }')
        return None

    def side_by_side(self) -> Distribution | None:
        """A target whose results are labels side by side: keys such as "1 2", one label a die, in their order."""
        example = 'ways = { "1 1" = 1, "1 2" = 2 }: the labels in the order of the dice'
        if self.like is not None:
            self._add("like", 'a target in numbers beside read = "side-by-side"', example)
            return None
        if self.ways is None:
            self._missing("ways", example)
            return None
        results: dict[tuple[int, ...], int] = {}
        sound = self._filled(example)
        for key, count in self.ways.items():
            words = key.split()
            if words and all(_WHOLE.fullmatch(word) and abs(int(word)) <= LABEL_BOUND for word in words):
                result = tuple(map(int, words))
                results[result] = results.get(result, 0) + count
                continue
            sound = False
            bounds = f"from -{LABEL_BOUND:,} to {LABEL_BOUND:,}"
            accepted = f'labels {bounds} with spaces between, one a die, such as "1 2"'
            self._add(("ways", key), f"{quoted(key)} for labels side by side", accepted)
        return Distribution.of(results) if sound else None

    def _from_like(self, text: str) -> Distribution | None:
        try:
            target = parse_like(text)
        except TextError as unreadable:
            self._add("like", unreadable.found, unreadable.accepted)
            return None
        return self._bounded(target, "like")

    def _from_ways(self, ways: dict[str, int]) -> Distribution | None:
        results: dict[int, int] = {}
        sound = self._filled(fields_of(NumberingPart)["ways"])
        for key, count in ways.items():
            if _WHOLE.fullmatch(key) and abs(int(key)) <= LABEL_BOUND:
                results[int(key)] = count
                continue
            sound = False
            self._add(
                ("ways", key),
                f"{quoted(key)} for a result",
                f'a whole number from -{LABEL_BOUND:,} to {LABEL_BOUND:,}, without leading zeros, such as "-2"',
            )
        return self._bounded(Distribution.of(results), "ways") if sound else None

    def _filled(self, accepted: str) -> bool:
        """Whether the ways are there, none of them at fault already; the fault of an empty table."""
        here = (*self.path, "ways")
        sound = not any(path[: len(here)] == here for path in self.faults.spoilt)
        if sound and not self.ways:
            self._add("ways", "an empty table", accepted)
            return False
        return sound

    def _bounded(self, target: Distribution, key: str) -> Distribution | None:
        span = target.greatest - target.least
        if span <= WIDEST:
            return target
        found = f"results from {target.least:,} to {target.greatest:,}"
        self._add(key, found, f"results that lie at most {WIDEST:,} apart")
        return None

    def _missing(self, key: str, accepted: str) -> None:
        """The fault of a target that nothing says; passed over where a fault may hide it."""
        if {(*self.path, "like"), (*self.path, "ways")} & self.faults.spoilt:
            return
        if self.path:
            self._add(key, "nothing: the key is missing", accepted)
        elif "ways" not in self.faults.lost_keys:
            self.faults.missing(key, accepted)

    def _add(self, key: str | tuple[str, ...], found: str, accepted: str) -> None:
        keys = (key,) if isinstance(key, str) else key
        self.faults.add((*self.path, *keys), found, accepted)
