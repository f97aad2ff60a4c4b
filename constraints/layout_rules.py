"""What must fit together in a question of layouts: labels, solid, goals and draw."""

from __future__ import annotations

from facewright.constraints.face_map import map_of
from facewright.constraints.layout import GOALS, Layout
from facewright.constraints.layout_measures import numeric

NUMERIC = ("opposite-sums", "even-vertices", "no-neighbours")
"""Goals that speak of numbers."""


def layout_faults(question: Layout) -> tuple[str, ...]:
    """Everything that does not fit together in a question: what was found, and what would be accepted.

    Raises:
        TextError: there is no such solid.
    """
    if "long-along-draw" in question.goals and question.draw is None:
        return ("draw: none is given, and long-along-draw needs one: face, edge, vertex or [x, y, z]",)
    faults = []
    unknown = [goal for goal in question.goals if goal not in GOALS]
    if unknown:
        faults.append(f"layout: found {', '.join(unknown)}; {', '.join(GOALS)} are known")
    twice = sorted({goal for goal in question.goals if question.goals.count(goal) > 1})
    if twice:
        faults.append(f"layout: found {', '.join(twice)} more than once; once is enough")
    many = map_of(question).faces
    if len(question.labels) != many:
        faults.append(
            f"labels: found {len(question.labels)}; the {question.solid} carries {many}, one a rest"
        )
    words = [label for label in question.labels if not isinstance(label, int)]
    speaking = [goal for goal in question.goals if goal in NUMERIC]
    if words and speaking:
        faults.append(f"layout: {', '.join(speaking)} need whole numbers, found the label {words[0]!r}")
    if question.rename and numeric(question.labels) and speaking:
        faults.append(f"rename: labels cannot change places where {speaking[0]} makes their numbers matter")
    return tuple(faults)
