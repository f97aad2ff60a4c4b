"""What a maker should hear about a design's flaws, draw, parting line, gate and edges: one plain sentence each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from facewright.constraints.draw import DrawPlan, Gate
from facewright.constraints.edges import EdgeKind, Rounding, worn
from facewright.constraints.grammar import capital, counted, number, series
from facewright.constraints.guards import Shift
from facewright.constraints.layout import Roll
from facewright.constraints.readouts import Label
from facewright.constraints.solids.solid import Solid

MOST_NAMED = 8
"""So many sites are named one by one; of more only their number is told."""

FLAWS = {
    "off-centre": "With the centre of mass 1 % of the inradius off, in the worst direction",
    "out-of-round": "With the worst axis 1 % longer",
    "long-along-draw": "With the whole batch 1 % longer along the draw",
}

HELD = (
    "Chances are taken in proportion to the solid angles of the faces. That is a model: real dice answer more "
    "strongly to a flaw, by how much depends on the throw and the table. So compare layouts by these figures, and test "
    "dice with callipers."
)
"""How far the figures about flaws can be trusted."""


def flaw_sentences(
    shifts: Sequence[tuple[str, Shift]], labels: Sequence[Label], roll: Roll
) -> tuple[str, ...]:
    """What small flaws do to a design's results, goal by goal, and what the figures rest on.

    Params:
        shifts: the guards' goals with their shifts.
        labels: the labels of the faces.
        roll: the roll in which the die is used.
    """
    said = []
    for goal, shift in shifts:
        words = f"{FLAWS[goal]}, {_share(shift.worst)} of all rolls come out differently"
        words += f", and no result's chance moves by more than {_share(shift.parts['single'])}"
        if shift.parts["highest_of_two"] is not None:
            words += f"; of the higher of two such rolls, {_share(shift.parts['highest_of_two'])} do"
        said.append(words + ".")
    if said and not roll.others and len(set(labels)) == len(labels):
        said.append(
            "No label stands twice and the die is rolled alone, so each result moves equally far in every layout; a "
            "layout decides only which results move together: the mean, or the higher of two rolls."
        )
    return (*said, HELD) if said else ()


def draw_sentences(
    solid: Solid, plan: DrawPlan, best: DrawPlan, place: Gate, inradius_mm: float
) -> tuple[str, ...]:
    """What a draw means: its direction, the faces, the parting line, the projected area, the gate.

    Params:
        plan: of the draw that is used.
        best: of the draw that is proposed; the same where none was asked for.
        place: the gate.
        inradius_mm: half the distance across flats, in millimetres.
    """
    lines = [_direction(plan, best), _marks(solid, plan), _body(solid, plan), _line(solid, plan, inradius_mm)]
    lines.append(f"Projected area along the draw: {plan.parting.area * inradius_mm**2:.0f} mm².")
    return (*lines, _gate(solid, place))


def edge_sentences(found: Rounding) -> tuple[str, ...]:
    """Radii, sharp tips, what rounding costs and how the edges wear, kind by kind."""
    lines = [_edge_kind(kind) for kind in found.edges]
    lines += [
        f"{capital(counted(len(kind.vertices), 'corner'))}: radius {kind.radius_mm:.2f} mm, all alike, "
        f"which takes {kind.lost_mm:.2f} mm off the tip."
        for kind in found.vertices
    ]
    if any(kind.sharp for kind in found.vertices):
        lines.append("Caution: sharp tips; round them, and follow local rules on sharp points.")
    if found.too_small:
        lines.append("Caution: at this size some faces leave no room for the least radius; make it larger.")
    sharp, rounded = found.settles
    lines.append(
        f"So rounded it tips once its centre rises by {rounded:.3f} inradii; with sharp edges {sharp:.3f}."
    )
    return (*lines, *_wear(found))


def _direction(plan: DrawPlan, best: DrawPlan) -> str:
    proposed = f"no labelled face lies more than {best.worst:.1f}° from it, and no draw does better"
    if abs(plan.worst - best.worst) < 1e-6:
        return f"The mould opens {_through(plan)}: {proposed}."
    return (
        f"The mould opens {_through(plan)}: the farthest labelled face lies {plan.worst:.1f}° from it. "
        f"The best draw is {_through(best)}: {proposed}."
    )


def _through(plan: DrawPlan) -> str:
    if plan.site:
        return f"through the middle of {plan.site}" if plan.site[0] != "v" else f"through {plan.site}"
    return "along ({})".format(", ".join(f"{number:.3f}" for number in plan.axis))


def _marks(solid: Solid, plan: DrawPlan) -> str:
    names = solid.sites("faces")
    free, stripped, slide = (plan.released(way) for way in ("free", "stripped", "slide"))
    parts = []
    for faces, words in (
        (free, "leave the mould freely"),
        (stripped, "are stripped as the part shrinks, if shallow and rounded"),
        (slide, "need a slide or a soft mould"),
    ):
        if faces:
            named = f" ({', '.join(names[face] for face in faces)})" if len(faces) <= MOST_NAMED else ""
            parts.append(f"on {counted(len(faces), 'face')}{named} they {words}")
    return f"Marks: {'; '.join(parts)} (common practice, no source; ask the moulder)."


def _body(solid: Solid, plan: DrawPlan) -> str:
    if not plan.undrafted:
        least = 90 - max(pull.angle for pull in plan.faces)
        return f"The body itself is convex and has no undercut; every face has draft, {least:.1f}° at least."
    faces = _named(solid, plan.undrafted)
    return (
        f"The body itself is convex and has no undercut, but {faces} along the draw without draft and drag."
    )


def _named(solid: Solid, faces: Sequence[int]) -> str:
    names = solid.sites("faces")
    if len(faces) > MOST_NAMED:
        return f"{number(len(faces))} faces lie"
    return f"{series(names[face] for face in faces)} {'lies' if len(faces) == 1 else 'lie'}"


def _line(solid: Solid, plan: DrawPlan, inradius_mm: float) -> str:
    line = plan.parting
    runs = []
    if line.edges:
        runs.append(f"along {counted(len(line.edges), 'edge')}")
    if line.crossed:
        runs.append(f"across {series(_sites(solid, line.crossed))}")
    low, high = (height * inradius_mm for height in line.heights)
    shape = "flat" if line.flat else f"stepped, over {high - low:.1f} mm along the draw"
    told = f"The parting line runs {series(runs)}, {line.length * inradius_mm:.0f} mm in all, and is {shape}."
    if set(line.crossed) & set(plan.labelled):
        told += " It crosses marked faces; along their edges it would not, but one half would then form them alone."
    return told


def _sites(solid: Solid, faces: Sequence[int]) -> Iterable[str]:
    names = solid.sites("faces")
    return (names[face] for face in faces) if len(faces) <= MOST_NAMED else (counted(len(faces), "face"),)


def _gate(solid: Solid, place: Gate) -> str:
    where = (
        f"the middle of {solid.sites('edges')[place.edge]}" if place.edge is not None else "the parting line"
    )
    marks = [
        f"{solid.sites('faces')[face]} ({'no label' if label is None else label})"
        for face, label in zip(place.faces, place.labels, strict=True)
    ]
    why = {
        "no label": "no label is marred there",
        "repeated label": "labels there are repeated, so that one marred copy tells least",
        "middling label": "labels there are nearest to the mean, so that a mark moves it least",
        "any label": "marks stand all along the line, so one place is as good as another",
    }
    return f"Gate: on {where}, at {series(marks)}; {why[place.reason]}. Trim it flush."


def _edge_kind(kind: EdgeKind) -> str:
    room = ", all that the faces can spare" if kind.limited else ""
    return (
        f"{capital(counted(len(kind.edges), 'edge'))}, {kind.dihedral_deg:.1f}° between the faces: radius "
        f"{kind.radius_mm:.2f} mm, all alike ({kind.setback_mm:.2f} mm from each face{room})."
    )


def _wear(found: Rounding) -> tuple[str, ...]:
    first, last = found.edges[0], found.edges[-1]
    order = "All edges are equally sharp and wear alike."
    if last.dihedral_deg - first.dihedral_deg > 0.05:
        sharpest, bluntest = f"{first.dihedral_deg:.1f}°", f"{last.dihedral_deg:.1f}°"
        order = f"In use the sharpest edges go first, those of {sharpest} before those of {bluntest}."
    wear = first.radius_mm / 2
    grown = worn(first.radius_mm, wear) / first.radius_mm - 1
    return (
        order,
        f"A radius slows wear: play that would round a sharp edge to {wear:.2f} mm enlarges {first.radius_mm:.2f} mm "
        f"by only {100 * grown:.0f} % (a model, from memory: speed of wear in proportion to curvature).",
        "As long as edges of one kind wear alike, equal chances stay equal; wear on one side spoils them.",
    )


def _share(value: float) -> str:
    """A shift as a percentage with two figures that count.

    Example:
        >>> _share(0.003183), _share(0.0), _share(0.0124)
        ('0.32 %', '0 %', '1.2 %')
    """
    return f"{float(f'{100 * value:.2g}'):g} %"
