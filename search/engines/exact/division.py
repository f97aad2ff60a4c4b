"""What every exact question must pass first: shares of the outcomes that are whole numbers."""

from __future__ import annotations

from facewright.constraints.division import division_words, failing_division
from facewright.constraints.grammar import capital
from facewright.constraints.question import Numbering
from facewright.search.answer import Closing
from facewright.search.words import dice_words


def barred_by_division(question: Numbering) -> Closing | None:
    """The closing statement where some result would need a share of the outcomes that is not whole; else None."""
    failing = failing_division(question.target, question.chances(question.dice))
    if failing is None:
        return None
    result, ways, outcomes, product = failing
    have = "has" if len(question.dice) == 1 else "have"
    dice = capital(dice_words(question.dice))
    told = " ".join(map(str, result)) if isinstance(result, tuple) else result
    reason = f"No labels whatever can do it. {dice} {have} {division_words(*failing)}."
    proof = (f"(n₁…nₖ / M) · T is not whole at {told}: {product} · {ways} / {outcomes}.",)
    return Closing("none", 0, 0, "all", reason, proof)
