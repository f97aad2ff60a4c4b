"""What a smooth brief means: from its sound part to the question, with the faults of meaning."""

from __future__ import annotations

from fractions import Fraction

from facewright.constraints.brief.faults import Faults
from facewright.constraints.brief.models_smooth import SYMMETRY_FORM, SmoothPart, SmoothTable
from facewright.constraints.brief.numbering import rank_of
from facewright.constraints.question import StopRule
from facewright.constraints.smooth import DEFAULT_DEGREE, DEFAULT_RADIUS, GOALS, MOST_DEGREE, Smooth
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES
from facewright.constraints.texts import quoted


def question_of_smooth(brief: SmoothPart, faults: Faults) -> Smooth | None:
    """The question that a smooth brief asks; None, with every fault, where it asks none.

    Params:
        brief: the sound part.
        faults: takes the faults.
    """
    if brief.title is None:
        faults.missing("title", 'a title, such as title = "A die that rolls like a ball"')
    rank = rank_of(brief.rank, faults)
    table = brief.smooth or SmoothTable.model_validate({})
    symmetry = table.symmetry
    if symmetry is None and ("smooth", "symmetry") not in faults.spoilt and ("smooth",) not in faults.spoilt:
        faults.add(("smooth", "symmetry"), "nothing: the key is missing", SYMMETRY_FORM)
    if symmetry is not None and symmetry not in SYMMETRIES:
        faults.add(("smooth", "symmetry"), quoted(symmetry), SYMMETRY_FORM)
        symmetry = None
    degree = DEFAULT_DEGREE if table.degree is None else table.degree
    if symmetry is not None and degree < SYMMETRIES[symmetry].least_degree:
        least = SYMMETRIES[symmetry].least_degree
        accepted = f"a whole number from {least} to {MOST_DEGREE}: below that only the ball has this symmetry"
        faults.add(("smooth", "degree"), str(degree), accepted)
    if faults or symmetry is None:
        return None
    return Smooth(
        symmetry=symmetry,
        least_radius=DEFAULT_RADIUS if table.least_radius is None else Fraction(str(table.least_radius)),
        # harmonics are odd: an even degree adds none
        degree=degree if degree % 2 else degree - 1,
        goal=table.goal or GOALS[0],
        title=brief.title or "",
        note=brief.note or "",
        width_mm=table.width_mm,
        stop=StopRule(brief.stop.seconds, brief.stop.designs) if brief.stop else StopRule(),
        rank=rank,
    )
