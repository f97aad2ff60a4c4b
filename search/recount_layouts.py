"""Recounting layouts: labels, opposite faces, vertices and neighbours worked out again from the corners of the solid.

Shares no code with the engine, its model, or the measures of a design; of a solid it takes the coordinates and the
faces. Coordinates are floats: where faces lie is decided with a tolerance, all that is counted is whole or a fraction.
"""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.constraints.readouts import Label
from facewright.search.recount_turns import vertex_turns

LEVEL = 1e-7
"""Inradii: lengths that differ by less are equal. Coordinates are good to about 1e-12."""

Corner = tuple[float, float, float]
Shape = str | float | tuple[float, ...]


@dataclass(frozen=True)
class Finding:
    """What recounting found; where there are no `faults` the design `agrees`.

    `opposite` is the largest difference of the sum of opposite faces from twice the mean label, `deviation` that of a
    vertex's sum from its number of labelled faces times the mean; None where labels are words, or there are none such.
    """

    agrees: bool
    opposite: Fraction | None
    deviation: Fraction | None
    faults: tuple[str, ...]


@dataclass(frozen=True)
class _Ground:
    """A solid's labelled faces: opposite ones, those that meet at each corner, those that share an edge, and turns."""

    names: tuple[str, ...]
    opposite: tuple[tuple[int, int], ...]
    corners: tuple[frozenset[int], ...]
    beside: frozenset[frozenset[int]]
    turns: tuple[tuple[int, ...], ...]


def recount_layout(question: Layout, design: LayoutDesign) -> Finding:
    """Judges a design from the geometry of its solid.

    Where the goals name opposite sums first and the labels pair up, the sums must be constant. What a design says of
    its shifts under a flaw is not judged here. A design that is wrong raises nothing: its faults are in the finding.
    """
    ground = _ground(question.solid, question.shape)
    sites, labels = [site for site, _ in design.faces], [label for _, label in design.faces]
    if design.solid != _name(question) or tuple(sites) != ground.names:
        return _wrong(
            f"has labels on {len(sites)} sites of the {design.solid}, not on the {len(ground.names)} asked for"
        )
    if Counter(map(_kind, labels)) != Counter(map(_kind, question.labels)):
        return _wrong("does not carry the labels of the question, each as often as it stands there")
    faults = [*_neighbour_faults(design, ground, labels)]
    opposite, deviation = None, None
    if all(isinstance(label, int) for label in labels):
        numbers = [int(label) for label in labels]
        mean = Fraction(sum(numbers), len(numbers))
        gaps = [abs(numbers[a] + numbers[b] - 2 * mean) for a, b in ground.opposite]
        opposite = max(gaps, default=None)
        off = [abs(sum(numbers[face] for face in met) - len(met) * mean) for met in ground.corners]
        deviation = max(off, default=Fraction(0))
        faults += _sum_faults(design, ground, numbers, deviation)
        if question.goals[:1] == ("opposite-sums",) and opposite and _pairs_up(numbers):
            faults.append("has opposite faces that do not add up to the same, although the labels allow it")
    elif design.balance.opposite or design.balance.deviation is not None:
        faults.append("tells sums of words")
    faults += _identity_faults(question, design, ground, labels)
    return Finding(not faults, opposite, deviation, tuple(faults))


def _wrong(fault: str) -> Finding:
    return Finding(False, None, None, (fault,))


def _kind(label: Label) -> tuple[str, Label]:
    return type(label).__name__, label


def _pairs_up(numbers: list[int]) -> bool:
    ends = Counter(min(numbers) + max(numbers) - one for one in numbers)
    return ends == Counter(numbers)


def _neighbour_faults(design: LayoutDesign, ground: _Ground, labels: list[Label]) -> Iterator[str]:
    across = sum(len({_kind(labels[face]) for face in pair}) == 1 for pair in ground.beside)
    touching = {
        frozenset((a, b)) for met in ground.corners for a in met for b in met if a != b
    } - ground.beside
    corner = sum(len({_kind(labels[face]) for face in pair}) == 1 for pair in touching)
    if (across, corner) != design.balance.touching:
        yield f"has {across} pairs of equal labels across an edge and {corner} at a vertex only, not as it says"
    row = 0
    for pair in ground.beside:
        a, b = (labels[face] for face in pair)
        row += isinstance(a, int) and isinstance(b, int) and a - b in (1, -1)
    if row != design.balance.consecutive:
        yield f"has {row} pairs of neighbours with consecutive labels, not {design.balance.consecutive}"


def _sum_faults(
    design: LayoutDesign, ground: _Ground, numbers: list[int], deviation: Fraction
) -> Iterator[str]:
    sums = sorted(numbers[a] + numbers[b] for a, b in ground.opposite)
    if sums != sorted(design.balance.opposite):
        yield f"has opposite faces with the sums {sums}, not {sorted(design.balance.opposite)}"
    if deviation != design.balance.deviation:
        yield f"has vertices up to {deviation} off their ideal, not {design.balance.deviation}"
    met: dict[int, list[int]] = {}
    for faces in ground.corners:
        met.setdefault(len(faces), []).append(sum(numbers[face] for face in faces))
    by_degree = tuple((size, min(sums), max(sums)) for size, sums in sorted(met.items()))
    if by_degree != design.balance.by_degree:
        yield f"has sums about vertices of {by_degree}, not {design.balance.by_degree}"


def _identity_faults(
    question: Layout, design: LayoutDesign, ground: _Ground, labels: list[Label]
) -> Iterator[str]:
    """Whether the id is that of the layout, and the layout the first of all that turns of the solid make of it."""
    form = json.dumps(
        [design.solid, [list(pair) for pair in design.faces]], separators=(",", ":"), ensure_ascii=False
    )
    if not hashlib.sha256(form.encode()).hexdigest().startswith(design.id):
        yield f"has an id, {design.id}, that is not its own"
    if question.rename or question.same_under != "rotation" or "long-along-draw" in question.goals:
        return
    own = [(isinstance(label, str), label) for label in labels]
    for turn in ground.turns:
        if [own[turn[face]] for face in range(len(own))] < own:
            yield "is not the first, in the order of labels, of the layouts that turns of the solid make of it"
            return


def _name(question: Layout) -> str:
    from facewright.constraints.solids import solid

    return solid(question.solid, question.shape).name


@lru_cache(maxsize=64)
def _ground(name: str, shape: Shape) -> _Ground:
    from facewright.constraints.solids import solid

    body = solid(name, shape)
    corners: tuple[Corner, ...] = tuple((float(x), float(y), float(z)) for x, y, z in body.vertices)
    every = tuple(tuple(int(corner) for corner in face) for face in body.faces)
    up = [_outward(corners, face) for face in every]
    carrying = [at for at, face in enumerate(every) if _rests(corners, face, up[at])]
    number = {face: at for at, face in enumerate(carrying)}
    opposite = [
        (number[a], number[b])
        for a in carrying
        for b in carrying
        if a < b and all(abs(x + y) < LEVEL for x, y in zip(up[a], up[b], strict=True))
    ]
    met = [
        frozenset(number[face] for face in carrying if corner in every[face])
        for corner in range(len(corners))
    ]
    beside = frozenset(
        frozenset((number[a], number[b]))
        for a in carrying
        for b in carrying
        if a < b and len(set(every[a]) & set(every[b])) == 2
    )
    sets = {frozenset(face): at for at, face in enumerate(every)}
    turns = {
        tuple(number[sets[frozenset(turn[corner] for corner in every[face])]] for face in carrying)
        for turn in vertex_turns(corners, every)
    }
    return _Ground(
        tuple(f"f{face + 1}" for face in carrying),
        tuple(opposite),
        tuple(faces for faces in met if len(faces) > 1),
        beside,
        tuple(sorted(turns)),
    )


def _outward(corners: tuple[Corner, ...], face: tuple[int, ...]) -> Corner:
    """The unit vector square to a face that points away from the origin, which lies inside."""
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = (corners[corner] for corner in face[:3])
    ux, uy, uz = bx - ax, by - ay, bz - az
    vx, vy, vz = cx - ax, cy - ay, cz - az
    x, y, z = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
    length = (x * x + y * y + z * z) ** 0.5
    if x * ax + y * ay + z * az < 0:
        length = -length
    return x / length, y / length, z / length


def _rests(corners: tuple[Corner, ...], face: tuple[int, ...], up: Corner) -> bool:
    """Whether the foot of the centre of mass, the origin, lies inside a face: on the same side of all its edges."""
    away = sum(a * b for a, b in zip(up, corners[face[0]], strict=True))
    sides = []
    for one, other in zip(face, (*face[1:], face[0]), strict=True):
        ax, ay, az = (a - away * b for a, b in zip(corners[one], up, strict=True))
        bx, by, bz = (a - away * b for a, b in zip(corners[other], up, strict=True))
        sides.append(up[0] * (ay * bz - az * by) + up[1] * (az * bx - ax * bz) + up[2] * (ax * by - ay * bx))
    return all(side > LEVEL for side in sides) or all(side < -LEVEL for side in sides)
