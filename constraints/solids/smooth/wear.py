"""What tumbling and play do to a smooth body, in a simple model.

The radius of curvature of whatever is sharp grows with the root of the time, as `edges.worn` has it; by symmetry all
tips and all ridges wear alike. The worn body is taken for that body of the same family whose least radius is the
grown one: the same shape shrunk, and a larger ball around it, of the same width. A model: a real body also gets
narrower, most at its tips, and so is no longer of constant width to the last hundredth of a millimetre.
"""

from __future__ import annotations

from dataclasses import dataclass

from facewright.constraints.edges import worn


@dataclass(frozen=True)
class Worn:
    """A worn body: its least radius and its settling, and how far its tips have come back, in millimetres."""

    least_radius_mm: float
    settling_mm: float
    tips_back_mm: float


def worn_body(width_mm: float, least_radius: float, settling: float, wear_mm: float) -> Worn:
    """A body after wear.

    Params:
        width_mm: its width.
        least_radius, settling: as shares of the width; see `SmoothDesign`.
        wear_mm: the radius that the same tumbling gives to an edge that was sharp.

    The settling is in proportion to 1 − 2r, r being the least radius; a tip lies ½ and the settling from the centre.

    Example:
        >>> found = worn_body(20.0, 0.05, 0.1, 1.0)
        >>> round(found.least_radius_mm, 4), round(found.settling_mm, 4), round(found.tips_back_mm, 4)
        (1.4142, 1.908, 0.092)
    """
    before = least_radius * width_mm
    after = worn(before, wear_mm)
    most = width_mm / 2
    kept = max(0.0, most - after) / (most - before)
    settles = settling * width_mm
    return Worn(min(after, most), settles * kept, settles * (1 - kept))
