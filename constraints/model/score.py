"""A linear score over the label counts of a model, to be made as large as possible."""

from __future__ import annotations

from collections.abc import Callable

from facewright.constraints.errors import UsageError
from facewright.constraints.model.counts import LARGEST_SUM, CountModel

Weight = Callable[[int, int], int]
"""(Position of a die, label) → what one face with that label adds to the score; a whole number."""


def post_score(model: CountModel, weight: Weight) -> int:
    """Makes the model look for the greatest Σ weight(die, label)·count(die, label).

    Interchangeable dice stand sorted by their labels where the order between them is posted; weights that
    differ between them then speak of that standing.

    Returns:
        The part of the score that fixed dice settle; the model's objective is the rest.

    Raises:
        UsageError: a score could pass what the solver can count.
    """
    from ortools.sat.python import cp_model

    parts = [
        (weight(die, label), count)
        for die in range(len(model.dice))
        for label, count in model.counts(die).items()
    ]
    reach = sum(abs(one) * count.most for one, count in parts)
    if reach >= LARGEST_SUM:
        raise UsageError(f"weight: scores below {LARGEST_SUM:,} can be compared; these can reach {reach:,}")
    free = [(one, count.value) for one, count in parts if not isinstance(count.value, int)]
    model.cp.maximize(
        cp_model.LinearExpr.weighted_sum([value for _, value in free], [one for one, _ in free])
    )
    return sum(one * count.value for one, count in parts if isinstance(count.value, int))
