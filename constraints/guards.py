"""The seam between layouts and flaws: what a guard is given, and what it says.

A guard judges a layout by how far a stated small flaw of the solid moves the distribution of what is rolled, to first
order. To first order the chance of each rest moves linearly in the flaw, so that a flaw is a matrix: a row a labelled
face, a column a component of the flaw (three for a centre of mass off its place, one for a stretch along the draw).
Summed over the faces with one label it says how the chance of that label moves; all else follows from these sums.
For engines that try very many layouts `flaw_probes` has the same in fixed directions, as floats or whole numbers.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib import import_module
from typing import TYPE_CHECKING, Any, Protocol, cast

from facewright.constraints.errors import UsageError

if TYPE_CHECKING:
    import numpy as np
    from facewright.constraints.layout import Draw, Roll
    from facewright.constraints.readouts import Label
    from facewright.constraints.solids.solid import Solid
    from numpy.typing import NDArray

GUARDS = ("off-centre", "out-of-round", "long-along-draw")
"""The goals that are guards."""


@dataclass(frozen=True)
class Shift:
    """How far a flaw moves a roll, in the worst direction, for one unit of the flaw.

    `worst` is what layouts are compared by, less is better; `parts` are details as plain JSON values: the sum, each
    result, highest-of, moments, and what a unit of the flaw is.
    """

    worst: float
    parts: Mapping[str, Any] = field(default_factory=dict, hash=False)

    def as_json(self) -> dict[str, Any]:
        """The shift as plain values."""
        return {"worst": self.worst, **self.parts}

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Shift:
        """The shift that `as_json` wrote."""
        return cls(data["worst"], {key: part for key, part in data.items() if key != "worst"})


class Flaws(Protocol):
    """What the module of flaws offers; `goal` is one of `GUARDS`.

    `moved` has shape (labelled faces, components of the flaw): how far the chance that a die shows what stands on a
    face moves, per unit of each component. `rolled` has shape (results, distinct labels), its columns in the order in
    which labels first come up: the chance of each result once this die shows that label. `shift` is the guard itself.
    """

    def moved(self, goal: str, solid: Solid, draw: Draw | None) -> NDArray[np.float64]:
        """How the flaw moves the chance of each labelled face."""

    def rolled(self, labels: tuple[Label, ...], roll: Roll) -> NDArray[np.float64]:
        """How the results of the roll follow from the label that this die shows."""

    def shift(
        self, goal: str, solid: Solid, labels: tuple[Label, ...], roll: Roll, draw: Draw | None
    ) -> Shift:
        """How far the flaw moves the roll of a die with these labels on its faces, in order."""


def flaws() -> Flaws:
    """The module of flaws, loaded when it is first needed."""
    return cast(Flaws, import_module("facewright.constraints.flaws"))


def draw_axis(solid: Solid, draw: Draw) -> NDArray[np.float64]:
    """The line along which the mould opens, as a unit vector of shape (3,).

    Params:
        draw: "face", "edge" or "vertex": through the middle of the first of them, or a direction in space.
    Raises:
        UsageError: no such place, or a direction without length.
    """
    import numpy as np

    if draw == "face":
        from facewright.constraints.solids.frames import face_frame

        direction = face_frame(solid, 0).normal
    elif draw == "edge":
        direction = solid.vertices[list(solid.edges[0])].mean(axis=0)
    elif draw == "vertex":
        direction = solid.vertices[0]
    elif isinstance(draw, tuple):
        direction = np.array(draw, dtype=np.float64)
    else:
        raise UsageError(f"draw: found {draw!r}; face, edge, vertex or three numbers would be accepted")
    length = float(np.linalg.norm(direction))
    if not 0 < length < float("inf"):
        raise UsageError(f"draw: found {draw!r}, which is no direction")
    return np.asarray(direction / length, dtype=np.float64)
