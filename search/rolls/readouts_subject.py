"""A design of readouts as rolls see it: each readout, all of them together, the face that is read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from facewright.constraints.grammar import series
from facewright.constraints.readouts import Label, Readout
from facewright.search.rolls.dice_subject import RolledDie
from facewright.search.rolls.offs import face_off, part_offs
from facewright.search.rolls.views import Cells, View
from facewright.search.tables.columns import plain
from facewright.search.tables.lines import Unreadable

TAKEN = ("result", "count", "face", "cavity", "batch", "die")
"""Columns with a meaning of their own: a readout of that name is written with `readout_` before it."""

TOGETHER = "together"


@dataclass(frozen=True)
class ReadoutsSubject:
    """Several readouts of one solid; `by_face` has, face by face, the label of each readout.

    `joint` has the rests that show each combination of labels; combinations that no rest shows are left out.
    """

    solid: str
    readouts: tuple[Readout, ...]
    joint: tuple[tuple[tuple[Label, ...], int], ...]
    by_face: tuple[tuple[Label, ...], ...]

    @property
    def words(self) -> str:
        """The solid."""
        return f"the {self.solid}"

    @cached_property
    def _columns(self) -> list[str]:
        names = [plain(one.name) for one in self.readouts]
        return [f"readout_{name}" if name in TAKEN else name for name in names]

    def columns(self) -> dict[str, str]:
        """One a readout, and `face`."""
        names = {
            column: f"the label of {one.name}"
            for column, one in zip(self._columns, self.readouts, strict=True)
        }
        return {**names, "face": "the face that is read, f1 and on"}

    def misplaced(self) -> dict[str, str]:
        """`result`: there are several."""
        return {"result": f"a column for each readout ({', '.join(self._columns)})"}

    def views(self, present: Sequence[str]) -> tuple[View, ...]:
        """The faces, all readouts together, then each."""
        found: list[View] = []
        if "face" in present:
            many = len(self.by_face)
            cells = tuple(f"f{number + 1}" for number in range(many))
            found.append(View("face", "face", cells, (1,) * many, lambda: (face_off(many),)))
        if len(self.readouts) > 1 and (set(self._columns) <= set(present) or "face" in present):
            found.append(self._together)
        for column, view in zip(self._columns, self._each, strict=True):
            if column in present or "face" in present:
                found.append(view)
        return tuple(found)

    def read(self, fields: Mapping[str, str]) -> Cells:
        """The label of each readout, as far as the row tells or its face implies."""
        cells: Cells = {}
        labels: list[Label | None] = [None] * len(self.readouts)
        told = fields.get("face")
        if told is not None:
            face = RolledDie(tuple(range(len(self.by_face))), self.solid).face(told, "the face")
            cells["face"] = face
            labels = list(self.by_face[face])
        for place, (column, one) in enumerate(zip(self._columns, self.readouts, strict=True)):
            text = fields.get(column)
            if text is None:
                continue
            said = RolledDie(one.labels, self.solid).label(text, one.name)
            if labels[place] is not None and labels[place] != said:
                raise Unreadable(f"{told} shows {labels[place]} for {one.name}, and the row says {said}")
            labels[place] = said
        for view, label in zip(self._each, labels, strict=True):
            if label is not None:
                cells[view.name] = view.places[str(label)]
        if len(labels) > 1 and None not in labels:
            joined = _joined([one for one in labels if one is not None])
            at = self._together.places.get(joined)
            if at is None:
                raise Unreadable(f"{joined} cannot come up together on this design: one of them is misread")
            cells[TOGETHER] = at
        return cells

    def untested(self, present: Sequence[str]) -> list[str]:
        """Faces where combinations repeat, readouts that were not recorded, and so all together."""
        told = []
        if "face" not in present:
            missing = [
                one.name for c, one in zip(self._columns, self.readouts, strict=True) if c not in present
            ]
            if missing:
                told.append(f"{series(missing, 'and')}: not recorded: not tested")
                if len(self.readouts) > 1:
                    told.append("not all readouts were recorded: whether they are independent is not tested")
            if any(count > 1 for _, count in self.joint):
                told.append("several faces show the same and no face was recorded: faces not tested")
        return told

    @cached_property
    def _together(self) -> View:
        cells = tuple(_joined(labels) for labels, _ in self.joint)
        many = tuple(count for _, count in self.joint)
        return View(TOGETHER, TOGETHER, cells, many, lambda: part_offs(cells, many))

    @cached_property
    def _each(self) -> tuple[View, ...]:
        rests = sum(count for _, count in self.joint)

        def view(one: Readout) -> View:
            cells, share = tuple(map(str, one.labels)), rests // one.ways
            many = [weight * share for weight in one.weights]
            return View(one.name, "readout", cells, one.weights, lambda: part_offs(cells, many))

        return tuple(view(one) for one in self.readouts)


def _joined(labels: Sequence[Label]) -> str:
    """A combination of labels as one cell.

    Example:
        >>> _joined([1, "rain"])
        '1 · rain'
    """
    return " · ".join(map(str, labels))
