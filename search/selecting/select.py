"""Selecting the best designs of a question that has more than are listed."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from facewright.constraints.contest import DiceQuestion
from facewright.constraints.question import Numbering
from facewright.search.answer import Closing, FoundDesign, SetOutcome
from facewright.search.progress import Progress
from facewright.search.report.scores import Settings, load_scores
from facewright.search.selecting.bounded import Best, best_by_bounds
from facewright.search.selecting.few import few
from facewright.search.selecting.placed import Placed
from facewright.search.selecting.weighed import best_by_scores, best_known
from facewright.search.stop import Stop, Stopped
from facewright.search.words import among_best, best_listed, completed

Selected = tuple[tuple[Placed, ...], tuple[SetOutcome, ...]]
"""The designs selected, best first, and what is known of each set of dice now."""


def to_select(
    question: DiceQuestion, outcomes: Sequence[SetOutcome], listed: int, settings: Settings | None
) -> bool:
    """Whether the best are still to be selected, so many of them.

    That is so where the brief says how many are listed, all designs, of which there are more, were counted, and
    those that are listed were not selected by the weights, settings and number that are wanted now.
    """
    if not question.stop.designs or len(outcomes) < len(question.sets):
        return False
    known = [outcome.closing for outcome in outcomes if outcome.closing.verdict != "none"]
    if any(closing.verdict != "complete" for closing in known):
        return False
    by = key_of(question, listed, settings)
    more = 0 < listed < sum(closing.count for closing in known)
    return more and any((closing.selection or {}).get("by") != by for closing in known)


def key_of(question: DiceQuestion, listed: int, settings: Settings | None) -> str:
    """What a selection rests on, as text: the weights, the settings of the scores, how many are listed."""
    rests = (question.rank, settings or load_scores(None), listed)
    return hashlib.sha256(repr(rests).encode()).hexdigest()[:16]


def selected(
    question: DiceQuestion,
    outcomes: Sequence[SetOutcome],
    first: Sequence[FoundDesign],
    listed: Sequence[Placed],
    most: int,
    settings: Settings | None,
    seed: int,
    stop: Stop,
    report: Progress,
) -> Selected:
    """The best of a question's designs, so many at most, with what is said of each set of dice.

    `first` are the first found, which are listed so far; `listed` are all designs, or those that are known of them.

    Where a stop came before anything was found out, or there is no way to select, the first found stay, with that
    said. What was counted stays counted: only the selection is cut short.
    """
    settings = settings or load_scores(None)
    known = tuple(Placed(one.set, one.design) for one in first)
    by: dict[str, Any] = {
        "by": key_of(question, most, settings),
        "cheapest": None,
        "bound": None,
        "cut": None,
    }
    try:
        many = sum(one.closing.count for one in outcomes)
        factors = all(one.engine == "factors" for one in outcomes)
        if isinstance(question, Numbering) and factors and many > few(most, question.sets):
            best = best_by_bounds(question, most, settings, stop, report, known)
        else:
            best = best_by_scores(question, outcomes, listed, most, settings, seed, stop, report)
    except Stopped as early:
        asked = str(early)
        return known, _each_told(outcomes, lambda _, closing: _ended(closing, asked))
    if best is None:
        return known, _each_told(outcomes, lambda _, closing: replace(closing, selection=by))
    by |= {"cheapest": best.cheapest, "bound": best.bound, "cut": best.cut}
    here = Counter(one.set for one in best.designs)
    told = _each_told(outcomes, lambda at, closing: _told(question, at, closing, here[at], best, by))
    return best.designs, tuple(replace(one, listed=here[at]) for at, one in enumerate(told))


def some_selected(
    question: DiceQuestion, known: Sequence[Placed], most: int, settings: Settings | None
) -> tuple[Placed, ...]:
    """The best of the designs that are known, so many at most, where there may be others."""
    return best_known(question, known, most, settings or load_scores(None))


def _each_told(
    outcomes: Sequence[SetOutcome], tell: Callable[[int, Closing], Closing]
) -> tuple[SetOutcome, ...]:
    """The outcomes, what is said of each set that has designs told anew."""
    return tuple(
        replace(one, closing=tell(at, one.closing)) if one.closing.count else one
        for at, one in enumerate(outcomes)
    )


def _ended(closing: Closing, asked: str) -> Closing:
    reason = f"{closing.reason} The search for the best of them ended early ({asked})."
    return replace(closing, verdict="partial", reason=reason)


def _told(
    question: DiceQuestion, position: int, closing: Closing, here: int, best: Best, by: dict[str, Any]
) -> Closing:
    """What is said of a set of dice, so many of whose designs are among the best of all."""
    many = len(best.designs)
    shown, proof = among_best(here, many), closing.proof
    if len(question.sets) == 1 and not question.choice:
        shown = best_listed(question, many, best.bound, best.cut)
        if best.cut is None:
            proof = tuple(dict.fromkeys((*proof, best.proof)))
    reason = completed(question.alone(question.sets[position]), closing.count, here, shown)
    told = replace(closing, reason=reason, proof=proof, selection=by)
    return told if best.cut is None else replace(told, verdict="partial", bound=str(best.bound))
