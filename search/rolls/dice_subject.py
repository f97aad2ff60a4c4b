"""A design of dice as rolls see it: the labels of each die, its faces, the result of the reading."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from facewright.constraints.distribution import Distribution
from facewright.constraints.grammar import series
from facewright.constraints.layout import Roll
from facewright.constraints.readings.reroll import shown
from facewright.constraints.readouts import Label
from facewright.search.report.bars import result_text
from facewright.search.rolls.offs import face_off, part_offs, rerolled_offs, result_offs
from facewright.search.rolls.views import Cells, Off, View
from facewright.search.tables.lines import Unreadable
from facewright.search.tables.numbers import whole

if TYPE_CHECKING:
    from facewright.constraints.readings import Reading

NAMED = 12
"""So many labels are named in a reason."""


@dataclass(frozen=True)
class RolledDie:
    """One die: its labels (one a face, or one a `copies` faces), what it is called, and which face carries which.

    `again` are labels that are rolled again once; what then counts is what the die shows. `faces` is empty where the
    layout is not known.
    """

    labels: tuple[Label, ...]
    solid: str
    copies: int = 1
    again: tuple[int, ...] = ()
    faces: Mapping[int, Label] = field(default_factory=dict)
    roll: Roll | None = None

    @property
    def many(self) -> int:
        """Its faces that can come up."""
        return len(self.labels) * self.copies

    @cached_property
    def ways(self) -> dict[Label, int]:
        """Label → ways: what the die shows in the end."""
        if not self.again:
            counts = Counter(self.labels)
            return {
                label: counts[label] for label in sorted(counts, key=lambda one: (isinstance(one, str), one))
            }
        last = shown([one for one in self.labels if isinstance(one, int)], self.again)
        return {label: ways for label, ways in last.items()}  # noqa: C416 - the keys' type is wider

    @cached_property
    def by_text(self) -> dict[str, Label]:
        """A label as it is written → the label."""
        return {str(label).casefold(): label for label in self.ways}

    @property
    def distinct(self) -> bool:
        """Whether no label stands on two faces."""
        return self.copies == 1 and len(set(self.labels)) == len(self.labels)

    def label(self, text: str, what: str) -> Label:
        """The label that a field means; raises Unreadable."""
        found = self.by_text.get(text.casefold())
        if found is None and all(isinstance(one, int) for one in self.ways):
            found = self.by_text.get(str(whole(text, what)))
        if found is None:
            labels = list(self.by_text.values())
            some = ", ".join(map(str, labels[:NAMED])) + (", …" if len(labels) > NAMED else "")
            raise Unreadable(f"{what} is {text!r}, which the {self.solid} cannot show; its labels: {some}")
        return found

    def face(self, text: str, what: str) -> int:
        """The face, from 0, that a field names ("f3" or "3"); raises Unreadable."""
        told = re.fullmatch(r"[fF]?0*([1-9]\d{0,8})", text)
        if not told or int(told.group(1)) > self.many:
            raise Unreadable(f"{what} is {text!r}; the faces are f1 to f{self.many}")
        return int(told.group(1)) - 1


@dataclass(frozen=True)
class DiceSubject:
    """Dice rolled together, or one alone; `reading` is None where dice are compared and no result is read.

    `alone` says that the result is what the one die shows.
    """

    dice: tuple[RolledDie, ...]
    reading: Reading | None
    result: Distribution | None
    alone: bool

    @property
    def words(self) -> str:
        """The dice in words."""
        kinds = Counter(die.solid for die in self.dice)
        if sum(kinds.values()) == 1:
            return f"the {self.dice[0].solid}"
        told = [f"{many} × {solid}" if many > 1 else f"the {solid}" for solid, many in kinds.items()]
        return series(told, "and")

    def columns(self) -> dict[str, str]:
        """`result`, `die_1` and on, `face` or `face_1` and on."""
        names = {} if self.reading is None and not self.alone else {"result": "the result of the roll"}
        for place, _ in enumerate(self.dice, 1):
            names[f"die_{place}"] = f"the label that die {place} shows"
        if any(die.again for die in self.dice):
            return names
        if len(self.dice) == 1:
            names["face"] = "the face that is read, f1 and on"
        for place, _ in enumerate(self.dice, 1):
            names[f"face_{place}"] = f"the face of die {place} that is read"
        return names

    def misplaced(self) -> dict[str, str]:
        """`face` of several dice, `result` where there is none."""
        found: dict[str, str] = {}
        if any(die.again for die in self.dice):
            one = "die_1 and on, the labels shown in the end: some labels are rolled again, faces then tell nothing"
            found |= {"face": one} | {f"face_{place}": one for place, _ in enumerate(self.dice, 1)}
        elif len(self.dice) > 1:
            found["face"] = f"face_1 to face_{len(self.dice)}: the design has {len(self.dice)} dice"
        if self.reading is None and not self.alone:
            found["result"] = "die_1 and on: these dice are compared, and have no result of their own"
        return found

    def views(self, present: Sequence[str]) -> tuple[View, ...]:
        """Faces, then dice, then the result."""
        found: list[View] = []
        for place in range(len(self.dice)):
            if self._faces_given(place, present):
                found.append(self._face_view(place))
        for place in range(len(self.dice)):
            if self._label_given(place, present):
                found.append(self._die_view(place))
        if self.result is not None and ("result" in present or self._all_given(present)) and not self.alone:
            found.append(self._result_view(self.result))
        return tuple(found)

    def read(self, fields: Mapping[str, str]) -> Cells:
        """Each die's face and label, and the result, as far as the row tells or what it tells implies."""
        cells: Cells = {}
        labels: list[Label | None] = []
        for place, die in enumerate(self.dice):
            labels.append(self._die(place, die, fields, cells))
        told = fields.get("result")
        if self.alone:
            if told is not None:
                self._agrees(0, labels, self.dice[0].label(told, "the result"), cells)
        elif self.reading is not None and self.result is not None:
            result = None if told is None else self._result(told)
            if None not in labels:
                made = self.reading.result([int(one) for one in labels if one is not None])
                if told is not None and made != result:
                    dice = series([str(one) for one in labels], "and")
                    raise Unreadable(
                        f"the dice show {dice}, which make {result_text(made)}, and the result says {told}"
                    )
                result = made
            if result is not None:
                cells["result"] = self._result_places[result_text(result)]
        return cells

    def untested(self, present: Sequence[str]) -> list[str]:
        """Faces of labels that repeat, dice of which only results are known, results without all the dice."""
        told = []
        if any(die.again for die in self.dice):
            told.append("labels are rolled again, so that a row tells the last roll alone: faces not tested")
        blind = [
            p
            for p, die in enumerate(self.dice)
            if not die.again and not self._faces_given(p, present) and not die.distinct
        ]
        known = [
            p for p in range(len(self.dice)) if self._label_given(p, present) or self._faces_given(p, present)
        ]
        which = "" if len(self.dice) == 1 else f"die {', '.join(str(p + 1) for p in blind if p in known)}: "
        if any(p in known for p in blind):
            told.append(f"{which}labels repeat and no face was recorded: faces not tested")
        unseen = [str(p + 1) for p in range(len(self.dice)) if p not in known]
        if unseen:
            several = "dice" if len(unseen) > 1 else "die"
            told.append(
                f"{several} {', '.join(unseen)}: neither label nor face was recorded: not tested, save through results"
            )
        lost = [p for p in known if not self._label_given(p, present)]
        if lost and not all(self.dice[p].distinct for p in lost):
            told.append(
                "the run does not say which face carries which label (a brief with `layout` does): labels not tested"
            )
        if (
            self.result is not None
            and not self.alone
            and "result" not in present
            and not self._all_given(present)
        ):
            told.append("neither results nor the labels of all dice were recorded: results not tested")
        return told

    def _die(self, place: int, die: RolledDie, fields: Mapping[str, str], cells: Cells) -> Label | None:
        number = place + 1
        face_text = fields.get(f"face_{number}", fields.get("face") if len(self.dice) == 1 else None)
        label_text = fields.get(f"die_{number}")
        label = None if label_text is None else die.label(label_text, f"die {number}")
        if face_text is not None:
            what = "the face" if len(self.dice) == 1 else f"the face of die {number}"
            face = die.face(face_text, what)
            cells[self._name("face", place)] = face
            carried = die.faces.get(face)
            if carried is not None:
                if label is not None and label != carried:
                    raise Unreadable(f"f{face + 1} carries {carried}, and die {number} says {label}")
                label = carried
        if label is not None:
            cells[self._name("die", place)] = self._die_places[place][str(label)]
        return label

    def _agrees(self, place: int, labels: Sequence[Label | None], told: Label, cells: Cells) -> None:
        if labels[place] is not None and labels[place] != told:
            raise Unreadable(f"the die shows {labels[place]}, and the result says {told}")
        cells[self._name("die", place)] = self._die_places[place][str(told)]

    def _result(self, text: str) -> Any:
        assert self.result is not None
        found = self._results.get(" ".join(text.replace("/", " ").split()))
        if found is None and isinstance(self.result.least, int):
            found = self._results.get(str(whole(text, "the result")))
        if found is None:
            least, most = result_text(self.result.least), result_text(self.result.greatest)
            raise Unreadable(
                f"the result is {text!r}, which this design cannot give; its results go from {least} to {most}"
            )
        return found

    @cached_property
    def _results(self) -> dict[str, Any]:
        return {} if self.result is None else {result_text(one): one for one in self.result.ways}

    @cached_property
    def _result_places(self) -> dict[str, int]:
        return {text: place for place, text in enumerate(self._results)}

    @cached_property
    def _die_places(self) -> list[dict[str, int]]:
        return [{str(label): place for place, label in enumerate(die.ways)} for die in self.dice]

    def _name(self, kind: str, place: int) -> str:
        if len(self.dice) == 1:
            return "face" if kind == "face" else "result" if self.alone else "die 1"
        return f"{'faces of die' if kind == 'face' else 'die'} {place + 1}"

    def _faces_given(self, place: int, present: Sequence[str]) -> bool:
        return f"face_{place + 1}" in present or (len(self.dice) == 1 and "face" in present)

    def _label_given(self, place: int, present: Sequence[str]) -> bool:
        implied = bool(self.dice[place].faces) and self._faces_given(place, present)
        return f"die_{place + 1}" in present or implied or (self.alone and "result" in present)

    def _all_given(self, present: Sequence[str]) -> bool:
        return all(self._label_given(place, present) for place in range(len(self.dice)))

    def _face_view(self, place: int) -> View:
        die = self.dice[place]
        cells = tuple(f"f{number + 1}" for number in range(die.many))
        return View(self._name("face", place), "face", cells, (1,) * die.many, lambda: (face_off(die.many),))

    def _die_view(self, place: int) -> View:
        die = self.dice[place]
        cells, ways = tuple(str(label) for label in die.ways), tuple(die.ways.values())

        def offs() -> Sequence[Off]:
            if die.again:
                numbers = [one for one in die.labels if isinstance(one, int)]
                last = [one for one in die.ways if isinstance(one, int)]
                return rerolled_offs(numbers, last, die.again, die.copies)
            if die.distinct:
                return (face_off(die.many),)
            return part_offs(cells, [way * die.copies for way in ways])

        return View(self._name("die", place), "die", cells, ways, offs)

    def _result_view(self, result: Distribution) -> View:
        cells = tuple(self._results)

        def offs() -> Sequence[Off]:
            found: list[Off] = []
            for place, die in enumerate(self.dice):
                if die.roll is not None:
                    name = f"die {place + 1}" if len(self.dice) > 1 else ""
                    found += result_offs(die.labels, die.roll, die.copies, cells, name)
            return found

        return View("result", "result", cells, tuple(way for _, way in result.pairs), offs)
