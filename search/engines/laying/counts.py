"""How many layouts there are up to symmetry, by Burnside's lemma, where nothing but opposite faces is asked of them.

The number of layouts up to a group is the mean, over its members, of the layouts that a member leaves as they are
(W. Burnside, Theory of Groups of Finite Order, 2nd ed. 1911, section 145; from memory). A member leaves a layout as it
is where each of its cycles carries one number; a cycle that comes back with its sign turned can carry 0 only.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import cache
from math import comb

from facewright.constraints.model.units import Term, Units


def count_layouts(units: Units, group: Sequence[tuple[Term, ...]]) -> int:
    """How many ways there are to put the numbers on the units up to a group of signed permutations of them."""
    kept = Counter(_cycles(one) for one in group)
    return sum(times * _fixed(cycles, units.choices, units.paired) for cycles, times in kept.items()) // len(
        group
    )


Cycles = tuple[tuple[tuple[int, int], ...], tuple[tuple[int, int], ...]]
"""(length, how many) of the cycles that keep their sign, and of those that turn it."""


def _cycles(by: tuple[Term, ...]) -> Cycles:
    kept: Counter[int] = Counter()
    turned: Counter[int] = Counter()
    waiting = set(range(len(by)))
    while waiting:
        start = unit = min(waiting)
        length, sign = 0, 1
        while True:
            waiting.discard(unit)
            length += 1
            unit, turn = by[unit]
            sign *= turn
            if unit == start:
                break
        (kept if sign == 1 else turned)[length] += 1
    return tuple(sorted(kept.items())), tuple(sorted(turned.items()))


def _fixed(cycles: Cycles, choices: tuple[tuple[int, int], ...], paired: bool) -> int:
    """How many layouts a member with these cycles leaves as they are."""
    kept, turned = cycles
    zeros = dict(choices).get(0, 0) - sum(length * many for length, many in turned)
    if turned and zeros < 0:
        return 0
    signed = paired
    left = tuple((number, zeros if number == 0 and turned else times) for number, times in choices)

    @cache
    def ways(at: int, open_cycles: tuple[tuple[int, int], ...]) -> int:
        if at == len(left):
            return int(not any(many for _, many in open_cycles))
        number, times = left[at]
        total = 0
        for taken in _taken(open_cycles, times):
            chosen = 1
            for (_, many), some in zip(open_cycles, taken, strict=True):
                chosen *= comb(many, some)
            if signed and number:
                chosen *= 2 ** sum(taken)
            rest = tuple(
                (length, many - some) for (length, many), some in zip(open_cycles, taken, strict=True)
            )
            total += chosen * ways(at + 1, rest)
        return total

    return ways(0, kept)


def _taken(cycles: tuple[tuple[int, int], ...], units: int) -> list[tuple[int, ...]]:
    """How many cycles of each length to take so that they cover so many units: every way."""
    if not cycles:
        return [()] if units == 0 else []
    (length, many), rest = cycles[0], cycles[1:]
    return [
        (some, *more)
        for some in range(min(many, units // length) + 1)
        for more in _taken(rest, units - some * length)
    ]
