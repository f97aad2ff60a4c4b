"""What a smooth brief means: from its sound part to the question, with the faults of meaning."""

from __future__ import annotations

from fractions import Fraction

from facewright.constraints.brief.faults import Faults
from facewright.constraints.brief.goals import goals_of
from facewright.constraints.brief.layout import labels_of, question_of_layout
from facewright.constraints.brief.models import ReadoutsPart
from facewright.constraints.brief.models_layout import LayoutPart
from facewright.constraints.brief.models_smooth import (
    HARDLY_SETTLE,
    ROUND,
    SYMMETRY_FORM,
    SmoothPart,
    SmoothTable,
)
from facewright.constraints.brief.numbering import rank_of
from facewright.constraints.brief.readouts import question_of_readouts
from facewright.constraints.layout import GOALS as LAYOUT_GOALS
from facewright.constraints.layout import Layout
from facewright.constraints.question import StopRule
from facewright.constraints.readouts import GOALS_OF_MARKS, Readouts
from facewright.constraints.smooth import DEFAULT_DEGREE, DEFAULT_RADIUS, GOALS, MOST_DEGREE, Smooth
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES
from facewright.constraints.texts import quoted

UNSUITED = ("opposite-sums", "long-along-draw")
"""Goals of a layout that no smooth body has: opposite a rest is a tip, and the brief names no draw."""
USUAL_GOALS = ("apart", "off-centre")
"""What matters where a brief gives labels and no goals (our choice)."""


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
        accepted = HARDLY_SETTLE if symmetry in ROUND else SYMMETRY_FORM
        faults.add(("smooth", "symmetry"), quoted(symmetry), accepted)
        symmetry = None
    degree = DEFAULT_DEGREE if table.degree is None else table.degree
    if symmetry is not None and degree < SYMMETRIES[symmetry].least_degree:
        least = SYMMETRIES[symmetry].least_degree
        accepted = f"a whole number from {least} to {MOST_DEGREE}: below that only the ball has this symmetry"
        faults.add(("smooth", "degree"), str(degree), accepted)
    marks = _marks(brief, table, symmetry, faults)
    if faults or symmetry is None:
        return None
    return Smooth(
        symmetry=symmetry,
        least_radius=DEFAULT_RADIUS if table.least_radius is None else Fraction(str(table.least_radius)),
        # harmonics are odd: an even degree adds none
        degree=degree if degree % 2 else degree - 1,
        goal=table.goal or GOALS[0],
        marks=marks,
        title=brief.title or "",
        note=brief.note or "",
        width_mm=table.width_mm,
        stop=StopRule(brief.stop.seconds, brief.stop.designs) if brief.stop else StopRule(),
        rank=rank,
    )


def _marks(
    brief: SmoothPart, table: SmoothTable, symmetry: str | None, faults: Faults
) -> Layout | Readouts | None:
    """What stands at the rests: labels with the goals of their layout, or readouts; None where it asks neither."""
    if symmetry is None or (table.place is None and table.readouts is None and brief.layout is None):
        goals_of(brief.layout, faults)
        return None
    group = SYMMETRIES[symmetry]
    if table.readouts is not None:
        if table.place is not None:
            faults.add(("smooth", "readouts"), "`readouts` beside `place`", "one of them")
        goals = goals_of(brief.layout, faults, GOALS_OF_MARKS)
        part = ReadoutsPart.model_validate(
            {
                "title": brief.title,
                "solid": group.solid,
                "readouts": table.readouts,
                "layout": list(goals) or None,
            }
        )
        own = Faults()
        marked = question_of_readouts(part, own)
        faults.taken_from(own, "smooth", ("readouts",))
        return marked
    own = Faults()
    labels = labels_of(table.place, own) if table.place is not None else tuple(range(1, group.ways + 1))
    faults.taken_from(own, "smooth", ("place",))
    goals = (
        goals_of(brief.layout, faults, [one for one in LAYOUT_GOALS if one not in UNSUITED]) or USUAL_GOALS
    )
    if labels and group.ways % len(labels):
        fitting = [str(n) for n in range(2, group.ways + 1) if group.ways % n == 0]
        accepted = f"a number of labels that divides {group.ways} ({', '.join(fitting)})"
        faults.add(("smooth", "place"), f"{len(labels)} labels for {group.ways} rests", accepted)
        return None
    if not labels:
        return None
    laid = LayoutPart.model_validate(
        {"title": brief.title, "solid": group.solid, "place": list(labels), "layout": list(goals)}
    )
    own = Faults()
    layout = question_of_layout(laid, own, None)
    faults.taken_from(own, "smooth", ("place",))
    return layout
