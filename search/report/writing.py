"""Writes the report of a run into its folder."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from facewright.search.answer import Answer
from facewright.search.rank import Ranked


def write_report(answer: Answer, ranked: Sequence[Ranked], folder: Path) -> Path:
    """Writes report.html; raises RunError where it cannot be written."""
    from facewright.search.folders import REPORT, write_text
    from facewright.search.report.contents import entries, summary
    from facewright.search.report.laid_out import shown
    from facewright.search.report.page import page
    from facewright.search.runs import provenance_of

    about = provenance_of(folder)
    text = page(
        summary(
            answer,
            run=folder.resolve().name,
            written=about.get("ended", "")[:10],
            provenance=about["made_with"],
        ),
        entries(answer, ranked),
        shown(answer.layouts),
    )
    path = folder / REPORT
    write_text(path, text)
    return path
