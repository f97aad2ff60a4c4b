"""The question of a contest: dice rolled against one another, where no distribution is wanted."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field, replace
from fractions import Fraction
from typing import Any

from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.die_form import die_from_form, die_identity, die_to_form
from facewright.constraints.duels import Arc, ring, symmetries
from facewright.constraints.errors import UsageError
from facewright.constraints.labels import Die
from facewright.constraints.question import LISTED, DroppedSet, Numbering, StopRule

BEATS, ORDERS = "each-beats-next", "every-order"
CONTESTS = (BEATS, ORDERS)
"""The readings that compare dice and want no distribution."""


@dataclass(frozen=True)
class Contest:
    """Which labels make each die beat the next, or make the dice come in fairly?

    `read` is one of `CONTESTS`. Of duels: `ties` is lose (a tie is no win) or none (no label may stand on two dice);
    `chance_at_least` bounds the least chance of all duels (`strictly`: it must be greater), None asks for the best;
    `beats` lists who is to beat whom, nothing stands for a ring. Of orders: `fair` is one of `orders.FAIRNESS`.
    `sets`, and all that tells no questions apart, as for a `Numbering`.
    """

    read: str
    sets: tuple[tuple[Die, ...], ...]
    ties: str = "lose"
    chance_at_least: Fraction | None = None
    strictly: bool = False
    beats: tuple[Arc, ...] = ()
    fair: str = "every-order"
    title: str = field(default="", compare=False)
    note: str = field(default="", compare=False)
    dropped: tuple[DroppedSet, ...] = field(default=(), compare=False)
    choice: str = field(default="", compare=False)
    stop: StopRule = field(default=StopRule(), compare=False)
    rank: tuple[tuple[str, int], ...] = field(default=Numbering.rank, compare=False)
    layout: tuple[str, ...] = field(default=(), compare=False)

    kind = Numbering.kind
    listed = LISTED

    @property
    def dice(self) -> tuple[Die, ...]:
        """The dice, where there is only one set; raises ValueError otherwise."""
        if len(self.sets) != 1:
            raise ValueError(f"dice: one set of dice is needed, found {len(self.sets)}")
        return self.sets[0]

    @property
    def best(self) -> bool:
        """Whether the best is wanted, and not all designs."""
        return self.read == BEATS and self.chance_at_least is None

    def arcs(self, dice: int) -> tuple[Arc, ...]:
        """Who is to beat whom among so many dice."""
        return self.beats or ring(dice)

    def chances(self, dice: Sequence[Die]) -> list[int]:
        """In how many equally likely ways each die comes up: its faces."""
        return [die.faces for die in dice]

    def alone(self, dice: tuple[Die, ...]) -> Contest:
        """The same question about one of its sets."""
        return replace(self, sets=(dice,), dropped=(), choice="")

    def design(self, dice: tuple[Die, ...], labels: Sequence[Sequence[int]]) -> NumberingDesign:
        """The design in canonical form: labels sorted on each die, dice exchanged as far as that makes no new design.

        Of orders interchangeable dice stand sorted by their labels. Of duels the exchanges are those that keep who
        beats whom (of a ring: rotations), and the least list of labels that they reach stands for all.
        """
        if self.read == ORDERS:
            return NumberingDesign.of(dice, labels)
        standing = [tuple(sorted(one)) for one in labels]
        least = min([standing[at] for at in turn] for turn in symmetries(dice, self.arcs(len(dice))))
        return NumberingDesign(
            tuple(DesignDie(d.faces, d.solid, one) for d, one in zip(dice, least, strict=True))
        )

    def fingerprint(self) -> str:
        """A hash of all that tells questions apart, the same on every machine."""
        wanted = [str(self.chance_at_least), self.strictly, self.ties, self.beats, self.fair]
        sets = [[die_identity(die) for die in dice] for dice in self.sets]
        text = json.dumps([self.kind, self.read, wanted, sets], separators=(",", ":"), sort_keys=True)
        return hashlib.sha256(text.encode()).hexdigest()

    def to_form(self) -> dict[str, Any]:
        """The question as dictionaries, lists, numbers and text, from which `from_form` makes an equal one."""
        return {
            "kind": self.kind,
            "title": self.title,
            "note": self.note,
            "read": self.read,
            "ties": self.ties,
            "chance_at_least": None if self.chance_at_least is None else str(self.chance_at_least),
            "strictly": self.strictly,
            "beats": [list(arc) for arc in self.beats],
            "fair": self.fair,
            "choice": self.choice,
            "sets": [[die_to_form(die) for die in dice] for dice in self.sets],
            "dropped": [{"faces": list(one.faces), "reason": one.reason} for one in self.dropped],
            "stop": asdict(self.stop),
            "rank": dict(self.rank),
            "layout": list(self.layout),
        }

    @classmethod
    def from_form(cls, form: dict[str, Any]) -> Contest:
        """The question that `to_form` wrote; raises UsageError for another form."""
        try:
            least = form["chance_at_least"]
            return cls(
                read=form["read"],
                sets=tuple(tuple(die_from_form(die) for die in dice) for dice in form["sets"]),
                ties=form["ties"],
                chance_at_least=None if least is None else Fraction(least),
                strictly=form["strictly"],
                beats=tuple((int(one), int(other)) for one, other in form["beats"]),
                fair=form["fair"],
                title=form["title"],
                note=form["note"],
                choice=form["choice"],
                dropped=tuple(DroppedSet(tuple(one["faces"]), one["reason"]) for one in form["dropped"]),
                stop=StopRule(**form["stop"]),
                rank=tuple(form["rank"].items()),
                layout=tuple(form["layout"]),
            )
        except (KeyError, TypeError, ValueError, AttributeError) as wrong:
            raise UsageError(f"question: found {wrong!r} where a stored question was expected") from wrong


DiceQuestion = Numbering | Contest
"""A question for the labels of dice."""
