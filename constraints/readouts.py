"""The question of readouts: several results from one roll of one solid, as near independent as can be."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, field, replace
from math import gcd
from typing import Any

from facewright.constraints.errors import UsageError
from facewright.constraints.question import DroppedSet, StopRule

Label = int | str
"""What is read: a whole number or a word."""

Shape = str | float | tuple[float, ...]
"""Free proportions of a solid: what they serve, or numbers."""

GOALS_OF_MARKS = ("apart",)
"""What can matter in a choice among markings of equal dependence."""


@dataclass(frozen=True)
class Readout:
    """One result read from a roll: its labels with their weights (in lowest terms), and where its marks may stand.

    `on` is faces, vertices or edges; None leaves it open. `asked` is the brief's own wording.
    """

    name: str
    labels: tuple[Label, ...]
    weights: tuple[int, ...]
    on: str | None = None
    asked: str = field(default="", compare=False)

    @classmethod
    def of(
        cls,
        name: str,
        labels: tuple[Label, ...],
        weights: tuple[int, ...],
        on: str | None = None,
        asked: str = "",
    ) -> Readout:
        """The readout with its weights in lowest terms."""
        common = gcd(*weights)
        return cls(name, labels, tuple(weight // common for weight in weights), on, asked)

    @property
    def ways(self) -> int:
        """The sum of the weights: the rests of a solid must be a multiple of it."""
        return sum(self.weights)

    @property
    def even(self) -> bool:
        """Whether all labels are equally likely."""
        return len(set(self.weights)) == 1


@dataclass(frozen=True)
class Readouts:
    """How can these readouts be marked on one of these solids, as near independent as can be?

    `solids` are the names of all solids to try, in order; `asked` is the brief's own wording where it leaves a choice.
    `independent` is exact or best, `measure` together or pairs. At most `share` readouts stand on one site.
    `same_under` says which symmetries join designs (rotation or reflection), `rename` whether equally likely labels
    may be renamed. `layout` lists goals by which marks of the best design then change places, `shape` gives free
    proportions. Title, note, wording, limits, weights of the ranking, layout and shape do not tell questions apart.
    """

    readouts: tuple[Readout, ...]
    solids: tuple[str, ...]
    independent: str = "best"
    measure: str = "together"
    share: int = 1
    same_under: str = "rotation"
    rename: bool = False
    title: str = field(default="", compare=False)
    note: str = field(default="", compare=False)
    asked: str = field(default="", compare=False)
    dropped: tuple[DroppedSet, ...] = field(default=(), compare=False)
    stop: StopRule = field(default=StopRule(), compare=False)
    rank: tuple[tuple[str, int], ...] = field(default=(("readability", 2), ("cost", 1)), compare=False)
    layout: tuple[str, ...] = field(default=(), compare=False)
    shape: Shape = field(default="largest-numeral", compare=False)

    kind = "readouts"
    listed = 1

    @property
    def sets(self) -> tuple[str, ...]:
        """The solids: each is tried on its own, as each set of dice of a numbering is."""
        return self.solids

    @property
    def solid(self) -> str:
        """The solid, where there is only one; raises ValueError otherwise."""
        if len(self.solids) != 1:
            raise ValueError(f"solids: one is needed, found {len(self.solids)}")
        return self.solids[0]

    @property
    def choice(self) -> str:
        """The brief's wording of the solids where it leaves a choice, else nothing."""
        return self.asked if len(self.solids) != 1 else ""

    @property
    def weights(self) -> tuple[tuple[int, ...], ...]:
        """The weights of each readout."""
        return tuple(readout.weights for readout in self.readouts)

    def alone(self, solid: str) -> Readouts:
        """The same question about one of its solids."""
        return replace(self, solids=(solid,), dropped=(), asked="")

    def fingerprint(self) -> str:
        """A hash of all that tells questions apart, the same on every machine."""
        readouts = [[one.name, list(one.labels), list(one.weights), one.on] for one in self.readouts]
        rules = [self.independent, self.measure, self.share, self.same_under, self.rename]
        text = json.dumps([self.kind, readouts, list(self.solids), rules], separators=(",", ":"))
        return hashlib.sha256(text.encode()).hexdigest()

    def to_form(self) -> dict[str, Any]:
        """The question as dictionaries, lists, numbers and text, from which `from_form` makes an equal one."""
        return {
            "kind": self.kind,
            "title": self.title,
            "note": self.note,
            "readouts": [
                {
                    "name": one.name,
                    "labels": list(one.labels),
                    "weights": list(one.weights),
                    "on": one.on,
                    "asked": one.asked,
                }
                for one in self.readouts
            ],
            "solids": list(self.solids),
            "asked": self.asked,
            "independent": self.independent,
            "measure": self.measure,
            "share": self.share,
            "same_under": self.same_under,
            "rename": self.rename,
            "stop": {"seconds": self.stop.seconds, "designs": self.stop.designs},
            "rank": dict(self.rank),
            "layout": list(self.layout),
            "shape": list(self.shape) if isinstance(self.shape, tuple) else self.shape,
        }

    @classmethod
    def from_form(cls, form: dict[str, Any]) -> Readouts:
        """The question that `to_form` wrote.

        Raises:
            UsageError: the form is not one that `to_form` writes.
        """
        try:
            return cls(
                readouts=tuple(
                    Readout(
                        one["name"],
                        tuple(one["labels"]),
                        tuple(one["weights"]),
                        one["on"],
                        one.get("asked", ""),
                    )
                    for one in form["readouts"]
                ),
                solids=tuple(form["solids"]),
                independent=form["independent"],
                measure=form["measure"],
                share=form["share"],
                same_under=form["same_under"],
                rename=form["rename"],
                title=form["title"],
                note=form["note"],
                asked=form["asked"],
                stop=StopRule(**form["stop"]),
                rank=tuple(form["rank"].items()),
                layout=tuple(form.get("layout", ())),
                shape=tuple(shape) if isinstance(shape := form.get("shape", cls.shape), list) else shape,
            )
        except (KeyError, TypeError, ValueError, AttributeError) as wrong:
            raise UsageError(f"question: found {wrong!r} where a stored question was expected") from wrong
