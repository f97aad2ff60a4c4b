"""How a smooth body comes to lie: where it rests, what it must be lifted over, how fast it rocks."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import pi, sqrt
from typing import TYPE_CHECKING

import flint
from facewright.constraints.solids.smooth.alone import rests_alone
from facewright.constraints.solids.smooth.body import HALF, SmoothBody
from facewright.constraints.solids.smooth.legendre import derived
from facewright.constraints.solids.smooth.measures import moments, tip_direction, volume_over_pi

if TYPE_CHECKING:
    import numpy as np

GRAVITY = 9.81
"""Metres per second squared."""
MOST_HALVINGS = 12
TIP_COSINE = Fraction(577_350_269, 10**9)
"""The cosine of the colatitude of a tetrahedral tip, 1/√3, rounded down."""


@dataclass(frozen=True)
class Resting:
    """How a body lies on the side opposite a tip, in units of the width.

    `height` is that of its centre; the tip is on top, 1 above the table. `over` is the height of the lowest way to
    another rest where it is proved to be ½, else None. Radii are those of curvature, least first. `stable` says
    whether both at the contact are greater than the height. `gyration` is the mean square distance of the mass from a
    level axis through the centre, over all such axes. `alone` says whether it is proved that there are no other stable
    rests than those opposite the tips.
    """

    height: float
    over: float | None
    tip: tuple[float, float]
    contact: tuple[float, float]
    stable: bool
    gyration: float
    alone: bool

    def hertz(self, width_mm: float) -> float:
        """How often a second it rocks, a little, about its flatter way, if it rolls without slipping.

        f = √(g(r − h)/(k² + h²))/2π, with r the radius at the contact, h the height of the centre and k the gyration.
        """
        if not self.stable:
            return 0.0
        lever = (self.contact[0] - self.height) / (self.gyration + self.height**2)
        return sqrt(GRAVITY * 1000 / width_mm * lever) / (2 * pi)


def settling(body: SmoothBody) -> float:
    """How far a body lies lower at rest than on the way between rests: the value of f at the tip, to 1e-15."""
    return float(body.field(*_one(body)).value[0])


def _one(body: SmoothBody) -> tuple[np.ndarray, np.ndarray]:
    import numpy as np

    colatitude, longitude = body.group.tip
    return np.array([colatitude]), np.array([longitude])


def resting(body: SmoothBody) -> Resting:
    """How a body lies."""
    tip = tip_direction(body)[None, :]
    radii = body.radii(tip)[0]
    low, high = float(radii[0]), float(radii[1])
    height = HALF - settling(body)
    whole = moments(body)
    upright = float(tip[0] @ whole @ tip[0])
    volume = float(volume_over_pi(body)) * pi
    gyration = float((whole.trace() + upright) / 2 / volume)
    contact = (1 - high, 1 - low)
    over = HALF if way_is_half(body) else None
    return Resting(height, over, (low, high), contact, contact[0] > height, gyration, rests_alone(body))


def way_is_half(body: SmoothBody) -> bool:
    """Whether it is proved that the lowest way from one rest to another leads over the height ½, half the width.

    It is no lower: f vanishes on the mirror planes of the inverted symmetry, great circles that part the rests, and
    there the height is ½. It is no higher if f < 0 along the meridian from a rest to the pole, where f = 0 again and
    from where the next rest is reached alike. There f is a power of sin θ times a polynomial in cos θ with rational
    coefficients; that this has no zero is shown by Descartes' rule of signs on ever smaller intervals.
    """
    start = TIP_COSINE if body.group.cubic else Fraction(0)
    return _positive(meridian(body), start, Fraction(1), MOST_HALVINGS)


def meridian(body: SmoothBody) -> flint.fmpq_poly:
    """The polynomial H with f = sinᵐθ·H(cos θ) on the meridian of the tip, m the least order."""
    least = body.group.order
    square = flint.fmpq_poly([1, 0, -1])
    total = flint.fmpq_poly([0])
    for harmonic, c in body.parts:
        for order, t in harmonic.terms:
            # sin mπ/4 for m = 2, 6, 10, … is 1, −1, 1, …; cos 0 is 1
            share = c * t * (-1 if body.group.sine and order % 8 == 6 else 1)
            part = derived(harmonic.degree, order) * square ** ((order - least) // 2)
            total += part * flint.fmpq(share.numerator, share.denominator)
    return total


def _positive(poly: flint.fmpq_poly, low: Fraction, high: Fraction, halvings: int) -> bool:
    """Whether it is shown that a polynomial is above 0 between two fractions, neither of them included."""
    if _no_sign_change(poly, low, high):
        return True
    middle = (low + high) / 2
    if not halvings or poly(flint.fmpq(middle.numerator, middle.denominator)) <= 0:
        return False
    return _positive(poly, low, middle, halvings - 1) and _positive(poly, middle, high, halvings - 1)


def _no_sign_change(poly: flint.fmpq_poly, low: Fraction, high: Fraction) -> bool:
    """Whether no coefficient of (1 + x)ᵈ·p((low + high·x)/(1 + x)) is below 0, and so p above 0 in between."""
    ends = flint.fmpq_poly([flint.fmpq(one.numerator, one.denominator) for one in (low, high)])
    ones = flint.fmpq_poly([1, 1])
    total, power = flint.fmpq_poly([0]), flint.fmpq_poly([1])
    for factor in reversed(poly.coeffs()):
        total = total * ends + factor * power
        power = power * ones
    return any(total.coeffs()) and all(one >= 0 for one in total.coeffs())
