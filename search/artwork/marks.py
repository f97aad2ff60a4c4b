"""Marks: what stands where on the faces of a solid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid

Ring = tuple[tuple[float, float], ...]
"""A closed outline: corners in order, the first not repeated."""


@dataclass(frozen=True)
class Mark:
    """One copy of a label, as it is cut into one face.

    `site` is the place that carries the label ("f3", "v2", "e7"); a site that is a vertex or an edge has a mark on each
    face that meets there. `readout` is the position of the readout that it belongs to, None where the die has only one.
    `centre` is the middle of the characters in the face's frame and `height` their height, in inradii; `angle` turns
    the direction of reading counter-clockwise from the frame's `across`, in radians. `outline` is what stands there in
    place of `text` in the usual font: pips, a picture, another font, a 6 with its line; figures one unit high.
    """

    site: str
    face: int
    text: str
    centre: tuple[float, float]
    height: float
    angle: float = 0.0
    readout: int | None = None
    outline: tuple[Ring, ...] | None = None


@dataclass(frozen=True, eq=False)
class Artwork:
    """Everything that stands on a solid, with the solid itself."""

    solid: Solid
    marks: tuple[Mark, ...]

    def on_face(self, face: int) -> tuple[Mark, ...]:
        """The marks of one face."""
        return tuple(mark for mark in self.marks if mark.face == face)
