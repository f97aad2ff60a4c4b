"""Readouts for a terminal: the verdict, a table of solids, the marks and joint tables of a design."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Any

from facewright.constraints.readouts import Label, Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.search.readouts_answer import FoundMarks, ReadoutsAnswer
from facewright.search.readouts_export import particulars


def summary(answer: ReadoutsAnswer, ranked: Sequence[FoundMarks], width: int, rows: int | None) -> str:
    """The verdict; of several solids their table, of one its designs, the first with its marks."""
    parts = [answer.question.title, textwrap.fill(answer.reason, max(40, width))]
    if len(answer.question.solids) > 1:
        parts.append(solids_table(answer, rows))
    elif len(ranked) > 1:
        shown = ranked[:rows]
        parts.append("\n".join(f"{one.id[:8]}  {marks_line(one.design)}" for one in shown))
    if ranked:
        parts.append(details(answer.question, ranked[0].design))
    return "\n\n".join(parts)


def solids_table(answer: ReadoutsAnswer, rows: int | None) -> str:
    """One row a solid that has marks, and how many have none."""
    table = answer.table()
    with_marks = [row for row in table if row["design"] is not None]
    head = ("solid", "rests", "dependence", "proved", "marks", "cuts", "read at", "design")
    body = [
        (
            row["solid"],
            str(row["rests"]),
            row["largest_pair"] if answer.question.measure == "pairs" else row["dependence"],
            "yes" if row["proved"] else f"no, at least {row['bound']}",
            str(row["marks"]),
            str(row["cuts"]),
            row["read"],
            row["design"][:8],
        )
        for row in with_marks[:rows]
    ]
    lines = columns([head, *body])
    more = len(with_marks) - len(body)
    if more > 0:
        lines.append(f"{more} more with marks.")
    without = [row["solid"] for row in table if row["verdict"] == "none"]
    if without:
        lines.append(f"Proved to have no such marks: {len(without)} of {len(table)} solids.")
    return "\n".join(lines)


def details(question: Readouts, design: ReadoutsDesign) -> str:
    """A design in full: its sites label by label, and the joint table of every pair."""
    lines = [f"{design.id}  on the {design.solid}: {design.marks} marks to read, {design.cuts} to cut"]
    lines += [f"  {line}" for line in _marks(question, design)]
    about = particulars(question, design)
    if about["largest_deviation"]:
        lines.append(f"  largest deviation: {about['largest_deviation']['words']}")
    for pair in about["pair_tables"]:
        lines += ["", *_pair(pair)]
    return "\n".join(lines)


def marks_line(design: ReadoutsDesign) -> str:
    """A design on one line: each readout's labels in the order of the sites."""
    return " · ".join(f"{name} {' '.join(str(label) for _, label in pairs)}" for name, pairs in design.sites)


def by_label(pairs: Sequence[tuple[str, Label]], labels: Sequence[Label]) -> list[tuple[Label, list[str]]]:
    """Each label with the sites on which it stands."""
    return [(label, [site for site, at in pairs if at == label]) for label in labels]


def columns(table: Sequence[Sequence[str]]) -> list[str]:
    """Rows of equal columns, aligned."""
    wide = [max(len(row[at]) for row in table) for at in range(len(table[0]))]
    return [
        "  ".join(cell.ljust(size) for cell, size in zip(row, wide, strict=True)).rstrip() for row in table
    ]


def _marks(question: Readouts, design: ReadoutsDesign) -> list[str]:
    lines = []
    for readout, (name, pairs) in zip(question.readouts, design.sites, strict=True):
        parts = (f"{label} on {' '.join(sites)}" for label, sites in by_label(pairs, readout.labels))
        lines.append(f"{name}: {'; '.join(parts)}")
    return lines


def _pair(pair: dict[str, Any]) -> list[str]:
    one, other = pair["readouts"]
    told = f"{pair['bits']:.6f} bits" if pair["distance"] != "0" else "0 bits"
    head = (f"{one} \\ {other}", *(str(label) for label in pair["columns"]))
    body = [
        (str(label), *(str(count) for count in row))
        for label, row in zip(pair["rows"], pair["counts"], strict=True)
    ]
    title = f"  of {pair['rests']} rests; distance {pair['distance']}, mutual information {told}"
    return [title, *(f"  {line}" for line in columns([head, *body]))]
