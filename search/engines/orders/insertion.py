"""One die more: where its labels go among those of dice that are fair already.

Every subset of dice with equally likely orders has equally likely orders, so all such sets of k dice come from those
of k − 1. In an outcome the new die shows one label, so the ways of each order add up over its labels: where one label
goes adds a fixed vector, whatever the others do.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations
from math import factorial, prod

from facewright.constraints.orders import Order
from facewright.search.engines.orders.sums import Drawn, Edge, Layer

Ways = dict[Order, int]


def insertions(base: Sequence[int], faces: Sequence[int]) -> tuple[list[Layer], tuple[int, ...]]:
    """The layered graph of all ways to insert the last die into the word of the others, and the sum wanted.

    A layer is a gap of the word, a choice the number of labels that go there, a node the number of labels used.

    Args:
        base: the word of the other dice.
        faces: the face counts of all dice, that of the new one last.
    """
    dice, new = len(faces), faces[-1]
    orders = list(permutations(range(dice)))
    below = _passing(base)
    above = [{order[::-1]: count for order, count in ways.items()} for ways in reversed(_passing(base[::-1]))]
    layers: list[Layer] = []
    for under, over in zip(below, above, strict=True):
        adds = []
        for order in orders:
            place = order.index(dice - 1)
            adds.append(over.get(order[:place], 0) * under.get(order[place + 1 :], 0))
        edges = {
            used: [
                Edge(used + more, more, tuple(more * one for one in adds)) for more in range(new - used + 1)
            ]
            for used in range(new + 1)
        }
        layers.append(Drawn(edges))
    return layers, (prod(faces) // factorial(dice),) * len(orders)


def inserted(base: Sequence[int], choices: Sequence[int], letter: int) -> tuple[int, ...]:
    """The word with the new letter so often in each gap.

    Example:
        >>> inserted((0, 1, 1, 0), (1, 0, 2, 0, 0), 2)
        (2, 0, 1, 2, 2, 1, 0)
    """
    word: list[int] = []
    for gap, often in enumerate(choices):
        word += [letter] * often
        word += base[gap : gap + 1]
    return tuple(word)


def _passing(word: Sequence[int]) -> list[Ways]:
    """For each gap of a word, the ways of every order of dice among the letters before it, the latest first."""
    ways: Ways = {(): 1}
    found = [ways]
    for letter in word:
        grown = dict(ways)
        for order, count in ways.items():
            if letter not in order:
                grown[(letter, *order)] = grown.get((letter, *order), 0) + count
        ways = grown
        found.append(ways)
    return found
