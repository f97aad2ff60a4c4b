"""Selecting the best designs of a question that has more than are listed."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
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
from facewright.search.words import best_listed, best_so_far, completed


@dataclass(frozen=True)
class Best:
    """The best designs, best first, and the `overall` score of the last one.

    No design that is not among them scores more than `bound`: that is `least`, unless a stop came first, for the
    reason `cut`; then they are the best that were found. `cheapest` is the least cost of all designs of the question;
    None where cost weighs nothing.
    """

    designs: tuple[NumberingDesign, ...]
    least: int
    cheapest: float | None
    bound: int
    cut: str | None = None


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
    first: Sequence[NumberingDesign],
    settings: Settings | None,
    stop: Stop,
    report: Progress,
) -> tuple[tuple[NumberingDesign, ...], Closing]:
    """The best of a question's designs, as many as the first found, with what is said of them.

    None where nothing was found out before a stop came, with that said. What was counted stays counted: only the
    selection is cut short.
    """
    settings = settings or load_scores(None)
    try:
        best = best_by_bounds(question, len(first), settings, stop, report, first)
    except Stopped as asked:
        reason = f"{closing.reason} The search for the best of them ended early ({asked})."
        return (), replace(closing, verdict="partial", reason=reason)
    if best is None:
        return (), closing
    by = {"by": key_of(question, len(first), settings), "cheapest": best.cheapest}
    if best.cut is not None:
        shown = best_so_far(question, len(first), best.bound, best.cut)
        reason = completed(question, closing.count, len(first), shown)
        bound = str(best.bound)
        return best.designs, replace(closing, verdict="partial", reason=reason, bound=bound, selection=by)
    shown = best_listed(question, len(first), best.least)
    reason = completed(question, closing.count, len(first), shown)
    proof = (*closing.proof, "Bounds on the scores of all others, die by die, show that none scores more.")
    return best.designs, replace(closing, reason=reason, proof=proof, selection=by)


def best_by_bounds(
    question: Numbering,
    most: int,
    settings: Settings,
    stop: Stop,
    report: Progress,
    known: Sequence[NumberingDesign] = (),
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
        known: designs of the question that are known already.

    Returns:
        The best; None where there is nothing to choose, or vectors do not fit into 64 bits.

    Raises:
        Stopped: the stop asked for it before the cheapest design was known, or memory would not do.
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
    return _best(walk, Aim(settings, question.rank, cheapest or 0), most, cheapest, report, known)


def _best(
    walk: Walk,
    aim: Aim,
    most: int,
    cheapest: float | None,
    report: Progress,
    known: Sequence[NumberingDesign],
) -> Best:
    found = {design: walk.score(aim, design) for design in known}
    bound, cut = 100, None
    try:
        bound = min(bound, walk.ceiling(aim))
        found.update((design, reached) for reached, design in walk.some(aim, most))
        while bound >= 0 and (lacking := most - sum(reached >= bound for reached in found.values())) > 0:
            report("scores", 100 - bound, 100)
            for reached, design in walk.all_at_least(aim, bound):
                lacking -= design not in found
                found[design] = reached
                if not lacking:
                    break
            else:
                bound -= 1
    except Stopped as asked:
        cut = str(asked)
    if not found:
        raise Stopped(cut or "no design was found")
    best = sorted(found, key=lambda design: (-found[design], design.id))[:most]
    return Best(tuple(best), found[best[-1]], cheapest, bound, cut)


def least_cost(walk: Walk) -> float:
    """The least cost of any design, in points; there must be a design.

    Raises:
        Stopped: the stop asked for it.
    """
    goal = Cheapest()
    found = [reached for reached, _ in walk.some(goal, 1)]
    least, step = max(found) + 1 if found else walk.ceiling(goal), 1
    while True:
        better = next(walk.all_at_least(goal, least), None)
        if better is not None:
            found.append(better[0])
        elif found:
            return -max(found) / 10
        else:
            step += max(1, step // 3)
        least = found[-1] + 1 if found else walk.ceiling(goal) - step
