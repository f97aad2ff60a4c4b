"""What a mould means for one die: its draw, parting line and gate, the radii of edges and corners."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from facewright.constraints.draw import DrawPlan, Gate
    from facewright.constraints.edges import Rounding
    from facewright.search.make.sizing import Sized


@dataclass(frozen=True, eq=False)
class Mould:
    """The draw that is used (the brief's, else the best), the best one, the gate, and the radii that suit."""

    plan: DrawPlan
    best: DrawPlan
    gate: Gate
    rounding: Rounding


def mould_of(one: Sized) -> Mould:
    """The mould of a die."""
    from facewright.constraints.draw import draw_plan, gate
    from facewright.constraints.edges import rounding

    body, labels = one.die.artwork.solid, one.die.faces
    marked = sorted(labels)
    best = draw_plan(body, None, marked)
    plan = best if one.draw is None else draw_plan(body, one.draw, marked)
    return Mould(plan, best, gate(body, plan, labels), rounding(body, one.inradius_mm))


def mould_sentences(one: Sized, mould: Mould) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What draw, parting line and gate mean, and what radii suit and how edges wear, a sentence a line."""
    from facewright.search.make.advice import draw_sentences, edge_sentences

    body = one.die.artwork.solid
    drawn = draw_sentences(body, mould.plan, mould.best, mould.gate, one.inradius_mm)
    return drawn, edge_sentences(mould.rounding)
