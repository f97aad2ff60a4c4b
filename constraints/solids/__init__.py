"""Solids: their names and their geometry, with sites, symmetries and rests."""

from __future__ import annotations

from collections.abc import Sequence

# Imported here and now: the first import of the module `solid` makes it an attribute of this package, and must not
# come after the function of that name below. It loads nothing heavy.
from facewright.constraints.solids.solid import Solid

__all__ = ["Solid", "solid"]


def solid(name: str, shape: str | float | Sequence[float] = "largest-numeral") -> Solid:
    """A solid by any of its names; each is built once.

    Params:
        name: such as "cube", "icosahedron", "13-gonal bipyramid", "5-sided log".
        shape: for free proportions: "largest-numeral", "settles-best" or numbers (see `docs/reference/solids.md`).
    Returns: the solid, inradius 1, centre of mass at the origin.
    Raises: TextError (a ValueError) for a name that no solid has, for too many faces, for a shape out of range.

    Example:
        >>> cube = solid("hexahedron")
        >>> cube.name, len(cube.vertices), len(cube.rotations), cube.read
        ('cube', 8, 24, 'face above')
    """
    from facewright.constraints.solids.catalogue import build

    return build(name, shape)
