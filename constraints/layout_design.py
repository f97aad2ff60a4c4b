"""Designs of layouts: which face carries which label, with an identity up to the symmetries of the solid."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import factorial, prod
from typing import Any

from facewright.constraints.design import ID_LENGTH
from facewright.constraints.face_map import FaceMap, Permutation, map_of, moved, orbit_size
from facewright.constraints.guards import GUARDS, Shift, flaws
from facewright.constraints.layout import Layout
from facewright.constraints.layout_measures import (
    consecutive,
    numeric,
    opposite_sums,
    sums_by_degree,
    touching,
    vertex_deviation,
)
from facewright.constraints.readouts import Label

ITSELF = "itself"
"""What `mirror` says of a layout that a turn of the solid makes of its own mirror image."""


@dataclass(frozen=True)
class Balance:
    """What a layout comes to.

    `opposite` holds the sum of each pair of opposite faces, in the order of their first faces. `deviation` is the
    largest difference of a vertex's sum from its ideal, its number of labelled faces times the mean label;
    `by_degree` has that number with the least and the greatest sum. All three are empty or None where labels are
    words. `touching` counts pairs of faces with equal labels that share an edge, and those that touch at a vertex
    only; `consecutive` pairs that share an edge and differ by 1. `shifts` are those of the guards, by goal; none where
    they were not worked out.
    """

    opposite: tuple[int, ...]
    deviation: Fraction | None
    by_degree: tuple[tuple[int, int, int], ...]
    touching: tuple[int, int]
    consecutive: int
    shifts: tuple[tuple[str, Shift], ...] = ()

    @classmethod
    def of(cls, question: Layout, faces: FaceMap, labels: tuple[Label, ...], guards: bool = True) -> Balance:
        """The balance of the labels on the faces, in order; `guards`: whether shifts are to be worked out."""
        shifts = _shifts(question, labels) if guards else ()
        numbers = [label for label in labels if isinstance(label, int)]
        if not numeric(labels):
            return cls((), None, (), touching(faces, labels), consecutive(faces, labels), shifts)
        return cls(
            opposite_sums(faces, numbers),
            vertex_deviation(faces, numbers),
            sums_by_degree(faces, numbers),
            touching(faces, labels),
            consecutive(faces, labels),
            shifts,
        )

    def as_json(self) -> dict[str, Any]:
        """The balance as the contract writes it; equal labels that touch and consecutive neighbours beside."""
        degrees = {str(degree): [least, most] for degree, least, most in self.by_degree}
        even = None if self.deviation is None else {"deviation": str(self.deviation), "by_degree": degrees}
        shifts = {goal.replace("-", "_"): shift.as_json() for goal, shift in self.shifts}
        return {
            "opposite": list(self.opposite),
            "vertices": even,
            "equal_touching": {"edge": self.touching[0], "vertex": self.touching[1]},
            "consecutive": self.consecutive,
            **{goal.replace("-", "_"): shifts.get(goal.replace("-", "_")) for goal in GUARDS},
        }

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> Balance:
        """The balance that `as_json` wrote."""
        even = data["vertices"]
        by_degree = {} if even is None else even["by_degree"]
        shifts = [(goal, data.get(goal.replace("-", "_"))) for goal in GUARDS]
        return cls(
            tuple(data["opposite"]),
            None if even is None else Fraction(even["deviation"]),
            tuple((int(degree), least, most) for degree, (least, most) in by_degree.items()),
            (data["equal_touching"]["edge"], data["equal_touching"]["vertex"]),
            data["consecutive"],
            tuple((goal, Shift.from_json(shift)) for goal, shift in shifts if shift is not None),
        )


@dataclass(frozen=True)
class LayoutDesign:
    """The label of every face that carries one, in the order of the faces, and what the layout comes to.

    `faces` are pairs (site, label): f1, f2, …. `mirror` is `ITSELF`, or the id of the mirror image where that is
    another design, or None on a solid that has a left and a right form.
    """

    solid: str
    faces: tuple[tuple[str, Label], ...]
    balance: Balance
    mirror: str | None = None

    @classmethod
    def of(cls, question: Layout, labels: Sequence[Label], guards: bool = True) -> LayoutDesign:
        """The design of these labels, one a face in order, in canonical form.

        `guards` says whether to work out how flaws move the roll, which takes some hundredths of a second.

        Raises:
            ValueError: there are not as many labels as faces.
        """
        faces = map_of(question)
        if len(labels) != faces.faces:
            raise ValueError(f"labels: {faces.faces} are needed on the {faces.solid}, found {len(labels)}")
        form = canonical(question, faces, labels)
        balance = Balance.of(question, faces, form, guards)
        return cls(faces.solid, _sites(faces, form), balance, _mirror(question, faces, form))

    @property
    def labels(self) -> tuple[Label, ...]:
        """The labels, in the order of the faces."""
        return tuple(label for _, label in self.faces)

    @cached_property
    def id(self) -> str:
        """The first digits of the SHA-256 of solid and faces: the same whatever found the design."""
        return _id(self.solid, self.faces)

    def as_json(self) -> dict[str, Any]:
        """The design as the contract writes it: id, solid, faces, balance; mirror beside."""
        return {
            "id": self.id,
            "solid": self.solid,
            "faces": dict(self.faces),
            "balance": self.balance.as_json(),
            "mirror": self.mirror,
        }

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> LayoutDesign:
        """The design that `as_json` wrote; other keys are passed over."""
        balance = Balance.from_json(data["balance"])
        return cls(data["solid"], tuple(data["faces"].items()), balance, data.get("mirror"))


def group_of(question: Layout, faces: FaceMap) -> tuple[Permutation, ...]:
    """The symmetries that join layouts: rotations, and reflections too where the question says so."""
    return faces.turns + (faces.mirrors if question.same_under == "reflection" else ())


def canonical(question: Layout, faces: FaceMap, labels: Sequence[Label]) -> tuple[Label, ...]:
    """The labels that stand for all that count as the same design: the least image under the symmetries.

    Labels are compared by their place among the question's: numbers rising, then words. Where `rename` is on, labels
    that stand equally often are first named anew in the order of the faces.
    """
    order = _order(question.labels)
    place = {label: at for at, label in enumerate(order)}
    standing = tuple(place[label] for label in labels)
    return tuple(order[at] for at in _least(question, standing, group_of(question, faces)))


def labelled(question: Layout, faces: FaceMap, labels: Sequence[Label]) -> int:
    """How many layouts count as the same design as these labels, when every position counts."""
    standing = tuple(labels)
    group = group_of(question, faces)
    if not question.rename:
        return orbit_size(standing, group)
    place = {label: at for at, label in enumerate(_order(question.labels))}
    at = tuple(place[label] for label in labels)
    images = [_renamed(at, moved(at, one)) for one in group]
    often = Counter(Counter(at).values())
    return (
        len(set(group)) * prod(factorial(many) for many in often.values()) // images.count(_renamed(at, at))
    )


def _order(labels: Sequence[Label]) -> list[Label]:
    """The distinct labels: numbers rising, then words in order."""
    return sorted(
        set(labels), key=lambda one: (isinstance(one, str), 0 if isinstance(one, str) else one, str(one))
    )


def _least(question: Layout, at: tuple[int, ...], group: Sequence[Permutation]) -> tuple[int, ...]:
    images = (moved(at, one) for one in group)
    if question.rename:
        return min(_renamed(at, image) for image in images)
    return min(images)


def _renamed(of: Sequence[int], image: Sequence[int]) -> tuple[int, ...]:
    """The same layout, where labels that stand equally often first come up in rising order along the faces."""
    often = Counter(of)
    waiting: dict[int, list[int]] = {}
    for at in sorted(often, reverse=True):
        waiting.setdefault(often[at], []).append(at)
    names: dict[int, int] = {}
    for at in image:
        if at not in names:
            names[at] = waiting[often[at]].pop()
    return tuple(names[at] for at in image)


def _mirror(question: Layout, faces: FaceMap, form: tuple[Label, ...]) -> str | None:
    if not faces.mirrors:
        return None
    image = canonical(question, faces, moved(form, faces.mirrors[0]))
    return ITSELF if image == form else _id(faces.solid, _sites(faces, image))


def _sites(faces: FaceMap, form: Sequence[Label]) -> tuple[tuple[str, Label], ...]:
    return tuple(zip(faces.names, form, strict=True))


def _id(solid: str, faces: tuple[tuple[str, Label], ...]) -> str:
    text = json.dumps([solid, [list(pair) for pair in faces]], separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:ID_LENGTH]


def _shifts(question: Layout, labels: tuple[Label, ...]) -> tuple[tuple[str, Shift], ...]:
    """What the guards say: off-centre and out-of-round always, along the draw where a draw is given."""
    from facewright.constraints.solids import solid

    module = flaws()
    body = solid(question.solid, question.shape)
    asked = [goal for goal in GUARDS if goal != "long-along-draw" or question.draw is not None]
    return tuple((goal, module.shift(goal, body, labels, question.roll, question.draw)) for goal in asked)
