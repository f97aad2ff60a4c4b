"""Notes for whoever makes, sells and keeps a die: what it is, how it is made, and the usual cautions."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.constraints.grammar import number
from facewright.constraints.solids.sizes import both_units

if TYPE_CHECKING:
    from facewright.search.make.body import Body
    from facewright.search.make.die_mesh import DieMesh
    from facewright.search.make.gauge import Fits
    from facewright.search.make.sizing import Sized

WIDE = 96
"""Characters of a line."""

DIAMETER_MM, SHALLOW_MM, DEEP_MM = 31.75, 25.4, 57.15
"""The cylinder that small parts are tested with: diameter and depths, 1.25, 1 and 2.25 inches (16 CFR 1501.4, where
inches govern; its figure from memory)."""

SPARE_MM = 0.5
"""A die that would fit if it were so much smaller counts as one that fits: dice come out a little off their size."""

RESIN = ("cast", "print")
"""Routes in which somebody handles resin that is not cured yet."""


def fits_cylinder(body: Body, tip_to_tip_mm: float) -> Fits:
    """Whether a die fits into the cylinder for small parts, or would if it came out a little smaller."""
    from facewright.search.make.gauge import Cylinder, gauged

    smaller = 1 - SPARE_MM / tip_to_tip_mm
    cylinder = Cylinder(DIAMETER_MM, SHALLOW_MM, DEEP_MM)
    return gauged(body.core * smaller, body.radius_mm * smaller, cylinder).fits


def small_part(one: Sized, mesh: DieMesh) -> str:
    """Whether this very shape fits into the cylinder for small parts, in a sentence."""
    fits = fits_cylinder(mesh.body, one.size_mm("tip-to-tip"))
    cylinder = (
        f"the cylinder for small parts ({DIAMETER_MM:g} mm wide, {SHALLOW_MM:g} to {DEEP_MM:g} mm deep)"
    )
    if fits == "fits":
        return (
            f"Small part: this die, {one.across}, fits entirely into {cylinder}, or would if it came out "
            f"{SPARE_MM:g} mm smaller. Not for children under three; say so on the pack, and warn of small parts for "
            "ages three to five where local rules ask for it."
        )
    if fits == "does not fit":
        return (
            f"This die, {one.across}, does not fit entirely into {cylinder} in any orientation, nor would it if it "
            f"came out {SPARE_MM:g} mm smaller. Pieces of it, a set's smaller dice and its bag may; a test house "
            "decides."
        )
    return (
        f"Whether this die, {one.across}, fits into {cylinder} is too close to call here: treat it as a small part, "
        "not for children under three."
    )


def cautions(one: Sized, mesh: DieMesh) -> list[str]:
    """The cautions that this die calls for."""
    said = [small_part(one, mesh)]
    said.append(
        "Sharp tips hurt and chip: keep the radii named above on every edge and corner, alike on all of one kind, so "
        "that the die stays fair by symmetry."
    )
    if one.wishes.route in RESIN:
        said.append(
            "Resin that is not fully cured irritates skin and lungs: gloves, eye protection and fresh air; cure it "
            "fully; keep it from mouths. The resin's data sheet comes first."
        )
    if one.wishes.route == "laser":
        said.append(
            "A laser makes fumes from plastics, some of them poisonous (never PVC): extraction, and the maker's rules."
        )
    said.append(
        "Tumbling: guard the barrel, wet the media, wear a mask for dust; moulding machines are for trained hands."
    )
    said.append(
        "The chances are those of an ideal body. Measure and roll the prototype before anything is said of it; never "
        "call a die fair beyond the rolls made. Not for licensed gaming."
    )
    said.append("Local rules, a test house and those licensed to give advice come first.")
    return said


def mould_head(one: Sized) -> str:
    """The heading of what a mould means, which laser and printer need not."""
    return f"{'Mould' if one.wishes.route in ('mould', 'cast') else 'If it were moulded'}: draw, parting line, gate"


def notes_text(one: Sized, mesh: DieMesh, told: Sequence[str]) -> str:
    """The notes of one die, as plain text.

    Params:
        one: the die in its size.
        mesh: its mesh.
        told: what was left out or should be looked at.
    """
    from facewright.search.make.mould import mould_of, mould_sentences

    die, material = one.die, one.material
    weight = mesh.volume_mm3 / 1000 * material.density
    drawn, edges = mould_sentences(one, mould_of(one))
    dice = "one die" if len(die.positions) == 1 else f"{number(len(die.positions))} dice alike"
    what = [
        f"Design {die.design}, {dice}, on the {die.artwork.solid.name}.",
        f"Size: {one.across}. {one.least.words(one.size_is)}",
        f"Volume {mesh.volume_mm3 / 1000:.2f} cm³; about {weight:.1f} g in {material.material} "
        f"({material.density:g} g/cm³, from memory: weigh a part).",
        f"Numerals {'raised' if mesh.raised else 'recessed'} by {both_units(mesh.depth_mm)}; all edges and corners of "
        f"the mesh rounded by {both_units(mesh.body.radius_mm)}.",
    ]
    if die.told:
        what.append(die.told)
    labels = ["; ".join(f"{each.site}: {each.label} ({each.way})" for each in die.standing) + "."]
    parts = [
        (die.title, what),
        ("What stands where", labels),
        (mould_head(one), drawn),
        ("Edges, corners and wear", edges),
        ("To look at", list(told) or ["Nothing."]),
        ("Cautions", cautions(one, mesh)),
    ]
    return "\n\n".join(f"{head}\n{'-' * len(head)}\n{_paragraphs(lines)}" for head, lines in parts) + "\n"


def _paragraphs(lines: Sequence[str]) -> str:
    return "\n".join(textwrap.fill(line, WIDE, subsequent_indent="  ") for line in lines)
