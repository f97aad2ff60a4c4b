"""How far results read from one roll are from independent: exact distances and the arithmetic bound below them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import combinations, product
from math import log2, prod

Weights = tuple[int, ...]
"""One positive whole number a label; a label's chance is its weight over their sum."""

Joint = Mapping[tuple[int, ...], int]
"""Positions of the labels, one a readout → how many rests show them together."""


def expected(weights: Sequence[Weights]) -> dict[tuple[int, ...], Fraction]:
    """Combination → its chance, were the readouts independent."""
    whole = prod(sum(one) for one in weights)
    places = product(*(range(len(one)) for one in weights))
    return {c: Fraction(prod(w[p] for w, p in zip(weights, c, strict=True)), whole) for c in places}


def distance(joint: Joint, weights: Sequence[Weights], rests: int) -> Fraction:
    """Total variation distance of the joint distribution from the product of the readouts' own."""
    gaps = (abs(Fraction(joint.get(c, 0), rests) - chance) for c, chance in expected(weights).items())
    return sum(gaps, Fraction(0)) / 2


def marginal(joint: Joint, readouts: Sequence[int]) -> dict[tuple[int, ...], int]:
    """The joint counts of some of the readouts."""
    counts: dict[tuple[int, ...], int] = {}
    for combination, count in joint.items():
        part = tuple(combination[one] for one in readouts)
        counts[part] = counts.get(part, 0) + count
    return counts


def pair_distances(joint: Joint, weights: Sequence[Weights], rests: int) -> dict[tuple[int, int], Fraction]:
    """For each pair of readouts, counted from 0, the distance of the two together from independent."""
    return {
        (one, other): distance(marginal(joint, (one, other)), (weights[one], weights[other]), rests)
        for one, other in combinations(range(len(weights)), 2)
    }


def information(joint: Joint, weights: Sequence[Weights], rests: int) -> float:
    """What the readouts tell of one another, in bits (a float: logarithms are not rational).

    Of two readouts their mutual information; of more the sum of their own entropies less that of all together.
    """
    chances = expected(weights)
    shares = ((count / rests, float(chances[c])) for c, count in joint.items() if count)
    return sum(share * log2(share / chance) for share, chance in shares)


def arithmetic_bound(weights: Sequence[Weights], rests: int) -> Fraction:
    """No counts of `rests` rests come nearer to independent than this, whatever the solid.

    The counts n_c are whole and sum to N; Σ|n_c/N − p_c| is a sum of convex functions of one count each, so the
    greatest whole parts of N·p_c, and one more where the fraction left over is greatest, reach the least sum.
    With K equally likely combinations and r = N mod K it is r(K − r)/(NK). No part of the readouts can be further
    from independent than all together, so the greatest bound of any part of them counts.

    Example:
        >>> arithmetic_bound([(1, 1), (1, 1, 1, 1)], 12)
        Fraction(1, 6)
    """
    sizes = range(2, len(weights) + 1)
    parts = {tuple(sorted(part)) for size in sizes for part in combinations(weights, size)}
    return max((_bound(part, rests) for part in parts), default=Fraction(0))


def _bound(weights: Sequence[Weights], rests: int) -> Fraction:
    shares = [rests * chance for chance in expected(weights).values()]
    left = sorted((share - share.__floor__() for share in shares), reverse=True)
    ups = sum(left, Fraction(0)).__floor__()
    gaps = sum((1 - part for part in left[:ups]), Fraction(0)) + sum(left[ups:], Fraction(0))
    return gaps / 2 / rests
