"""Answers about smooth bodies written for others: the contract's JSON, and rows for a table."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from facewright.search.export import laid_out
from facewright.search.smooth_answer import FoundBody, SmoothAnswer
from facewright.search.statement import statement


def as_json(answer: SmoothAnswer, ranked: Sequence[FoundBody]) -> dict[str, Any]:
    """The answer as the contract writes it; "question" lets others recount it."""
    return {
        **statement(answer),
        "proof": list(answer.proof),
        "designs": [
            {**one.design.as_json(), "rank": place, "reads": _reads(answer, one)}
            for place, one in enumerate(ranked, 1)
        ],
        **laid_out(answer.layouts),
        "question": answer.question.to_form(),
    }


def _reads(answer: SmoothAnswer, one: FoundBody) -> list[dict[str, Any]]:
    """What each rest reads: the direction of the tip on top, the face of the solid with the same rests, the text."""
    from facewright.search.make.smooth_numerals import carried_by, names_of, readings

    told = readings(one.design.symmetry, carried_by(answer.layouts, one.id), names_of(answer.question))
    return [
        {"face": f"f{place}", "tip": reading.tip.round(12).tolist(), "text": reading.text}
        for place, reading in enumerate(told, 1)
    ]


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
