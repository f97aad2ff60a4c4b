"""What is said of an answer about duels."""

from __future__ import annotations

from fractions import Fraction

from facewright.constraints.contest import Contest
from facewright.constraints.grammar import capital, counted
from facewright.search.words import completed, conditions, contest_chance


def goal(question: Contest) -> str:
    """What every design does."""
    return (
        "Each die beats those that it is to beat"
        if question.beats
        else "Each die beats the next, the last the first"
    )


def all_words(question: Contest, count: int, listed: int) -> str:
    """The verdict where every design is known."""
    return f"{completed(question, count, listed)} {goal(question)}, {contest_chance(question)}."


def best_words(question: Contest, chance: Fraction) -> str:
    """The verdict where the best is proved."""
    return (
        f"{goal(question)}, with a chance of at least {chance}. {conditions(question)} no numbering has a greater "
        "least chance."
    )


def none_words(question: Contest, best: Fraction | None) -> str:
    """The verdict where no design is good enough; `best` is the greatest least chance, where that is known."""
    told = "" if best is None else f": the greatest least chance is {best}"
    if question.best:
        told = f": the least chance is {best} at best, and a die beats another only with more than 1/2"
    return f"{conditions(question)} no numbering does it{told}."


def some_words(listed: int) -> str:
    """The verdict where there are more designs than can be counted."""
    if not listed:
        return "No numbering was found, and there are too many to look at all; there may be some."
    some = f"{capital(counted(listed, 'numbering'))} {'is' if listed == 1 else 'are'} listed"
    return f"{some}; there may be more, too many to be counted."


def open_words(question: Contest, chance: Fraction | None, bound: Fraction, why: str) -> str:
    """The verdict where a limit came before the proof of the best."""
    if chance is None:
        return f"No numbering was found before the search ended ({why}); no least chance is above {bound}."
    return (
        f"{goal(question)}, with a chance of at least {chance}. The search ended before a proof ({why}): no least "
        f"chance is above {bound}, but one above {chance} may exist."
    )
