"""The question of a smooth body: the best of constant width with a symmetry, no sharper than asked."""

from __future__ import annotations

import hashlib
import json
import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from facewright.constraints.errors import UsageError
from facewright.constraints.layout import Layout
from facewright.constraints.question import StopRule
from facewright.constraints.readouts import Readouts

GOALS = ("settling", "flat", "volume")
"""What can be best: how far lower a body lies at rest than between rests; how flat the side is on which it rests; how
small the body is."""

MOST_DEGREE = 75
"""The highest degree of harmonics that a question may allow."""

_SHARE = re.compile(r"\d{1,20}(/\d{1,20})?", re.ASCII)

DEFAULT_DEGREE = 25
DEFAULT_RADIUS = Fraction(1, 20)


@dataclass(frozen=True)
class Smooth:
    """Which body of constant width with this symmetry is best?

    `least_radius` is the least radius of curvature as a share of the width; `degree` the highest degree of harmonics
    in its support function. `marks` asks besides what stands at its rests: a question of the solid with the same rests
    (see `companion`). Title, note, width in millimetres and limits do not tell questions apart.
    """

    symmetry: str
    least_radius: Fraction = DEFAULT_RADIUS
    degree: int = DEFAULT_DEGREE
    goal: str = GOALS[0]
    marks: Layout | Readouts | None = None
    title: str = field(default="", compare=False)
    note: str = field(default="", compare=False)
    width_mm: float | None = field(default=None, compare=False)
    stop: StopRule = field(default=StopRule(), compare=False)
    rank: tuple[tuple[str, int], ...] = field(default=(("readability", 2), ("cost", 1)), compare=False)

    kind = "smooth"
    listed = 1

    @property
    def sets(self) -> tuple[str, ...]:
        """The symmetry, as the one set that this question tries."""
        return (self.symmetry,)

    @property
    def choice(self) -> str:
        """Nothing: there is no choice of sets."""
        return ""

    @property
    def layout(self) -> tuple[str, ...]:
        """What matters in its layout; nothing where the brief says nothing of labels."""
        if self.marks is None:
            return ()
        return self.marks.goals if isinstance(self.marks, Layout) else ("apart",)

    @property
    def room(self) -> Fraction:
        """1 − 2r: a body with no radius below r is one with none below 0, shrunk by this, plus a ball of radius r."""
        return 1 - 2 * self.least_radius

    @property
    def bound(self) -> float:
        """What no settling exceeds with this symmetry and least radius, of whatever degree."""
        from facewright.constraints.solids.smooth.symmetries import SYMMETRIES

        return SYMMETRIES[self.symmetry].bound * float(self.room)

    def fingerprint(self) -> str:
        """A hash of all that tells questions apart, the same on every machine."""
        told = [self.kind, self.symmetry, str(self.least_radius), self.degree, self.goal]
        if self.marks is not None:
            told.append(self.marks.fingerprint())
        return hashlib.sha256(json.dumps(told, separators=(",", ":")).encode()).hexdigest()

    def to_form(self) -> dict[str, Any]:
        """The question as dictionaries, lists, numbers and text, from which `from_form` makes an equal one."""
        return {
            "kind": self.kind,
            "title": self.title,
            "note": self.note,
            "symmetry": self.symmetry,
            "least_radius": str(self.least_radius),
            "degree": self.degree,
            "goal": self.goal,
            "marks": None if self.marks is None else self.marks.to_form(),
            "width_mm": self.width_mm,
            "stop": {"seconds": self.stop.seconds, "designs": self.stop.designs},
            "rank": dict(self.rank),
        }

    @classmethod
    def from_form(cls, form: dict[str, Any]) -> Smooth:
        """The question that `to_form` wrote.

        Raises:
            UsageError: the form is not one that `to_form` writes.
        """
        from facewright.constraints.solids.smooth.symmetries import SYMMETRIES

        try:
            question = cls(
                symmetry=form["symmetry"],
                least_radius=_share(form["least_radius"]),
                degree=form["degree"],
                goal=form["goal"],
                marks=_marks(form.get("marks")),
                title=form["title"],
                note=form["note"],
                width_mm=form["width_mm"],
                stop=StopRule(**form["stop"]),
                rank=tuple(form["rank"].items()),
            )
            known = question.symmetry in SYMMETRIES and question.goal in GOALS
            if not known or not 0 <= question.least_radius < Fraction(1, 2):
                raise ValueError(f"{question.symmetry}, {question.goal}, {question.least_radius}")
            if not SYMMETRIES[question.symmetry].least_degree <= question.degree <= MOST_DEGREE:
                raise ValueError(f"degree {question.degree}")
        except (KeyError, TypeError, ValueError, AttributeError, ZeroDivisionError) as wrong:
            raise UsageError(f"question: found {wrong!r} where a stored question was expected") from wrong
        return question


def _marks(form: dict[str, Any] | None) -> Layout | Readouts | None:
    """What `to_form` wrote of the marks; runs of earlier versions have none."""
    if form is None:
        return None
    return Readouts.from_form(form) if form["kind"] == Readouts.kind else Layout.from_form(form)


def _share(text: str) -> Fraction:
    """A least radius as `to_form` wrote it; raises ValueError for another text."""
    if not isinstance(text, str) or not _SHARE.fullmatch(text):
        raise ValueError(f"least_radius {text!r:.40}")
    return Fraction(text)
