"""What a design of a contest does, as plain values: its duels with their chances, or its orders, places and subsets."""

from __future__ import annotations

from typing import Any

from facewright.constraints.contest import BEATS, Contest
from facewright.constraints.design import NumberingDesign
from facewright.constraints.duels import chance, doubled_chance, least_chance, ties, wins
from facewright.constraints.orders import order_ways, place_ways, subsets, word

ORDERS_SHOWN = 4
"""Up to so many dice every order is written with its ways."""


def particulars(question: Contest, design: NumberingDesign) -> dict[str, Any]:
    """What the question wants to know of a design, beside its labels."""
    dice = [die.labels for die in design.dice]
    if question.read == BEATS:
        arcs = question.arcs(len(dice))
        duels = [
            {
                "die": one + 1,
                "beats": other + 1,
                "chance": str(chance(dice[one], dice[other])),
                "wins": wins(dice[one], dice[other]),
                "ties": ties(dice[one], dice[other]),
                "outcomes": len(dice[one]) * len(dice[other]),
                "doubled": str(doubled_chance(dice[one], dice[other])),
            }
            for one, other in arcs
        ]
        return {"chance": str(least_chance(dice, arcs)), "duels": duels}
    ways = order_ways(word(dice), len(dice))
    every = [{"order": [die + 1 for die in order], "ways": count} for order, count in ways.items()]
    return {
        "orders": every if len(dice) <= ORDERS_SHOWN else None,
        "places": place_ways(ways, len(dice)),
        "subsets": [
            {"dice": [die + 1 for die in some], "fair": fair} for some, fair in subsets(ways, len(dice))
        ],
    }
