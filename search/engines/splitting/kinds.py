"""Kinds of dice: which divisors a die may be, how far each may be shifted, and the labels that follow."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import flint
from facewright.constraints.labels import Die
from facewright.search.engines.splitting.divisors import Vector
from facewright.search.engines.splitting.lattice import Bag, Lattice
from facewright.search.engines.splitting.polynomials import Factored
from facewright.search.stop import Stop, Stopped, never

MOST_CHOICES = 5_000_000
"""Choices of a die at most: some 2 GB."""


class Polynomials:
    """The products of a polynomial's factors, with the powers worked out once."""

    def __init__(self, whole: Factored) -> None:
        self.whole = whole
        self._powers = [[f.poly**e for e in range(f.power + 1)] for f in whole.factors]
        self._known: dict[Vector, tuple[int, ...]] = {}

    def coefficients(self, vector: Vector) -> tuple[int, ...]:
        """The coefficients of the product of the factors to these exponents."""
        if vector not in self._known:
            poly = flint.fmpz_poly([1])
            for powers, exponent in zip(self._powers, vector, strict=True):
                if exponent:
                    poly *= powers[exponent]
            self._known[vector] = tuple(int(c) for c in poly.coeffs())
        return self._known[vector]


class Kind:
    """One kind of die, and how many interchangeable dice there are of it.

    A choice for a die is a divisor (vector of exponents) and an offset: how far its least label stands above the
    lowest one allowed. All offsets together use up `slack`, since the least labels must add up to the least total.
    """

    def __init__(
        self,
        die: Die,
        positions: Sequence[int],
        divisors: Sequence[Vector],
        polys: Polynomials,
        slack: int,
        stop: Stop = never,
    ) -> None:
        self.die = die
        self.positions = tuple(positions)
        self.slack = slack
        self._polys = polys
        self._stop = stop
        whole = polys.whole
        self._degrees = [factor.degree for factor in whole.factors]
        self._room = die.rules.highest - die.rules.lowest
        self.offsets: dict[Vector, Sequence[int]] = {}
        for vector in divisors:
            self._ask()
            value = whole.at_one(vector)
            if die.faces % value or whole.content % (die.faces // value):
                continue
            offsets = self._offsets(vector, die.faces // value)
            if offsets:
                self.offsets[vector] = offsets

    @cached_property
    def interval(self) -> bool:
        """Whether the rules allow every label between the bounds, so that offsets are a whole interval."""
        return self.die.rules.only is None and not self.die.rules.avoid

    def _ask(self) -> None:
        if reason := self._stop():
            raise Stopped(reason)

    def _offsets(self, vector: Vector, constant: int) -> Sequence[int]:
        rules = self.die.rules
        degree = sum(d * e for d, e in zip(self._degrees, vector, strict=True))
        most = min(self._room - degree, self.slack)
        if most < 0:
            return ()
        if rules.repeats is not None and constant * max(self._polys.coefficients(vector)) > rules.repeats:
            return ()
        if self.interval:
            return range(most + 1)
        allowed = set(rules.allowed())
        stands = [rules.lowest + power for power, c in enumerate(self._polys.coefficients(vector)) if c]
        return tuple(t for t in range(most + 1) if all(label + t in allowed for label in stands))

    def labels(self, vector: Vector, offset: int) -> list[int]:
        """The labels of the die for this choice, sorted."""
        constant = self.die.faces // self._polys.whole.at_one(vector)
        least = self.die.rules.lowest + offset
        coefficients = self._polys.coefficients(vector)
        return [least + power for power, c in enumerate(coefficients) for _ in range(c * constant)]

    def choices(self, lattice: Lattice) -> dict[int, tuple[Vector, int]]:
        """Packed choice → (divisor, offset); the offset is the last component of the lattice.

        Raises:
            Stopped: the stop asked for it, or there are more choices than memory holds.
        """
        if sum(map(len, self.offsets.values())) > MOST_CHOICES:
            raise Stopped(
                "more ways to label one die came up than memory holds; a higher lowest label leaves fewer"
            )
        found: dict[int, tuple[Vector, int]] = {}
        for vector, offsets in self.offsets.items():
            self._ask()
            start = lattice.pack((*vector, 0))
            step = lattice.pack((*(0 for _ in vector), 1))
            found.update((start + offset * step, (vector, offset)) for offset in offsets)
        return found

    def shapes(self, lattice: Lattice) -> Bag:
        """Each divisor once, whatever its offsets."""
        return {lattice.pack((*vector, 0)): 1 for vector in self.offsets}
