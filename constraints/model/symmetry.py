"""Orders between the numbers of a layout that keep one of all that the symmetries of a solid join.

The symmetries carry any unit, with either sign, to any other: so some number may be said to stand on the first unit.
What is left keeps that unit in place; of the units to which it carries another one, that other may be said to have the
least number; and so on, until nothing but the identity is left.
"""

from __future__ import annotations

from facewright.constraints.model.units import Term, Units

Ranking = tuple[int, Term]
"""A unit, and another with a sign: the number of the first is not above the signed number of the second."""

FIRST = 0
"""The unit that gets a given number."""


def first_number(units: Units) -> int | None:
    """The number that may be said to stand on the first unit; None where the symmetries do not carry it everywhere.

    One that few units carry, and far from 0.
    """
    signs = (1, -1) if units.paired else (1,)
    reached = {one[FIRST] for one in units.symmetries}
    if reached < {(unit, sign) for unit in range(units.many) for sign in signs}:
        return None
    fewest = min(times for _, times in units.choices)
    return max((value for value, times in units.choices if times == fewest), key=abs)


def rankings(units: Units) -> tuple[Ranking, ...]:
    """Orders that can be asked for once the first unit has its number."""
    group = [one for one in units.symmetries if one[FIRST] == (FIRST, 1)]
    found: list[Ranking] = []
    while len(group) > 1:
        orbits = [{one[unit] for one in group} for unit in range(units.many)]
        unit = max(range(units.many), key=lambda one: (len(orbits[one]), -one))
        found += [(unit, other) for other in sorted(orbits[unit]) if other != (unit, 1)]
        group = [one for one in group if one[unit] == (unit, 1)]
    return tuple(found)
