"""How long a moulded body takes until its middle has cooled so far that it can be pushed out.

One-term solutions of heat conduction in a body whose surface is held at the temperature of the mould. The thin plate's
formula, which handbooks of moulding give, would make a 16 mm cube cool for 310 s instead of 128 s: dice are no plates.

Source: the plate's formula t = s²/(π²α)·ln(4/π·Θ) as quoted by moulders, with Θ = (Tm − Tw)/(Te − Tw); ball and cube
derived from the same series (H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

Number = TypeVar("Number", float, "NDArray[np.float64]")

MM = 1e-3
"""Metres in a millimetre."""


def theta(melt: Number, wall: Number, eject: Number) -> Number:
    """Θ: the temperature of the melt above the wall's, over that of the ejected middle above the wall's."""
    return (melt - wall) / (eject - wall)


def ball_s(diameter_mm: Number, diffusivity: Number, over: Number) -> Number:
    """Seconds until the middle of a ball has cooled: t = D²/(4π²α)·ln(2Θ).

    Params:
        diameter_mm: in millimetres. diffusivity: in m²/s. over: Θ.

    Example:
        >>> round(float(ball_s(16.0, 1.7e-7, theta(240.0, 60.0, 90.0))), 1)
        94.8
    """
    return _s(diameter_mm, 4 * np.pi**2 * diffusivity, 2 * over)


def cube_s(side_mm: Number, diffusivity: Number, over: Number) -> Number:
    """Seconds until the middle of a cube has cooled: t = s²/(3π²α)·ln((4/π)³Θ); params as for `ball_s`."""
    return _s(side_mm, 3 * np.pi**2 * diffusivity, (4 / np.pi) ** 3 * over)


def skin_s(thickness_mm: Number, diffusivity: Number, over: Number) -> Number:
    """Seconds until a skin over a core has cooled where it meets that: a plate twice as thick, cooled from both sides.

    Here the plate is right: the skin is thin, and the core, moulded before, takes next to no heat.
    """
    return _s(2 * thickness_mm, np.pi**2 * diffusivity, 4 / np.pi * over)


def equal_ball_mm(volume_mm3: float) -> float:
    """The diameter of the ball of a volume, in millimetres."""
    return float((6 * volume_mm3 / np.pi) ** (1 / 3))


def body_s(
    solid: str,
    inradius_mm: float,
    volume_mm3: float,
    between: Number,
    diffusivity: Number,
    over: Number,
) -> Number:
    """Seconds until the middle of a die has cooled.

    A cube by its own formula. Any other body cools no faster than the ball inside it and no slower than the ball of its
    volume (late in cooling; by monotony in the domain, and by the inequality of Faber and Krahn, both from memory).
    `between` runs from 0, the first, to 1, the second. A log or a coin is taken the same way.
    """
    if solid == "cube":
        return cube_s(2 * inradius_mm + 0 * over, diffusivity, over)
    inside = ball_s(2 * inradius_mm + 0 * over, diffusivity, over)
    outside = ball_s(equal_ball_mm(volume_mm3) + 0 * over, diffusivity, over)
    return inside + between * (outside - inside)


def _s(length_mm: Number, rate: Number, ratio: Number) -> Number:
    """(length)²/rate · ln(ratio), in seconds."""
    found: Number = (length_mm * MM) ** 2 / rate * np.log(ratio)
    return found
