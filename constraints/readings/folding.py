"""The exact distribution of any reading: the dice taken up one by one, equal states counted together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Reading


def folded(reading: Reading, dice: Sequence[Sequence[int]]) -> Distribution:
    """The distribution of a reading, for dice given by their labels.

    Example:
        >>> from facewright.constraints.readings.highest import Highest
        >>> folded(Highest(), [(1, 2), (1, 3)]).ways
        {1: 1, 2: 1, 3: 2}
    """
    return folded_counts(reading, [Counter(labels) for labels in dice])


def folded_counts(reading: Reading, dice: Sequence[Mapping[int, int]]) -> Distribution:
    """The distribution of a reading, for dice given as label → ways."""
    ways: dict[Any, int] = {reading.start: 1}
    for counts in dice:
        further: dict[Any, int] = {}
        for known, times in ways.items():
            for label, count in counts.items():
                state = reading.step(known, label)
                further[state] = further.get(state, 0) + times * count
        ways = further
    results: dict[Any, int] = {}
    for known, times in ways.items():
        result = reading.end(known)
        results[result] = results.get(result, 0) + times
    return Distribution.of(results)
