"""Answers about layouts written for others: the contract's JSON, and rows for a table."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.search.layouts_answer import FoundLayout, LayoutAnswer
from facewright.search.statement import statement


def as_json(answer: LayoutAnswer, ranked: Sequence[FoundLayout]) -> dict[str, Any]:
    """The answer as the contract writes it, the designs best first; "question" lets others recount it."""
    return {
        **statement(answer),
        "proof": list(answer.proof),
        "designs": [design_json(answer.question, one.design, place) for place, one in enumerate(ranked, 1)],
        "question": answer.question.to_form(),
    }


def design_json(question: Layout, design: LayoutDesign, place: int) -> dict[str, Any]:
    """A design with the geometry of its solid, in the proportions of the question."""
    from facewright.constraints.solids import solid
    from facewright.constraints.solids.geometry import geometry

    return {**design.as_json(), "rank": place, "geometry": geometry(solid(question.solid, question.shape))}


def rows(answer: LayoutAnswer, ranked: Sequence[FoundLayout]) -> list[dict[str, Any]]:
    """One flat row a design, for CSV and pandas."""
    table = []
    for place, one in enumerate(ranked, 1):
        design, balance = one.design, one.design.balance
        row: dict[str, Any] = {"rank": place, "id": design.id, "solid": design.solid}
        row |= dict(design.faces)
        row |= {
            "least_opposite": min(balance.opposite, default=None),
            "most_opposite": max(balance.opposite, default=None),
            "vertex_deviation": None if balance.deviation is None else str(balance.deviation),
            "equal_across_edges": balance.touching[0],
            "equal_at_vertices": balance.touching[1],
            "consecutive": balance.consecutive,
        }
        row |= {goal.replace("-", "_"): shift.worst for goal, shift in balance.shifts}
        table.append({**row, "mirror": design.mirror})
    return table
