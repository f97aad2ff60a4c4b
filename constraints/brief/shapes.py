"""Solids and their proportions, as briefs name them."""

from __future__ import annotations

from facewright.constraints.brief.faults import Faults, Path
from facewright.constraints.brief.models import MOST_RESTS
from facewright.constraints.readouts import Shape
from facewright.constraints.solids.names import default_solid, solid_named
from facewright.constraints.texts import TextError

USUAL: Shape = "largest-numeral"
"""What free proportions serve where a brief says nothing."""


def one_solid(written: int | str, path: Path, faults: Faults) -> str | None:
    """The name of a solid that can be built; None, with the fault, where there is none."""
    try:
        name, faces = (default_solid(written), written) if isinstance(written, int) else solid_named(written)
    except TextError as unknown:
        faults.add(path, unknown.found, unknown.accepted)
        return None
    if faces > MOST_RESTS:
        accepted = f"a solid with at most {MOST_RESTS} faces, past which a die is a ball"
        faults.add(path, f"{faces} faces ({name})", accepted)
        return None
    return name


def shape_of(
    written: str | float | list[float] | None, solid: str | None, path: Path, faults: Faults
) -> Shape:
    """The free proportions of a solid; the usual ones, with the fault, where the solid cannot have those."""
    if written is None or solid is None:
        return USUAL
    from facewright.constraints.solids import solid as built

    shape: Shape = tuple(written) if isinstance(written, list) else written
    try:
        built(solid, shape)
    except TextError as refused:
        faults.add(path, refused.found, refused.accepted.removeprefix("shape: "))
        return USUAL
    return shape
