"""How large a solid is: what its size can measure, in inradii and in millimetres."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from facewright.constraints.errors import UsageError

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid

MM_PER_INCH = 25.4
"""Exact by definition."""


@lru_cache(maxsize=256)
def measures(solid: Solid) -> Mapping[str, float]:
    """What the size of a solid can measure, in inradii.

    Returns: `across-flats`, twice the inradius, which is what callipers show where faces lie opposite each other;
        `edge`, the longest edge; `height`, of the solid as it lies on its first rest; `tip-to-tip`, between the two
        vertices farthest apart.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> {name: round(length, 3) for name, length in measures(solid("cube")).items()}
        {'across-flats': 2.0, 'edge': 2.0, 'height': 2.0, 'tip-to-tip': 3.464}
    """
    import numpy as np
    from facewright.constraints.solids.frames import face_frame

    corners = solid.vertices
    ends = corners[np.array(solid.edges)]
    below = face_frame(solid, solid.rests[0].below)
    over = below.normal @ below.origin - corners @ below.normal
    return {
        "across-flats": 2.0,
        "edge": float(np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1).max()),
        "height": float(over.max()),
        "tip-to-tip": float(np.linalg.norm(corners[:, None] - corners[None, :], axis=2).max()),
    }


def inradius_mm(solid: Solid, size_mm: float, size_is: str = "across-flats") -> float:
    """The inradius of a solid of a given size, in millimetres.

    Params:
        solid: the solid.
        size_mm: its size, in millimetres.
        size_is: what that measures, one of `measures`.
    Raises: UsageError for another measure.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> inradius_mm(solid("cube"), 16, "edge")
        8.0
    """
    return size_mm / _measure(solid, size_is)


def size_mm(solid: Solid, inradius_mm: float, size_is: str = "across-flats") -> float:
    """The size of a solid of a given inradius, in millimetres; the inverse of `inradius_mm`.

    Raises: UsageError for another measure.
    """
    return inradius_mm * _measure(solid, size_is)


def both_units(mm: float) -> str:
    """A length in millimetres, inches beside; of less than a millimetre to a thousandth of an inch.

    Example:
        >>> both_units(19.05)
        '19.1 mm (0.75 in)'
        >>> both_units(0.1)
        '0.1 mm (0.004 in)'
    """
    return f"{mm:.1f} mm ({mm / MM_PER_INCH:.{2 if mm >= 1 else 3}f} in)"


def _measure(solid: Solid, size_is: str) -> float:
    known = measures(solid)
    if size_is not in known:
        raise UsageError(f"size_is: found {size_is!r}; accepted: {', '.join(known)}")
    return known[size_is]
