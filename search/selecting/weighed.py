"""The best designs of a question where each one of them is scored."""

from __future__ import annotations

from collections.abc import Sequence

from facewright.constraints.contest import DiceQuestion
from facewright.search.answer import SetOutcome
from facewright.search.progress import Progress
from facewright.search.rank import Scores, rank, score
from facewright.search.report.scores import Settings
from facewright.search.selecting.bounded import Best
from facewright.search.selecting.walks import Placed
from facewright.search.stop import Stop, Stopped

MOST = 50_000
"""Up to so many designs are scored one by one."""


def best_by_scores(
    question: DiceQuestion,
    outcomes: Sequence[SetOutcome],
    most: int,
    settings: Settings,
    seed: int,
    stop: Stop,
    report: Progress,
) -> Best | None:
    """The best designs of a question, of all its sets of dice, each of which an engine can list.

    Args:
        question: the question.
        outcomes: what was found out about each set, all its designs counted.
        most: how many to select.
        settings: for the scores.
        seed: for engines that use chance.
        stop: asked whether to stop.
        report: told of the progress.

    Returns:
        The best; None where there are more designs than are scored one by one.

    Raises:
        Stopped: the stop asked for it.
    """
    from facewright.search.finding import answering_of

    every = sum(outcome.closing.count for outcome in outcomes)
    if every > MOST:
        return None
    placed: list[Placed] = []
    for position, outcome in enumerate(outcomes):
        alone = question.alone(outcome.dice)
        _, answering = answering_of(alone, outcome.closing.count, stop, seed, report)
        placed += [Placed(position, design) for design in answering]
    scored: list[Scores] = []
    for one in placed:
        if reason := stop():
            raise Stopped(reason)
        report("designs scored", len(scored), every)
        scored.append(score(one.design, [die.copies for die in question.sets[one.set]], settings))
    if len(scored) < every:
        raise Stopped(stop() or "not all designs were listed")
    of = {id(one): where for one, where in zip(scored, placed, strict=True)}
    best = rank(scored, question.rank)[:most]
    cheapest = min(one.scores["cost"] for one in scored) if dict(question.rank).get("cost") else None
    least = best[-1].overall
    designs = tuple(of[id(one.scores)] for one in best)
    return Best(designs, least, cheapest, least, proof="Each of the others was scored, and none scores more.")
