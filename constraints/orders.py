"""Finishing orders: how often dice whose labels all differ come in each order, exactly; and when that is fair."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, permutations
from math import factorial, prod

from facewright.constraints.grammar import number

EVERY, PLACES, FIRST = "every-order", "places", "first"
FAIRNESS = (EVERY, PLACES, FIRST)
"""What fair means, the strictest first: equally likely is each order, each place of each die, each first place."""

Order = tuple[int, ...]
"""A finishing order: the positions of the dice, the one with the greatest label first."""


def word(dice: Sequence[Sequence[int]]) -> tuple[int, ...]:
    """The position of the die that carries each label, from the least label up; labels must all differ.

    Example:
        >>> word([(1, 4), (2, 3)])
        (0, 1, 1, 0)
    """
    return tuple(
        die for _, die in sorted((label, die) for die, labels in enumerate(dice) for label in labels)
    )


def labels_of(letters: Sequence[int], dice: int) -> tuple[tuple[int, ...], ...]:
    """The labels of dice whose word is given: 1 … all faces, each once.

    Example:
        >>> labels_of((0, 1, 1, 0), 2)
        ((1, 4), (2, 3))
    """
    return tuple(
        tuple(label for label, letter in enumerate(letters, 1) if letter == die) for die in range(dice)
    )


def order_ways(letters: Sequence[int], dice: int) -> dict[Order, int]:
    """Every finishing order with its ways: how many outcomes put the dice into it.

    One pass over the word: ways[p] counts the choices of one label for each die of p so far, falling in that order.

    Example:
        >>> order_ways((0, 1, 1, 0), 2)
        {(0, 1): 2, (1, 0): 2}
    """
    ways: dict[Order, int] = {(): 1}
    for letter in letters:
        grown = [((letter, *order), count) for order, count in ways.items() if letter not in order]
        for order, count in grown:
            ways[order] = ways.get(order, 0) + count
    return {order: ways.get(order, 0) for order in permutations(range(dice))}


def place_ways(ways: Mapping[Order, int], dice: int) -> list[list[int]]:
    """How many outcomes put each die (row) into each place (column, the first place first)."""
    table = [[0] * dice for _ in range(dice)]
    for order, count in ways.items():
        for place, die in enumerate(order):
            table[die][place] += count
    return table


def is_fair(ways: Mapping[Order, int], dice: int, fair: str) -> bool:
    """Whether dice with these ways are fair in a sense of `FAIRNESS`."""
    if fair == EVERY:
        return len(set(ways.values())) == 1
    table = place_ways(ways, dice)
    if fair == PLACES:
        return len({count for row in table for count in row}) == 1
    return len({row[0] for row in table}) == 1


def fairness(ways: Mapping[Order, int], dice: int) -> str | None:
    """The strictest sense in which dice are fair; None where they are not even fair about the first place."""
    return next((fair for fair in FAIRNESS if is_fair(ways, dice, fair)), None)


def among(ways: Mapping[Order, int], some: Sequence[int]) -> dict[Order, int]:
    """The finishing orders of some of the dice, numbered anew from 0, with their ways in the outcomes of all."""
    place = {die: at for at, die in enumerate(some)}
    found = dict.fromkeys(permutations(range(len(some))), 0)
    for order, count in ways.items():
        found[tuple(place[die] for die in order if die in place)] += count
    return found


def subsets(ways: Mapping[Order, int], dice: int) -> Iterator[tuple[tuple[int, ...], str | None]]:
    """Each subset of at least two dice, small ones first, with the strictest sense in which it is fair."""
    for size in range(2, dice + 1):
        for some in combinations(range(dice), size):
            yield some, fairness(among(ways, some), size)


def spread(ways: Mapping[Order, int]) -> int:
    """The ways of the most common finishing order less those of the rarest."""
    return max(ways.values()) - min(ways.values())


def impossible(faces: Sequence[int], fair: str) -> str | None:
    """Why no dice of these sizes can be fair, by a division; None where divisions leave it open.

    Every finishing order of k dice with n₁…nₖ outcomes needs n₁…nₖ / k! of them, and so does every subset, since the
    orders of a subset gather equally many orders of all. A place needs n₁…nₖ / k.
    """
    if fair != EVERY:
        outcomes = prod(faces)
        if outcomes % len(faces):
            return f"{outcomes:,} outcomes cannot be shared equally among {number(len(faces))} dice"
        return None
    for size in range(2, len(faces) + 1):
        for some in combinations(faces, size):
            outcomes = prod(some)
            if outcomes % factorial(size):
                which = (
                    "" if size == len(faces) else f" of the dice with {' and '.join(map(str, some))} faces"
                )
                return f"{outcomes:,} outcomes{which} cannot be shared equally among {number(factorial(size))} orders"
    return None
