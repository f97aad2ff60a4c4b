"""Selecting the best designs of a question that has more than are listed."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from facewright.constraints.contest import DiceQuestion
from facewright.constraints.question import Numbering
from facewright.search.answer import FoundDesign, SetOutcome
from facewright.search.progress import Progress
from facewright.search.report.scores import Settings, load_scores
from facewright.search.selecting.bounded import Best, best_by_bounds
from facewright.search.selecting.walks import Placed
from facewright.search.selecting.weighed import best_of_all
from facewright.search.stop import Stop, Stopped
from facewright.search.words import among_best, best_listed, best_so_far, completed

Selected = tuple[tuple[Placed, ...], tuple[SetOutcome, ...]]
"""The designs selected, best first, and what is known of each set of dice now."""


def to_select(question: DiceQuestion, outcomes: Sequence[SetOutcome], listed: int) -> bool:
    """Whether the best are to be selected: the brief says how many are listed, and all designs, of which there are
    more, were counted."""
    verdicts = {outcome.closing.verdict for outcome in outcomes}
    return bool(
        question.stop.designs
        and len(outcomes) == len(question.sets)
        and verdicts <= {"complete", "none"}
        and 0 < listed < sum(outcome.closing.count for outcome in outcomes)
    )


def key_of(question: DiceQuestion, listed: int, settings: Settings | None) -> str:
    """What a selection rests on, as text: the weights, the settings of the scores, how many are listed."""
    rests = (question.rank, settings or load_scores(None), listed)
    return hashlib.sha256(repr(rests).encode()).hexdigest()[:16]


def is_selected(
    question: DiceQuestion, outcomes: Sequence[SetOutcome], listed: int, settings: Settings | None
) -> bool:
    """Whether the best that are listed were selected by the weights, settings and number that are wanted now."""
    by = key_of(question, listed, settings)
    return all((one.closing.selection or {}).get("by") == by for one in outcomes if one.closing.count)


def selected(
    question: DiceQuestion,
    outcomes: Sequence[SetOutcome],
    first: Sequence[FoundDesign],
    most: int,
    settings: Settings | None,
    seed: int,
    stop: Stop,
    report: Progress,
) -> Selected:
    """The best of a question's designs, so many at most, with what is said of each set of dice.

    Where a stop came before anything was found out, or there is no way to select, the first found stay, with that
    said. What was counted stays counted: only the selection is cut short.
    """
    settings = settings or load_scores(None)
    known = tuple(Placed(one.set, one.design) for one in first)
    by: dict[str, Any] = {"by": key_of(question, most, settings), "cheapest": None, "least": None}
    try:
        if isinstance(question, Numbering) and all(one.engine == "factors" for one in outcomes):
            best = best_by_bounds(question, most, settings, stop, report, known)
        else:
            best = best_of_all(question, outcomes, most, settings, seed, stop, report)
    except Stopped as asked:
        return known, tuple(_ended(one, str(asked)) for one in outcomes)
    if best is None:
        return known, tuple(_noted(one, by) for one in outcomes)
    by |= {"cheapest": best.cheapest, "least": best.least, "cut": best.cut}
    here = Counter(one.set for one in best.designs)
    return best.designs, tuple(
        _told(question, outcome, here[position], best, by) for position, outcome in enumerate(outcomes)
    )


def _ended(outcome: SetOutcome, asked: str) -> SetOutcome:
    closing = outcome.closing
    if not closing.count:
        return outcome
    reason = f"{closing.reason} The search for the best of them ended early ({asked})."
    return replace(outcome, closing=replace(closing, verdict="partial", reason=reason))


def _noted(outcome: SetOutcome, by: dict[str, Any]) -> SetOutcome:
    if not outcome.closing.count:
        return outcome
    return replace(outcome, closing=replace(outcome.closing, selection=by))


def _told(
    question: DiceQuestion, outcome: SetOutcome, here: int, best: Best, by: dict[str, Any]
) -> SetOutcome:
    """What is said of a set of dice, so many of whose designs are among the best of all."""
    closing = outcome.closing
    if not closing.count:
        return outcome
    alone, many = question.alone(outcome.dice), len(best.designs)
    closing = replace(closing, selection=by)
    if len(question.sets) > 1 or question.choice:
        shown = among_best(here, many)
    else:
        shown = (
            best_listed(question, many, best.least)
            if best.cut is None
            else best_so_far(question, many, best.bound, best.cut)
        )
        closing = replace(
            closing, proof=closing.proof if best.cut else tuple(dict.fromkeys((*closing.proof, best.proof)))
        )
    closing = replace(closing, reason=completed(alone, closing.count, here, shown))
    if best.cut is not None:
        closing = replace(closing, verdict="partial", bound=str(best.bound))
    return replace(outcome, closing=closing, listed=here)
