"""Selecting the best designs of a question that has more than are listed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, replace

from facewright.constraints.design import NumberingDesign
from facewright.constraints.question import Numbering
from facewright.constraints.question_form import Question
from facewright.search.answer import Closing
from facewright.search.engines.splitting.problem import Problem, problem_of
from facewright.search.engines.splitting.split import Split
from facewright.search.progress import Progress
from facewright.search.report.scores import Settings, load_scores
from facewright.search.selecting.bounds import Aim, Cheapest
from facewright.search.selecting.walk import Walk
from facewright.search.stop import Stop, Stopped
from facewright.search.words import best_listed, completed


@dataclass(frozen=True)
class Best:
    """The best designs, best first: no other has an `overall` score above `least`, that of the last one.

    `cheapest` is the least cost of all designs of the question; None where cost weighs nothing.
    """

    designs: tuple[NumberingDesign, ...]
    least: int
    cheapest: float | None


def selects(question: Question) -> bool:
    """Whether the best are listed where there are more: the brief says how many are, of one set of dice."""
    return isinstance(question, Numbering) and bool(
        question.stop.designs and question.plain and len(question.sets) == 1 and not question.choice
    )


def key_of(question: Question, listed: int, settings: Settings | None) -> str:
    """What a selection rests on, as text: the weights, the settings of the scores, how many are listed."""
    rests = (getattr(question, "rank", ()), settings or load_scores(None), listed)
    return hashlib.sha256(repr(rests).encode()).hexdigest()[:16]


def selected(
    question: Numbering,
    closing: Closing,
    listed: int,
    settings: Settings | None,
    stop: Stop,
    report: Progress,
) -> tuple[tuple[NumberingDesign, ...], Closing]:
    """The best of a question's designs with what is said of them; none where a stop came first, with that said.

    What was counted stays counted: only the selection is cut short.
    """
    settings = settings or load_scores(None)
    try:
        best = best_by_bounds(question, listed, settings, stop, report)
    except Stopped as asked:
        reason = f"{closing.reason} The search for the best of them ended early ({asked})."
        return (), replace(closing, verdict="partial", reason=reason)
    if best is None:
        return (), closing
    shown = best_listed(question, listed, best.least)
    reason = completed(question, closing.count, listed, shown)
    by = {"by": key_of(question, listed, settings), "cheapest": best.cheapest}
    proof = (*closing.proof, "Bounds on the scores of all others, die by die, show that none scores more.")
    return best.designs, replace(closing, reason=reason, proof=proof, selection=by)


def best_by_bounds(
    question: Numbering, most: int, settings: Settings, stop: Stop, report: Progress
) -> Best | None:
    """The best designs of a plain question for totals, from bounds on their scores.

    Thresholds go down one by one: with each, all designs are found that score so much, so that those found before
    are the best. Designs with the score of the last one listed may be left out.

    Args:
        question: a question that the engine `factors` answers with more designs than are listed.
        most: how many to select.
        settings: for the scores.
        stop: asked whether to stop.
        report: told of the progress.

    Returns:
        The best; None where there is nothing to choose, or vectors do not fit into 64 bits.

    Raises:
        Stopped: the stop asked for it, or memory would not do.
    """
    problem = problem_of(question, stop)
    if not isinstance(problem, Problem):
        return None
    split = Split.of(question, problem, stop, report)
    if split.lattice.cells >= 2**61 or not split.kinds or not split.ways.count:
        return None
    walk = Walk(split, settings, stop)
    report("the cheapest", 0, None)
    cheapest = least_cost(walk) if dict(question.rank).get("cost") else None
    aim = Aim(settings, question.rank, cheapest or 0)
    found: dict[NumberingDesign, int] = {}
    score = walk.ceiling(aim)
    while len(found) < most and score >= 0:
        report("scores", 100 - score, 100)
        for reached, design in walk.all_at_least(aim, score):
            found[design] = reached
            if len(found) == most:
                break
        score -= 1
    best = sorted(found, key=lambda design: (-found[design], design.id))
    return Best(tuple(best), min(found.values()), cheapest)


def least_cost(walk: Walk) -> float:
    """The least cost of any design, in points; there must be a design.

    Raises:
        Stopped: the stop asked for it.
    """
    goal = Cheapest()
    ceiling = walk.ceiling(goal)
    gap = 0
    while True:
        costs = [-reached for reached, _ in _rising(walk, goal, ceiling - gap)]
        if costs:
            return min(costs) / 10
        gap += max(1, gap // 3)


def _rising(walk: Walk, goal: Cheapest, least: int) -> Iterator[tuple[int, NumberingDesign]]:
    """Designs that cost no more, each cheaper than the one before; the last one is the cheapest."""
    while True:
        found = next(walk.all_at_least(goal, least), None)
        if found is None:
            return
        yield found
        least = found[0] + 1
