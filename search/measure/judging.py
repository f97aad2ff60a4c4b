"""What readings say: each axis against the mean of its own die, split into batch, cavity, die and callipers.

A reading is the mean of its die, plus what the batch shares along that axis, plus what the cavity adds, plus the rest.
The size of a die harms nobody, so only differences from its own mean count. The shared part of an axis is the mean over
all dice; a cavity's is the mean of its dice less that; what is left is the die's own, with the error of the callipers
in it. Standard errors come from what is left. Bias follows from the shared part in the model of `axes`: first order,
solid angles, and up to `STRONGER` times more strongly for real dice.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from facewright.search.measure.axes import STRONGER, Spanned
from facewright.search.measure.table import Reading
from numpy.typing import NDArray

CALLIPER_SD = 0.02 / sqrt(3)
"""Callipers that are right within ±0.02 mm, any error as likely as any other: their standard deviation, in mm."""

SURE = 2.0
"""So many standard errors from nothing, a deviation is told as real (about 95 %)."""


@dataclass(frozen=True)
class AxisFound:
    """One axis of a kind of die: how many readings, their mean, the shared deviation and its standard error."""

    name: str
    readings: int
    mean_mm: float
    shared_mm: float
    error_mm: float

    @property
    def real(self) -> bool:
        """Whether the deviation is more than its error can explain."""
        return abs(self.shared_mm) > SURE * self.error_mm


@dataclass(frozen=True)
class CavityFound:
    """What a cavity adds to the axes, in mm, in the order of the axes; None where nothing of it was measured."""

    name: str
    dice: int
    off_mm: tuple[float | None, ...]


@dataclass(frozen=True)
class FaceFound:
    """A face that the shared deviations favour or not: how far its chance is off, as a share, by solid angles.

    `low` and `high` bound it: by the standard errors, and by how much more strongly real dice may answer.
    """

    name: str
    off: float
    low: float
    high: float


@dataclass(frozen=True)
class KindFound:
    """All that was found of one kind of die; `left_mm` is the spread that neither batch nor cavity explains."""

    part: tuple[int, ...]
    solid: str
    nominal_mm: float
    dice: int
    mean_mm: float
    axes: tuple[AxisFound, ...]
    missing: tuple[str, ...]
    cavities: tuple[CavityFound, ...]
    left_mm: float
    faces: tuple[FaceFound, ...]

    @property
    def worst(self) -> FaceFound:
        """The face that is off most."""
        return max(self.faces, key=lambda one: (max(abs(one.low), abs(one.high)), abs(one.off)))


def judged(kinds: Sequence[Spanned], readings: Sequence[Reading]) -> tuple[KindFound, ...]:
    """What the readings say of each kind of die of which there are any with two axes at least."""
    found = []
    for at, kind in enumerate(kinds):
        own = [one for one in readings if one.kind == at]
        dice: dict[str, list[Reading]] = defaultdict(list)
        for one in own:
            dice[one.die].append(one)
        whole = {name: rows for name, rows in dice.items() if len({one.axis for one in rows}) > 1}
        if whole:
            found.append(_judged(kind, whole))
    return tuple(found)


def _judged(kind: Spanned, dice: dict[str, list[Reading]]) -> KindFound:
    many = len(kind.axes)
    means = {name: float(np.mean([one.mm for one in rows])) for name, rows in dice.items()}
    off: list[list[float]] = [[] for _ in range(many)]
    shown: list[list[float]] = [[] for _ in range(many)]
    by_cavity: dict[str, list[list[float]]] = defaultdict(lambda: [[] for _ in range(many)])
    for name, rows in dice.items():
        for one in rows:
            off[one.axis].append(one.mm - means[name])
            shown[one.axis].append(one.mm)
            by_cavity[one.cavity][one.axis].append(one.mm - means[name])
    shared = np.array([float(np.mean(values)) if values else 0.0 for values in off])
    named = {name: rows for name, rows in by_cavity.items() if name}
    several = len(by_cavity) > 1
    left = []
    for of_axes in by_cavity.values():
        for at, values in enumerate(of_axes):
            centre = float(np.mean(values)) if several and values else shared[at]
            left += [value - centre for value in values]
    spent = sum(bool(values) for of_axes in by_cavity.values() for values in of_axes) if several else many
    free = max(1, len(left) - spent)
    spread = sqrt(sum(value**2 for value in left) / free) if len(left) > spent else CALLIPER_SD
    spread = max(spread, CALLIPER_SD)
    errors = np.array([spread / sqrt(len(values)) if values else 0.0 for values in off])
    axes = tuple(
        AxisFound(
            axis.name,
            len(values),
            float(np.mean(shown[at])),
            float(shared[at]),
            float(errors[at]),
        )
        for at, (axis, values) in enumerate(zip(kind.axes, off, strict=True))
        if values
    )
    cavities = tuple(
        CavityFound(
            name,
            len({one.die for rows in dice.values() for one in rows if one.cavity == name}),
            tuple(
                float(np.mean(values)) - float(shared[at]) if values else None
                for at, values in enumerate(of_axes)
            ),
        )
        for name, of_axes in sorted(named.items())
        if len(named) > 1
    )
    return KindFound(
        kind.one.die.positions,
        kind.one.die.artwork.solid.name,
        kind.nominal_mm,
        len(dice),
        float(np.mean(list(means.values()))),
        axes,
        tuple(axis.name for axis, values in zip(kind.axes, off, strict=True) if not values),
        cavities,
        spread,
        _faces(kind, shared, errors),
    )


def _faces(kind: Spanned, shared: NDArray[np.float64], errors: NDArray[np.float64]) -> tuple[FaceFound, ...]:
    """The bias of every rest that follows from the shared deviations."""
    solid = kind.one.die.artwork.solid
    values = kind.answers @ (shared / kind.nominal_mm)
    spread = SURE * np.sqrt(kind.answers**2 @ (errors / kind.nominal_mm) ** 2)
    names = solid.sites("faces")
    found = []
    for rest, off, about in zip(solid.rests, values.tolist(), spread.tolist(), strict=True):
        top = rest.on_top if solid.read == "face above" and rest.on_top is not None else rest.below
        ends = [times * (off + sign * about) for times in (1.0, STRONGER) for sign in (-1, 1)]
        found.append(FaceFound(names[top], off, min(ends), max(ends)))
    return tuple(found)
