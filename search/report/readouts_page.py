"""The report of a question of readouts: one page, a function of the stored answer alone."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from facewright.constraints.grammar import counted, number, series
from facewright.constraints.readouts import Readout, Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.search.artwork.sizes import smallest
from facewright.search.readouts_answer import FoundMarks, ReadoutsAnswer
from facewright.search.readouts_export import particulars
from facewright.search.report.figures_marked import MOST_VIEWS
from facewright.search.report.frame import framed
from facewright.search.report.laid_out import shown as laid_out
from facewright.search.report.readouts_pictures import badge_svg, marked, pictures
from facewright.search.report.readouts_text import by_label
from facewright.search.report.view import view_block
from facewright.search.statement import evidence

SHOWN = 20
"""How many designs are shown in full."""

FEW_VIEWS = 2
"""Pictures of each design but the best."""

STYLES = ("page.css", "print.css", "readouts.css", "layouts.css")
PLACES = {"f": "the faces", "v": "corners", "e": "edges"}
"""Sites by the letter of their names, for a reader."""


def readouts_page(
    answer: ReadoutsAnswer,
    ranked: Sequence[FoundMarks],
    *,
    run: str = "",
    written: str = "",
    provenance: dict[str, Any] | None = None,
) -> str:
    """The whole page: its name and date from the run, all else from the answer."""
    question = answer.question
    shown = [
        _design(question, one.design, MOST_VIEWS if place == 0 else FEW_VIEWS)
        for place, one in enumerate(ranked[:SHOWN])
    ]
    hidden = len(ranked) - len(shown)
    table = answer.table() if len(question.solids) > 1 else []
    return framed(
        "readouts.html",
        answer,
        sheets=STYLES,
        view=bool(ranked),
        run=run,
        written=written,
        provenance=provenance,
        ask=ask(question),
        evidence=_evidence(answer),
        solids=[_row(answer, row) for row in table if row["verdict"] != "none"],
        without=_without(table),
        designs=shown,
        laid=laid_out(answer.layouts),
        others=f"{counted(len(ranked) - 1, 'other design').capitalize()}, best first",
        more=f"{counted(hidden, 'more design').capitalize()} in the run." if hidden > 0 else "",
    )


def ask(question: Readouts) -> str:
    """The question, as a designer would say it."""
    told = series(f"{one.name} ({_shares(one)})" for one in question.readouts)
    where = f"on the {question.solids[0]}" if len(question.solids) == 1 else "on one solid"
    kept = "exactly independent" if question.independent == "exact" else "as near independent as can be"
    by = ", pair by pair" if question.measure == "pairs" else ""
    return f"Which marks {where} answer {told} in a single roll, {kept}{by}?"


def _shares(readout: Readout) -> str:
    """The labels of a readout and how likely they are, in a few words."""
    if readout.even:
        return counted(len(readout.labels), "equally likely answer")
    return series(f"{label} {weight} in {readout.ways}" for label, weight in _weighted(readout))


def _weighted(readout: Readout) -> list[tuple[Any, int]]:
    return list(zip(readout.labels, readout.weights, strict=True))


def _evidence(answer: ReadoutsAnswer) -> str:
    backed = evidence(answer)
    proved = "Proved" if backed["proved"] else "Not proved"
    bound = f"; nothing below {backed['bound']} exists" if backed["bound"] is not None else ""
    many = backed["recounted"]
    recounted = (
        f"; {'the one design' if many == 1 else f'each of the {many:,} designs'} recounted from the geometry"
    )
    return f"{proved}{bound}{recounted if many else ''}; {backed['seconds']:.3g}\u00a0s."


def _row(answer: ReadoutsAnswer, row: dict[str, Any]) -> dict[str, Any]:
    """A solid of the table, in words."""
    measured = row["largest_pair"] if answer.question.measure == "pairs" else row["dependence"]
    exact = row["dependence"] == "0"
    proved = "proved" if row["proved"] else f"not proved; at least {row['bound']}"
    return {
        "solid": row["solid"],
        "rests": row["rests"],
        "read": row["read"] or "–",
        "settles": "–" if row["settles"] is None else f"{row['settles']:.3f}",
        "dependence": "exactly independent" if exact else measured or "nothing found yet",
        "proved": proved,
        "marks": "–" if row["marks"] is None else row["marks"],
        "cuts": "–" if row["cuts"] is None else row["cuts"],
        "class": "exact" if exact else "",
    }


def _without(table: Sequence[dict[str, Any]]) -> str:
    """How many solids were proved to have no such marks."""
    names = [row["solid"] for row in table if row["verdict"] == "none"]
    if not names:
        return ""
    many = "One solid was" if len(names) == 1 else f"{number(len(names)).capitalize()} solids were"
    which = f": the {series(names)}" if len(names) <= 6 else ""
    return f"{many} proved to have no such marks{which}."


def _design(question: Readouts, design: ReadoutsDesign, most: int) -> dict[str, Any]:
    """One design as the template shows it."""
    about = particulars(question, design)
    worst = about["largest_deviation"]
    drawn, unseen = pictures(design, question.shape, most)
    artwork = marked(design, question.shape)
    pairs = [_pair(question, pair) for pair in about["pair_tables"]]
    sites = [
        {"name": name, "label": label, "sites": " ".join(where)}
        for readout, (name, held) in zip(question.readouts, design.sites, strict=True)
        for label, where in by_label(held, readout.labels)
    ]
    exact = not design.dependence
    told = (
        "The answers are exactly independent" if exact else f"Dependence of all together: {design.dependence}"
    )
    if exact and len(question.readouts) == 1:
        told = "One answer"
    return {
        "solid": design.solid,
        "short": design.id[:8],
        "dependence": str(design.dependence),
        "lead": f"{told}; {counted(design.marks, 'mark')} to read, {counted(design.cuts, 'copy')} to cut.",
        "size": smallest(artwork).words(),
        "pictures": drawn,
        "unseen": unseen,
        "view": view_block(
            artwork,
            [one.name for one in question.readouts],
            name=f"the {design.solid}",
            still="",
        ),
        "readouts": [
            {
                "name": readout.name,
                "badge": badge_svg(str(readout.labels[0]), place),
                "shape": _shape(place),
                "on": _stands(held),
                "labels": _chances(readout),
            }
            for place, (readout, (_, held)) in enumerate(zip(question.readouts, design.sites, strict=True))
        ],
        "pairs": pairs,
        "some_off": any(cell["off"] for pair in pairs for row in pair["rows"] for cell in row["cells"]),
        "worst": f"Largest deviation: {worst['words']}." if worst else "",
        "rests": sum(count for _, count in design.joint),
        "sites": sites,
    }


def _shape(place: int) -> str:
    from facewright.search.artwork.badges import badge_of

    return badge_of(place).words


def _stands(held: Sequence[tuple[str, Any]]) -> str:
    """On how many sites of which kind a readout stands."""
    kinds = dict.fromkeys(site[0] for site, _ in held)
    return series(
        f"{sum(site[0] == kind for site, _ in held)} {PLACES[kind].removeprefix('the ')}" for kind in kinds
    )


def _chances(readout: Readout) -> str:
    if readout.even:
        return f"{', '.join(map(str, readout.labels))}, each 1 in {readout.ways}"
    return ", ".join(f"{label} {weight} in {readout.ways}" for label, weight in _weighted(readout))


def _pair(question: Readouts, pair: dict[str, Any]) -> dict[str, Any]:
    """A joint table: each cell its exact chance, darker where it is greater, marked where it is not the product."""
    one, other = (question.readouts[int(place) - 1] for place in pair["pair"].split("-"))
    most = max(count for row in pair["counts"] for count in row)
    rows = []
    for (label, weight), counts in zip(_weighted(one), pair["counts"], strict=True):
        cells = []
        for across, count in zip(other.weights, counts, strict=True):
            expected = Fraction(weight * across * pair["rests"], one.ways * other.ways)
            off = "more" if count > expected else "less" if count < expected else ""
            cells.append(
                {
                    "chance": Fraction(count, pair["rests"]),
                    "count": count,
                    "heat": 100 * count // most,
                    "off": off,
                }
            )
        rows.append({"label": label, "cells": cells})
    independent = pair["distance"] == "0"
    said = f"distance {pair['distance']}, mutual information {pair['bits']:.4f} bits (rounded)"
    return {
        "one": one.name,
        "other": other.name,
        "said": "independent" if independent else said,
        "columns": pair["columns"],
        "rows": rows,
    }
