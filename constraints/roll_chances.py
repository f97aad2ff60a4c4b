"""What a roll comes to once one die of it is known: the exact chances of each result, label by label."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from facewright.constraints.distribution import Distribution
from facewright.constraints.errors import UsageError
from facewright.constraints.layout import Roll
from facewright.constraints.readings import READINGS, REROLL, reading_of
from facewright.constraints.readings.folding import folded_counts
from facewright.constraints.readings.reroll import shown
from facewright.constraints.readouts import Label

ITSELF = ("total", "highest", "lowest", "product")
"""Readings of which a die on its own gives its label."""

Chances = dict[Label, dict[Label, Fraction]]
"""Label of the die → result → the chance of that result when the die shows that label."""


def chances_given(labels: Sequence[Label], roll: Roll) -> Chances:
    """The chances of each result of a roll, given the label that comes up on the die in question.

    Alone the die may carry words: its label is then the result. Labels side by side are told as a text.

    Params:
        labels: the die's labels; repeats make a difference only where labels are rolled again.
        roll: how the roll is read, and the other dice.
    Raises: UsageError for words rolled with other dice, or a reading that is not known here.

    Example:
        >>> chances_given([1, 2], Roll("total", ((0, 1),)))[2]
        {2: Fraction(1, 2), 3: Fraction(1, 2)}
    """
    different = list(dict.fromkeys(labels))
    if not roll.others and ((roll.read in ITSELF and not roll.how) or not _numbers(different)):
        return {label: {label: Fraction(1)} for label in different}
    if not _numbers(different):
        words = next(label for label in different if not isinstance(label, int))
        raise UsageError(f"labels: found {words!r} on a die rolled with others; accepted: whole numbers")
    found: Chances = {}
    for label in different:
        given = _distribution(int(label), roll)
        found[label] = {result: given.chance(result) for result in given.ways}
    again = dict(roll.how).get(REROLL, ())
    return _rolled_again(labels, found, again) if again else found


def _rolled_again(labels: Sequence[Label], found: Chances, again: Sequence[int]) -> Chances:
    """What stands in for the chances given a label where some labels are rolled again, so far as first order goes.

    With p(v) the chance of the label v, R that of a label that is rolled again, and Q(v) the chances once v
    counts, the roll has Σ (p(v)·[v stays] + R·p(v))·Q(v). Its derivative by p(v) is ([v stays] + R)·Q(v) + [v
    goes]·Σ p·Q; R·Σ p·Q is taken from each, so that the mean over the faces is the roll itself; a constant
    changes no sum of changes that add up to zero. Some of these numbers can be negative.
    """
    faces = len(labels)
    rolled = Fraction(sum(label in again for label in labels), faces)
    results = {result for chances in found.values() for result in chances}
    mean = {r: sum((found[x].get(r, Fraction(0)) for x in labels), Fraction(0)) / faces for r in results}
    return {
        label: {
            r: (rolled + (label not in again)) * chances.get(r, Fraction(0))
            + ((label in again) - rolled) * mean[r]
            for r in results
        }
        for label, chances in found.items()
    }


def _numbers(labels: Sequence[Label]) -> bool:
    return all(isinstance(label, int) for label in labels)


def _distribution(label: int, roll: Roll) -> Distribution:
    if roll.read not in READINGS:
        known = ", ".join(sorted(READINGS))
        raise UsageError(f"read: found {roll.read!r}; a roll whose flaws are judged can be read as: {known}")
    how = dict(roll.how)
    again = how.pop(REROLL, ())
    others = [shown(one, again) if again else Counter(one) for one in roll.others]
    dice = [*others[: roll.place], {label: 1}, *others[roll.place :]]
    found = folded_counts(reading_of(roll.read, tuple(sorted(how.items()))), dice)
    told = {" ".join(map(str, one)) if isinstance(one, tuple) else one: ways for one, ways in found.pairs}
    return Distribution.of(told)
