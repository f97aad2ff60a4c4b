"""What a moulder's drawing says in words: sizes with tolerance, mass, numerals, draw, edges, label table, cautions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.constraints.solids.sizes import MM_PER_INCH, both_units

if TYPE_CHECKING:
    from facewright.search.make.die_mesh import DieMesh
    from facewright.search.make.mould import Mould
    from facewright.search.make.sizing import Sized

TOLERANCE_MM = 0.05
"""How far across-flats may be off, and differ from each other (common practice, no source)."""

POSTS = ("mould", "cast")
"""Routes in which a recess is a post, from which the part must come off."""

Content = Sequence[str] | Sequence[tuple[str, ...]]


def sections(one: Sized, mesh: DieMesh, mould: Mould) -> list[tuple[str, Content]]:
    """The sections of the drawing: each a heading with sentences, or with the rows of a table."""
    from facewright.search.make.mould import mould_sentences
    from facewright.search.make.notes import cautions, mould_head

    drawn, edges = mould_sentences(one, mould)
    return [
        ("Size and mass", _sizes(one, mesh)),
        ("Numerals", _numerals(one, mesh)),
        (mould_head(one), drawn),
        ("Edges and corners", (*edges, _models(mesh))),
        *_labels(one),
        ("Cautions", cautions(one, mesh)),
    ]


def _labels(one: Sized) -> list[tuple[str, Content]]:
    """The tables of labels, of faces and of corners and edges: their rows are of different widths."""
    rows = [(each.site, each.label, each.way) for each in one.die.standing]
    tables = (
        ("Labels on faces: where, what, which way up", [row for row in rows if row[0][0] == "f"]),
        (
            "Labels at corners and edges: where, what, on which faces",
            [row for row in rows if row[0][0] != "f"],
        ),
    )
    return [table for table in tables if table[1]]


def _sizes(one: Sized, mesh: DieMesh) -> list[str]:
    body, material = one.die.artwork.solid, one.material
    opposite = all(body.opposite[rest.below] is not None for rest in body.rests)
    size = one.size_mm("across-flats" if opposite else "height")
    within = (
        f"{size:.2f} ± {TOLERANCE_MM:g} mm ({size / MM_PER_INCH:.4f} ± {TOLERANCE_MM / MM_PER_INCH:.4f} in)"
    )
    lines = [
        f"Across flats, after shrinkage, every pair: {within}, and all pairs within {TOLERANCE_MM:g} mm of each other "
        "(common practice, no source)."
        if opposite
        else f"No opposite faces. Height as it lies, sharp, after shrinkage, on every face: {within}, and all within "
        f"{TOLERANCE_MM:g} mm of each other (common practice, no source); inradius {both_units(one.inradius_mm)}."
    ]
    low, high = material.shrinkage
    if high:
        lines.append(
            f"Shrinkage of {material.material}: {low:g} to {high:g} % (common practice, no source; the data sheet of "
            f"the resin comes first): cut the cavity {size * (1 + low / 100):.2f} to {size * (1 + high / 100):.2f} mm."
        )
    lines.append(
        f"Longest edge, sharp: {both_units(one.size_mm('edge'))}; from tip to tip, sharp: "
        f"{both_units(one.size_mm('tip-to-tip'))}."
    )
    cubic = mesh.volume_mm3 / 1000
    lines.append(
        f"Volume {cubic:.3f} cm³ ({cubic / 2.54**3:.4f} cu in); about {cubic * material.density:.1f} g in "
        f"{material.material} ({material.density:g} g/cm³, from memory)."
    )
    return lines


def _numerals(one: Sized, mesh: DieMesh) -> list[str]:
    heights = [mark.height * one.inradius_mm for mark in one.die.artwork.marks]
    way = "Raised, for a mock-up only" if mesh.raised else "Recessed"
    tall = f"{min(heights):.2f} mm"
    if max(heights) - min(heights) > 0.005:
        tall += f" to {max(heights):.2f} mm"
    return [
        f"{way}, {both_units(mesh.depth_mm)}; {len(heights)} to cut; figures {tall} high. Outlines: artwork.svg.",
        *([] if mesh.raised else [_radii(one)]),
        "Which way up each stands is in the table below: its foot towards the face named, or its head towards its "
        "corner or edge. One ink, flooded and wiped after tumbling.",
        mesh.shift.words,
    ]


def _radii(one: Sized) -> str:
    """How round the recesses are: no cutter for strokes so narrow leaves sharper corners, nor need it."""
    from facewright.constraints.moulding import moulding

    told = f"Radii of the recesses: up to {one.least.route.stroke / 2:g} mm in inner corners, half of the least stroke"
    if one.wishes.route in POSTS:
        told += f"; {moulding().recess.floor_mm:g} mm along the floors"
    return f"{told} (common practice, no source). The models have square ones."


def _models(mesh: DieMesh) -> str:
    """What radius the models have."""
    return (
        f"The models (die.stl, die.3mf, die.step) have one radius everywhere, {mesh.body.radius_mm:.2f} mm."
    )
