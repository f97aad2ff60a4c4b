"""What a maker needs of a layout: how large the die must be, and what draw, parting line, gate and edges mean."""

from __future__ import annotations

from typing import TYPE_CHECKING

from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign

if TYPE_CHECKING:
    from facewright.search.artwork.marks import Artwork


def size_words(question: Layout, artwork: Artwork) -> str:
    """How large a die with this artwork must be, and whether the size of the brief is enough; nothing without marks."""
    from facewright.constraints.solids.sizes import both_units
    from facewright.search.artwork.sizes import smallest

    if not artwork.marks:
        return ""
    least = smallest(artwork)
    words = least.words(question.size_is)
    if question.size_mm is None:
        return words
    wanted = f"The {both_units(question.size_mm)} of the brief"
    lacking = least.too_small(question.size_mm, question.size_is)
    if not lacking:
        return f"{words} {wanted} are enough."
    return f"{words} {wanted} are too small: " + "; ".join(limit.words for limit in lacking) + "."


def mould_words(question: Layout, design: LayoutDesign, artwork: Artwork) -> tuple[str, ...]:
    """What the mould's draw means, by the brief or the best, where the gate harms least, and what radii suit.

    Lengths are those of the brief's size, or of the smallest size that can be made and read. Where labels stand at
    corners or edges, each face has several, and only edges and corners are spoken of.
    """
    from facewright.constraints.draw import draw_plan, gate
    from facewright.constraints.edges import rounding
    from facewright.constraints.solids.sizes import inradius_mm
    from facewright.search.artwork.sizes import smallest
    from facewright.search.make.advice import draw_sentences, edge_sentences

    if not artwork.marks:
        return ()
    body = artwork.solid
    inradius = (
        smallest(artwork).inradius_mm
        if question.size_mm is None
        else inradius_mm(body, question.size_mm, question.size_is)
    )
    edges = edge_sentences(rounding(body, inradius))
    if any(mark.site[0] != "f" for mark in artwork.marks):
        return edges
    marked = sorted({mark.face for mark in artwork.marks})
    best = draw_plan(body, None, marked)
    plan = best if question.draw is None else draw_plan(body, question.draw, marked)
    place = gate(body, plan, dict(enumerate(design.labels)))
    return (*draw_sentences(body, plan, best, place, inradius), *edges)
