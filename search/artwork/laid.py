"""A layout on its solid: which label each rest reads, and where."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from facewright.constraints.readouts import Label

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid


def labels_read(solid: Solid, faces: Mapping[str, Label]) -> tuple[Label, ...]:
    """The label that each rest reads, in the order of the rests: of the face on top, or else of the face below."""
    above = solid.read == "face above"
    read = (rest.on_top if above and rest.on_top is not None else rest.below for rest in solid.rests)
    return tuple(faces[f"f{face + 1}"] for face in read)


def sites_read(solid: Solid) -> tuple[str, ...]:
    """Where each rest is read, in the order of the rests: the face, vertex or edge on top, or else the face below."""
    letter = solid.read[0]
    return tuple(
        f"f{rest.below + 1}" if rest.on_top is None else f"{letter}{rest.on_top + 1}" for rest in solid.rests
    )
