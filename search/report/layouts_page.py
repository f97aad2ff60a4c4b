"""The report of a question of a layout: one page, a function of the stored answer alone."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from facewright.constraints.grammar import capital, counted
from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.search.layouts_answer import FoundLayout, LayoutAnswer
from facewright.search.report.frame import framed
from facewright.search.report.layouts_maker import mould_words, size_words
from facewright.search.report.layouts_words import ask, balance_lines, roll_words, told
from facewright.search.report.marked_pictures import pictures_of
from facewright.search.statement import evidence

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Rest

SHOWN = 20
"""How many layouts are drawn."""

LISTED = 500
"""How many layouts are listed."""

STYLES = ("page.css", "print.css", "readouts.css", "layouts.css")
SIZE_WORDS = {
    "across-flats": "across flats",
    "edge": "along the longest edge",
    "height": "high as it lies",
    "tip-to-tip": "from tip to tip",
}


WHERE = {
    "face above": "on top",
    "vertex above": "at the corner on top",
    "edge above": "on the edge on top",
    "face below": "on the face below",
}
AWAY = {"vertex above": "at the corner opposite", "edge above": "on the edge opposite"}
"""Where a label stands that is not read on its face."""


def layouts_page(
    answer: LayoutAnswer,
    ranked: Sequence[FoundLayout],
    *,
    run: str = "",
    written: str = "",
    provenance: dict[str, Any] | None = None,
) -> str:
    """The whole page: its name and date from the run, all else from the answer."""
    question = answer.question
    several = len(ranked) > 1
    return framed(
        "layouts.html",
        answer,
        sheets=STYLES,
        view=bool(ranked),
        run=run,
        written=written,
        provenance=provenance,
        ask=ask(question),
        together=together(question),
        evidence=_evidence(answer),
        rows=[row(question, one.design, place) for place, one in enumerate(ranked[:LISTED], 1)]
        if several
        else [],
        designs=[drawn(question, one.design) for one in ranked[:SHOWN]],
        list_title=f"The {len(ranked):,} layouts, best first",
        more=_more(len(ranked)),
    )


def together(question: Layout) -> str:
    """The roll, the size and the draw that go with the question, where the brief gives any."""
    parts = [roll_words(question)]
    if question.size_mm is not None:
        parts.append(
            f"{question.size_mm:g} mm ({question.size_mm / 25.4:.2f} in) {SIZE_WORDS[question.size_is]}."
        )
    if isinstance(question.draw, tuple):
        parts.append(f"The mould opens along {', '.join(f'{x:g}' for x in question.draw)}.")
    elif question.draw is not None:
        parts.append(f"The mould opens through {'an' if question.draw == 'edge' else 'a'} {question.draw}.")
    return " ".join(part for part in parts if part)


def row(question: Layout, design: LayoutDesign, place: int) -> dict[str, Any]:
    """A layout in the table: its labels in the order of the faces, and what it comes to."""
    balance = design.balance
    least, most = min(balance.opposite, default=0), max(balance.opposite, default=0)
    return {
        "place": place,
        "short": design.id[:8],
        "labels": " ".join(told(label) for label in design.labels),
        "opposite": "–" if not balance.opposite else str(least) if least == most else f"{least} to {most}",
        "deviation": "–" if balance.deviation is None else str(balance.deviation),
        "touching": f"{balance.touching[0]} + {balance.touching[1]}",
        "consecutive": balance.consecutive,
        "mirror": "–" if design.mirror is None else design.mirror[:8],
    }


def drawn(question: Layout, design: LayoutDesign, *, turning: bool = True) -> dict[str, Any]:
    """One layout as the template shows it: pictures, the view to turn where wanted, balance, every face."""
    from facewright.constraints.solids import solid
    from facewright.search.artwork.laid import labels_read, sites_read
    from facewright.search.artwork.placing import artwork_of_layout
    from facewright.search.report.view import view_block

    body, carried = solid(question.solid, question.shape), dict(design.faces)
    sites, labels = sites_read(body), labels_read(body, carried)
    number = {rest.below: at for at, rest in enumerate(body.rests)}

    def read(rest: Rest) -> tuple[str, list[str]]:
        at = number[rest.below]
        return f"{told(labels[at])}, {WHERE[body.read]}", [sites[at]]

    artwork = artwork_of_layout(body, carried)
    pictures, unseen = pictures_of(artwork, read)
    elsewhere = body.read in AWAY
    from facewright.search.make.advice import HELD

    return {
        "solid": design.solid,
        "short": design.id[:8],
        "pictures": pictures,
        "unseen": unseen,
        "size": size_words(question, artwork),
        "mould": mould_words(question, design, artwork),
        "held": HELD if design.balance.shifts else "",
        "view": view_block(artwork, name=f"the {design.solid}", still="") if turning else "",
        "balance": [(capital(name), words) for name, words in balance_lines(design)],
        "faces": [(site, told(label)) for site, label in design.faces],
        "place": f"A label stands where it is read: {AWAY[body.read]} its face." if elsewhere else "",
    }


def _evidence(answer: LayoutAnswer) -> str:
    backed = evidence(answer)
    parts = ["Proved" if backed["proved"] else "Not proved"]
    if backed["bound"] is not None:
        parts.append(f"bound reached: {backed['bound']}")
    many = backed["recounted"]
    if many:
        some = "the one layout" if many == 1 else f"each of the {many:,} layouts"
        parts.append(f"{some} recounted from the geometry")
    parts.append(f"{backed['seconds']:.3g}\u00a0s")
    return "; ".join(parts) + "."


def _more(many: int) -> str:
    if many <= SHOWN:
        return ""
    unlisted = f", {counted(many - LISTED, 'layout')} not listed here" if many > LISTED else ""
    return f"The first {SHOWN} are drawn{unlisted}; all are in the run."
