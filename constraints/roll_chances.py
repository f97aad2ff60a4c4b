"""What a roll comes to once one die of it is known: the exact chances of each result, label by label."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from facewright.constraints.distribution import Distribution
from facewright.constraints.errors import UsageError
from facewright.constraints.layout import Roll
from facewright.constraints.readings import READINGS
from facewright.constraints.readouts import Label

Chances = dict[Label, dict[Label, Fraction]]
"""Label of the die → result → the chance of that result when the die shows that label."""

PICKS: dict[str, Callable[[int, int], int]] = {"highest": max, "lowest": min}
"""Readings that keep one of the labels: how two become one."""


def chances_given(labels: Sequence[Label], roll: Roll) -> Chances:
    """The chances of each result of a roll, given the label that comes up on the die in question.

    The die in question comes first among the dice of the roll. Alone it may carry words: its label is then the
    result.

    Params:
        labels: the die's labels; repeats make no difference.
        roll: how the roll is read, and the other dice.
    Raises: UsageError for words rolled with other dice, or a reading that is not known here.

    Example:
        >>> chances_given([1, 2], Roll("total", ((0, 1),)))[2]
        {2: Fraction(1, 2), 3: Fraction(1, 2)}
    """
    different = list(dict.fromkeys(labels))
    if not roll.others and (roll.read in {"total", *PICKS} or not _numbers(different)):
        return {label: {label: Fraction(1)} for label in different}
    if not _numbers(different):
        words = next(label for label in different if not isinstance(label, int))
        raise UsageError(f"labels: found {words!r} on a die rolled with others; accepted: whole numbers")
    found: Chances = {}
    for label in different:
        given = _distribution(int(label), roll)
        found[label] = {result: given.chance(result) for result in given.ways}
    return found


def _numbers(labels: Sequence[Label]) -> bool:
    return all(isinstance(label, int) for label in labels)


def _distribution(label: int, roll: Roll) -> Distribution:
    if roll.read in READINGS:
        return READINGS[roll.read].distribution([(label,), *roll.others])
    if roll.read not in PICKS:
        known = ", ".join(sorted({*READINGS, *PICKS}))
        raise UsageError(f"read: found {roll.read!r}; a roll whose flaws are judged can be read as: {known}")
    pick, ways = PICKS[roll.read], {label: 1}
    for other in roll.others:
        more: dict[int, int] = {}
        for so_far, count in ways.items():
            for one in other:
                result = pick(so_far, one)
                more[result] = more.get(result, 0) + count
        ways = more
    return Distribution.of(ways)
