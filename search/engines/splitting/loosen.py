"""The same question with some of its label rules left out, to find which of them rules the answers out."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from facewright.constraints.labels import Die, LabelRules, interchangeable
from facewright.constraints.question import Numbering

RULES = ("lowest", "highest", "only", "avoid", "repeats")
"""The label rules, in the order in which reasons bring them in."""


def fair_lowest(question: Numbering) -> int:
    """The highest lowest label that all free dice can share: their part of the least total, rounded down."""
    fixed = sum(die.exactly[0] for die in question.dice if die.exactly is not None)
    free = sum(die.exactly is None for die in question.dice)
    return int(question.target.least - fixed) // max(free, 1)


def loosened(question: Numbering, keep: Collection[str], lowest: int) -> Numbering:
    """The question with only the rules in `keep`; without "lowest" every free die may go down to `lowest`.

    Dice that could not be exchanged before cannot be exchanged now, so that counts can be compared.
    """
    return question.alone(
        _told_apart(question, [_loosened(die, keep, lowest, question) for die in question.dice])
    )


def _told_apart(question: Numbering, dice: list[Die]) -> tuple[Die, ...]:
    """The dice, named after the group of interchangeable dice that they belonged to."""
    named = list(dice)
    for group in interchangeable(question.dice):
        for position in group:
            named[position] = replace(dice[position], name=str(group[0]))
    return tuple(named)


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


def can_be_lowered(die: Die) -> bool:
    """Whether a lower lowest label would give the die more labels to choose from."""
    return die.exactly is None and die.rules.only is None


def lowered(question: Numbering, lowest: int) -> Numbering:
    """The question with every die that can be lowered allowed to go down to `lowest`, the other stated rules kept."""
    reach = abs(question.target.greatest) + abs(question.target.least)
    room = reach + sum(abs(die.lowest_label) + abs(lowest) for die in question.dice)
    dice = []
    for die in question.dice:
        rules = die.rules
        if can_be_lowered(die):
            highest = rules.highest if "highest" in rules.given else lowest + room
            rules = replace(rules, lowest=min(rules.lowest, lowest), highest=highest)
        dice.append(replace(die, rules=rules))
    return question.alone(_told_apart(question, dice))


def lowest_worth_trying(question: Numbering) -> int:
    """Below this, a lower lowest label admits no further shapes of dice.

    All dice but one can stand no higher than their highest labels, so the one left need not go lower than the least
    total less those; without stated highest labels the dice may share the least total.
    """
    highest = [max(die.exactly) if die.exactly else _stated_highest(die) for die in question.dice]
    if None in highest:
        return min(fair_lowest(question), *(die.lowest_label for die in question.dice)) - _spread(question)
    tops = [top for top in highest if top is not None]
    return int(question.target.least) - sum(tops) + min(tops)


def _stated_highest(die: Die) -> int | None:
    return die.rules.highest if "highest" in die.rules.given or die.rules.only is not None else None


def _spread(question: Numbering) -> int:
    """How far labels that are barred can push a die away from its share of the least total, at most."""
    barred = [label for die in question.dice if die.exactly is None for label in die.rules.avoid]
    tops = [abs(_stated_highest(die) or 0) for die in question.dice]
    span = question.target.greatest - question.target.least
    return span + max(map(abs, barred), default=0) + max(tops) if barred or any(tops) else 0
