"""A layout as whole numbers on units, small enough to search: what a face carries less the mean, pairs taken together.

A label ℓ among n labels with sum S stands for the whole number x = (n·ℓ − S)/c, where c is the greatest common divisor
of them all; the mean becomes 0. Laid out freely, every face is a unit. Where a symmetry that moves every face and is
its own inverse takes each x to −x, as opposite faces with a constant sum do, two faces are one unit, and only one of
the two numbers is chosen. A vertex is then a row of coefficients whose sum with the units is to lie near 0.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import gcd

from facewright.constraints.face_map import FaceMap, Permutation
from facewright.constraints.layout_measures import numeric
from facewright.constraints.readouts import Label

Term = tuple[int, int]
"""A unit and a coefficient."""

NO_LIMIT = 1 << 40
"""A limit that nothing reaches."""


@dataclass(frozen=True)
class Scale:
    """Labels as whole numbers with mean 0: x = (`times` · label − `less`) / `by`; words get the numbers 0, 1, ….

    Example:
        >>> scale = Scale.of((1, 2, 3, 4))
        >>> [scale.number(label) for label in (1, 2, 3, 4)], scale.step
        ([-3, -1, 1, 3], 2)
    """

    labels: tuple[Label, ...]
    numbers: tuple[int, ...]
    step: int

    @classmethod
    def of(cls, labels: Sequence[Label]) -> Scale:
        """The scale of these labels, repeats and all."""
        distinct = tuple(sorted(set(labels), key=lambda one: (isinstance(one, str), one)))
        if not numeric(labels):
            return cls(distinct, tuple(range(len(distinct))), 0)
        whole = [label for label in labels if isinstance(label, int)]
        many, total = len(whole), sum(whole)
        common = gcd(many, *(many * label - total for label in whole))
        numbers = tuple((many * label - total) // common for label in distinct if isinstance(label, int))
        return cls(distinct, numbers, many // common)

    def number(self, label: Label) -> int:
        """The number that a label stands for."""
        return self.numbers[self.labels.index(label)]

    def label(self, number: int) -> Label:
        """The label that a number stands for."""
        return self.labels[self.numbers.index(number)]

    def scaled(self, deviation: Fraction) -> int:
        """A deviation of sums of labels as one of numbers, rounded down."""
        return int(deviation * self.step // 1)

    def deviation(self, scaled: int) -> Fraction:
        """A deviation of sums of numbers as one of labels."""
        return Fraction(scaled, self.step)


@dataclass(frozen=True)
class Limits:
    """What a layout must keep: deviations of opposite faces and of vertices in the scale's numbers, counts of pairs.

    `across` bounds the pairs of equal labels that share an edge, `corner` those that touch at a vertex only,
    `consecutive` the pairs that share an edge and differ by 1.
    """

    opposite: int = NO_LIMIT
    vertices: int = NO_LIMIT
    across: int = NO_LIMIT
    corner: int = NO_LIMIT
    consecutive: int = NO_LIMIT

    def within(self, found: Limits) -> bool:
        """Whether a layout that comes to `found` keeps these."""
        return (
            found.opposite <= self.opposite
            and found.vertices <= self.vertices
            and found.across <= self.across
            and found.corner <= self.corner
            and found.consecutive <= self.consecutive
        )


@dataclass(frozen=True)
class Units:
    """The units of a solid's faces and the numbers that go on them.

    `faces[f]` is the unit of face f and its sign; a unit with number x gives its faces x or −x. `numbers` are what the
    units carry: all of them, sorted (where `paired`, one of each x and −x, those not below 0). `opposite` and
    `vertices` are rows; `edges` and `corners` are pairs of faces. `symmetries` act on units with signs.
    """

    scale: Scale
    faces: tuple[Term, ...]
    numbers: tuple[int, ...]
    paired: bool
    opposite: tuple[tuple[Term, ...], ...]
    vertices: tuple[tuple[Term, ...], ...]
    edges: tuple[tuple[int, int], ...]
    corners: tuple[tuple[int, int], ...]
    symmetries: tuple[tuple[Term, ...], ...]

    @cached_property
    def many(self) -> int:
        """How many units there are."""
        return len(self.numbers)

    @cached_property
    def choices(self) -> tuple[tuple[int, int], ...]:
        """The distinct numbers with how many units carry each; where `paired`, of either sign together."""
        return tuple(sorted(Counter(self.numbers).items()))

    def on_faces(self, units: Sequence[int]) -> tuple[int, ...]:
        """The number of each face."""
        return tuple(sign * units[unit] for unit, sign in self.faces)

    def labels(self, units: Sequence[int]) -> tuple[Label, ...]:
        """The label of each face."""
        return tuple(self.scale.label(number) for number in self.on_faces(units))

    def found(self, units: Sequence[int]) -> Limits:
        """What the numbers on the units come to."""
        on = self.on_faces(units)
        step = self.scale.step
        return Limits(
            max((abs(_sum(row, units)) for row in self.opposite), default=0),
            max((abs(_sum(row, units)) for row in self.vertices), default=0),
            sum(on[a] == on[b] for a, b in self.edges),
            sum(on[a] == on[b] for a, b in self.corners),
            sum(abs(on[a] - on[b]) == step for a, b in self.edges) if step else 0,
        )


def _sum(row: Iterable[Term], units: Sequence[int]) -> int:
    return sum(times * units[unit] for unit, times in row)


def units_of(faces: FaceMap, labels: Sequence[Label], pairing: Permutation | None = None) -> Units | None:
    """The units of a layout; None where the labels do not pair up about their mean, or the pairing leaves a face.

    Params:
        faces: the labelled faces.
        labels: all labels, in any order.
        pairing: a symmetry, its own inverse, that is to take each number to its negative; None: each face is a unit.
    """
    scale = Scale.of(labels)
    numbers = sorted(scale.number(label) for label in labels)
    sides = (*faces.turns, *faces.mirrors)
    if pairing is None:
        of = tuple((face, 1) for face in range(faces.faces))
        chosen: tuple[int, ...] = tuple(numbers)
    else:
        apart = all(pairing[face] != face == pairing[pairing[face]] for face in range(faces.faces))
        if not scale.step or not apart or numbers != sorted(-one for one in numbers):
            return None
        firsts = [face for face in range(faces.faces) if face < pairing[face]]
        of = tuple(
            (firsts.index(min(face, pairing[face])), 1 if face < pairing[face] else -1)
            for face in range(faces.faces)
        )
        half = Counter(one for one in numbers if one > 0)
        half[0] = numbers.count(0) // 2
        chosen = tuple(sorted(half.elements()))
        # only a symmetry that keeps the pairs acts on units
        sides = tuple(
            one
            for one in sides
            if all(one[pairing[face]] == pairing[one[face]] for face in range(faces.faces))
        )
    rows = _rows if scale.step else _none
    return Units(
        scale,
        of,
        chosen,
        pairing is not None,
        rows(of, faces.opposite),
        rows(of, faces.vertices),
        faces.edges,
        faces.corners,
        tuple(sorted({on_units(of, one, len(chosen)) for one in sides})),
    )


def _none(_of: Sequence[Term], _groups: Sequence[Sequence[int]]) -> tuple[tuple[Term, ...], ...]:
    return ()


def _rows(of: Sequence[Term], groups: Sequence[Sequence[int]]) -> tuple[tuple[Term, ...], ...]:
    """Groups of faces as rows of coefficients of units, each once up to its sign, empty ones left out."""
    rows = set()
    for group in groups:
        times: Counter[int] = Counter()
        for face in group:
            unit, sign = of[face]
            times[unit] += sign
        row = tuple(sorted((unit, many) for unit, many in times.items() if many))
        if row:
            first = 1 if row[0][1] > 0 else -1
            rows.add(tuple((unit, first * many) for unit, many in row))
    return tuple(sorted(rows))


def on_units(of: Sequence[Term], by: Permutation, many: int) -> tuple[Term, ...]:
    """Unit → the unit to which a symmetry of the faces takes it, and with which sign."""
    there: list[Term] = [(0, 1)] * many
    for face, (unit, sign) in enumerate(of):
        other, turned = of[by[face]]
        there[unit] = (other, sign * turned)
    return tuple(there)


def pairings(faces: FaceMap) -> tuple[Permutation, ...]:
    """Symmetries that can pair faces: their own inverse, with no face left in place; one of all conjugate ones."""
    every = (*faces.turns, *faces.mirrors)
    fitting = [one for one in every if all(one[one[f]] == f != one[f] for f in range(faces.faces))]
    known: set[Permutation] = set()
    kinds = []
    for one in fitting:
        if one in known:
            continue
        kinds.append(one)
        for by in every:
            image = [0] * faces.faces
            for face in range(faces.faces):
                image[by[face]] = by[one[face]]
            known.add(tuple(image))
    return tuple(kinds)


def opposite_pairing(faces: FaceMap) -> Permutation | None:
    """The permutation that takes each face to the opposite one; None where a face has none."""
    if 2 * len(faces.opposite) != faces.faces:
        return None
    there = list(range(faces.faces))
    for one, other in faces.opposite:
        there[one], there[other] = other, one
    return tuple(there)
