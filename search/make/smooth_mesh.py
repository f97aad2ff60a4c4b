"""A smooth body as a closed surface of triangles, its numerals cut into the curved surface."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.errors import UsageError
from facewright.constraints.solids.smooth.mesh import sphere
from facewright.search.artwork.strokes import fineness
from facewright.search.make.mass import centre_of_mass
from facewright.search.make.mesh_check import require
from facewright.search.make.numerals_mesh import BEYOND_MM
from facewright.search.make.settling import settled
from facewright.search.make.smooth_numerals import Numeral, numerals

if TYPE_CHECKING:
    from facewright.constraints.solids.smooth.body import SmoothBody
    from manifold3d import Manifold
    from numpy.typing import NDArray

HALVINGS = 5
"""How often the edges of an icosahedron are halved for the directions of the points."""
TRIED = 200
"""In so many directions the width of the polyhedron is compared with that of the body."""
FALL = 0.2
"""The surface below a numeral falls away from its tangent plane by less than this share of the numeral's height."""
FINE_MM = 0.01
"""An outline is simplified by so much."""


@dataclass(frozen=True, eq=False)
class SmoothMesh:
    """A smooth die ready for a file: one closed surface in millimetres, its centre at the origin; see `Surface`.

    `chord_mm` is how much narrower than its width the polyhedron is at most; `high_mm` and `depth_mm` are those of the
    numerals, which move the centre of mass by `shift_mm`.
    """

    name: str
    points: NDArray[np.float32]
    triangles: NDArray[np.int64]
    volume_mm3: float
    chord_mm: float
    high_mm: float
    depth_mm: float
    shift_mm: float


def smooth_mesh(
    body: SmoothBody,
    width_mm: float,
    depth_mm: float,
    least_stroke_mm: float,
    name: str,
    placed: Sequence[Numeral] = (),
) -> SmoothMesh:
    """The surface of a smooth die with its numerals.

    Each numeral is a prism, less all that is deeper than the recess, and it stands out of the surface: a tool that
    ended in the surface would leave gaps in files.

    Params:
        body: the body, of width 1.
        width_mm: its width.
        depth_mm: of the recesses.
        least_stroke_mm: the smallest stroke that the route of making can cut.
        name: what it is called.
        placed: what stands on it; without it the numbers of its tips.
    Raises: UsageError for numerals with too thin strokes, with the width that works; MeshFault.
    """
    from manifold3d import Manifold, OpType

    directions, corners = sphere(HALVINGS)
    points = body.points(directions) * width_mm
    whole = Manifold.hull_points(points)
    outer = Manifold.hull_points(points + BEYOND_MM * directions)
    inner = Manifold.hull_points(points - depth_mm * directions)
    placed = placed or numerals(body)
    require_width(placed, width_mm, least_stroke_mm)
    prisms = [_prism(one, width_mm, depth_mm) for one in placed]
    cut = (Manifold.batch_boolean(prisms, OpType.Add) ^ outer) - inner
    die = whole - cut
    mesh = die.to_mesh64()
    found, triangles = settled(mesh.vert_properties[:, :3], mesh.tri_verts.astype(np.int64))
    require(found, triangles, float(die.volume()), f"{name} of {width_mm:g} mm")
    # between the directions of the points the polyhedron is narrowest
    between = directions[corners[:: len(corners) // TRIED]].sum(axis=1)
    along = points @ (between / np.linalg.norm(between, axis=1)[:, None]).T
    chord = float((width_mm - along.max(axis=0) + along.min(axis=0)).max())
    shift = float(np.linalg.norm(centre_of_mass(found, triangles)))
    return SmoothMesh(
        name,
        found,
        triangles,
        float(die.volume()),
        max(chord, 0.0),
        min(one.high for one in placed) * width_mm,
        depth_mm,
        shift,
    )


def require_width(placed: Sequence[Numeral], width_mm: float, least_stroke_mm: float) -> None:
    """Refuses a width at which numerals have thinner strokes than a route can cut, with the width that works."""
    thin = min(fineness(one.rings).stroke * one.high for one in placed)
    if thin * width_mm < least_stroke_mm:
        needs = math.ceil(least_stroke_mm / thin * 10) / 10
        raise UsageError(
            f"width: found {width_mm:g} mm, at which the strokes of the numerals are {thin * width_mm:.2f} mm wide; "
            f"accepted: {needs:g} mm and more, for strokes of {least_stroke_mm:g} mm"
        )


def _prism(one: Numeral, width_mm: float, depth_mm: float) -> Manifold:
    """A numeral as a prism through the surface, in millimetres."""
    from manifold3d import CrossSection, FillRule, Manifold

    size = one.high * width_mm
    rings = [np.array(ring) * size for ring in one.rings]
    area = CrossSection([np.ascontiguousarray(ring) for ring in rings], FillRule.EvenOdd).simplify(FINE_MM)
    # no deeper than needs be: close to a tip the other side is near
    low, high = depth_mm + FALL * size, size
    foot = one.foot * width_mm - low * one.normal
    place = np.column_stack([one.across, one.up, one.normal, foot])
    return Manifold.extrude(area, low + high).transform(place)
