"""The target of a brief: from `like` or `ways` to an exact distribution."""

from __future__ import annotations

import re

from facewright.constraints.brief.faults import Faults
from facewright.constraints.brief.models import NumberingPart, fields_of
from facewright.constraints.distribution import Distribution
from facewright.constraints.like import parse_like
from facewright.constraints.own import LABEL_BOUND
from facewright.constraints.texts import TextError, quoted

WIDEST = 100_000
"""How far apart the least and the greatest result may be."""

_WHOLE = re.compile(r"0|-?[1-9][0-9]{0,8}")


def target_of(brief: NumberingPart, faults: Faults) -> Distribution | None:
    """The distribution wanted; None, with the fault, where the brief does not say it soundly."""
    if brief.read == "side-by-side":
        return _side_by_side(brief, faults)
    if brief.like is not None and brief.ways is not None:
        faults.add(("ways",), "both `like` and `ways`", "one of them: they say the same thing in two forms")
        _from_like(brief.like, faults)
        _from_ways(brief.ways, faults)
        return None
    if brief.like is not None:
        return _from_like(brief.like, faults)
    if brief.ways is not None:
        return _from_ways(brief.ways, faults)
    if not {("like",), ("ways",)} & faults.spoilt and "ways" not in faults.lost_keys:
        faults.missing("like", 'like = "2d6", or ways = { 2 = 1, 3 = 2, 4 = 1 }')
    return None


def _from_like(text: str, faults: Faults) -> Distribution | None:
    try:
        target = parse_like(text)
    except TextError as unreadable:
        faults.add(("like",), unreadable.found, unreadable.accepted)
        return None
    return _bounded(target, "like", faults)


def _from_ways(ways: dict[str, int], faults: Faults) -> Distribution | None:
    results: dict[int, int] = {}
    sound = not any(path[:1] == ("ways",) for path in faults.spoilt)
    if sound and not ways:
        faults.add(("ways",), "an empty table", fields_of(NumberingPart)["ways"])
        return None
    for key, count in ways.items():
        if _WHOLE.fullmatch(key) and abs(int(key)) <= LABEL_BOUND:
            results[int(key)] = count
            continue
        sound = False
        faults.add(
            ("ways", key),
            f"{quoted(key)} for a result",
            f'a whole number from -{LABEL_BOUND:,} to {LABEL_BOUND:,}, without leading zeros, such as "-2"',
        )
    return _bounded(Distribution.of(results), "ways", faults) if sound else None


def _side_by_side(brief: NumberingPart, faults: Faults) -> Distribution | None:
    """The chances of labels side by side: keys such as "1 2", one label a die in the order of the dice."""
    example = 'ways = { "1 1" = 1, "1 2" = 2 }: the labels in the order of the dice'
    if brief.like is not None:
        faults.add(("like",), 'a target in numbers beside read = "side-by-side"', example)
        return None
    if brief.ways is None:
        if ("ways",) not in faults.spoilt and "ways" not in faults.lost_keys:
            faults.missing("ways", example)
        return None
    results: dict[tuple[int, ...], int] = {}
    sound = not any(path[:1] == ("ways",) for path in faults.spoilt)
    if sound and not brief.ways:
        faults.add(("ways",), "an empty table", example)
        return None
    for key, count in brief.ways.items():
        words = key.split()
        if words and all(_WHOLE.fullmatch(word) and abs(int(word)) <= LABEL_BOUND for word in words):
            result = tuple(map(int, words))
            results[result] = results.get(result, 0) + count
            continue
        sound = False
        accepted = (
            f'labels from -{LABEL_BOUND:,} to {LABEL_BOUND:,} with spaces between, one a die, such as "1 2"'
        )
        faults.add(("ways", key), f"{quoted(key)} for labels side by side", accepted)
    return Distribution.of(results) if sound else None


def _bounded(target: Distribution, key: str, faults: Faults) -> Distribution | None:
    span = target.greatest - target.least
    if span <= WIDEST:
        return target
    found = f"results from {target.least:,} to {target.greatest:,}"
    faults.add((key,), found, f"results that lie at most {WIDEST:,} apart")
    return None
