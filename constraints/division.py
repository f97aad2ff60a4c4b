"""The division that every exact set must pass: its outcomes over the target's, times each number of ways."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import prod

from facewright.constraints.distribution import Distribution


def scaled_ways(target: Distribution, faces: Sequence[int]) -> dict[int, int] | None:
    """The ways of each result that dice with these face counts must have to give the target's chances.

    Args:
        target: the distribution wanted, with M outcomes.
        faces: the face count of each die, n1 … nk.

    Returns:
        Result → (n1…nk / M)·ways, in the order of the results; None where one of these is not whole, so that
        no exact design exists whatever the labels.

    Example:
        >>> scaled_ways(Distribution.of({2: 1, 3: 2, 4: 1}), (2, 4))
        {2: 2, 3: 4, 4: 2}
        >>> scaled_ways(Distribution.of({2: 1, 3: 2, 4: 1}), (2, 3)) is None
        True
    """
    product = prod(faces)
    if failing_division(target, faces) is not None:
        return None
    return {result: ways * product // target.outcomes for result, ways in target.pairs}


def failing_division(target: Distribution, faces: Sequence[int]) -> tuple[int, int, int, int] | None:
    """The first result whose ways would not be whole, as (result, its ways, M, n1…nk); None if all are whole.

    Example:
        >>> failing_division(Distribution.of({2: 1, 3: 2, 4: 1}), (2, 3))
        (2, 1, 4, 6)
    """
    product = prod(faces)
    for result, ways in target.pairs:
        if ways * product % target.outcomes:
            return result, ways, target.outcomes, product
    return None


def division_words(result: int, ways: int, outcomes: int, product: int) -> str:
    """What `failing_division` found, in words that follow "the dice have".

    Example:
        >>> division_words(2, 1, 36, 24)
        '24 outcomes; the result 2 would need 24 × 1/36 = 2/3 of them, no whole number'
    """
    share = Fraction(product * ways, outcomes)
    return (
        f"{product:,} outcomes; the result {result} would need {product:,} × {ways:,}/{outcomes:,} = {share} of them, "
        "no whole number"
    )
