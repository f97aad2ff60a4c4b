"""FROZEN: plain splitting of two n-face dice like 2dn, one combination of cyclotomic factors after the other.

The yardstick of the benchmarks for the engine that deals factors; it stays as it is and uses nothing of the engines.
"""

from __future__ import annotations

import sys
import time
from itertools import product
from math import prod

from flint import fmpz_poly


def cyclotomics(n: int) -> dict[int, fmpz_poly]:
    """The factors of 1 + x + … + x^(n-1): Φ_d for each divisor d > 1 of n."""
    return {d: fmpz_poly.cyclotomic(d) for d in range(2, n + 1) if n % d == 0}


def choices(factors: dict[int, fmpz_poly], n: int) -> list[tuple[int, ...]]:
    """The powers, 0 to 2 each, of the factors whose value at 1 is not 1, such that the values multiply to n."""
    values = [int(factor(1)) for factor in factors.values()]
    return [
        powers
        for powers in product(range(3), repeat=len(values))
        if prod(value**power for value, power in zip(values, powers, strict=True)) == n
    ]


def multiplied(factors: list[fmpz_poly], powers: tuple[int, ...]) -> fmpz_poly:
    """The product of these powers of the factors."""
    made = fmpz_poly([1])
    for factor, power in zip(factors, powers, strict=True):
        for _ in range(power):
            made *= factor
    return made


def run(n: int, seconds: float, workers: int) -> tuple[int | None, float]:
    """Counts the pairs of n-face dice with positive labels that total like 2dn.

    Each factor of the target stands there twice; the first die takes 0, 1 or 2 of each, the second the rest. The
    first factor that is not shared out evenly goes to the first die, so that a pair and its exchange count once.

    Args:
        n: the face count, at least 2.
        seconds: the time allowed.
        workers: not used; one thread does it.

    Returns:
        The count, or None where the time ran out, and the seconds taken.
    """
    started = time.perf_counter()
    factors = cyclotomics(n)
    bound = {d: factor for d, factor in factors.items() if factor(1) != 1}
    free = [factor for d, factor in factors.items() if d not in bound]
    found = 0
    for powers in choices(bound, n):
        start = multiplied(list(bound.values()), powers)
        rest = multiplied(list(bound.values()), tuple(2 - power for power in powers))
        for more in product(range(3), repeat=len(free)):
            if time.perf_counter() - started > seconds:
                return None, time.perf_counter() - started
            uneven = next((power for power in powers + more if power != 1), 2)
            if uneven != 2:
                continue
            one = start * multiplied(free, more)
            if min(one.coeffs()) < 0:
                continue
            other = rest * multiplied(free, tuple(2 - power for power in more))
            found += min(other.coeffs()) >= 0
    return found, time.perf_counter() - started


if __name__ == "__main__":
    print(*run(int(sys.argv[1]), 600, 1))
