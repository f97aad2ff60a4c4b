"""The criteria by which products are compared: each a value, what it means in words, and which of two is better."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from facewright.constraints.product import Candidate, Product
from facewright.search.costing.quote import Quote, quote
from facewright.search.costing.scenarios import really_less
from facewright.search.products.facts import ProductDesign, job_of
from facewright.search.products.novelty import NOT_IN_TABLE, Published, known_in_print, strange_faces
from facewright.search.products.reading import familiar, legible, numbered
from facewright.search.report.scores import Part, Settings

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

CUBE_SETTLES = 0.41421356
"""How firmly a cube settles, √2 − 1 inradii: what counts as 100."""

NEEDS = {"cast": "master", "mould": "mould"}
"""What a route needs for each solid; blanks need nothing that is kept."""

MORE_IS_BETTER = {
    "cost": False, "legible": True, "familiar": True, "exactness": False, "guards": False, "settling": True,
    "novelty": True, "tooling": False,
}  # fmt: skip


@dataclass(frozen=True)
class Criterion:
    """One criterion of one design: its value (None: it cannot be judged), and what it means in words.

    `parts` are those of a score.
    """

    name: str
    value: float | None
    words: str
    parts: tuple[Part, ...] = ()


@dataclass(frozen=True, eq=False)
class Judged:
    """A design with everything that can be said of it before it is compared with others.

    `quote` is None where no route is open to it; `published` its entry in our table of designs known in print.
    """

    candidate: Candidate
    design: ProductDesign
    quote: Quote | None
    criteria: dict[str, Criterion]
    published: Published | None
    compare_at: int

    @property
    def id(self) -> str:
        """The id of the design."""
        return self.candidate.id

    @property
    def name(self) -> str:
        """The run and the beginning of the id."""
        return self.candidate.name

    @cached_property
    def cost(self) -> NDArray[np.float64] | None:
        """What a set costs by its best route where designs are compared, over the scenarios of the rates."""
        return None if self.quote is None else self.quote.at(self.compare_at).best.figures


def judged(question: Product, design: ProductDesign, settings: Settings) -> Judged:
    """A design with its criteria."""
    candidate, make = question.candidate(design.id), question.make
    priced = quote(job_of(question, design), question.rates, make.by, make.sets)
    labels = numbered(candidate)
    read = getattr(candidate.question, "read", "")
    printed = None if labels is None else known_in_print(read, [die.labels for die in labels.dice])
    own = familiar(candidate, settings)
    plain, plain_parts = legible(candidate, design.dice, make.body, make.ink, settings)
    found = (
        _cost(priced, make.compare_at),
        Criterion("legible", plain, f"{plain} of 100", plain_parts),
        Criterion("familiar", None, "not judged: its labels are no numbers of one die each")
        if own is None
        else Criterion("familiar", own[0], f"{own[0]} of 100", own[1]),
        _exactness(design),
        _guards(design),
        _settling(design),
        _novelty(candidate, printed),
        _tooling(question, design, priced),
    )
    return Judged(candidate, design, priced, {one.name: one for one in found}, printed, make.compare_at)


def better(name: str, one: Judged, other: Judged) -> bool:
    """Whether one design is really better than another by a criterion; costs must really differ."""
    if name == "cost":
        return one.cost is not None and other.cost is not None and really_less(one.cost, other.cost)
    mine, theirs = one.criteria[name].value, other.criteria[name].value
    if mine is None or theirs is None or mine == theirs:
        return False
    return (mine > theirs) is MORE_IS_BETTER[name]


def comparable(names: Sequence[str], designs: Sequence[Judged]) -> tuple[str, ...]:
    """The criteria that can be judged of every design: the others compare nothing."""
    return tuple(name for name in names if all(one.criteria[name].value is not None for one in designs))


def _cost(priced: Quote | None, sets: int) -> Criterion:
    if priced is None:
        return Criterion("cost", None, "no route is open to it")
    at = priced.at(sets)
    unit = at.best.unit
    words = (
        f"{unit.likely:.2f} {priced.currency} a set ({unit.low:.2f} to {unit.high:.2f}), "
        f"{sets:,} sets, {at.best.route}: {at.best.curve.way}"
    )
    return Criterion("cost", unit.likely, words)


def _exactness(design: ProductDesign) -> Criterion:
    off = design.inexact
    words = "exactly as asked" if not off else f"off by {off} (total variation distance)"
    return Criterion("exactness", float(off), words)


def _guards(design: ProductDesign) -> Criterion:
    shifts = [shift for die in design.dice for _, shift in die.guards]
    if not shifts or any(not die.guards for die in design.dice):
        return Criterion("guards", None, "not judged: no layout of numbers")
    worst = float(f"{max(shifts):.2g}")
    return Criterion(
        "guards", worst, f"a flaw of 1 % makes up to {100 * worst:g} % of all rolls come out differently"
    )


def _settling(design: ProductDesign) -> Criterion:
    least = min(design.dice, key=lambda die: die.settle)
    value = round(least.settle, 3)
    return Criterion("settling", value, f"{value:.3f} inradii to tip the {least.solid} over (a cube: 0.414)")


def _novelty(candidate: Candidate, printed: Published | None) -> Criterion:
    design = numbered(candidate)
    if design is None:
        return Criterion("novelty", None, f"several answers from one solid; {NOT_IN_TABLE}")
    strange = sum(strange_faces(die.labels) for die in design.dice)
    faces = sum(len(die.labels) for die in design.dice)
    known = NOT_IN_TABLE if printed is None else f"published: {printed.says} ({printed.source})"
    return Criterion(
        "novelty",
        round(100 * strange / faces),
        f"{strange} of {faces} labels are not those of ordinary dice; {known}",
    )


def _tooling(question: Product, design: ProductDesign, priced: Quote | None) -> Criterion:
    """How many solids need a tool by the best route: a mould, or a master; blanks need none."""
    if priced is None:
        return Criterion("tooling", None, "no route is open to it")
    owned = dict(question.owned)
    route = priced.at(question.make.compare_at).best.route
    solids = list(dict.fromkeys(die.solid for die in design.dice))
    need = NEEDS.get(route)
    lacking = [] if need is None else [one for one in solids if need not in owned.get(one, ())]
    words = f"{need}s to make: {', '.join(lacking)}" if lacking else f"no solid to tool ({route})"
    have = [f"{one} ({', '.join(owned[one])})" for one in solids if one in owned]
    return Criterion("tooling", len(lacking), words + (f"; owned: {'; '.join(have)}" if have else ""))
