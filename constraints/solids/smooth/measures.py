"""Area, volume and moments of a smooth body; the first two as rational multiples of π."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from facewright.constraints.solids.smooth.body import HALF, SmoothBody, unit

if TYPE_CHECKING:
    import numpy as np


def area_over_pi(body: SmoothBody) -> Fraction:
    """The surface divided by π, in units of the width squared: 1 − 2 Σ (n − 1)(n + 2) c² m.

    n is the degree of a harmonic, c its coefficient, m its mean square. From S = ∫ h (2h + Δh)/2 over the sphere
    (Minkowski), where Δ takes a harmonic of degree n to −n(n + 1) times itself.
    """
    return 1 - 2 * sum(
        ((one.degree - 1) * (one.degree + 2) * c * c * one.mean_square for one, c in body.parts), Fraction(0)
    )


def volume_over_pi(body: SmoothBody) -> Fraction:
    """The volume divided by π, in units of the width cubed, by Blaschke's relation V = wS/2 − πw³/3.

    Source: W. Blaschke, 1915 (from memory); the tests integrate the volume without it.
    """
    return area_over_pi(body) / 2 - Fraction(1, 3)


def moments(body: SmoothBody) -> np.ndarray:
    """∫ x xᵀ over the body, shape (3, 3), in units of the width to the fifth power; the centre of mass is the origin.

    By the theorem of divergence it is one fifth of ∫ X Xᵀ h·r₁r₂ over the sphere: X the surface point, r₁r₂ the
    product of the radii of curvature. The integrand is a polynomial, so Gauss's rule is exact up to rounding.
    """
    import numpy as np

    directions, weights = gauss_sphere(5 * body.degree + 2)
    radii = body.radii(directions)
    share = weights * body.support(directions) * radii[:, 0] * radii[:, 1] / 5
    points = body.points(directions)
    found: np.ndarray = np.einsum("n,ni,nj->ij", share, points, points)
    return found


def gauss_sphere(degree: int) -> tuple[np.ndarray, np.ndarray]:
    """Directions, shape (n, 3), and weights that integrate polynomials up to a degree over the sphere exactly."""
    import numpy as np

    z, weights = np.polynomial.legendre.leggauss(degree // 2 + 1)
    around = degree + 1
    phi = 2 * np.pi * (np.arange(around) + HALF) / around
    s = np.sqrt(1 - z * z)
    x, y = np.outer(s, np.cos(phi)), np.outer(s, np.sin(phi))
    directions = np.stack([x, y, np.broadcast_to(z[:, None], x.shape)], axis=-1).reshape(-1, 3)
    return directions, np.repeat(weights * 2 * np.pi / around, around)


def tip_direction(body: SmoothBody) -> np.ndarray:
    """The unit vector, shape (3,), towards one tip."""
    return unit(*body.group.tip)
