"""What a roll comes to once one die of it is known: the exact chances of each result, label by label."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from facewright.constraints.distribution import Distribution
from facewright.constraints.errors import UsageError
from facewright.constraints.layout import Roll
from facewright.constraints.readings import READINGS, reading_of
from facewright.constraints.readouts import Label

ITSELF = ("total", "highest", "lowest", "product")
"""Readings of which a die on its own gives its label."""

Chances = dict[Label, dict[Label, Fraction]]
"""Label of the die → result → the chance of that result when the die shows that label."""


def chances_given(labels: Sequence[Label], roll: Roll) -> Chances:
    """The chances of each result of a roll, given the label that comes up on the die in question.

    Alone the die may carry words: its label is then the result. Labels side by side are told as a text.

    Params:
        labels: the die's labels; repeats make no difference.
        roll: how the roll is read, and the other dice.
    Raises: UsageError for words rolled with other dice, or a reading that is not known here.

    Example:
        >>> chances_given([1, 2], Roll("total", ((0, 1),)))[2]
        {2: Fraction(1, 2), 3: Fraction(1, 2)}
    """
    different = list(dict.fromkeys(labels))
    if not roll.others and (roll.read in ITSELF or not _numbers(different)):
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
    if roll.read not in READINGS:
        known = ", ".join(sorted(READINGS))
        raise UsageError(f"read: found {roll.read!r}; a roll whose flaws are judged can be read as: {known}")
    dice = [*roll.others[: roll.place], (label,), *roll.others[roll.place :]]
    found = reading_of(roll.read, roll.how).distribution(dice)
    told = {" ".join(map(str, one)) if isinstance(one, tuple) else one: ways for one, ways in found.pairs}
    return Distribution.of(told)
