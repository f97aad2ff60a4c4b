"""A design of a contest for a terminal: who beats whom and by how much; or orders, places and subsets."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import prod

from facewright.constraints.contest import BEATS, Contest
from facewright.constraints.design import NumberingDesign
from facewright.constraints.duels import chance, doubled_chance, ties
from facewright.constraints.grammar import series
from facewright.constraints.orders import EVERY, FIRST, PLACES, order_ways, place_ways, subsets, word
from facewright.search.report.readouts_text import columns

SENSES = {EVERY: "every order", PLACES: "every place", FIRST: "the first place", None: "not fair"}
"""In which sense some dice are fair, in words."""
SUBSETS = 26
"""How many subsets are listed."""


def lines(question: Contest, design: NumberingDesign) -> list[str]:
    """What a design does, a line each."""
    dice = [die.labels for die in design.dice]
    return list(_duels(question, dice) if question.read == BEATS else _orders(dice))


def _duels(question: Contest, dice: list[tuple[int, ...]]) -> Iterator[str]:
    table = [("duel", "chance", "", "a tie", "two of each, added", "")]
    turned = []
    for one, other in question.arcs(len(dice)):
        mine, theirs = dice[one], dice[other]
        won, level = chance(mine, theirs), Fraction(ties(mine, theirs), len(mine) * len(theirs))
        twice = doubled_chance(mine, theirs)
        duel = f"die {one + 1} beats die {other + 1}"
        table.append((duel, str(won), f"{float(won):.1%}", str(level), str(twice), f"{float(twice):.1%}"))
        if doubled_chance(theirs, mine) > twice:
            turned.append(f"die {other + 1} over die {one + 1}")
    yield from columns(table)
    if turned:
        yield f"With two of each, added, it is the other way round: {series(turned)}."


def _orders(dice: list[tuple[int, ...]]) -> Iterator[str]:
    ways = order_ways(word(dice), len(dice))
    outcomes = prod(map(len, dice))
    least, most = min(ways.values()), max(ways.values())
    if least == most:
        yield f"Every order comes up in {least:,} of {outcomes:,} outcomes."
    else:
        yield f"Orders come up in {least:,} to {most:,} of {outcomes:,} outcomes. How often each die comes in where:"
        heads = ("die", *(f"place {place + 1}" for place in range(len(dice))))
        rows = [
            (str(die), *(f"{count:,}" for count in row))
            for die, row in enumerate(place_ways(ways, len(dice)), 1)
        ]
        yield from columns([heads, *rows])
    several = [(some, fair) for some, fair in subsets(ways, len(dice)) if len(some) < len(dice)]
    for some, fair in several[:SUBSETS]:
        yield f"dice {series(str(die + 1) for die in some)} alone: {SENSES[fair]}"
    if len(several) > SUBSETS:
        yield f"and {len(several) - SUBSETS} more subsets"
