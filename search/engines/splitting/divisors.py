"""All divisors of a polynomial that can be a die: no negative coefficient, a value at 1 that fits a face count.

A divisor is the vector of its factors' exponents. The factors with value 1 at 1 are constrained by no face count, and
most vectors differ in them alone, so they are tried all at once: the products of half of them are the columns of a
matrix, each product of the others is a Toeplitz matrix, and one matrix product multiplies a whole batch out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice, product
from math import isqrt, prod
from typing import TYPE_CHECKING, Any

import flint
from facewright.search.engines.splitting.polynomials import Factored
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Vector = tuple[int, ...]
Powers = list[list[flint.fmpz_poly]]
"""For each factor its powers, from 0 on."""

ONE_BY_ONE = 1_500
"""Up to so many vectors are multiplied out one by one: loading numpy would take longer."""

EXACT = 2**53
"""Below this, float64 holds every whole number."""

PRIME = 131_071
"""Modulus where float64 would not be exact: a prime whose residues are below 2^16 in size, so that sums of 2^21
products stay exact, and a target spans fewer results than that."""

FIRST_ROWS = 24
"""Coefficients looked at first: most divisors with a negative coefficient show one this low."""

MOST_COLUMNS = 2_500
"""Columns at most: with a thousand coefficients each they take 20 MB."""

MOST_DIVISORS = 5_000_000
"""Divisors at most: some 2 GB; combining more would take days."""

BATCH = 48
"""Toeplitz matrices multiplied at once."""


def fitting(whole: Factored, faces: Iterable[int]) -> Iterator[Vector]:
    """Exponents of the constrained factors whose value at 1 fits a face count: n / value is a divisor of the content.

    A die with n faces and this divisor carries the constant n / value, a part of the content.
    """
    wanted = sorted(set(faces))

    def values(position: int, value: int, chosen: Vector) -> Iterator[Vector]:
        if not any(n % value == 0 for n in wanted):
            return
        if position == whole.constrained:
            if any(n % value == 0 and whole.content % (n // value) == 0 for n in wanted):
                yield chosen
            return
        factor = whole.factors[position]
        for exponent in range(factor.power + 1):
            yield from values(position + 1, value * factor.at_one**exponent, (*chosen, exponent))

    yield from values(0, 1, ())


def nonnegative_divisors(whole: Factored, faces: Iterable[int], stop: Stop, report: Progress) -> list[Vector]:
    """Every exponent vector whose product has no negative coefficient and fits one of the face counts.

    Raises:
        Stopped: `stop` asked for it.
    """
    classes = list(fitting(whole, faces))
    free = whole.factors[whole.constrained :]
    many = len(classes)
    for factor in free:
        many *= factor.power + 1
    if many <= ONE_BY_ONE:
        return _one_by_one(whole, classes, stop)
    return _all_at_once(whole, classes, stop, report)


def _one_by_one(whole: Factored, classes: list[Vector], stop: Stop) -> list[Vector]:
    frees = list(product(*(range(f.power + 1) for f in whole.factors[whole.constrained :])))
    powers = _powers(whole)
    found = []
    for bound in classes:
        if reason := stop():
            raise Stopped(reason)
        start = _times(flint.fmpz_poly([1]), powers, 0, bound)
        for rest in frees:
            poly = _times(start, powers, whole.constrained, rest)
            if min(poly.coeffs()) >= 0:
                found.append(bound + rest)
    return found


def _powers(whole: Factored) -> Powers:
    return [[factor.poly**e for e in range(factor.power + 1)] for factor in whole.factors]


def _times(start: flint.fmpz_poly, powers: Powers, first: int, exponents: Vector) -> flint.fmpz_poly:
    for position, exponent in enumerate(exponents, first):
        if exponent:
            start = start * powers[position][exponent]
    return start


def _all_at_once(whole: Factored, classes: list[Vector], stop: Stop, report: Progress) -> list[Vector]:
    import numpy as np

    order = _column_factors(whole)
    frees = [position for position in range(whole.constrained, len(whole.factors)) if position not in order]
    # factors of low degree vary fastest, so that neighbours in a batch have about the same degree
    frees.sort(key=lambda position: -whole.factors[position].degree)
    powers = _powers(whole)
    left = _products(order, powers)
    columns = _Columns([poly for _, poly in left], all(factor.palindromic for factor in whole.factors))
    places = [*range(whole.constrained), *order, *frees]
    back = [places.index(position) for position in range(len(places))]
    heads = _heads(classes, frees, powers)
    many = len(classes) * prod(whole.factors[position].power + 1 for position in frees)
    found: list[Vector] = []
    done = 0
    while batch := list(islice(heads, BATCH)):
        if reason := stop():
            raise Stopped(reason)
        if len(found) > MOST_DIVISORS:
            raise Stopped(f"more than {MOST_DIVISORS:,} ways to label one die came up, too many to combine")
        report("divisors", done, many)
        done += len(batch)
        for (bound, rest, head), keep in zip(
            batch, columns.without_negative([h for *_, h in batch]), strict=True
        ):
            for column in np.flatnonzero(keep):
                exponents, poly = left[column]
                # in the residues a negative coefficient could hide: the exact product decides
                if columns.exact or min((head * poly).coeffs()) >= 0:
                    vector = bound + exponents + rest
                    found.append(tuple(vector[place] for place in back))
    return found


def _column_factors(whole: Factored) -> list[int]:
    """Free factors whose products are the columns: about half of all products, but no more than memory holds well."""
    free = list(range(whole.constrained, len(whole.factors)))
    free.sort(key=lambda position: whole.factors[position].degree * whole.factors[position].power)
    half = isqrt(prod(whole.factors[position].power + 1 for position in free))
    chosen, columns = [], 1
    for position in free:
        more = columns * (whole.factors[position].power + 1)
        if columns >= half or more > MOST_COLUMNS:
            break
        chosen.append(position)
        columns = more
    return chosen


def _products(positions: list[int], powers: Powers) -> list[tuple[Vector, flint.fmpz_poly]]:
    """Every product of powers of these factors, with its exponents."""
    pairs: list[tuple[Vector, flint.fmpz_poly]] = [((), flint.fmpz_poly([1]))]
    for position in positions:
        pairs = [((*e, k), poly * p) for e, poly in pairs for k, p in enumerate(powers[position])]
    return pairs


def _heads(
    classes: list[Vector], frees: list[int], powers: Powers
) -> Iterator[tuple[Vector, Vector, flint.fmpz_poly]]:
    """Every product of a class of constrained factors and powers of the free factors that are in no column."""
    for bound in classes:
        stack: list[tuple[Vector, flint.fmpz_poly]] = [((), _times(flint.fmpz_poly([1]), powers, 0, bound))]
        while stack:
            rest, poly = stack.pop()
            if len(rest) == len(frees):
                yield bound, rest, poly
            else:
                steps = powers[frees[len(rest)]]
                stack.extend(((*rest, k), poly * step) for k, step in reversed(list(enumerate(steps))))


class _Columns:
    """The products of one half as the columns of a matrix; `exact` says whether float64 held every product."""

    def __init__(self, polys: list[flint.fmpz_poly], palindromic: bool) -> None:
        self.palindromic = palindromic
        self.exact = True
        self._rows = [[int(c) for c in poly.coeffs()] for poly in polys]
        self._largest = max(max(abs(c) for c in row) for row in self._rows)
        self._plain: NDArray[np.float64] | None = None
        self._residues: NDArray[np.float64] | None = None
        self.degrees = [len(row) - 1 for row in self._rows]

    def _matrix(self, exact: bool) -> NDArray[np.float64]:
        import numpy as np

        kept = self._plain if exact else self._residues
        if kept is None:
            kept = np.zeros((max(self.degrees) + 1, len(self._rows)))
            for column, row in enumerate(self._rows):
                kept[: len(row), column] = row if exact else [_residue(c) for c in row]
            if exact:
                self._plain = kept
            else:
                self._residues = kept
        return kept

    def without_negative(self, heads: list[flint.fmpz_poly]) -> Iterator[NDArray[np.bool_]]:
        """For each head, which columns times the head show no negative coefficient (no impossible residue)."""
        import numpy as np

        rows = [[int(c) for c in head.coeffs()] for head in heads]
        self.exact = max(sum(abs(c) for c in row) for row in rows) * self._largest < EXACT
        if not self.exact:
            rows = [[_residue(c) for c in row] for row in rows]
        matrix = self._matrix(self.exact)
        padded = np.zeros((len(rows), max(map(len, rows))))
        for number, row in enumerate(rows):
            padded[number, : len(row)] = row
        low = self._products(padded, matrix, min(FIRST_ROWS, padded.shape[1] + matrix.shape[0] - 1))
        keep = self._possible(low)
        degrees = np.array(self.degrees)
        for number, row in enumerate(rows):
            kept = keep[number]
            left = np.flatnonzero(kept)
            if left.size:
                degree = len(row) - 1 + int(degrees[left].max())
                count = degree // 2 + 1 if self.palindromic else degree + 1
                if count > FIRST_ROWS:
                    full = self._products(padded[number : number + 1, : len(row)], matrix[:, left], count)
                    kept[left] = self._possible(full)[0]
            yield kept

    def _products(
        self, heads: NDArray[np.float64], matrix: NDArray[np.float64], count: int
    ) -> NDArray[np.float64]:
        """The first `count` coefficients of every head times every column: shape (heads, count, columns)."""
        import numpy as np

        width = min(matrix.shape[0], count)
        spread = np.zeros((heads.shape[0], width - 1 + count))
        used = min(heads.shape[1], count)
        spread[:, width - 1 : width - 1 + used] = heads[:, :used]
        windows: Any = np.lib.stride_tricks.sliding_window_view(spread, width, axis=1)
        result: NDArray[np.float64] = windows[:, :, ::-1] @ matrix[:width]
        return result

    def _possible(self, products: NDArray[np.float64]) -> NDArray[np.bool_]:
        import numpy as np

        if self.exact:
            plain: NDArray[np.bool_] = products.min(axis=1) >= 0
            return plain
        left = np.remainder(products, PRIME)
        possible: NDArray[np.bool_] = left.max(axis=1) < PRIME // 2
        return possible


def _residue(number: int) -> int:
    """The residue of least size."""
    small = number % PRIME
    return small if small <= PRIME // 2 else small - PRIME
