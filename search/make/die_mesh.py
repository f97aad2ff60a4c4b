"""A die as a closed surface of triangles: its rounded body less the recesses of its numerals."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.errors import UsageError
from facewright.search.make.body import Body, rounded
from facewright.search.make.mass import Shift, centre_of_mass
from facewright.search.make.mesh_check import MeshFault, require
from facewright.search.make.numerals_mesh import BEYOND_MM, meeting, require_strokes, room, tools
from facewright.search.make.settling import settled

if TYPE_CHECKING:
    from pathlib import Path

    from facewright.search.artwork.marks import Artwork, Mark
    from manifold3d import Manifold
    from numpy.typing import NDArray

MOCK_UP = "Raised numerals make the die rock where it rests on them: this is a mock-up to look at, not a die to roll."
"""What is said of a die with raised numerals."""


@dataclass(frozen=True, eq=False)
class DieMesh:
    """A die ready for a file: one closed surface, all lengths in millimetres, the body's centre at the origin.

    `points` has shape (n, 3), float32 as the files hold them; `triangles` shape (m, 3), counter-clockwise seen from
    outside; both in an order that depends on the die alone. `volume_mm3` is that of the mesh. `notes` are sentences for
    the maker: what to look at before it is made.
    """

    name: str
    points: NDArray[np.float32]
    triangles: NDArray[np.int64]
    volume_mm3: float
    body: Body
    depth_mm: float
    raised: bool
    shift: Shift
    notes: tuple[str, ...]


def die_mesh(
    artwork: Artwork,
    inradius_mm: float,
    recess_mm: float,
    radius_mm: float,
    *,
    raised: bool = False,
    font: Path | None = None,
    least_stroke_mm: float = 0.0,
    chord_mm: float | None = None,
) -> DieMesh:
    """The surface of a die with its numerals.

    Params:
        artwork: the solid and what stands on it.
        inradius_mm: half the distance across flats.
        recess_mm: how deep the numerals are cut, or how high they stand where they are raised.
        radius_mm: of all edges and corners; 0 leaves them sharp.
        raised: numerals that stand out of the faces, for mock-ups only: a die would rock on them.
        font: a font file; without it the usual one.
        least_stroke_mm: the smallest stroke that the route of making can cut; 0 asks for none.
        chord_mm: how far the flat pieces of a rounding may lie inside it; without it as far as suits the size.
    Raises: TooSmall where strokes are too thin, with the size that works; UsageError for lengths that cannot be;
        MeshFault where the recesses run into one another under the surface.
    """
    if not 0 < recess_mm < inradius_mm:
        raise UsageError(
            f"depth of the numerals: found {recess_mm:g} mm; accepted: more than 0 mm, less than half the distance "
            f"across flats, here {inradius_mm:g} mm"
        )
    body = rounded(artwork.solid, inradius_mm, radius_mm, chord_mm)
    require_strokes(artwork, inradius_mm, least_stroke_mm, font)
    plain = _manifold(body)
    low, high = (-BEYOND_MM, recess_mm) if raised else (-recess_mm, BEYOND_MM)
    numerals = tools(artwork, inradius_mm, low, high, font)
    die = _marked(plain, [body for _, body in numerals], raised)
    mesh = die.to_mesh64()
    points, triangles = settled(mesh.vert_properties[:, :3], mesh.tri_verts.astype(np.int64))
    try:
        require(
            points,
            triangles,
            float(die.volume()),
            f"{artwork.solid.name} of {2 * inradius_mm:g} mm across flats",
        )
    except MeshFault as fault:
        raise _explained(fault, numerals, recess_mm, raised) from fault
    shift = centre_of_mass(points, triangles) - centre_of_mass(body.vertices, body.triangles)
    notes = [MOCK_UP] if raised else []
    allowed = room(artwork, body, font)
    if allowed.beyond:
        notes.append(
            f"The marks of {_few(allowed.beyond)} reach over the edges of their faces: make them smaller."
        )
    if allowed.over:
        most = math.floor(allowed.most_mm * 100) / 100
        notes.append(
            f"The rounding of {radius_mm:g} mm reaches into the marks of {_few(allowed.over)}; up to {most:g} mm it "
            "leaves all of these on the flat."
        )
    return DieMesh(
        artwork.solid.name,
        points,
        triangles,
        float(die.volume()),
        body,
        recess_mm,
        raised,
        Shift(shift, inradius_mm, raised),
        tuple(notes),
    )


def _manifold(body: Body) -> Manifold:
    from manifold3d import Manifold, Mesh64

    return Manifold(
        Mesh64(np.ascontiguousarray(body.vertices), np.ascontiguousarray(body.triangles.astype(np.uint64)))
    )


def _marked(plain: Manifold, numerals: list[Manifold], raised: bool) -> Manifold:
    """The body with its numerals cut out or set on."""
    from manifold3d import Manifold, OpType

    if raised:
        return Manifold.batch_boolean([plain, *numerals], OpType.Add)
    return plain - Manifold.batch_boolean(numerals, OpType.Add)


def _explained(
    fault: MeshFault, numerals: list[tuple[Mark, Manifold]], depth_mm: float, raised: bool
) -> MeshFault:
    """A fault of the mesh with what led to it, where that is known: numerals that meet."""
    pairs = meeting(numerals)
    if not pairs:
        return fault
    named = _few(tuple(f"{_where(one)} and {_where(two)}" for one, two in pairs), 4)
    return MeshFault(
        f"numerals {depth_mm:g} mm {'high' if raised else 'deep'} run into one another"
        f"{'' if raised else ' under the surface'}: {named}; accepted: shallower or smaller numerals, or a larger die "
        f"({fault})"
    )


def _where(mark: Mark) -> str:
    """A mark by its site, and where that is no face, by the face into which this copy is cut."""
    return mark.site if mark.site[0] == "f" else f"{mark.site} on f{mark.face + 1}"


def _few(names: tuple[str, ...], most: int = 6) -> str:
    return ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")
