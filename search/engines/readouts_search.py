"""The search for marks as near independent as can be: every placing, first at the arithmetic bound, then above it."""

from __future__ import annotations

from collections.abc import Generator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations

from facewright.constraints.dependence import arithmetic_bound
from facewright.constraints.model.readouts import Placing, ReadoutsModel
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import Marks
from facewright.constraints.views import Views
from facewright.search.engines.readouts_filling import fillings, first_filling
from facewright.search.engines.readouts_placing import placings
from facewright.search.engines.readouts_solver import Result, every_solution, solved
from facewright.search.progress import Progress
from facewright.search.stop import Stop

EFFORTS = (1.5, 6.0, 30.0, 300.0)
"""The solver's work units, about a second each, that a placing gets in one round; after the last all it needs."""

Distances = tuple[Fraction, ...]
"""The distance of all together; or of pairs the largest and their sum. Less is better, in this order."""


@dataclass
class Found:
    """The best marks so far, how far they are from independent, and how the search ended."""

    bounds: Distances
    marks: Marks | None = None
    distances: Distances | None = None
    by_bound: bool = False
    stopped: str | None = None
    open_bound: Distances | None = None
    variables: int = 0
    tried: int = 0
    placings: list[Placing] = field(default_factory=list)


def bounds_of(question: Readouts, rests: int) -> Distances:
    """What no marks can go below, by arithmetic: one bound, or of pairs the largest and their sum."""
    weights = question.weights
    if question.measure == "together" or len(weights) < 3:
        return (arithmetic_bound(weights, rests),)
    each = [arithmetic_bound(pair, rests) for pair in combinations(weights, 2)]
    return max(each), sum(each, Fraction(0))


def least(question: Readouts, views: Views, stop: Stop, seed: int, report: Progress) -> Found:
    """Marks as near independent as can be, proved, or as near as the search came before it was stopped.

    The placings are first tried at the arithmetic bound, with little effort each and then more: what reaches it
    is best. Where none does, each is searched for anything better than the best so far, until none is left.
    """
    found = Found(bounds_of(question, views.rests), placings=placings(question, views))
    waiting = [_Try(question, views, one, seed) for one in found.placings]
    at_bound, above = list(waiting), list[_Try]()
    for effort in (*EFFORTS, None):
        if not waiting:
            break
        at_bound, above = _round(at_bound, above, found, effort, stop, report)
        if found.by_bound or found.stopped:
            break
        waiting = at_bound + above
    if found.stopped:
        found.open_bound = min((one.bound for one in at_bound + above), default=found.bounds)
    return found


def _round(
    at_bound: list[_Try], above: list[_Try], found: Found, effort: float | None, stop: Stop, report: Progress
) -> tuple[list[_Try], list[_Try]]:
    """One round over the placings that are still open; gives those that stay so."""
    left: list[_Try] = []
    above = list(above)
    for at, one in enumerate(at_bound):
        report("placings of the marks", at, len(at_bound))
        result = one.at_bound(effort, stop)
        found.tried += 1
        found.variables = max(found.variables, one.variables)
        if result.status in ("best", "found"):
            found.marks, found.distances, found.by_bound = one.marks(result), found.bounds, True
            return [], []
        if result.stopped:
            found.stopped = result.stopped
            return [*left, *at_bound[at:]], above
        (above if result.status == "none" else left).append(one)
    if _only_exact(found, at_bound):
        return left, []
    still: list[_Try] = []
    for at, one in enumerate(above):
        report("better marks", at, len(above))
        result = one.below(found.distances, effort, stop)
        found.tried += 1
        found.variables = max(found.variables, one.variables)
        if result.status in ("best", "found"):
            found.marks, found.distances = one.marks(result), one.distances(result)
        if result.stopped:
            found.stopped = result.stopped
            return left, [*still, *above[at:]]
        if result.status in ("found", "open"):
            still.append(one)
    return left, still


def _only_exact(found: Found, tries: list[_Try]) -> bool:
    """Whether only exact independence counts, so that what misses the bound is of no use."""
    return any(one.question.independent == "exact" for one in tries)


class _Try:
    """One placing: its models, and a bound below every objective that it can reach."""

    def __init__(self, question: Readouts, views: Views, placing: Placing, seed: int) -> None:
        self.question, self.views, self.placing, self.seed = question, views, placing, seed
        self.bound = bounds_of(question, views.rests)
        self._model: ReadoutsModel | None = None

    @property
    def variables(self) -> int:
        """How many variables the last model has."""
        return 0 if self._model is None else len(self._model.cp.proto.variables)

    def at_bound(self, effort: float | None, stop: Stop) -> Result:
        """Marks that reach the arithmetic bound."""
        model = self._model = ReadoutsModel(self.question, self.views, self.placing)
        model.cp.add(model.objective() <= model.encoded(self.bound))
        return self._solved(model, effort, stop)

    def below(self, distances: Distances | None, effort: float | None, stop: Stop) -> Result:
        """The best marks that are nearer than some distances."""
        model = self._model = ReadoutsModel(self.question, self.views, self.placing)
        objective = model.objective()
        model.cp.add(objective >= model.encoded(self.bound))
        if distances is not None:
            model.cp.add(objective <= model.encoded(distances) - 1)
        model.cp.minimize(objective)
        result = self._solved(model, effort, stop)
        if result.status in ("found", "open"):
            self.bound = max(self.bound, model.decoded(result.bound))
        return result

    def marks(self, result: Result) -> Marks:
        """The marks of the last result."""
        assert self._model is not None
        return first_filling(self._model, result.values)

    def distances(self, result: Result) -> Distances:
        """The distances of the last result."""
        assert self._model is not None
        return self._model.decoded(result.objective)

    def _solved(self, model: ReadoutsModel, effort: float | None, stop: Stop) -> Result:
        wanted = [*model.x.values(), *model.counts.values()]
        return solved(model.cp, wanted, seed=self.seed, stop=stop, effort=effort)


def at_bound(
    question: Readouts, views: Views, tried: Sequence[Placing], stop: Stop, seed: int
) -> Marks | None:
    """Marks at the arithmetic bound on one of some placings, with little effort; None where none was found."""
    for placing in tried:
        one = _Try(question, views, placing, seed)
        result = one.at_bound(EFFORTS[0], stop)
        if result.status in ("best", "found"):
            return one.marks(result)
        if result.stopped:
            break
    return None


def every(question: Readouts, views: Views, distances: Distances, stop: Stop, seed: int) -> Generator[Marks]:
    """Marks at these distances, an image under the rotations of each at least once.

    Raises:
        Stopped: `stop` asked for it.
    """
    for placing in placings(question, views, alike=True):
        model = ReadoutsModel(question, views, placing, listing=True)
        model.cp.add(model.objective() <= model.encoded(distances))
        wanted = [*model.x.values(), *model.counts.values()]
        for values in every_solution(model.cp, wanted, seed=seed, stop=stop):
            yield from fillings(model, values)
