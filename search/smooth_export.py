"""Answers about smooth bodies written for others: the contract's JSON, and rows for a table."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from facewright.search.smooth_answer import FoundBody, SmoothAnswer
from facewright.search.statement import statement


def as_json(answer: SmoothAnswer, ranked: Sequence[FoundBody]) -> dict[str, Any]:
    """The answer as the contract writes it; "question" lets others recount it."""
    return {
        **statement(answer),
        "proof": list(answer.proof),
        "designs": [{**one.design.as_json(), "rank": place} for place, one in enumerate(ranked, 1)],
        "question": answer.question.to_form(),
    }


def rows(answer: SmoothAnswer, ranked: Sequence[FoundBody]) -> list[dict[str, Any]]:
    """One flat row a design, for CSV and pandas; lengths in units of the width."""
    table = []
    for place, one in enumerate(ranked, 1):
        design = one.design
        table.append(
            {
                "rank": place,
                "id": design.id,
                "symmetry": design.symmetry,
                "degree": design.degree,
                "rests": design.body.group.ways,
                "least_radius": design.least_radius,
                "settling": design.settling,
                "bound": design.bound,
                "volume": design.volume,
                "area": design.area,
                "height": design.resting.height,
                "tip_radius": design.resting.tip[0],
                "contact_radius": design.resting.contact[0],
            }
        )
    return table
