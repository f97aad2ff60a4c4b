"""Counting ways to add up to one vector with chosen vectors, exactly.

A bag maps vectors to numbers. Vectors are packed into whole numbers, mixed radix; two packed vectors may be added as
numbers as long as no digit carries, and a digit carries exactly when the function `carry_mark` fails to be additive.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from itertools import accumulate, groupby
from math import factorial, prod
from operator import mul

from facewright.search.stop import Stop, Stopped, never

Bag = dict[int, int]
"""Packed vector → how many; no zeros."""

BY_HAND = 20_000
"""Up to so many pairs of vectors are added one by one: loading numpy would take longer."""

CHUNK = 4_000_000
"""Pairs of vectors added at once."""

MOST_VECTORS = 10_000_000
"""Vectors in a bag at most: some 2 GB."""

MOST_TERMS = 20_000
"""Terms of a product of cycle indices at most: as many as 36 equal dice have."""

TOO_MANY = "more ways to combine the dice came up than memory holds"


class Lattice:
    """The vectors between 0 and `top`, componentwise, packed into whole numbers."""

    def __init__(self, top: Sequence[int]) -> None:
        self.top_vector = tuple(top)
        sizes = [t + 1 for t in top]
        self.cells = prod(sizes)
        self._steps = list(accumulate(sizes[:-1], mul, initial=1)) if sizes else []
        self.top = self.pack(self.top_vector)

    def pack(self, vector: Sequence[int]) -> int:
        """The packed form of a vector."""
        return sum(v * step for v, step in zip(vector, self._steps, strict=True))

    def carry_mark(self, packed: int) -> int:
        """A number that is additive exactly for sums in which no digit carries.

        floor(a/b) + floor(c/b) <= floor((a+c)/b), with equality exactly where the digits below b do not carry.
        """
        return sum(packed // step for step in self._steps[1:])

    def adds(self, one: int, other: int) -> bool:
        """Whether the sum of two packed vectors stays within the top."""
        whole = one + other
        if whole >= self.cells:
            return False
        return self.carry_mark(one) + self.carry_mark(other) == self.carry_mark(whole)

    def minus(self, whole: int, part: int) -> int | None:
        """The packed difference of two vectors, or None where a component would be negative."""
        if part > whole or not self.adds(part, whole - part):
            return None
        return whole - part

    def times(self, factor: int, packed: int) -> int | None:
        """A multiple of a packed vector, or None beyond the top."""
        whole, left = 0, packed
        for step, top in zip(reversed(self._steps), reversed(self.top_vector), strict=True):
            digit, left = divmod(left, step)
            if digit * factor > top:
                return None
            whole += digit * factor * step
        return whole

    def dilated(self, bag: Bag, factor: int) -> Bag:
        """Every vector multiplied by a whole number; those beyond the top are dropped."""
        grown = ((self.times(factor, packed), count) for packed, count in bag.items())
        return {packed: count for packed, count in grown if packed is not None}

    def convolved(self, one: Bag, other: Bag, stop: Stop = never) -> Bag:
        """How many ways each vector is the sum of one vector from each bag.

        Raises:
            Stopped: `stop` asked for it.
        """
        if not one or not other:
            return {}
        most = sum(one.values()) * sum(other.values())
        if len(one) * len(other) <= BY_HAND or most >= 2**62 or self.cells >= 2**61:
            return self._by_hand(one, other, stop)
        return self._in_chunks(one, other, stop)

    def _by_hand(self, one: Bag, other: Bag, stop: Stop) -> Bag:
        total: Bag = {}
        for packed, count in one.items():
            if reason := stop():
                raise Stopped(reason)
            for more, times in other.items():
                if self.adds(packed, more):
                    total[packed + more] = total.get(packed + more, 0) + count * times
            if len(total) > MOST_VECTORS:
                raise Stopped(TOO_MANY)
        return total

    def _in_chunks(self, one: Bag, other: Bag, stop: Stop) -> Bag:
        import numpy as np

        small, large = sorted((one, other), key=len)
        keys = np.fromiter(large, np.int64, len(large))
        counts = np.fromiter(large.values(), np.int64, len(large))
        marks = sum((keys // step for step in self._steps[1:]), np.zeros_like(keys))
        rows = max(1, CHUNK // len(keys))
        items = list(small.items())
        sums, ways = np.empty(0, np.int64), np.empty(0, np.int64)
        for first in range(0, len(items), rows):
            if reason := stop():
                raise Stopped(reason)
            part = np.array(items[first : first + rows], np.int64)
            part_marks = sum((part[:, 0] // step for step in self._steps[1:]), np.zeros(len(part), np.int64))
            whole = part[:, :1] + keys
            whole_marks = sum((whole // step for step in self._steps[1:]), np.zeros_like(whole))
            fits = (whole < self.cells) & (whole_marks == part_marks[:, None] + marks)
            both = np.concatenate([sums, whole[fits]])
            weights = np.concatenate([ways, (part[:, 1:] * counts)[fits]])
            sums, place = np.unique(both, return_inverse=True)
            ways = np.zeros(len(sums), np.int64)
            np.add.at(ways, place, weights)
            if len(sums) > MOST_VECTORS:
                raise Stopped(TOO_MANY)
        return dict(zip(sums.tolist(), ways.tolist(), strict=True))

    def meeting(self, one: Bag, other: Bag) -> int:
        """How many ways the top is the sum of one vector from each bag."""
        small, large = sorted((one, other), key=len)
        return sum(count * large.get(self.top - packed, 0) for packed, count in small.items())


class Multisets:
    """Counts the ways to reach the top with dice of several kinds, where dice of one kind are not told apart.

    `bags` holds, for each kind, the vectors that one die of it may take (each counted once); `sizes` how many dice of
    each kind there are. The number of multisets of k is the cycle index of the symmetric group, a sum over the
    partitions of k of products of power sums (Pólya 1937, from memory); power sums are dilated bags.
    """

    def __init__(
        self, lattice: Lattice, bags: Sequence[Bag], sizes: Sequence[int], stop: Stop = never
    ) -> None:
        self.lattice = lattice
        self.bags = bags
        self.sizes = sizes
        self._stop = stop
        self._sums: dict[tuple[tuple[int, int], ...], Bag] = {}

    @cached_property
    def countable(self) -> bool:
        """Whether there are few enough terms to count with; many equal dice have too many."""
        return prod(number_of_partitions(size) for size in self.sizes) <= MOST_TERMS

    @cached_property
    def count(self) -> int:
        """The number of ways.

        Raises:
            Stopped: the stop asked for it, or they cannot be counted in the memory there is.
        """
        if not self.countable:
            raise Stopped(TOO_MANY)
        scale = prod(factorial(size) for size in self.sizes)
        total = 0
        for parts, weight in self._terms():
            if reason := self._stop():
                raise Stopped(reason)
            half = len(parts) // 2
            total += weight * self.lattice.meeting(self.sum_of(parts[:half]), self.sum_of(parts[half:]))
        return total // scale

    def sum_of(self, parts: tuple[tuple[int, int], ...]) -> Bag:
        """The convolution of power sums, each given as (kind, dilation); the parts in ascending order."""
        if parts not in self._sums:
            if not parts:
                self._sums[parts] = {0: 1}
            elif len(parts) == 1:
                kind, dilation = parts[0]
                self._sums[parts] = self.lattice.dilated(self.bags[kind], dilation)
            else:
                self._sums[parts] = self.lattice.convolved(
                    self.sum_of(parts[:-1]), self.sum_of(parts[-1:]), self._stop
                )
        return self._sums[parts]

    def known_sums(self, kind: int, size: int) -> Bag | None:
        """The sums of so many vectors of one kind, where counting needed them anyway."""
        return self._sums.get(((kind, 1),) * size)

    def _terms(self) -> list[tuple[tuple[tuple[int, int], ...], int]]:
        """Every product of power sums in the product of the cycle indices, with its weight times the scale."""
        terms: list[tuple[tuple[tuple[int, int], ...], int]] = [((), 1)]
        for kind, size in enumerate(self.sizes):
            terms = [
                ((*parts, *((kind, part) for part in partition)), weight * permutations_of_type(partition))
                for parts, weight in terms
                for partition in partitions(size, size)
            ]
        return terms


def partitions(whole: int, most: int) -> list[tuple[int, ...]]:
    """The partitions of a whole number into parts of at most `most`, each ascending.

    Example:
        >>> partitions(4, 4)
        [(1, 1, 1, 1), (1, 1, 2), (2, 2), (1, 3), (4,)]
    """
    if whole == 0:
        return [()]
    return [
        (*rest, part) for part in range(1, min(whole, most) + 1) for rest in partitions(whole - part, part)
    ]


def number_of_partitions(whole: int) -> int:
    """How many partitions a whole number has.

    Example:
        >>> [number_of_partitions(n) for n in range(8)]
        [1, 1, 2, 3, 5, 7, 11, 15]
    """
    ways = [1] + [0] * whole
    for part in range(1, whole + 1):
        for total in range(part, whole + 1):
            ways[total] += ways[total - part]
    return ways[whole]


def permutations_of_type(partition: tuple[int, ...]) -> int:
    """How many permutations have cycles of these lengths.

    Example:
        >>> [permutations_of_type(p) for p in partitions(4, 4)]
        [1, 6, 3, 8, 6]
    """
    size = sum(partition)
    repeated = prod(factorial(len(list(group))) for _, group in groupby(partition))
    return factorial(size) // (prod(partition) * repeated)
