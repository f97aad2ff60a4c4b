"""The axes of a die that callipers can span, and how the chances of its faces answer to their lengths."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.errors import UsageError
from numpy.typing import NDArray

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid
    from facewright.search.make.sizing import Sized

    Figures = NDArray[np.float64]

STRONGER = 4.0
"""Real dice may answer so many times more strongly than solid angles do: for a cuboid 1 × 1 × 1.25, other axes kept,
solid angles give an exponent of −1.10, rigid-body simulations of ours −3.1 to −4.2, by throw and bounce."""


@dataclass(frozen=True)
class Axis:
    """Two faces that lie opposite each other: their numbers, from 0, and the names that a table may use."""

    faces: tuple[int, int]
    name: str
    also: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Spanned:
    """One kind of die of a design, as callipers see it.

    `answers` has shape (rests, axes): how far the chance of each rest grows, as a share of itself, when an axis is
    longer by its whole length, the others as they were; first order, by solid angles.
    """

    one: Sized
    axes: tuple[Axis, ...]
    answers: Figures

    @property
    def nominal_mm(self) -> float:
        """What each axis should measure."""
        return 2 * self.one.inradius_mm


def spanned(one: Sized) -> Spanned:
    """A die in its size; raises UsageError for a solid whose faces have no opposite ones."""
    solid = one.die.artwork.solid
    axes = axes_of(solid, {face: str(label) for face, label in one.die.faces.items()})
    if not axes:
        raise UsageError(
            f"die {one.die.positions[0]}: found the {solid.name}, whose faces have no opposite ones for callipers to "
            "span; accepted: dice with opposite faces (weigh this one, float it, and roll it)"
        )
    return Spanned(one, axes, answers_of(solid, tuple(axis.faces for axis in axes)))


def axes_of(solid: Solid, labels: dict[int, str]) -> tuple[Axis, ...]:
    """The axes of a solid: f1-f6 and so on, also by the labels of the faces where no two axes have the same."""
    pairs = [(face, other) for face, other in enumerate(solid.opposite) if other is not None and face < other]
    told = [frozenset(labels.get(face, "") for face in pair) for pair in pairs]
    found = []
    for pair, own in zip(pairs, told, strict=True):
        a, b = (f"f{face + 1}" for face in pair)
        names = [f"{b}-{a}", a, b]
        if told.count(own) == 1 and "" not in own:
            one, other = (labels[face] for face in pair)
            names += [f"{one}-{other}", f"{other}-{one}"]
        found.append(Axis(pair, f"{a}-{b}", tuple(names)))
    return tuple(found)


@lru_cache(maxsize=32)
def answers_of(solid: Solid, axes: tuple[tuple[int, int], ...]) -> Figures:
    """Shape (rests, axes); see `Spanned`. A longer axis moves both its faces outwards alike."""
    from facewright.constraints.flaws import rest_sensitivities

    found = rest_sensitivities(solid)
    columns = [found.planes[:, a] + found.planes[:, b] for a, b in axes]
    answers: Figures = np.stack(columns, axis=1) / found.chances[:, None]
    return answers


def tolerance_mm(die: Spanned, off: float, stronger: float = 1.0) -> float:
    """How far any axis may be off its die's mean, in mm, so that no face is off by more than a share of its chance.

    Params:
        die: the die.
        off: the share, such as 0.05.
        stronger: how many times more strongly than solid angles the chances answer.
    """
    worst = float(np.abs(die.answers).sum(axis=1).max()) * stronger
    return off / worst * die.nominal_mm if worst else float("inf")
