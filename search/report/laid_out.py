"""The best design of a numbering or of readouts, laid out: for a page, and for a terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.constraints.readouts import Label
from facewright.search.laying import LaidOut
from facewright.search.report.layouts_text import faces_lines, named_lines
from facewright.search.report.layouts_words import balance_lines, told
from facewright.search.report.terminal import NARROWEST, wrapped

SHEETS = ("readouts.css", "layouts.css")
"""The sheets that `laid.html` needs."""


def shown(layouts: Sequence[LaidOut]) -> list[dict[str, Any]]:
    """Each die as `laid.html` shows it: pictures, what the layout comes to, every place and its label."""
    return [_shown(one) for one in layouts]


def labels_laid(layouts: Sequence[LaidOut], of: str) -> list[list[Label] | None]:
    """For each die of a design the label that each rest reads, None where it is not laid out; nothing for others."""
    from facewright.constraints.solids import solid
    from facewright.search.artwork.laid import labels_read

    own = [one for one in layouts if one.of == of and isinstance(one.question, Layout)]
    dice: list[list[Label] | None] = [None] * max((one.die for one in own), default=0)
    for one in own:
        for design in one.found:
            body = solid(one.question.solid, one.question.shape)
            dice[one.die - 1] = list(labels_read(body, dict(design.faces)))
    return dice


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
        "size": "",
        "mould": (),
        "held": "",
        "view": "",
        "balance": [],
        "faces": [],
        "place": "",
    }
    if not one.found:
        return about
    [design] = one.found
    if isinstance(one.question, Layout):
        from facewright.search.report.layouts_page import drawn

        return {**about, **drawn(one.question, design, turning=False)}
    from facewright.search.report.readouts_pictures import marked, pictures
    from facewright.search.report.view import view_block

    drawings, unseen = pictures(design, one.question.shape)
    names = [readout.name for readout in one.question.readouts]
    view = view_block(marked(design, one.question.shape), names, name=f"the {design.solid}", still="")
    faces = [(site, f"{name} {told(label)}") for name, pairs in design.sites for site, label in pairs]
    return {**about, "pictures": drawings, "unseen": unseen, "view": view, "faces": faces}
