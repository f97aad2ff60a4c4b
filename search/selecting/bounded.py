"""The best designs of a question for totals, from bounds on their scores, without listing the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from facewright.constraints.question import Numbering
from facewright.search.progress import Progress
from facewright.search.report.scores import Settings
from facewright.search.selecting.bounds import Aim, Cheapest
from facewright.search.selecting.placed import Placed
from facewright.search.selecting.walks import Walks
from facewright.search.stop import Stop, Stopped


@dataclass(frozen=True)
class Best:
    """The best designs, best first, and the `overall` score of the last one.

    No design that is not among them scores more than `bound`: that is `least`, unless a stop came first, for the
    reason `cut`; then they are the best that were found. `cheapest` is the least cost of all designs of the question;
    None where cost weighs nothing. `proof` says how it is known.
    """

    designs: tuple[Placed, ...]
    least: int
    cheapest: float | None
    bound: int
    cut: str | None = None
    proof: str = "Bounds on the scores of all others, die by die, show that none scores more."


def best_by_bounds(
    question: Numbering,
    most: int,
    settings: Settings,
    stop: Stop,
    report: Progress,
    known: Sequence[Placed] = (),
) -> Best | None:
    """The best designs of a plain question for totals, of all its sets of dice, from bounds on their scores.

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
    walks = Walks.of(question, settings, stop, report)
    if walks is None:
        return None
    report("the cheapest", 0, None)
    cheapest = least_cost(walks) if dict(question.rank).get("cost") else None
    aim = Aim(settings, question.rank, cheapest or 0)
    found = {one: walks.score(aim, one) for one in known}
    bound, cut = 100, None
    try:
        bound = min(bound, walks.ceiling(aim))
        found.update((one, reached) for reached, one in walks.some(aim, most))
        while bound >= 0 and (lacking := most - sum(reached >= bound for reached in found.values())) > 0:
            report("scores", 100 - bound, 100)
            for reached, one in walks.all_at_least(aim, bound):
                lacking -= one not in found
                found[one] = reached
                if not lacking:
                    break
            else:
                bound -= 1
    except Stopped as asked:
        cut = str(asked)
    if not found:
        raise Stopped(cut or "no design was found")
    best = sorted(found, key=lambda one: (-found[one], one.design.id, one.set))[:most]
    return Best(tuple(best), found[best[-1]], cheapest, bound, cut)


def least_cost(walks: Walks) -> float:
    """The least cost of any design, in points; there must be a design.

    Raises:
        Stopped: the stop asked for it.
    """
    goal = Cheapest()
    found = [reached for reached, _ in walks.some(goal, 1)]
    least, step = max(found) + 1 if found else walks.ceiling(goal), 1
    while True:
        better = next(walks.all_at_least(goal, least), None)
        if better is not None:
            found.append(better[0])
        elif found:
            return -max(found) / 10
        else:
            step += max(1, step // 3)
        least = found[-1] + 1 if found else walks.ceiling(goal) - step
