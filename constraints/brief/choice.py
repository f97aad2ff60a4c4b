"""A choice of dice, "2 to 3 of 4 6 8": every set of it, and those that no numbering can serve."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from itertools import combinations_with_replacement
from math import comb, prod

from facewright.constraints.brief.dice import Draft, Shape
from facewright.constraints.brief.models import MOST_DICE
from facewright.constraints.brief.rules import Stated
from facewright.constraints.distribution import Distribution
from facewright.constraints.division import division_words, failing_division
from facewright.constraints.grammar import article, number, series
from facewright.constraints.question import DroppedSet
from facewright.constraints.solids.names import LEAST_FACES, MOST_FACES, default_solid
from facewright.constraints.texts import TextError, quoted

MOST_SETS = 20_000
"""How many sets a choice may stand for."""

FORM = (
    'how many dice, then the face counts to choose from, such as "2 of 4 6 8" or "2 to 3 of 4 6 8"; '
    "or a list of dice, such as [6, 16]"
)
_CHOICE = re.compile(r"([0-9]{1,9})(?:\s+to\s+([0-9]{1,9}))?\s+of\s+(.+)", re.DOTALL)


def sets_of(text: str) -> list[tuple[int, ...]]:
    """Every set of face counts that a choice stands for: smaller sets first, each in rising order.

    Raises TextError where the text is no choice, or one of too many sets.

    Example:
        >>> sets_of("2 of 6 4")
        [(4, 4), (4, 6), (6, 6)]
    """
    form = _CHOICE.fullmatch(text.strip())
    if form is None:
        raise TextError(quoted(text), FORM)
    least, most = int(form[1]), int(form[2] or form[1])
    if not 1 <= least <= most <= MOST_DICE:
        found = f"{least:,} dice" if form[2] is None else f"{least:,} to {most:,} dice"
        raise TextError(found, f"1 to {MOST_DICE} dice, the smaller number first")
    counts = sorted({_count(word) for word in form[3].replace(",", " ").split()})
    if not counts:
        raise TextError(quoted(text), FORM)
    number = sum(comb(len(counts) + size - 1, size) for size in range(least, most + 1))
    if number > MOST_SETS:
        raise TextError(
            f"a choice of {_large(number)} sets", f"at most {MOST_SETS:,}: fewer dice, or fewer face counts"
        )
    return [one for size in range(least, most + 1) for one in combinations_with_replacement(counts, size)]


def drafts_of(faces: tuple[int, ...], stated: Stated) -> tuple[Draft, ...]:
    """The dice of one set of a choice, on the solids that the face counts stand for."""
    return tuple(Draft(Shape(count, default_solid(count)), stated) for count in faces)


def dropped_of(
    sets: list[tuple[int, ...]], target: Distribution, stated: Stated, again: bool = False
) -> Iterator[DroppedSet]:
    """The sets that no numbering can serve, each with the reason; worked out without any search.

    Where labels are rolled `again`, each die comes up in as many ways as the square of its faces.
    """
    reduced = target.reduced()
    for faces in sets:
        reason = too_few(faces, stated) or _division(faces, reduced, again)
        if reason is not None:
            yield DroppedSet(faces, reason)


def _division(faces: tuple[int, ...], reduced: Distribution, again: bool) -> str | None:
    """The result whose share of a set's outcomes is no whole number; None where every share is whole."""
    chances = [count ** (2 if again else 1) for count in faces]
    whole = prod(chances) % reduced.outcomes == 0
    if whole or (failing := failing_division(reduced, chances)) is None:
        return None
    return f"{_dice_in_words(faces)} {'has' if len(faces) == 1 else 'have'} {division_words(*failing)}"


def too_few(faces: tuple[int, ...], stated: Stated) -> str | None:
    """Why the label rules leave too few labels for a die of a set; None where they do not."""
    for count in faces:
        if (reason := stated.too_few(count)) is not None:
            return f"{article(f'{count}-face die')} has too few labels: {reason}"
    return None


def _dice_in_words(faces: tuple[int, ...]) -> str:
    """The dice of a set, such as "two 4-face dice and a 9-face die"."""
    return series(
        article(f"{count}-face die") if times == 1 else f"{number(times)} {count}-face dice"
        for count, times in Counter(faces).items()
    )


def _large(number: int) -> str:
    return f"{number:,}" if number < 10**12 else "more than 1,000,000,000,000"


def _count(word: str) -> int:
    if not re.fullmatch(r"[0-9]{1,9}", word) or not LEAST_FACES <= int(word) <= MOST_FACES:
        raise TextError(
            f"{quoted(word)} among the face counts", f"face counts from {LEAST_FACES} to {MOST_FACES:,}"
        )
    return int(word)
