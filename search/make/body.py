"""The body of a die: a solid in millimetres whose edges and corners are rounded by one radius.

The body is a parallel body: each face of the solid is moved inwards by the radius, and a ball of that radius is rolled
about what is left. Faces keep their planes, so that the distance across flats is that of the sharp solid; each edge
becomes part of a cylinder and each corner part of a sphere, all of one radius. Every symmetry of the solid stays a
symmetry of the body, and with it fairness by symmetry. Its volume is known exactly (`Body.volume_mm3`).

Source of the volume: J. Steiner, "Über parallele Flächen", 1840 (from memory): V + S·r + M·r² + 4π/3·r³ for a convex
polyhedron of volume V, surface S and M = ½ Σ length · exterior dihedral angle over its edges.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.errors import UsageError
from facewright.constraints.solids.tolerance import SAME
from facewright.search.make.mass import volume_of
from facewright.search.make.rounding import tessellated
from numpy.typing import NDArray

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid

FINE_MM, FINE = 0.005, 1 / 2000
"""How far flat pieces may lie beside the curve that they stand for: so many millimetres, on large dice so many of their
inradii. A tenth of a fine printer's layer (our choice)."""


@dataclass(frozen=True, eq=False)
class Body:
    """A convex body with rounded edges, without numerals; all lengths in millimetres, the centre of mass at the origin.

    `core` has shape (V, 3): the corners of the shrunken solid about which the ball rolls, in the order of the solid's
    vertices. `normals` has shape (F, 3), `distances` shape (F,): the planes of the faces. `vertices` (n, 3) and
    `triangles` (m, 3), counter-clockwise seen from outside, are the surface in flat pieces, none farther inside the
    true surface than `chord_mm` (or as near as `rounding.MOST_STEPS` comes).
    """

    solid: Solid
    inradius_mm: float
    radius_mm: float
    chord_mm: float
    core: NDArray[np.float64]
    normals: NDArray[np.float64]
    distances: NDArray[np.float64]
    vertices: NDArray[np.float64]
    triangles: NDArray[np.int64]

    @cached_property
    def bends(self) -> NDArray[np.float64]:
        """For each edge its exterior dihedral angle, the turn from one face to the other, in radians; shape (E,)."""
        return _bends(self.solid, self.normals)

    @cached_property
    def edge_numbers(self) -> dict[tuple[int, int], int]:
        """The number of each edge, by its two corners, the lower first."""
        return {edge: number for number, edge in enumerate(self.solid.edges)}

    @cached_property
    def volume_mm3(self) -> float:
        """The volume of the true body, its roundings not cut into flat pieces (Steiner's formula)."""
        r = self.radius_mm
        return self._volume + self._surface * r + self._bend * r**2 + 4 / 3 * math.pi * r**3

    @cached_property
    def mesh_volume_mm3(self) -> float:
        """The volume within the flat pieces."""
        return volume_of(self.vertices, self.triangles)

    @cached_property
    def area_mm2(self) -> float:
        """The surface of the true body, the derivative of its volume by the radius."""
        r = self.radius_mm
        return self._surface + 2 * self._bend * r + 4 * math.pi * r**2

    @cached_property
    def _areas(self) -> NDArray[np.float64]:
        """The areas of the flat parts of the faces, shape (F,), by the sums of their corners' cross products."""
        areas = []
        for face, normal in zip(self.solid.faces, self.normals, strict=True):
            corners = self.core[list(face)]
            areas.append(float(normal @ np.cross(corners, np.roll(corners, -1, axis=0)).sum(axis=0)) / 2)
        return np.array(areas)

    @property
    def _volume(self) -> float:
        return float(self._areas @ (self.distances - self.radius_mm)) / 3

    @property
    def _surface(self) -> float:
        return float(self._areas.sum())

    @property
    def _bend(self) -> float:
        ends = self.core[[list(edge) for edge in self.solid.edges]]
        return float(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) @ self.bends) / 2


def rounded(solid: Solid, inradius_mm: float, radius_mm: float, chord_mm: float | None = None) -> Body:
    """The body of a die.

    Params:
        solid: its shape.
        inradius_mm: half the distance across flats.
        radius_mm: of every edge and every corner; 0 leaves them sharp.
        chord_mm: how far the flat pieces of a rounding may lie inside it; without it `fineness_mm`.
    Raises: UsageError for lengths that are not positive, or a radius that would take a whole edge away.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> cube = rounded(solid("cube"), 8, 1)
        >>> round(cube.volume_mm3, 1), cube.vertices.max().round(6).item()
        (4056.1, 8.0)
    """
    from facewright.constraints.solids.rests import outward

    if not (inradius_mm > 0 and math.isfinite(inradius_mm)):
        raise UsageError(
            f"half the distance across flats: found {inradius_mm:g} mm; accepted: more than 0 mm"
        )
    most = most_radius(solid) * inradius_mm
    if not 0 <= radius_mm < most:
        raise UsageError(
            f"radius of the edges: found {radius_mm:g} mm; accepted: 0 mm and more, less than {most:.3g} mm, "
            f"at which a {solid.name} of {2 * inradius_mm:g} mm across flats loses an edge"
        )
    chord_mm = chord_mm or fineness_mm(inradius_mm)
    normals, distances = outward(solid.vertices, solid.faces)
    core = solid.vertices * inradius_mm - radius_mm * _retreats(solid, normals)
    if radius_mm:
        vertices, triangles = tessellated(solid, core, normals, radius_mm, chord_mm)
    else:
        vertices, triangles = core, _fans(solid)
    return Body(
        solid, inradius_mm, radius_mm, chord_mm, core, normals, distances * inradius_mm, vertices, triangles
    )


def fineness_mm(inradius_mm: float) -> float:
    """How far flat pieces may lie beside the curves of a die of that size."""
    return max(FINE_MM, FINE * inradius_mm)


def usual_radius_mm(solid: Solid, inradius_mm: float) -> float:
    """The one radius for all edges and corners of a die: what its corners need, or what its faces can spare.

    `constraints.edges.rounding` proposes one for each kind of edges and corners; a body has the largest of these, as
    far as every edge has room for it.
    """
    from facewright.constraints.edges import rounding

    found = rounding(solid, inradius_mm)
    spare = [kind.radius_mm for kind in found.edges if kind.limited]
    wanted = [kind.radius_mm for kind in found.edges] + [kind.radius_mm for kind in found.vertices]
    return min([max(wanted), *spare])


def most_radius(solid: Solid) -> float:
    """The radius, in inradii, at which the rounding of a solid takes the first whole edge away.

    The corners of the shrunken solid, and with them the lengths of its edges, are linear in the radius.
    """
    from facewright.constraints.solids.rests import outward

    retreats = _retreats(solid, outward(solid.vertices, solid.faces)[0])
    ends = np.array(solid.edges)
    along = solid.vertices[ends[:, 1]] - solid.vertices[ends[:, 0]]
    lengths = np.linalg.norm(along, axis=1)
    shrinking = np.einsum("ei,ei->e", retreats[ends[:, 1]] - retreats[ends[:, 0]], along) / lengths
    return float((lengths[shrinking > SAME] / shrinking[shrinking > SAME]).min())


def _retreats(solid: Solid, normals: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far each corner moves for one unit that all faces move inwards, shape (V, 3)."""
    retreats = np.empty_like(solid.vertices)
    for vertex, faces in enumerate(solid.vertex_faces):
        planes = normals[list(faces)]
        retreats[vertex] = np.linalg.lstsq(planes, np.ones(len(faces)), rcond=None)[0]
        off = float(np.abs(planes @ retreats[vertex] - 1).max())
        if off > SAME:
            # no solid of the catalogue: at its corners with four and more faces these lie alike by symmetry
            raise UsageError(
                f"{solid.name}: the faces at corner v{vertex + 1} no longer meet in one point when all move "
                "inwards alike; accepted: a radius of 0 mm"
            )
    return retreats


def _bends(solid: Solid, normals: NDArray[np.float64]) -> NDArray[np.float64]:
    pairs = np.array(solid.edge_faces)
    one, other = normals[pairs[:, 0]], normals[pairs[:, 1]]
    turns: NDArray[np.float64] = np.arctan2(
        np.linalg.norm(np.cross(one, other), axis=1), np.einsum("ei,ei->e", one, other)
    )
    return turns


def _fans(solid: Solid) -> NDArray[np.int64]:
    """The faces in triangles, each from its first corner."""
    return np.array(
        [(face[0], face[i], face[i + 1]) for face in solid.faces for i in range(1, len(face) - 1)]
    )
