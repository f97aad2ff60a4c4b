"""Whether a model of label counts stays within the whole numbers that CP-SAT can count."""

from __future__ import annotations

from collections.abc import Sequence
from math import prod

from facewright.constraints.labels import Die
from facewright.constraints.model.counts import LARGEST_SUM


def too_large(dice: Sequence[Die], again: bool = False) -> str | None:
    """Why a model of these dice could overflow, for a designer; None where it cannot.

    No number of ways passes the product of the face counts, squared where labels are rolled `again`, and no sum of a
    totals rule has more terms of that size than one die has labels.
    """
    outcomes = prod(die.faces for die in dice) ** (2 if again else 1)
    terms = 1 + max((len(die.exactly or die.rules.allowed()) for die in dice), default=0)
    if outcomes * terms < LARGEST_SUM:
        return None
    return (
        f"these dice come up in {outcomes:,} ways, which with {terms - 1:,} labels a die is more than the "
        "solver can count exactly"
    )
