"""Designs of all sets of dice of a question, walked through from the best down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from facewright.constraints.question import Numbering
from facewright.search.engines.splitting.problem import Problem, problem_of
from facewright.search.engines.splitting.split import Split
from facewright.search.progress import Progress
from facewright.search.report.scores import Settings
from facewright.search.selecting.bounds import Goal
from facewright.search.selecting.placed import Placed
from facewright.search.selecting.walk import Walk
from facewright.search.stop import Stop

MOST_CELLS = 2**61
"""Vectors of more cells do not fit into 64 bits."""


class Walks:
    """A walk for each set of dice that has designs; what one walk finds, all find together."""

    def __init__(self, walks: Sequence[tuple[int, Walk]]) -> None:
        self._walks = dict(walks)

    @classmethod
    def of(cls, question: Numbering, settings: Settings, stop: Stop, report: Progress) -> Walks | None:
        """The walks of a plain question for totals; None where there is no design, or vectors do not fit into 64 bits.

        Raises:
            Stopped: the stop asked for it, or memory would not do.
        """
        walks = []
        for position, dice in enumerate(question.sets):
            alone = question.alone(dice)
            problem = problem_of(alone, stop)
            if not isinstance(problem, Problem):
                continue
            split = Split.of(alone, problem, stop, report)
            if split.lattice.cells >= MOST_CELLS:
                return None
            if split.kinds and split.ways.count:
                walks.append((position, Walk(split, settings, stop)))
        return cls(walks) if walks else None

    def score(self, goal: Goal, one: Placed) -> int:
        """What a design scores."""
        return self._walks[one.set].score(goal, one.design)

    def ceiling(self, goal: Goal) -> int:
        """No design scores more than this."""
        return max(walk.ceiling(goal) for walk in self._walks.values())

    def some(self, goal: Goal, many: int) -> Iterator[tuple[int, Placed]]:
        """Some designs that score well, with their scores; see `Walk.some`."""
        for position, walk in self._walks.items():
            for reached, design in walk.some(goal, many):
                yield reached, Placed(position, design)

    def all_at_least(self, goal: Goal, score: int) -> Iterator[tuple[int, Placed]]:
        """Every design that scores so much, with its score, each once; see `Walk.all_at_least`."""
        for position, walk in self._walks.items():
            for reached, design in walk.all_at_least(goal, score):
                yield reached, Placed(position, design)
