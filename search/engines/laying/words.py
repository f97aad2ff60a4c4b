"""What a layout reached, in the words of a designer, and how it was proved, for a mathematician."""

from __future__ import annotations

from fractions import Fraction

from facewright.constraints.face_map import FaceMap
from facewright.constraints.grammar import capital, counted, series
from facewright.constraints.guards import GUARDS
from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.constraints.model.units import Scale
from facewright.search.engines.laying.descent import Found, Reached

GUARDED = {
    "off-centre": "a mass off its centre",
    "out-of-round": "a solid out of round",
    "long-along-draw": "a batch long along the draw",
}
"""What each guard guards against."""


def mean_of(question: Layout) -> Fraction:
    """The mean label, where all are whole numbers."""
    numbers = [label for label in question.labels if isinstance(label, int)]
    return Fraction(sum(numbers), len(numbers))


def idle(question: Layout, faces: FaceMap) -> str:
    """Why a goal says nothing about this solid; empty where all do."""
    if "opposite-sums" in question.goals and not faces.opposite:
        return f"On the {faces.solid} no face lies opposite another, so opposite faces have no sums."
    return ""


def reached_words(question: Layout, scale: Scale, one: Reached) -> str:
    """What one value reached, as a clause."""
    part, many = one.value.part, one.reached
    off = scale.deviation(many) if one.value.sizes else many
    if part == "opposite":
        if not many:
            return f"opposite faces all add up to {2 * mean_of(question)}"
        why = ", since the labels do not pair up about their mean" if one.value.least < many else ""
        return f"opposite faces add up to {2 * mean_of(question)} give or take {off}{why}"
    if part == "vertices":
        ideal = f"its number of faces times the mean label ({mean_of(question)})"
        if not many:
            return f"the labels about every vertex add up to {ideal}"
        return f"the labels about a vertex differ in sum by at most {off} from {ideal}"
    if part == "consecutive":
        if not many:
            return "no two faces that share an edge have consecutive labels"
        return f"{_pairs(many, 'of faces that share an edge', 'has', 'have')} consecutive labels"
    where = "an edge" if part == "across" else "a vertex only"
    if not many:
        return f"no two faces with equal labels share {where}"
    return f"{_pairs(many, 'of faces with equal labels', 'shares', 'share')} {where}"


def _pairs(many: int, of: str, one: str, more: str) -> str:
    return f"{counted(many, 'pair')} {of} {one if many == 1 else more}"


def reason(question: Layout, faces: FaceMap, found: Found) -> str:
    """What the best layout reaches, in one or two sentences."""
    scale = Scale.of(question.labels)
    said = [reached_words(question, scale, one) for one in found.reached]
    sentences = [f"{capital(series(said))}."] if said else []
    still = [one for one in found.reached if not one.proved]
    if still:
        bounds = series(_open_words(scale, one) for one in still)
        sentences.append(f"Whether a better one exists is not settled: {bounds}.")
    elif said and any(one.reached for one in found.reached):
        sentences.append("Nothing better exists.")
    return " ".join(filter(None, [*sentences, idle(question, faces)]))


def _open_words(scale: Scale, one: Reached) -> str:
    if one.value.sizes:
        what = "opposite faces" if one.value.part == "opposite" else "vertices"
        return f"for {what} anything below {scale.deviation(one.least)} is ruled out"
    what = "consecutive neighbours" if one.value.part == "consecutive" else "equal labels that touch"
    return f"of {what} fewer than {one.least} are ruled out" if one.least else f"{what} may be avoidable"


def guard_words(question: Layout, design: LayoutDesign) -> str:
    """What the guards of a question come to on a design."""
    shifts = dict(design.balance.shifts)
    said = [
        f"{GUARDED[goal]} moves the roll by {shifts[goal].worst:.3g}"
        for goal in question.goals
        if goal in GUARDS and goal in shifts
    ]
    unit = next((str(shifts[goal].parts.get("unit", "")) for goal in question.goals if goal in shifts), "")
    return f"{capital(series(said))} (total variation distance, to first order; {unit})." if said else ""


def proof(question: Layout, faces: FaceMap, found: Found) -> tuple[str, ...]:
    """How each value was proved, a sentence a line."""
    scale = Scale.of(question.labels)
    lines = []
    for one in found.reached:
        part = one.value.part
        size = f"{scale.deviation(one.reached) if one.value.sizes else one.reached}"
        if one.how == "search":
            sides = len({*faces.turns, *faces.mirrors})
            lines.append(
                f"{one.goal}: {one.by}, up to the {sides} symmetries of the solid, found none below {size}."
            )
        elif one.how == "open":
            low = scale.deviation(one.least) if one.value.sizes else one.least
            lines.append(
                f"{one.goal}: {size} was found; nothing below {low} exists; what lies between is open."
            )
        elif part == "opposite" and one.reached:
            lines.append(
                f"{one.goal}: of any two pairs a ≤ b ≤ c ≤ d the sums a + d and b + c lie between those of any other "
                f"pairing, so that the least beside the greatest, and so on inwards, comes nearest: {size}."
            )
        elif part == "vertices" and one.reached:
            lines.append(_vertex_proof(question, faces, scale, one))
        elif not one.reached:
            lines.append(f"{one.goal}: 0 is the least there can be.")
    return tuple(lines)


def _vertex_proof(question: Layout, faces: FaceMap, scale: Scale, one: Reached) -> str:
    """Why some vertices cannot come nearer to their ideal: their sums are whole."""
    size = next(d for d in faces.degrees if one.value.from_size(d, 0) == one.least)
    mean = mean_of(question)
    jump = scale.deviation(one.value.jump)
    every = "whole" if jump == 1 else f"{size * question.labels[0]} and multiples of {jump} more or less"
    return (
        f"{one.goal}: sums of {size} labels are {every}, and {size} times the mean {mean} is {size * mean}: none comes "
        f"nearer than {scale.deviation(one.least)}."
    )
