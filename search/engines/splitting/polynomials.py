"""The target as an integer polynomial, and its irreducible factors.

A die is the polynomial of its labels (the sum of x^label), a set's total the product of its dice. All polynomials here
start with a constant term other than 0: the power of x is kept apart, as the sum of the least labels.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import prod

import flint
from facewright.search.engines.splitting.factoring import irreducible_factors
from facewright.search.stop import Stop, never
from facewright.search.words import SUPERSCRIPTS


@dataclass(frozen=True)
class Factor:
    """An irreducible factor with positive leading coefficient, its power, and its value at 1.

    The value at 1 is positive: a factor negative at 1 would have a root above 1, where a polynomial without negative
    coefficients has none.
    """

    poly: flint.fmpz_poly
    power: int
    at_one: int

    @property
    def degree(self) -> int:
        """The degree of the factor (of one, not of its power)."""
        return int(self.poly.degree())

    @cached_property
    def palindromic(self) -> bool:
        """Whether its coefficients read the same from both ends."""
        coefficients = self.poly.coeffs()
        return bool(coefficients == coefficients[::-1])


@dataclass(frozen=True)
class Factored:
    """content · product of factor^power; factors that face counts constrain (value at 1 above 1) come first."""

    content: int
    factors: tuple[Factor, ...]

    @cached_property
    def powers(self) -> tuple[int, ...]:
        """The power of each factor: what the dice must use up together."""
        return tuple(factor.power for factor in self.factors)

    @cached_property
    def constrained(self) -> int:
        """How many factors have a value at 1 above 1; they come first."""
        return sum(factor.at_one > 1 for factor in self.factors)

    def product(self, exponents: Sequence[int]) -> flint.fmpz_poly:
        """The product of the factors to these exponents, without the content."""
        poly = flint.fmpz_poly([1])
        for factor, exponent in zip(self.factors, exponents, strict=True):
            if exponent:
                poly *= factor.poly**exponent
        return poly

    def at_one(self, exponents: Sequence[int]) -> int:
        """The value at 1 of that product; exponents may stop after the constrained factors."""
        return prod(f.at_one**e for f, e in zip(self.factors, exponents, strict=False))

    def deals(self) -> int:
        """How many divisors there are, whatever their value at 1 and their signs."""
        return prod(power + 1 for power in self.powers)


def polynomial(ways: Mapping[int, int]) -> flint.fmpz_poly:
    """The polynomial of a distribution, divided by the power of x of its least result."""
    least, greatest = min(ways), max(ways)
    coefficients = [0] * (greatest - least + 1)
    for result, count in ways.items():
        coefficients[result - least] = count
    return flint.fmpz_poly(coefficients)


def factored(poly: flint.fmpz_poly, stop: Stop = never) -> Factored:
    """The complete factorisation over the integers of a polynomial without negative coefficients.

    Source: the unique factorisation of Z[x] (Gauss's lemma); FLINT factors.

    Raises:
        Stopped: `stop` asked for it.
    """
    content, pairs = irreducible_factors(poly, stop)
    factors = []
    for factor, power in pairs:
        positive = factor if factor.leading_coefficient() > 0 else -factor
        factors.append(Factor(positive, power, int(positive(1))))
    factors.sort(key=lambda f: (f.at_one == 1, f.at_one, f.degree, [int(c) for c in f.poly.coeffs()]))
    return Factored(abs(content), tuple(factors))


def polynomial_text(poly: flint.fmpz_poly) -> str:
    """A polynomial as people write it.

    Example:
        >>> polynomial_text(flint.fmpz_poly([1, -1, 0, 2]))
        '2x³ − x + 1'
    """
    parts: list[str] = []
    coefficients = [int(c) for c in poly.coeffs()]
    for power in range(len(coefficients) - 1, -1, -1):
        number = coefficients[power]
        if not number:
            continue
        sign = "−" if number < 0 else "+"
        variable = "" if power == 0 else "x" if power == 1 else "x" + str(power).translate(SUPERSCRIPTS)
        size = str(abs(number)) if abs(number) != 1 or not variable else ""
        if parts:
            parts += [sign, size + variable]
        else:
            parts.append(("−" if number < 0 else "") + size + variable)
    return " ".join(parts) or "0"
