"""Further rules of a numbering (`also` in a brief): what its dice must keep besides their target and label rules."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import prod
from typing import Any, ClassVar

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings import REROLL, How, how_from_form, how_to_form, reading_of
from facewright.constraints.readings.reroll import shown


@dataclass(frozen=True)
class EqualLabels:
    """All dice show the same label with exactly this chance."""

    chance: Fraction

    rule: ClassVar[str] = "equal-labels"


@dataclass(frozen=True)
class SameMean:
    """The mean label is the same on every die."""

    rule: ClassVar[str] = "same-mean"


@dataclass(frozen=True)
class Symmetric:
    """The labels of each die lie symmetric about their mean: each as often as the one that it mirrors."""

    rule: ClassVar[str] = "symmetric"


@dataclass(frozen=True)
class Distinct:
    """No die carries more different labels than this."""

    at_most: int

    rule: ClassVar[str] = "distinct"


@dataclass(frozen=True)
class AlsoRead:
    """The same dice, read in another way, have the chances of a second target. `like` is the brief's wording of it."""

    read: str
    target: Distribution
    how: How = ()
    like: str = field(default="", compare=False)

    rule: ClassVar[str] = "also-read"


Further = EqualLabels | SameMean | Symmetric | Distinct | AlsoRead
"""A further rule of any kind."""

RULES: tuple[type[Further], ...] = (EqualLabels, SameMean, Symmetric, Distinct, AlsoRead)
"""All kinds, in the order of the documents."""


def told_of(rule: AlsoRead, again: Sequence[int]) -> How:
    """What the second reading is told; labels that are rolled again are rolled again for it too."""
    return tuple(sorted((*rule.how, (REROLL, tuple(again))))) if again else rule.how


def keeps(rule: Further, dice: Sequence[Sequence[int]], again: Sequence[int] = ()) -> bool:
    """Whether dice, given by their labels, keep a further rule; labels `again` are rolled again once."""
    match rule:
        case EqualLabels():
            ways = [shown(labels, again) if again else Counter(labels) for labels in dice]
            alike = sum(
                prod(one[label] for one in ways) for label in ways[0] if all(label in one for one in ways)
            )
            return Fraction(alike, prod(sum(one.values()) for one in ways)) == rule.chance
        case SameMean():
            return len({Fraction(sum(labels), len(labels)) for labels in dice}) == 1
        case Symmetric():
            return all(
                sorted(labels) == sorted(min(labels) + max(labels) - label for label in labels)
                for labels in dice
            )
        case Distinct():
            return all(len(set(labels)) <= rule.at_most for labels in dice)
        case AlsoRead():
            reading = reading_of(rule.read, told_of(rule, again))
            return reading.distribution(dice).same_chances(rule.target)


def further_to_form(rule: Further) -> dict[str, Any]:
    """A further rule as dictionaries, lists, numbers and text."""
    form: dict[str, Any] = {"rule": rule.rule}
    match rule:
        case EqualLabels():
            form["chance"] = str(rule.chance)
        case Distinct():
            form["at_most"] = rule.at_most
        case AlsoRead():
            form |= {"read": rule.read, "how": how_to_form(rule.how), "like": rule.like}
            form["target"] = rule.target.plain_pairs
    return form


def further_from_form(form: dict[str, Any]) -> Further:
    """The rule that `further_to_form` wrote; raises KeyError, TypeError or ValueError for another form."""
    match form["rule"]:
        case EqualLabels.rule:
            return EqualLabels(Fraction(form["chance"]))
        case SameMean.rule:
            return SameMean()
        case Symmetric.rule:
            return Symmetric()
        case Distinct.rule:
            return Distinct(int(form["at_most"]))
        case AlsoRead.rule:
            target = Distribution.of_plain(form["target"])
            return AlsoRead(form["read"], target, how_from_form(form["how"]), form["like"])
    raise ValueError(f"rule: found {form['rule']!r}")
