"""A numbering question as a polynomial to split, or the obstacle that rules out any answer at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import flint
from facewright.constraints.distribution import Distribution
from facewright.constraints.division import division_words, failing_division, scaled_ways
from facewright.constraints.grammar import capital, series
from facewright.constraints.question import Numbering
from facewright.search.engines.splitting.polynomials import Factored, factored, polynomial, polynomial_text
from facewright.search.stop import Stop, never
from facewright.search.words import dice_words


@dataclass(frozen=True)
class Problem:
    """The polynomial that the free dice must multiply to, factored, and the slack of their least labels."""

    whole: Factored
    slack: int


@dataclass(frozen=True)
class Obstacle:
    """Why no labels can do it, whatever the rules (kind "division", "fixed") or because of the lowest label allowed."""

    kind: Literal["division", "fixed", "lowest"]
    words: str
    proof: tuple[str, ...]


def problem_of(question: Numbering, stop: Stop = never) -> Problem | Obstacle:
    """The polynomial (n1…nk/M)·T without its power of x, divided by the fixed dice, or what stands in the way.

    Raises:
        Stopped: `stop` asked for it.
    """
    dice = question.dice
    ways = scaled_ways(question.target, [die.faces for die in dice])
    if ways is None:
        return _division(question)
    poly = polynomial(ways)
    fixed = [die for die in dice if die.exactly is not None]
    free = len(dice) - len(fixed)
    for die in fixed:
        poly, remainder = divmod(poly, polynomial(Distribution.of_labels(die.exactly or ()).ways))
        if remainder.degree() >= 0 or min(poly.coeffs()) < 0:
            return _fixed(question, poly, remainder)
    slack = question.target.least - sum(die.lowest_label for die in dice)
    if slack < 0 or (not free and slack):
        return _lowest(question)
    return Problem(factored(poly, stop), slack)


def _division(question: Numbering) -> Obstacle:
    failing = failing_division(question.target, [die.faces for die in question.dice])
    if failing is None:
        raise ValueError("question: a division that fails is needed")
    result, ways, outcomes, product = failing
    have = "has" if len(question.dice) == 1 else "have"
    words = f"No labels whatever can do it. {capital(dice_words(question.dice))} {have} {division_words(*failing)}."
    proof = (
        f"({product} / {outcomes}) · {ways} is not whole, so (n₁…nₖ / M) · T has no whole coefficient at {result}.",
    )
    return Obstacle("division", words, proof)


def _fixed(question: Numbering, quotient: flint.fmpz_poly, remainder: flint.fmpz_poly) -> Obstacle:
    fixed = [die for die in question.dice if die.exactly is not None]
    rest = "the other dice" if len(fixed) < len(question.dice) else "these dice"
    stand = series(" ".join(map(str, die.exactly or ())) for die in fixed)
    words = (
        f"No labels on {rest} can do it. With {stand} fixed, the ways that are left over cannot be shared out in whole "
        "numbers of faces."
    )
    reason = (
        f"remainder {polynomial_text(remainder)}"
        if remainder.degree() >= 0
        else f"quotient {polynomial_text(quotient)}"
    )
    return Obstacle("fixed", words, (f"Dividing by the fixed dice leaves the {reason}.",))


def _lowest(question: Numbering) -> Obstacle:
    least = sum(die.lowest_label for die in question.dice)
    if all(die.exactly is not None for die in question.dice):
        words = (
            f"These dice cannot do it: their least total is {least}, the target's {question.target.least}. Shifted, "
            "the pattern is the target's."
        )
    else:
        words = (
            f"No numbering keeps the label rules: the lowest labels allowed add up to {least}, the target's least "
            f"total is {question.target.least}."
        )
    proof = (f"The least labels must add up to {question.target.least}; those allowed add up to {least}.",)
    return Obstacle("lowest", words, proof)
