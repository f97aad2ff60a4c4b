"""The best design of a numbering or of readouts, laid out: for a page, and for a terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.search.laying import LaidOut
from facewright.search.report.layouts_text import faces_lines, named_lines
from facewright.search.report.layouts_words import balance_lines, told
from facewright.search.report.terminal import NARROWEST, wrapped

SHEETS = ("readouts.css", "layouts.css")
"""The sheets that `laid.html` needs."""


def shown(layouts: Sequence[LaidOut]) -> list[dict[str, Any]]:
    """Each die as `laid.html` shows it: pictures, what the layout comes to, every place and its label."""
    return [_shown(one) for one in layouts]


def text(layouts: Sequence[LaidOut], width: int) -> str:
    """The layouts for a terminal; nothing where there are none."""
    width = max(width, NARROWEST)
    parts = [
        "\n".join(
            [
                f"Laid out: design {one.of[:8]}, {_heading(one)}",
                *wrapped(one.outcome.closing.reason, width),
                *_lines(one, width),
            ]
        )
        for one in layouts
    ]
    return "\n\n".join(parts)


def _heading(one: LaidOut) -> str:
    if isinstance(one.question, Layout):
        return f"die {one.die}, {one.question.solid}"
    return one.outcome.solid


def _lines(one: LaidOut, width: int) -> list[str]:
    if not one.found:
        return []
    [design] = one.found
    if isinstance(design, LayoutDesign):
        return [*faces_lines(design, width), *named_lines(balance_lines(design), width)]
    lines = []
    for name, pairs in design.sites:
        marks = " ".join(f"{site}:{label}" for site, label in pairs)
        lines += wrapped(f"{name}: {marks}", width - 2, "  ")
    return lines


def _shown(one: LaidOut) -> dict[str, Any]:
    about: dict[str, Any] = {
        "of": one.of[:8],
        "heading": _heading(one)[:1].upper() + _heading(one)[1:],
        "reason": one.outcome.closing.reason,
        "pictures": [],
        "unseen": "",
        "view": "",
        "balance": [],
        "faces": [],
    }
    if not one.found:
        return about
    [design] = one.found
    if isinstance(one.question, Layout):
        from facewright.search.report.layouts_page import drawn

        return {**about, **drawn(one.question, design)}
    from facewright.search.report.readouts_pictures import pictures

    drawings, unseen = pictures(design)
    faces = [(site, f"{name} {told(label)}") for name, pairs in design.sites for site, label in pairs]
    return {**about, "pictures": drawings, "unseen": unseen, "faces": faces}
