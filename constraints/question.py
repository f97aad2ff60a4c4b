"""Questions: the frozen values that briefs become; they import no engine."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from facewright.constraints.die_form import die_identity
from facewright.constraints.distribution import Distribution
from facewright.constraints.further import Further, further_to_form
from facewright.constraints.labels import Die
from facewright.constraints.readings import REROLL, How, Reading, reading_of

LISTED = 10_000
"""How many designs an exact numbering lists when the brief sets no limit; the rest is counted."""


@dataclass(frozen=True)
class StopRule:
    """When to stop early: after so many seconds, after so many designs; None sets no limit."""

    seconds: float | None = None
    designs: int | None = None


@dataclass(frozen=True)
class DroppedSet:
    """A set of a choice that was dropped before any search, with the reason."""

    faces: tuple[int, ...]
    reason: str


@dataclass(frozen=True)
class Numbering:
    """Which labels make these dice give this distribution?

    `sets` holds every set of dice to try: one for a plain list of dice, many for a choice. `nearest` is the
    measure by which `accept` = "nearest" judges: total-variation, largest or moments-first. `how` is what the
    reading must be told, such as ("modulo", 4). `anchored` asks that some die's least label is its lowest, where
    labels could else be shifted for ever. `also` holds further rules. `like` is the brief's own wording of the
    target. `layout` lists the goals by which the best design is then laid out. Title, note, wording, limits,
    weights and layout do not tell questions apart.
    """

    read: str
    target: Distribution
    sets: tuple[tuple[Die, ...], ...]
    accept: str = "exact"
    nearest: str = "total-variation"
    how: How = ()
    anchored: bool = False
    also: tuple[Further, ...] = ()
    title: str = field(default="", compare=False)
    note: str = field(default="", compare=False)
    like: str = field(default="", compare=False)
    dropped: tuple[DroppedSet, ...] = field(default=(), compare=False)
    choice: str = field(default="", compare=False)
    stop: StopRule = field(default=StopRule(), compare=False)
    rank: tuple[tuple[str, int], ...] = field(default=(("readability", 2), ("cost", 1)), compare=False)
    layout: tuple[str, ...] = field(default=(), compare=False)

    kind = "numbering"
    listed = LISTED

    @property
    def dice(self) -> tuple[Die, ...]:
        """The dice, where there is only one set; raises ValueError otherwise."""
        if len(self.sets) != 1:
            raise ValueError(f"dice: one set of dice is needed, found {len(self.sets)}")
        return self.sets[0]

    @property
    def reading(self) -> Reading:
        """How the dice are read; raises KeyError for a reading that is not known."""
        return reading_of(self.read, self.how)

    @property
    def again(self) -> tuple[int, ...]:
        """The labels that are rolled again."""
        return tuple(dict(self.how).get(REROLL, ()))

    @property
    def plain(self) -> bool:
        """Whether exact answers are wanted, no label is rolled again and no further rule holds."""
        return self.accept == "exact" and not self.again and not self.also

    def chances(self, dice: Sequence[Die]) -> list[int]:
        """In how many equally likely ways each die comes up: its faces, squared where labels are rolled again."""
        return [die.faces ** (2 if self.again else 1) for die in dice]

    def alone(self, dice: tuple[Die, ...]) -> Numbering:
        """The same question about one of its sets."""
        return replace(self, sets=(dice,), dropped=(), choice="")

    def fingerprint(self) -> str:
        """A hash of all that tells questions apart, the same on every machine."""
        sets = [[die_identity(die) for die in dice] for dice in self.sets]
        accepted = self.accept if self.accept == "exact" else f"{self.accept} {self.nearest}"
        form: list[object] = [self.kind, self.read, accepted, self.target.reduced().pairs, sets]
        if self.how or self.anchored:
            form += [self.how, self.anchored]
        if self.also:
            form.append([further_to_form(rule) | {"like": ""} for rule in self.also])
        text = json.dumps(form, separators=(",", ":"), sort_keys=True)
        return hashlib.sha256(text.encode()).hexdigest()
