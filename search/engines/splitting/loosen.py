"""The same question with some of its label rules left out, to find which of them rules the answers out."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering

RULES = ("lowest", "highest", "only", "avoid", "repeats")
"""The label rules, in the order in which reasons bring them in."""


def fair_lowest(question: Numbering) -> int:
    """The highest lowest label that all free dice can share: their part of the least total, rounded down."""
    fixed = sum(die.exactly[0] for die in question.dice if die.exactly is not None)
    free = sum(die.exactly is None for die in question.dice)
    return (question.target.least - fixed) // max(free, 1)


def loosened(question: Numbering, keep: Collection[str], lowest: int) -> Numbering:
    """The question with only the rules in `keep`; without "lowest" every free die may go down to `lowest`."""
    dice = tuple(_loosened(die, keep, lowest, question) for die in question.dice)
    return question.alone(dice)


def _loosened(die: Die, keep: Collection[str], lowest: int, question: Numbering) -> Die:
    if die.exactly is not None:
        return die
    rules = die.rules
    least = lowest
    if "lowest" in keep:
        stated = "lowest" in rules.given or rules.only is None or "only" in keep
        least = rules.lowest if stated else 1
    reach = abs(question.target.least) + abs(question.target.greatest)
    slack = sum(abs(other.lowest_label) + abs(lowest) for other in question.dice)
    bounded = "highest" in keep and "highest" in rules.given
    return replace(
        die,
        rules=LabelRules(
            lowest=least,
            highest=rules.highest if bounded else least + reach + slack,
            repeats=rules.repeats if "repeats" in keep else None,
            only=rules.only if "only" in keep else None,
            avoid=rules.avoid if "avoid" in keep else (),
            given=rules.given & frozenset(keep),
        ),
    )


def lowered(question: Numbering, lowest: int) -> Numbering:
    """The question with every free die allowed to go down to `lowest`, other rules kept, highest labels as given."""
    dice = []
    for die in question.dice:
        if die.exactly is None and die.rules.only is None and die.rules.lowest > lowest:
            reach = (
                abs(question.target.greatest) + abs(question.target.least) + len(question.dice) * abs(lowest)
            )
            highest = die.rules.highest if "highest" in die.rules.given else lowest + reach
            die = replace(die, rules=replace(die.rules, lowest=lowest, highest=highest))  # noqa: PLW2901
        dice.append(die)
    return question.alone(tuple(dice))
