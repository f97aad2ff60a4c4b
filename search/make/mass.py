"""Volume and centre of mass of the even body within a closed surface, and how far numerals move that centre."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray


@dataclass(frozen=True, eq=False)
class Shift:
    """How far the numerals move the centre of mass of a die of even material.

    `mm` has shape (3,): from the centre of the body to that of the die. `inradius_mm`: half the distance across flats.
    """

    mm: NDArray[np.float64]
    inradius_mm: float
    raised: bool = False

    @property
    def length_mm(self) -> float:
        """How far, in millimetres."""
        return float(np.linalg.norm(self.mm))

    @property
    def inradii(self) -> float:
        """How far, over half the distance across flats."""
        return self.length_mm / self.inradius_mm

    @property
    def words(self) -> str:
        """One sentence for a maker."""
        share = f"{100 * self.inradii:.2g} % of half the distance across flats"
        far = f"the centre of mass by {self.length_mm:.3f} mm ({share})"
        if self.raised:
            return f"The raised numerals move {far}."
        return f"Engraving moves {far}; ink in the recesses takes most of that back (common practice, no source)."


def volume_of(points: NDArray[np.floating], triangles: NDArray[np.integer]) -> float:
    """The volume within a closed surface, triangles counter-clockwise seen from outside: a sum of tetrahedra.

    Params:
        points: shape (n, 3).
        triangles: shape (m, 3), numbers of points.
    """
    return float(_tetrahedra(points, triangles)[1].sum())


def centre_of_mass(points: NDArray[np.floating], triangles: NDArray[np.integer]) -> NDArray[np.float64]:
    """The centre of mass of the even body within a closed surface, shape (3,); params as for `volume_of`.

    Example:
        >>> corners = np.array([[0, 0, 0], [4, 0, 0], [0, 4, 0], [0, 0, 4]])
        >>> centre_of_mass(corners, np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])).tolist()
        [1.0, 1.0, 1.0]
    """
    corners, volumes = _tetrahedra(points, triangles)
    centre: NDArray[np.float64] = volumes @ corners.sum(axis=1) / (4 * volumes.sum())
    return centre


def _tetrahedra(
    points: NDArray[np.floating], triangles: NDArray[np.integer]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The corners of each triangle, shape (m, 3, 3), and the volume between it and the origin, shape (m,)."""
    corners = np.asarray(points, dtype=np.float64)[triangles]
    return corners, np.einsum("ti,ti->t", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])) / 6
