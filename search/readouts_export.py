"""Answers about readouts written for others: the contract's JSON, joint tables, rows for a table, and back."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import Any

from facewright.constraints.dependence import information, marginal
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.search.engines.readouts_words import deviation_words, largest_deviation, positions
from facewright.search.export import laid_out
from facewright.search.readouts_answer import FoundMarks, ReadoutsAnswer
from facewright.search.statement import statement

SCHEMA = 1
BIT_DIGITS = 6
"""Decimals of bits, which are floats."""


def as_json(answer: ReadoutsAnswer, ranked: Sequence[FoundMarks]) -> dict[str, Any]:
    """The answer as the contract writes it, the designs best first; "question" lets others recount it."""
    return {
        **statement(answer),
        "solids": answer.table(),
        "designs": [design_json(answer.question, one, place) for place, one in enumerate(ranked, 1)],
        **laid_out(answer.layouts),
        "question": answer.question.to_form(),
    }


def design_json(question: Readouts, one: FoundMarks, place: int) -> dict[str, Any]:
    """A design with its tables and the geometry of its solid."""
    from facewright.constraints.solids import solid
    from facewright.constraints.solids.geometry import geometry

    form = {**one.design.as_json(), "rank": place, **particulars(question, one.design)}
    return {**form, "geometry": geometry(solid(one.design.solid, question.shape))}


def particulars(question: Readouts, design: ReadoutsDesign) -> dict[str, Any]:
    """The joint tables of all pairs, what each pair tells of the other in bits, the largest conditional deviation."""
    joint, rests = positions(question, design), sum(count for _, count in design.joint)
    readouts = question.readouts
    pairs = []
    for (a, b), gap in zip(combinations(range(len(readouts)), 2), design.pairs, strict=True):
        both = marginal(joint, (a, b))
        weights = (readouts[a].weights, readouts[b].weights)
        pairs.append(
            {
                "pair": f"{a + 1}-{b + 1}",
                "readouts": [readouts[a].name, readouts[b].name],
                "rows": list(readouts[a].labels),
                "columns": list(readouts[b].labels),
                "counts": [
                    [both.get((row, column), 0) for column in range(len(weights[1]))]
                    for row in range(len(weights[0]))
                ],
                "rests": rests,
                "distance": str(gap),
                "bits": round(information(both, weights, rests), BIT_DIGITS),
            }
        )
    worst = largest_deviation(question, design)
    deviation = None
    if worst is not None:
        deviation = {
            "readout": worst.readout.name,
            "label": worst.label,
            "given": worst.other.name,
            "shows": worst.seen,
            "chance": f"{worst.showing}/{worst.given}",
            "alone": str(worst.own),
            "gap": str(worst.gap),
            "words": deviation_words(worst),
        }
    bits = information(joint, question.weights, rests)
    return {"pair_tables": pairs, "bits": round(bits, BIT_DIGITS), "largest_deviation": deviation}


def rows(answer: ReadoutsAnswer, ranked: Sequence[FoundMarks]) -> list[dict[str, Any]]:
    """One flat row a design, for CSV and pandas."""
    table = []
    for place, one in enumerate(ranked, 1):
        design = one.design
        row: dict[str, Any] = {"rank": place, "id": design.id, "solid": design.solid}
        for name, pairs in design.sites:
            row[name] = " ".join(f"{site}:{label}" for site, label in pairs)
        row |= {"dependence": str(design.dependence), "marks": design.marks, "cuts": design.cuts}
        table.append(row)
    return table
