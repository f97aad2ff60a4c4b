"""Distributions: results with whole numbers of ways, exact."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, reduce
from math import gcd, lcm
from typing import Any

Result = int | tuple[int, ...]
"""A result: a whole number, or, where dice are read side by side, the labels in the order of the dice."""


@dataclass(frozen=True)
class Distribution:
    """Results with whole-number ways: `pairs` is sorted by result, every number of ways is positive.

    The results are all whole numbers, or all tuples of them (see `Result`); only whole numbers have a mean, a variance
    and shifts.

    Example:
        >>> two = Distribution.of({1: 1, 2: 1}) + Distribution.of({1: 1, 2: 1})
        >>> two.ways
        {2: 1, 3: 2, 4: 1}
        >>> two.chance(3)
        Fraction(1, 2)
    """

    pairs: tuple[tuple[Any, int], ...]

    @classmethod
    def of(cls, ways: Mapping[Any, int]) -> Distribution:
        """The distribution with these ways; zeros are dropped, an empty or a negative one raises ValueError."""
        if any(count < 0 for count in ways.values()):
            raise ValueError("ways: whole numbers of at least 0 are needed")
        pairs = tuple(sorted((result, count) for result, count in ways.items() if count))
        if not pairs:
            raise ValueError("ways: at least one result is needed")
        return cls(pairs)

    @classmethod
    def of_plain(cls, pairs: Iterable[Any]) -> Distribution:
        """The distribution of pairs as `plain_pairs` has them."""
        read = (
            (tuple(map(int, one)) if isinstance(one, list) else int(one), int(count)) for one, count in pairs
        )
        return cls.of(dict(read))

    @classmethod
    def of_labels(cls, labels: Iterable[int]) -> Distribution:
        """The distribution of one die: each of its labels equally likely."""
        ways: dict[int, int] = {}
        for label in labels:
            ways[label] = ways.get(label, 0) + 1
        return cls.of(ways)

    @cached_property
    def ways(self) -> dict[Any, int]:
        """Result → ways."""
        return dict(self.pairs)

    @cached_property
    def outcomes(self) -> int:
        """All ways together."""
        return sum(count for _, count in self.pairs)

    @property
    def least(self) -> Any:
        """The least result."""
        return self.pairs[0][0]

    @property
    def greatest(self) -> Any:
        """The greatest result."""
        return self.pairs[-1][0]

    @cached_property
    def mean(self) -> Fraction:
        """The mean result."""
        return Fraction(sum(result * count for result, count in self.pairs), self.outcomes)

    @cached_property
    def variance(self) -> Fraction:
        """The variance of the result."""
        square = Fraction(sum(result * result * count for result, count in self.pairs), self.outcomes)
        return square - self.mean**2

    @property
    def plain_pairs(self) -> list[list[Any]]:
        """The pairs as JSON holds them: labels side by side as a list."""
        return [
            [list(result) if isinstance(result, tuple) else result, count] for result, count in self.pairs
        ]

    def chance(self, result: Result) -> Fraction:
        """The chance of a result."""
        return Fraction(self.ways.get(result, 0), self.outcomes)

    def reduced(self) -> Distribution:
        """The same chances in the fewest ways."""
        common = reduce(gcd, (count for _, count in self.pairs))
        return Distribution(tuple((result, count // common) for result, count in self.pairs))

    def shifted(self, by: int) -> Distribution:
        """Every result larger by a constant."""
        return Distribution(tuple((result + by, count) for result, count in self.pairs))

    def negated(self) -> Distribution:
        """Every result with its sign changed."""
        return Distribution(tuple((-result, count) for result, count in reversed(self.pairs)))

    def __add__(self, other: Distribution) -> Distribution:
        """The distribution of the sum of two independent results; tuples are joined end to end."""
        ways: dict[Any, int] = {}
        for result, count in self.pairs:
            for more, times in other.pairs:
                ways[result + more] = ways.get(result + more, 0) + count * times
        return Distribution.of(ways)

    def mixed(self, other: Distribution, weight: Fraction) -> Distribution:
        """With chance `weight` a result of `other`, else one of this: exact, in the fewest ways.

        Raises ValueError unless 0 <= weight <= 1.
        """
        if not 0 <= weight <= 1:
            raise ValueError("weight: a fraction from 0 to 1 is needed")
        results = sorted(set(self.ways) | set(other.ways))
        chances = {r: self.chance(r) * (1 - weight) + other.chance(r) * weight for r in results}
        common = reduce(lcm, (chance.denominator for chance in chances.values()))
        return Distribution.of({r: int(chance * common) for r, chance in chances.items()}).reduced()

    def same_chances(self, other: Distribution) -> bool:
        """Whether every result is exactly as likely as in the other, however many ways each counts."""
        return self.reduced() == other.reduced()

    def distance(self, other: Distribution) -> Fraction:
        """Total variation distance: half the sum of the absolute differences of the chances, exact."""
        results = set(self.ways) | set(other.ways)
        return sum((abs(self.chance(r) - other.chance(r)) for r in results), Fraction(0)) / 2
