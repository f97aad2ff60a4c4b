"""Products in order: those on the Pareto front first, by weights within, and why each stands above the next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from facewright.constraints.grammar import series
from facewright.constraints.product import CRITERIA, READABILITY, Product
from facewright.search.costing.quote import Quote
from facewright.search.costing.scenarios import really_less
from facewright.search.products.criteria import CUBE_SETTLES, Judged, better, comparable, judged
from facewright.search.products.facts import ProductDesign
from facewright.search.products.front import bettered_by
from facewright.search.report.scores import Settings, rounded

if TYPE_CHECKING:
    from facewright.constraints.product import Candidate
    from facewright.search.products.criteria import Criterion

NAMED = 2
"""How many criteria a sentence names on each side."""

SAID = {
    "cost": ("cheaper", "dearer"), "legible": ("more legible", "less legible"),
    "familiar": ("more familiar", "less familiar"), "exactness": ("more exact", "less exact"),
    "guards": ("hardier against flaws", "less hardy against flaws"),
    "settling": ("firmer on the table", "less firm on the table"),
    "novelty": ("farther from ordinary dice", "nearer to ordinary dice"),
    "tooling": ("with fewer solids to tool", "with more solids to tool"),
}  # fmt: skip


@dataclass(frozen=True, eq=False)
class RankedProduct:
    """A product in its place: `position` counts from 1, `tied` where the weights do not tell it from a neighbour.

    `front`: whether no other product is at least as good in everything and better in something; `bettered_by` are those
    that are. `overall` is the weighted mean of `shares`, from 0 to 100 each. `above` says why it stands above the next
    one; empty for the last. A product to which no route is open stands last, without a mean.
    """

    position: int
    tied: bool
    front: bool
    bettered_by: tuple[str, ...]
    overall: int
    shares: dict[str, float]
    judged: Judged
    above: str = ""

    @property
    def id(self) -> str:
        """The id of the design."""
        return self.judged.id

    @property
    def name(self) -> str:
        """The run and the beginning of the id."""
        return self.judged.name

    @property
    def candidate(self) -> Candidate:
        """The design itself, with its question and the run that it is of."""
        return self.judged.candidate

    @property
    def design(self) -> ProductDesign:
        """What was measured of it."""
        return self.judged.design

    @property
    def quote(self) -> Quote | None:
        """What it costs; None where no route is open to it."""
        return self.judged.quote

    @property
    def criteria(self) -> dict[str, Criterion]:
        """Its criteria by name."""
        return self.judged.criteria


def ranked_products(
    question: Product, designs: Sequence[ProductDesign], settings: Settings
) -> list[RankedProduct]:
    """The products in order, best first.

    Params:
        question: the question, whose `rank` weighs the criteria.
        designs: what was measured of each.
        settings: of the scores.
    """
    every = [judged(question, one, settings) for one in designs]
    able = [one for one in every if one.quote is not None]
    names = comparable(CRITERIA, able)
    tests = [_test(name, able) for name in names]
    by = bettered_by(len(able), tests)
    weights = weights_of(question, names, settings)
    economy = economies(able)
    scored = []
    for at, one in enumerate(able):
        shares = {name: economy[at] if name == "cost" else _share(name, one, able) for name in names}
        total = sum(weights.values())
        mean = sum(shares[name] * weight for name, weight in weights.items()) / total if total else 0.0
        scored.append((bool(by[at]), -int(rounded(mean)), one.id, at, shares))
    scored.sort(key=lambda row: row[:3])
    ranked: list[RankedProduct] = []
    for place, (behind, less, _, at, shares) in enumerate(scored):
        key = (behind, less)
        level = place > 0 and scored[place - 1][:2] == key
        tied = level or (place + 1 < len(scored) and scored[place + 1][:2] == key)
        position = ranked[-1].position if level else place + 1
        names_above = tuple(able[one].name for one in by[at])
        ranked.append(RankedProduct(position, tied, not behind, names_above, -less, shares, able[at]))
    for one in every:
        if one.quote is None:
            ranked.append(RankedProduct(len(ranked) + 1, False, False, (), 0, {}, one))
    return [_explained(ranked, place, weights, names) for place in range(len(ranked))]


def _test(name: str, able: Sequence[Judged]):  # type: ignore[no-untyped-def]
    return lambda one, other: better(name, able[one], able[other])


def weights_of(question: Product, names: Sequence[str], settings: Settings) -> dict[str, float]:
    """What counts how much, among the criteria that can be compared; readability is shared out to its two scores."""
    weights: dict[str, float] = {}
    for name, weight in question.rank:
        if name == READABILITY:
            own = settings.readability
            both = own.legible + own.familiar
            weights["legible"] = weights.get("legible", 0) + weight * own.legible / both
            weights["familiar"] = weights.get("familiar", 0) + weight * own.familiar / both
        else:
            weights[name] = weights.get(name, 0) + weight
    return {name: weight for name, weight in weights.items() if name in names and weight}


def economies(designs: Sequence[Judged]) -> list[float]:
    """For each design 100 × the least cost / its cost; where two do not really differ in cost they share the cheaper's.

    From the cheapest on: a design that does not really differ from the first of a group joins it.
    """
    order = sorted(range(len(designs)), key=lambda at: _likely(designs[at]))
    found = [0.0] * len(designs)
    first = order[0] if order else 0
    for at in order:
        one, other = designs[first].cost, designs[at].cost
        assert one is not None and other is not None
        if really_less(one, other):
            first = at
        found[at] = 100 * _likely(designs[order[0]]) / _likely(designs[first])
    return found


def _likely(one: Judged) -> float:
    return one.criteria["cost"].value or 0.0


def _share(name: str, one: Judged, every: Sequence[Judged]) -> float:
    """A criterion on the scale of the weights, from 0 to 100, the best."""
    value = one.criteria[name].value or 0.0
    if name == "exactness":
        return 100 * (1 - value)
    if name == "guards":
        least = min(other.criteria[name].value or 0.0 for other in every)
        return 100 * least / value if value else 100.0
    if name == "settling":
        return min(100.0, 100 * value / CUBE_SETTLES)
    return 100 / (1 + value) if name == "tooling" else value


def _explained(
    ranked: Sequence[RankedProduct], place: int, weights: Mapping[str, float], names: Sequence[str]
) -> RankedProduct:
    from dataclasses import replace

    if place + 1 >= len(ranked):
        return ranked[place]
    return replace(ranked[place], above=why(ranked[place], ranked[place + 1], weights, names))


def why(one: RankedProduct, other: RankedProduct, weights: Mapping[str, float], names: Sequence[str]) -> str:
    """Why one product stands above another, in a sentence or two.

    Params:
        weights: what counts how much. names: the criteria that are compared.
    """
    if other.quote is None:
        return f"{other.name} stands last: no route is open to it."
    # what does not count in the mean can still decide the front: it is named after what does
    gains = {name: (weights.get(name, 0) * (one.shares[name] - other.shares[name])) for name in names}
    ahead = [name for name in names if better(name, one.judged, other.judged)]
    behind = [name for name in names if better(name, other.judged, one.judged)]
    ahead.sort(key=lambda name: -gains[name])
    behind.sort(key=lambda name: gains[name])
    close = "" if "cost" in ahead + behind else "; there is no real difference in cost"
    if not ahead and not behind:
        return f"{one.name} and {other.name} do not differ in anything compared here{close}."
    for_it = series([_said(name, one, other) for name in ahead[:NAMED]])
    against = series([_said(name, one, other, False) for name in behind[:NAMED]])
    if one.front and not other.front:
        best = other.bettered_by[0]
        lead = (
            f"{one.name} is bettered by none; {best} is nowhere worse than {other.name} and somewhere better"
        )
        told = f" Beside {other.name}, {one.name} is {_both(for_it, against)}{close}."
        return f"{lead}.{told}"
    if one.overall == other.overall:
        return f"{one.name} and {other.name} are level: {one.name} is {_both(for_it, against)}{close}."
    counts = ", which counts for less" if against and for_it else ""
    return f"{one.name} stands above {other.name}: it is {_both(for_it, against)}{counts}{close}."


def _both(for_it: str, against: str) -> str:
    return f"{for_it}, but {against}" if for_it and against else for_it or against


def _said(name: str, one: RankedProduct, other: RankedProduct, good: bool = True) -> str:
    mine, theirs = one.criteria[name].value or 0.0, other.criteria[name].value or 0.0
    if name == "cost":
        values = f"{mine:.2f} against {theirs:.2f}"
    elif name == "guards":
        values = f"{100 * mine:g} % against {100 * theirs:g} %"
    elif name == "settling":
        values = f"{mine:.3f} against {theirs:.3f}"
    elif name == "exactness":
        values = f"{one.design.inexact} off against {other.design.inexact}"
    else:
        values = f"{mine:g} against {theirs:g}"
    return f"{SAID[name][0 if good else 1]} ({values})"
