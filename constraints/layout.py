"""The question of a layout: which site of a solid carries which label."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from facewright.constraints.contest import Contest, DiceQuestion
from facewright.constraints.errors import UsageError
from facewright.constraints.question import StopRule
from facewright.constraints.readings import READINGS, How, how_from_form, how_to_form
from facewright.constraints.readouts import Label, Shape

GOALS = (
    "opposite-sums",
    "even-vertices",
    "apart",
    "no-neighbours",
    "off-centre",
    "out-of-round",
    "long-along-draw",
)
"""What can matter in a layout; a brief lists what matters, most first."""

SIZES = ("across-flats", "edge", "height", "tip-to-tip")
"""What the size of a solid can measure."""

GOALS_OF_NUMBERS = ("opposite-sums", "even-vertices", "no-neighbours")
"""The goals that speak of sums or of consecutive numbers: words have none."""

GOALS_WITHOUT_DRAW = tuple(goal for goal in GOALS if goal != "long-along-draw")
"""The goals that need no direction of a mould."""

Draw = str | tuple[float, float, float]
"""The direction in which the mould opens: through a face, an edge or a vertex, or a direction in space."""


@dataclass(frozen=True)
class Roll:
    """The roll in which a die is used: how it is read, and the labels of the dice rolled with it.

    A die on its own has no `others`. `how` is what the reading must be told; `place` is the die's place among the dice,
    from 0, for readings that heed their order. A guard is judged by how far the distribution of this roll moves.
    """

    read: str = "total"
    others: tuple[tuple[int, ...], ...] = ()
    how: How = ()
    place: int = 0

    @classmethod
    def of(cls, question: DiceQuestion, dice: Sequence[tuple[int, ...]], place: int) -> Roll:
        """The roll in which the die at a place of a design is used; its place counts where the reading heeds it."""
        others = tuple(labels for at, labels in enumerate(dice) if at != place)
        if isinstance(question, Contest):
            # whatever it is rolled against, what a flaw moves is the chances of the die's own labels
            return cls()
        ordered = question.read in READINGS and question.reading.ordered
        return cls(question.read, others, question.how, place if ordered else 0)

    def to_form(self) -> dict[str, Any]:
        """The roll as plain values; what is as usual is left out."""
        form: dict[str, Any] = {"read": self.read, "others": [list(one) for one in self.others]}
        if self.how:
            form["how"] = how_to_form(self.how)
        return {**form, "place": self.place} if self.place else form

    @classmethod
    def from_form(cls, form: dict[str, Any]) -> Roll:
        """The roll that `to_form` wrote."""
        others = tuple(tuple(one) for one in form["others"])
        return cls(form["read"], others, how_from_form(form.get("how", {})), form.get("place", 0))


@dataclass(frozen=True)
class Layout:
    """Which of these labels goes on which face of this solid?

    `labels` has one label a rest of the solid, in the order of the brief. `goals` are some of `GOALS`, what matters
    most first. `shape` gives free proportions as the solids' module takes them. `same_under` says which symmetries join
    layouts (rotation or reflection), `rename` whether all labels may change places among equally likely ones.
    Title, note, size and limits do not tell questions apart.
    """

    solid: str
    labels: tuple[Label, ...]
    goals: tuple[str, ...]
    shape: Shape = "largest-numeral"
    draw: Draw | None = None
    roll: Roll = Roll()
    same_under: str = "rotation"
    rename: bool = False
    title: str = field(default="", compare=False)
    note: str = field(default="", compare=False)
    asked: str = field(default="", compare=False)
    size_mm: float | None = field(default=None, compare=False)
    size_is: str = field(default="across-flats", compare=False)
    stop: StopRule = field(default=StopRule(), compare=False)
    rank: tuple[tuple[str, int], ...] = field(default=(("readability", 2), ("cost", 1)), compare=False)

    kind = "layout"
    listed = 1

    @property
    def sets(self) -> tuple[str, ...]:
        """The solid, as the one set that this question tries."""
        return (self.solid,)

    @property
    def choice(self) -> str:
        """Nothing: a layout leaves no choice of solids."""
        return ""

    def fingerprint(self) -> str:
        """A hash of all that tells questions apart, the same on every machine."""
        form = self.to_form()
        told = ("kind", "solid", "labels", "goals", "shape", "draw", "roll", "same_under", "rename")
        text = json.dumps({key: form[key] for key in told}, separators=(",", ":"), sort_keys=True)
        return hashlib.sha256(text.encode()).hexdigest()

    def to_form(self) -> dict[str, Any]:
        """The question as dictionaries, lists, numbers and text, from which `from_form` makes an equal one."""
        return {
            "kind": self.kind,
            "title": self.title,
            "note": self.note,
            "solid": self.solid,
            "labels": list(self.labels),
            "goals": list(self.goals),
            "shape": list(self.shape) if isinstance(self.shape, tuple) else self.shape,
            "draw": list(self.draw) if isinstance(self.draw, tuple) else self.draw,
            "roll": self.roll.to_form(),
            "same_under": self.same_under,
            "rename": self.rename,
            "asked": self.asked,
            "size_mm": self.size_mm,
            "size_is": self.size_is,
            "stop": {"seconds": self.stop.seconds, "designs": self.stop.designs},
            "rank": dict(self.rank),
        }

    @classmethod
    def from_form(cls, form: dict[str, Any]) -> Layout:
        """The question that `to_form` wrote.

        Raises:
            UsageError: the form is not one that `to_form` writes.
        """
        try:
            return cls(
                solid=form["solid"],
                labels=tuple(form["labels"]),
                goals=tuple(form["goals"]),
                shape=tuple(form["shape"]) if isinstance(form["shape"], list) else form["shape"],
                draw=tuple(form["draw"]) if isinstance(form["draw"], list) else form["draw"],
                roll=Roll.from_form(form["roll"]),
                same_under=form["same_under"],
                rename=form["rename"],
                title=form["title"],
                note=form["note"],
                asked=form["asked"],
                size_mm=form["size_mm"],
                size_is=form["size_is"],
                stop=StopRule(**form["stop"]),
                rank=tuple(form["rank"].items()),
            )
        except (KeyError, TypeError, ValueError, AttributeError) as wrong:
            raise UsageError(f"question: found {wrong!r} where a stored question was expected") from wrong
