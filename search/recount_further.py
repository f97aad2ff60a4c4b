"""Recounting of further rules: each judged again from its definition, roll by roll; shares no code with the engines."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any

from facewright.constraints.question import Numbering
from facewright.search.recount_readings import recounted_reading


def broken_further_rules(question: Numbering, dice: Sequence[Sequence[int]]) -> Iterator[str]:
    """What the labels of the dice break among the further rules of a question, in words."""
    again = dict(question.how).get("reroll", ())
    for number, rule in enumerate(question.also, 1):
        for fault in _broken(dice, rule, again):
            yield f"further rule {number} ({rule.rule}): {fault}"


def _broken(dice: Sequence[Sequence[int]], rule: Any, again: Sequence[int]) -> Iterator[str]:
    if rule.rule == "equal-labels":
        told = {"reroll": tuple(again)} if again else {}
        ways = recounted_reading(dice, "side-by-side", told)
        alike = sum(count for labels, count in ways.items() if len(set(labels)) == 1)
        found = Fraction(alike, sum(ways.values()))
        if found != rule.chance:
            yield f"found equal labels with a chance of {found}, wanted {rule.chance}"
    elif rule.rule == "same-mean":
        means = [Fraction(sum(labels), len(labels)) for labels in dice]
        if any(mean != means[0] for mean in means):
            yield f"found the means {', '.join(map(str, means))}"
    elif rule.rule == "symmetric":
        for at, labels in enumerate(dice, 1):
            middle = 2 * Fraction(sum(labels), len(labels))
            counts = Counter(Fraction(label) for label in labels)
            if any(counts[middle - label] != count for label, count in list(counts.items())):
                yield f"die {at} is not symmetric"
    elif rule.rule == "distinct":
        for at, labels in enumerate(dice, 1):
            many = len(Counter(labels))
            if many > rule.at_most:
                yield f"die {at} carries {many} different labels, at most {rule.at_most} are allowed"
    elif rule.rule == "also-read":
        yield from _other_chances(dice, rule, again)


def _other_chances(dice: Sequence[Sequence[int]], rule: Any, again: Sequence[int]) -> Iterator[str]:
    told = dict(rule.how) | ({"reroll": tuple(again)} if again else {})
    ways, wanted = recounted_reading(dice, rule.read, told), dict(rule.target.pairs)
    found_all, wanted_all = sum(ways.values()), sum(wanted.values())
    for result in sorted(ways.keys() | wanted.keys()):
        found, asked = ways.get(result, 0), wanted.get(result, 0)
        if found * wanted_all != asked * found_all:
            yield f"result {result}: found {found} in {found_all}, wanted {asked} in {wanted_all}"
