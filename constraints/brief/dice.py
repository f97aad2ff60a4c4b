"""A plain list of dice: face counts, solids, fixed labels and label rules, every default filled in."""

from __future__ import annotations

from dataclasses import dataclass, replace

from facewright.constraints.brief.faults import Faults, Path
from facewright.constraints.brief.models import MOST_RESTS, DieItem, DiePart, LabelPart
from facewright.constraints.brief.rules import Stated, broken_by, check, stated
from facewright.constraints.brief.shapes import USUAL, shape_of
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.readings import Reading
from facewright.constraints.readouts import Shape as Proportions
from facewright.constraints.solids.names import default_solid, solid_named
from facewright.constraints.texts import TextError

MOST_SLOTS = 1_000_000
"""How many labels all dice of a set together may choose from."""


@dataclass(frozen=True)
class Shape:
    """The face count of a die, its solid, how many faces of the solid carry the same label, free proportions."""

    faces: int
    solid: str
    copies: int = 1
    proportions: Proportions = USUAL


@dataclass(frozen=True)
class Draft:
    """A die before the target's default for its highest label is known."""

    shape: Shape
    stated: Stated
    exactly: tuple[int, ...] | None = None
    name: str | None = None

    @property
    def lowest_label(self) -> int:
        """The least label that may stand on the die."""
        return self.exactly[0] if self.exactly else self.stated.lowest

    def die(self, highest: int, place: int | None) -> Die:
        """The die, with the highest label where none is stated; its place where the order of the dice matters.

        Fixed labels need no rules: theirs are the tightest bounds, so that equal dice are equal.
        """
        if self.exactly:
            rules = LabelRules(self.exactly[0], self.exactly[-1], given=frozenset(self.stated.values))
        else:
            rules = self.stated.rules(highest)
        shape = self.shape
        named = (rules, self.exactly, self.name, shape.proportions, place)
        return Die(shape.faces, shape.solid, shape.copies, *named)


def finished(drafts: tuple[Draft, ...], target: Distribution, reading: Reading) -> tuple[Die, ...]:
    """The dice of one set, with the highest label that the target allows where none is stated."""
    lowest = [draft.lowest_label for draft in drafts]
    faces = [draft.shape.faces for draft in drafts]
    return tuple(
        draft.die(reading.highest_label(at, lowest, faces, target), at if reading.ordered else None)
        for at, draft in enumerate(drafts)
    )


def anchored(drafts: tuple[Draft, ...], reading: Reading) -> bool:
    """Whether some die's least label must be its lowest, since all labels could be shifted together for ever.

    So it is for every difference, and for a signed one where the brief leaves some die without a highest label.
    """
    if reading.name == "difference":
        return True
    endless = any(draft.exactly is None and draft.stated.highest is None for draft in drafts)
    return reading.name == "signed-difference" and endless


def slots(dice: tuple[Die, ...]) -> int:
    """How many labels the dice choose from, all together."""
    return sum(max(0, die.rules.highest - die.rules.lowest + 1) for die in dice)


def too_many_slots(labels: LabelPart | None, faults: Faults) -> None:
    """The fault of a set whose dice choose from too many labels, at the rule that opens the range."""
    parts = stated(labels).paths
    path = parts.get("lowest") or parts.get("highest") or ("dice",)
    found = f"bounds that leave more than {MOST_SLOTS:,} labels to choose from, on all dice together"
    faults.add(path, found, "a higher lowest or a lower highest")


@dataclass(frozen=True)
class ListOfDice:
    """Reads the items of `dice`, under the brief's own label rules."""

    labels: LabelPart | None
    faults: Faults

    def drafts(self, items: list[DieItem | None]) -> tuple[Draft, ...] | None:
        """The dice of a list; None, with the faults, unless all of them are sound."""
        drafts = [self._draft(item, ("dice", at)) for at, item in enumerate(items)]
        sound = tuple(draft for draft in drafts if draft is not None)
        return sound if len(sound) == len(items) else None

    def _draft(self, item: DieItem | None, path: Path) -> Draft | None:
        match item:
            case None:
                return None
            case int():
                return self._free(Shape(item, default_solid(item)), stated(self.labels))
            case str():
                solid = self._solid(item, path)
                return self._free(solid, stated(self.labels)) if solid else None
            case DiePart():
                return self._table(item, path)

    def _table(self, item: DiePart, path: Path) -> Draft | None:
        """A die that is written as a table."""
        own = stated(None, item.labels, (*path, "labels"))
        rules = own if item.exactly else stated(self.labels, item.labels, (*path, "labels"))
        if item.exactly and (broken := broken_by(item.exactly, own)):
            accepted = "labels that keep the rules which stand beside them"
            self.faults.add((*path, "exactly"), broken, accepted)
        shape = self._shape(item, path)
        if shape is None:
            check(rules, self.faults)
            return None
        if item.shape is not None:
            shape = self._proportioned(item.shape, shape, path)
        if item.exactly is None:
            draft = self._free(shape, rules)
            return draft and Draft(shape, rules, None, item.name)
        check(own, self.faults)
        if not self._as_many(item.exactly, item, shape, path):
            return None
        return Draft(shape, rules, tuple(sorted(item.exactly)), item.name)

    def _shape(self, item: DiePart, path: Path) -> Shape | None:
        """Face count, solid and copies of a table; None, with the fault, where they do not fit."""
        solid = self._solid(item.solid, (*path, "solid")) if item.solid is not None else None
        spoilt = any(spoilt[: len(path)] == path for spoilt in self.faults.spoilt)
        faces = item.faces or (solid.faces if solid else len(item.exactly or ()))
        if not faces and not spoilt and item.solid is None:
            self.faults.add(path, "a die without a size", 'faces = 6, solid = "cube" or both')
        lost = any((*path, key) in self.faults.spoilt for key in ("faces", "solid", "exactly"))
        if not faces or lost or (item.solid is not None and solid is None):
            return None
        if solid is None:
            return Shape(faces, default_solid(faces))
        if solid.faces % faces == 0:
            return Shape(faces, solid.solid, solid.faces // faces)
        fitting = [str(n) for n in range(2, solid.faces + 1) if solid.faces % n == 0]
        found = f"{faces} labels on a solid with {solid.faces} faces, {solid.solid}"
        accepted = f"a number of labels that divides its {solid.faces} faces: {', '.join(fitting)}"
        self.faults.add((*path, "faces"), found, accepted)
        return None

    def _proportioned(self, written: str | float | list[float], shape: Shape, path: Path) -> Shape:
        """The shape with the free proportions of the brief; as it was, with the fault, where it cannot have them."""
        if shape.faces * shape.copies > MOST_RESTS:
            found = f"proportions of a solid with {shape.faces * shape.copies} faces"
            self.faults.add(
                (*path, "shape"), found, f"no such key: solids are built up to {MOST_RESTS} faces"
            )
            return shape
        return replace(shape, proportions=shape_of(written, shape.solid, (*path, "shape"), self.faults))

    def _as_many(self, labels: list[int], item: DiePart, shape: Shape, path: Path) -> bool:
        """Whether a die has as many fixed labels as faces; the fault where it has not."""
        if len(labels) == shape.faces:
            return True
        hint = ""
        if item.faces is None and shape.faces % len(labels) == 0:
            times = shape.faces // len(labels)
            hint = f", or faces = {len(labels)} beside it, so that the solid carries each label {times}×"
        found = f"{len(labels)} labels for {shape.faces} faces"
        self.faults.add((*path, "exactly"), found, f"{shape.faces} labels{hint}")
        return False

    def _free(self, shape: Shape, rules: Stated) -> Draft | None:
        """A die with free labels, if its rules leave enough of them."""
        if not check(rules, self.faults):
            return None
        reason = rules.too_few(shape.faces, self.faults)
        if reason is None:
            return Draft(shape, rules)
        needed = -(-shape.faces // (rules.room or 1))
        self.faults.add(
            rules.paths["repeats"], reason, f"repeats of at least {needed}, or more labels allowed"
        )
        return None

    def _solid(self, text: str, path: Path) -> Shape | None:
        try:
            name, faces = solid_named(text)
        except TextError as unreadable:
            self.faults.add(path, unreadable.found, unreadable.accepted)
            return None
        return Shape(faces, name)
