"""The best designs of a question where each one of them is scored."""

from __future__ import annotations

import heapq
from array import array
from collections.abc import Iterable, Iterator, Sequence

from facewright.constraints.contest import DiceQuestion
from facewright.constraints.design import NumberingDesign
from facewright.search.answer import SetOutcome
from facewright.search.progress import Progress
from facewright.search.rank import overall_of, score
from facewright.search.report.scores import Settings
from facewright.search.selecting.bounded import Best
from facewright.search.selecting.placed import Placed
from facewright.search.stop import Stop, Stopped
from facewright.search.words import MOST_SCORED

MOST_LABELS = 60_000_000
"""Up to so many labels are kept of them, four bytes each."""

MOST_OVERALL = 100
"""No design scores more overall."""

EACH = 256
"""So many designs are scored between two looks at the clock."""


def best_by_scores(
    question: DiceQuestion,
    outcomes: Sequence[SetOutcome],
    listed: Sequence[Placed],
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
        listed: designs that are known; where they are not all, an engine lists them all once more.
        most: how many to select.
        settings: for the scores.
        seed: for engines that use chance.
        stop: asked whether to stop.
        report: told of the progress.

    Returns:
        The best; where a stop came first, the best of those scored until then; None where there are more designs
        than are scored one by one.

    Raises:
        Stopped: the stop asked for it before as many were scored as are wanted.
    """
    every = sum(outcome.closing.count for outcome in outcomes)
    labels = sum(outcome.closing.count * sum(die.faces for die in outcome.dice) for outcome in outcomes)
    if every > MOST_SCORED or labels > MOST_LABELS:
        return None
    scored = _Scored(question, settings)
    if len(listed) == every:
        cut = _scored(scored, listed, every, stop, report)
    else:
        cut = _scored(scored, _listed_again(question, outcomes, seed, stop, report), every, stop, report)
    if cut is not None and len(scored) < most:
        raise Stopped(cut)
    designs, least, cheapest = scored.best(most)
    if cut is not None:
        return Best(designs, least, cheapest, MOST_OVERALL, cut)
    return Best(designs, least, cheapest, least, proof="Each of the others was scored, and none scores more.")


def best_known(
    question: DiceQuestion, known: Sequence[Placed], most: int, settings: Settings
) -> tuple[Placed, ...]:
    """The best of some designs, so many of them."""
    scored = _Scored(question, settings)
    for one in known:
        scored.add(one)
    return scored.best(most)[0]


def _scored(
    scored: _Scored, designs: Iterable[Placed], every: int, stop: Stop, report: Progress
) -> str | None:
    """Scores designs; why that ended early, if it did."""
    for one in designs:
        scored.add(one)
        if len(scored) % EACH == 0:
            report("designs scored", len(scored), every)
            if reason := stop():
                return reason
    return None if len(scored) == every else stop() or "not all designs were listed"


def _listed_again(
    question: DiceQuestion, outcomes: Sequence[SetOutcome], seed: int, stop: Stop, report: Progress
) -> Iterator[Placed]:
    """The designs of all sets of dice, from their engines; fewer where they are stopped."""
    from facewright.search.finding import engine_of

    for position, outcome in enumerate(outcomes):
        if outcome.closing.count:
            alone = question.alone(outcome.dice)
            answering = engine_of(alone).answer(alone, outcome.closing.count, stop, seed, report)
            for design in answering:
                yield Placed(position, design)
            if answering.closing.verdict == "partial":
                return


class _Scored:
    """Designs and their scores, packed: two million designs of two dice would not fit into memory as objects."""

    def __init__(self, question: DiceQuestion, settings: Settings) -> None:
        self.question = question
        self._settings = settings
        self._copies = [[die.copies for die in dice] for dice in question.sets]
        self._sets = array("i")
        self._labels = array("i")
        self._starts = array("q")
        self._scores: dict[tuple[tuple[str, float], ...], int] = {}
        self._kinds = array("i")

    def __len__(self) -> int:
        return len(self._sets)

    def add(self, one: Placed) -> None:
        """Scores a design and keeps it."""
        found = score(one.design, self._copies[one.set], self._settings).scores
        kind = tuple(found.items())
        self._kinds.append(self._scores.setdefault(kind, len(self._scores)))
        self._sets.append(one.set)
        self._starts.append(len(self._labels))
        for die in one.design.dice:
            self._labels.extend(die.labels)

    def best(self, most: int) -> tuple[tuple[Placed, ...], int, float | None]:
        """So many of the best, best first and by id where they tie; the last one's score; the least cost of all.

        The least cost is None where cost weighs nothing.
        """
        weights = dict(self.question.rank)
        kinds = [dict(kind) for kind in self._scores]
        cheapest = min(kind["cost"] for kind in kinds)
        overall = [overall_of(kind, weights, cheapest) for kind in kinds]
        many = [0] * (MOST_OVERALL + 1)
        for kind in self._kinds:
            many[overall[kind]] += 1
        least, above = MOST_OVERALL, 0
        while least > 0 and above + many[least] < most:
            above += many[least]
            least -= 1
        good = (
            (-overall[kind], self._placed(at).design.id, at)
            for at, kind in enumerate(self._kinds)
            if overall[kind] >= least
        )
        best = heapq.nsmallest(most, good)
        designs = tuple(self._placed(at) for _, _, at in best)
        return designs, -best[-1][0], cheapest if weights.get("cost") else None

    def _placed(self, at: int) -> Placed:
        position, start = self._sets[at], self._starts[at]
        dice = self.question.sets[position]
        labels = []
        for die in dice:
            labels.append(self._labels[start : start + die.faces].tolist())
            start += die.faces
        return Placed(position, NumberingDesign.of(dice, labels))
