"""A body of constant width 1: its support function ½ + f with f odd, and what follows from it at a direction."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from facewright.constraints.solids.smooth.harmonics import Harmonic, basis
from facewright.constraints.solids.smooth.legendre import SHORTEST, normalised
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES, SmoothSymmetry

if TYPE_CHECKING:
    import numpy as np

HALF = 0.5
"""Half the width."""


class Field(NamedTuple):
    """The odd part f and its derivatives at directions, each of shape (n,), in units of the width.

    `south` and `east` are the slopes along unit vectors of rising colatitude and longitude. `ss`, `ee` and `se` are
    the matrix ∇²f + f in these two: added to ½ times the unit matrix, its eigenvalues are the radii of curvature.
    """

    value: np.ndarray
    south: np.ndarray
    east: np.ndarray
    ss: np.ndarray
    ee: np.ndarray
    se: np.ndarray


@dataclass(frozen=True)
class SmoothBody:
    """A body of constant width 1, centred on its centre of mass.

    `coefficients` belong to the harmonics of `basis(symmetry, degree)`, in its order; those left out at the end are 0.
    Whether it is a body at all, with no radius of curvature below 0, is not asked here.
    """

    symmetry: str
    degree: int
    coefficients: tuple[Fraction, ...]

    @property
    def group(self) -> SmoothSymmetry:
        """Its symmetry."""
        return SYMMETRIES[self.symmetry]

    @cached_property
    def parts(self) -> tuple[tuple[Harmonic, Fraction], ...]:
        """Each harmonic with its coefficient, zeros left out."""
        pairs = zip(basis(self.symmetry, self.degree), self.coefficients, strict=False)
        return tuple((harmonic, c) for harmonic, c in pairs if c)

    @cached_property
    def factors(self) -> dict[int, dict[int, float]]:
        """The factors of the harmonics of mean square 1, in floats: order → degree → factor."""
        found: dict[int, dict[int, float]] = defaultdict(lambda: defaultdict(float))
        for harmonic, c in self.parts:
            for order, t in harmonic.normalised:
                found[order][harmonic.degree] += float(c) * t
        return {order: dict(row) for order, row in sorted(found.items())}

    def field(self, colatitude: np.ndarray, longitude: np.ndarray) -> Field:
        """The odd part and its derivatives at directions given by their angles, in radians, shape (n,).

        In floats; with degrees below 100 good to about 1e-12.
        """
        import numpy as np

        theta = np.clip(colatitude, SHORTEST, np.pi - SHORTEST)
        z, s = np.cos(theta), np.sin(theta)
        sums = [np.zeros_like(theta) for _ in range(6)]
        for order, row in self.factors.items():
            degrees, value, slope, bend = normalised(theta, self.degree, order)
            factors = np.array([row.get(n, 0.0) for n in degrees])
            g, dg, ddg = factors @ value, factors @ slope, factors @ bend
            along, across = np.cos(order * longitude), -np.sin(order * longitude)
            if self.group.sine:
                along, across = -across, along
            shares = (
                g * along,
                dg * along,
                order / s * g * across,
                (ddg + g) * along,
                (z / s * dg + (1 - (order / s) ** 2) * g) * along,
                order / s * (dg - z / s * g) * across,
            )
            for at, share in enumerate(shares):
                sums[at] += share
        return Field(*sums)

    def support(self, directions: np.ndarray) -> np.ndarray:
        """The distance of the tangent plane from the centre, for unit vectors of shape (n, 3)."""
        height: np.ndarray = HALF + self.field(*angles(directions)).value
        return height

    def width(self, directions: np.ndarray) -> np.ndarray:
        """The distance of the two tangent planes, for unit vectors of shape (n, 3)."""
        found: np.ndarray = self.support(directions) + self.support(-directions)
        return found

    def points(self, directions: np.ndarray) -> np.ndarray:
        """Where the body touches its tangent planes: h·u + ∇h, for unit vectors u of shape (n, 3)."""
        import numpy as np

        theta, phi = angles(directions)
        field = self.field(theta, phi)
        south = np.stack([np.cos(theta) * np.cos(phi), np.cos(theta) * np.sin(phi), -np.sin(theta)], axis=1)
        east = np.stack([-np.sin(phi), np.cos(phi), np.zeros_like(phi)], axis=1)
        height = HALF + field.value
        found: np.ndarray = (
            height[:, None] * directions + field.south[:, None] * south + field.east[:, None] * east
        )
        return found

    def radii(self, directions: np.ndarray) -> np.ndarray:
        """The least and the greatest radius of curvature, shape (n, 2), for unit vectors of shape (n, 3)."""
        import numpy as np

        field = self.field(*angles(directions))
        mean, spread = (field.ss + field.ee) / 2, np.hypot((field.ss - field.ee) / 2, field.se)
        return np.stack([HALF + mean - spread, HALF + mean + spread], axis=1)


def angles(directions: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Colatitude and longitude in radians, for vectors of shape (n, 3)."""
    import numpy as np

    x, y, z = np.asarray(directions, dtype=float).T
    return np.arctan2(np.hypot(x, y), z), np.arctan2(y, x)


def unit(colatitude: float, longitude: float) -> np.ndarray:
    """The unit vector, shape (3,), of two angles in radians."""
    import numpy as np

    s = np.sin(colatitude)
    return np.array([s * np.cos(longitude), s * np.sin(longitude), np.cos(colatitude)])
