"""All divisors of a polynomial that can be a die: no negative coefficient, a value at 1 that fits a face count.

A divisor is the vector of its factors' exponents. The factors with value 1 at 1 are constrained by no face count, and
most vectors differ in them alone, so they are tried all at once: the products of half of them are the columns of a
matrix, each product of the others is a Toeplitz matrix, and one matrix product multiplies a whole batch out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Any

import flint
from facewright.search.engines.splitting.polynomials import Factored
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Vector = tuple[int, ...]

ONE_BY_ONE = 1_500
"""Up to so many vectors are multiplied out one by one: loading numpy would take longer."""

EXACT = 2**53
"""Below this, float64 holds every whole number."""

PRIME = 1_048_573
"""Modulus where float64 would not be exact: a prime below 2^20, so that sums of 32,768 products stay exact."""

FIRST_ROWS = 24
"""Coefficients looked at first: most divisors with a negative coefficient show one this low."""

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


def _powers(whole: Factored) -> list[list[flint.fmpz_poly]]:
    return [[factor.poly**e for e in range(factor.power + 1)] for factor in whole.factors]


def _times(
    start: flint.fmpz_poly, powers: list[list[flint.fmpz_poly]], first: int, exponents: Vector
) -> flint.fmpz_poly:
    for position, exponent in enumerate(exponents, first):
        if exponent:
            start = start * powers[position][exponent]
    return start


@dataclass(frozen=True)
class _Half:
    """All products of some of the free factors: exponents and polynomial, one each a product."""

    exponents: list[Vector]
    polys: list[flint.fmpz_poly]


def _halves(whole: Factored) -> tuple[_Half, _Half, list[int]]:
    """The free factors in two halves with about as many products each, and where each factor went."""
    order = list(range(whole.constrained, len(whole.factors)))
    order.sort(key=lambda position: -whole.factors[position].power)
    sides: list[list[int]] = [[], []]
    sizes = [1, 1]
    for position in order:
        smaller = 0 if sizes[0] <= sizes[1] else 1
        sides[smaller].append(position)
        sizes[smaller] *= whole.factors[position].power + 1
    powers = _powers(whole)
    halves = []
    for side in sides:
        pairs: list[tuple[Vector, flint.fmpz_poly]] = [((), flint.fmpz_poly([1]))]
        for position in side:
            pairs = [((*e, k), poly * p) for e, poly in pairs for k, p in enumerate(powers[position])]
        halves.append(_Half([e for e, _ in pairs], [poly for _, poly in pairs]))
    return halves[0], halves[1], sides[0] + sides[1]


def _all_at_once(whole: Factored, classes: list[Vector], stop: Stop, report: Progress) -> list[Vector]:
    import numpy as np

    left, right, places = _halves(whole)
    order = [places.index(position) for position in range(whole.constrained, len(whole.factors))]
    starts = [(bound, _times(flint.fmpz_poly([1]), _powers(whole), 0, bound)) for bound in classes]
    columns = _Columns(left.polys, all(factor.palindromic for factor in whole.factors))
    heads = [
        (bound, rest, start * poly)
        for bound, start in starts
        for rest, poly in zip(right.exponents, right.polys, strict=True)
    ]
    # heads of about the same degree share a batch, so that little of a batch is padding
    heads.sort(key=lambda head: head[2].degree())
    found: list[Vector] = []
    for first in range(0, len(heads), BATCH):
        if reason := stop():
            raise Stopped(reason)
        report("divisors", first, len(heads))
        batch = heads[first : first + BATCH]
        for row, keep in enumerate(columns.without_negative([head for *_, head in batch])):
            bound, rest, head = batch[row]
            for column in np.flatnonzero(keep):
                # in the residues a negative coefficient could hide: the exact product decides
                if columns.exact or min((head * left.polys[column]).coeffs()) >= 0:
                    free = left.exponents[column] + rest
                    found.append(bound + tuple(free[place] for place in order))
    return found


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
