"""Brute force for tiny questions: every numbering of every die, rolled outcome by outcome.

It shares no code with the engines: no polynomial, no model, no division, and it reads dice outcome by outcome.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import combinations_with_replacement, product
from math import comb, prod
from typing import Any

from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die
from facewright.constraints.question import Numbering


def pool(die: Die) -> list[int]:
    """The labels that the rules of a die allow."""
    rules = die.rules
    return [
        label
        for label in range(rules.lowest, rules.highest + 1)
        if (rules.only is None or label in rules.only) and label not in rules.avoid
    ]


def numberings(die: Die) -> Iterator[tuple[int, ...]]:
    """Every numbering that keeps the rules of a die, its labels sorted."""
    if die.exactly is not None:
        yield die.exactly
        return
    rules = die.rules
    for labels in combinations_with_replacement(pool(die), die.faces):
        if rules.repeats is None or max(Counter(labels).values()) <= rules.repeats:
            yield labels


def work(question: Numbering) -> int:
    """How many sets of numberings brute force would try, at most; a number before any work is done."""
    many = []
    for die in question.dice:
        pool = max(0, die.rules.highest - die.rules.lowest + 1)
        many.append(1 if die.exactly is not None else comb(pool + die.faces - 1, die.faces))
    return prod(many)


def totals(dice: tuple[tuple[int, ...], ...]) -> Counter[int]:
    """Total → ways, each outcome counted."""
    ways = Counter({0: 1})
    for labels in dice:
        rolled: Counter[int] = Counter()
        for total, times in ways.items():
            for label in labels:
                rolled[total + label] += times
        ways = rolled
    return ways


def results(question: Numbering, dice: Sequence[Sequence[int]]) -> Counter[Any]:
    """Result → ways for any reading, each outcome counted."""
    return results_of(question.read, dict(question.how), dice)


def results_of(reading: str, told: Mapping[str, object], dice: Sequence[Sequence[int]]) -> Counter[Any]:
    """The same, for what a reading is told."""
    read: dict[str, Callable[[tuple[int, ...]], Any]] = {
        "total": sum,
        "highest": max,
        "lowest": min,
        "difference": lambda shown: abs(shown[0] - shown[1]),
        "signed-difference": lambda shown: shown[0] - shown[1],
        "product": prod,
        "side-by-side": tuple,
        "middle": lambda shown: sorted(shown)[len(shown) // 2],
        "total-of-highest": lambda shown: sum(sorted(shown)[-told["keep"] :]),
        "total-of-lowest": lambda shown: sum(sorted(shown)[: told["keep"]]),
        "how-many": lambda shown: sum(label >= told["at_least"] for label in shown),
        "total-modulo": lambda shown: sum(shown) % told["modulo"],
    }
    again = told.get("reroll", ())
    rolls = (
        [[two[1] if two[0] in again else two[0] for two in product(one, one)] for one in dice]
        if again
        else dice
    )
    return Counter(map(read[reading], product(*rolls)))


def further(question: Numbering, dice: Sequence[Sequence[int]]) -> bool:
    """Whether dice keep every further rule of a question."""
    again = {key: value for key, value in question.how if key == "reroll"}
    for rule in question.also:
        if rule.rule == "equal-labels":
            ways = results_of("side-by-side", again, dice)
            alike = sum(times for shown, times in ways.items() if shown == shown[:1] * len(shown))
            kept = alike * rule.chance.denominator == rule.chance.numerator * sum(ways.values())
        elif rule.rule == "same-mean":
            kept = all(sum(one) * len(dice[0]) == sum(dice[0]) * len(one) for one in dice)
        elif rule.rule == "symmetric":
            kept = all(
                all(a + b == one[0] + one[-1] for a, b in zip(one, reversed(one), strict=True))
                for one in map(sorted, dice)
            )
        elif rule.rule == "distinct":
            kept = max(len(set(one)) for one in dice) <= rule.at_most
        else:
            ways = results_of(rule.read, dict(rule.how) | again, dice)
            kept = Distribution.of(ways).reduced() == rule.target.reduced()
        if not kept:
            return False
    return True


def anchored(question: Numbering, labels: Sequence[Sequence[int]]) -> bool:
    """Whether some die's least label is the least that it may carry, where that is asked."""
    if not question.anchored or any(die.exactly is not None for die in question.dice):
        return True
    return any(min(one) == min(pool(die)) for die, one in zip(question.dice, labels, strict=True))


def designs_read(question: Numbering) -> set[NumberingDesign]:
    """Every design of an exact question with any reading, in canonical form."""
    dice, target = question.dice, question.target
    outcomes = prod(question.chances(dice))
    found = set()
    for labels in product(*(list(numberings(die)) for die in dice)):
        ways = results(question, labels)
        right = all(ways[result] * target.outcomes == times * outcomes for result, times in target.pairs)
        if (
            set(ways) == set(target.ways)
            and right
            and anchored(question, labels)
            and further(question, labels)
        ):
            found.add(NumberingDesign.of(dice, labels))
    return found


def designs(question: Numbering) -> set[NumberingDesign]:
    """Every design of an exact totals question, in canonical form."""
    dice, target = question.dice, question.target
    outcomes = prod(die.faces for die in dice)
    found = set()
    for labels in product(*(list(numberings(die)) for die in dice)):
        if sum(map(min, labels)) != target.least or sum(map(max, labels)) != target.greatest:
            continue
        ways = totals(labels)
        if set(ways) == set(target.ways) and all(
            ways[total] * target.outcomes == times * outcomes for total, times in target.pairs
        ):
            found.add(NumberingDesign.of(dice, labels))
    return found


def shapes(question: Numbering, found: set[NumberingDesign]) -> int:
    """How many designs there are when those count once that constants moved between the dice join."""
    kinds: dict[Die, list[int]] = {}
    for position, die in enumerate(question.dice):
        kinds.setdefault(die, []).append(position)
    forms = set()
    for design in found:
        at_zero = [tuple(label - min(die.labels) for label in die.labels) for die in design.dice]
        forms.add(tuple(tuple(sorted(at_zero[place] for place in places)) for places in kinds.values()))
    return len(forms)
