"""What every exact question must pass first: shares of the outcomes that are whole numbers."""

from __future__ import annotations

from math import prod

from facewright.constraints.division import division_words, failing_division
from facewright.constraints.further import AlsoRead, EqualLabels
from facewright.constraints.grammar import capital
from facewright.constraints.question import Numbering
from facewright.search.answer import Closing
from facewright.search.words import dice_words, read_as


def barred_by_division(question: Numbering) -> Closing | None:
    """The closing statement where some result would need a share of the outcomes that is not whole; else None."""
    chances = question.chances(question.dice)
    failing = failing_division(question.target, chances)
    if failing is None:
        return _barred_further(question, chances)
    result, ways, outcomes, product = failing
    have = "has" if len(question.dice) == 1 else "have"
    dice = capital(dice_words(question.dice))
    told = " ".join(map(str, result)) if isinstance(result, tuple) else result
    reason = f"No labels whatever can do it. {dice} {have} {division_words(*failing)}."
    proof = (f"(n₁…nₖ / M) · T is not whole at {told}: {product} · {ways} / {outcomes}.",)
    return Closing("none", 0, 0, "all", reason, proof, cause="division")


def _barred_further(question: Numbering, chances: list[int]) -> Closing | None:
    """The same for the chances that further rules speak of."""
    have = f"{capital(dice_words(question.dice))} {'has' if len(question.dice) == 1 else 'have'}"
    for rule in question.also:
        if isinstance(rule, EqualLabels):
            share = rule.chance * prod(chances)
            if share.denominator > 1:
                needs = f"equal labels would need {share} of them, no whole number"
                reason = f"No labels whatever can do it. {have} {prod(chances):,} outcomes; {needs}."
                proof = (f"{rule.chance} of {prod(chances)} outcomes is not whole.",)
                return Closing("none", 0, 0, "all", reason, proof, cause="division")
        if isinstance(rule, AlsoRead) and (failing := failing_division(rule.target, chances)) is not None:
            told = (
                f"Read as {read_as(rule.read, rule.how) or 'their total'}, {dice_words(question.dice)} have"
            )
            reason = f"No labels whatever can do it. {told} {division_words(*failing)}."
            proof = (f"The second target is not whole at {failing[0]}.",)
            return Closing("none", 0, 0, "all", reason, proof, cause="division")
    return None
