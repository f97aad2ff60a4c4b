"""STEP: a die as an exact solid, planes, cylinders and spheres, for those who make moulds and other tools.

It needs build123d, which comes with the extra `[cad]` and is large (about 1 GB with what it brings); nothing else of
facewright does. The outlines of numerals are polygons, within `fineness_mm`; all else is exact. Every file is read back
and judged before it counts as written.
"""

from __future__ import annotations

from importlib.util import find_spec
from typing import TYPE_CHECKING, Any

import numpy as np
from facewright.constraints.errors import UsageError
from facewright.constraints.solids.frames import face_frame
from facewright.search.make.files import read_whole, write_whole
from facewright.search.make.mesh_check import MeshFault
from facewright.search.make.numerals_mesh import BEYOND_MM, flat_marks
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, Stopped, never

if TYPE_CHECKING:
    from pathlib import Path

    from facewright.search.artwork.marks import Artwork
    from facewright.search.make.body import Body
    from facewright.search.make.die_mesh import DieMesh
    from numpy.typing import NDArray

CAD = "build123d"
"""The package that the extra brings."""

NO_CAD = "die.step needs the extra [cad] (build123d, about 1 GB): pip install 'facewright[cad]'; other files do without"
"""What is said where the extra is missing."""

AT_ONCE = 40
"""So many pieces of numerals are cut in one go; in between it can be stopped."""

VOLUME = 1e-6
"""Relative: the volume in a file may differ so much from that of the solid that was written."""

ALIKE = 1e-4
"""Relative: the volume of the solid may differ so much from what body and mesh lead to expect.

They agree to rounding where every numeral stands on the flat; a numeral over a rounding is cut out of the true surface
here, out of flat pieces there."""

NO_DATE = "1980-01-01T00:00:00"
"""Stands in the heading, which tells nothing of the day. The order in the file is the modeller's, not always the
same."""


def cad_available() -> bool:
    """Whether the extra is installed."""
    return find_spec(CAD) is not None


def write_step(
    die: DieMesh,
    artwork: Artwork,
    path: Path,
    title: str = "",
    *,
    font: Path | None = None,
    stop: Stop = never,
    report: Progress = silent,
) -> float:
    """Writes a die as a STEP file, reads it back and judges it.

    Params:
        die: the mesh of the same die, made before: it gives the sizes and has passed all checks.
        artwork: the marks from which the mesh was made.
        path: of the file; its folder is made where there is none.
        title: names the die; without it, its solid does.
        font: the font of the mesh.
        stop: asked from time to time; a die with a hundred numerals takes half a minute.
        report: told how many pieces of numerals are cut.
    Returns: the volume that the file holds, in mm³.
    Raises: UsageError without the extra; Stopped; RunError where the file cannot be written; MeshFault where it does
        not hold one solid of that volume.
    """
    if not cad_available():
        raise UsageError(f"{path}: {NO_CAD}")
    solid = _cut(_rounded(die.body), _numerals(die, artwork, font), die.raised, stop, report)
    expected = die.body.volume_mm3 + die.volume_mm3 - die.body.mesh_volume_mm3
    if not abs(solid.volume - expected) <= ALIKE * expected:
        raise MeshFault(
            f"{path}: the solid has a volume of {solid.volume:.3f} mm³, expected {expected:.3f} mm³; "
            "please report it; the other files do not depend on it"
        )
    export_solid(solid, path, title or die.name)
    return _judged(path, float(solid.volume))


def _rounded(body: Body) -> Any:
    """The body without numerals: a ball rolled about the shrunken solid."""
    import build123d as cad

    faces = [cad.Face(_wire(body.core[list(face)])) for face in body.solid.faces]
    core = cad.Solid(cad.Shell(faces))
    return cad.offset(core, body.radius_mm, kind=cad.Kind.ARC).solid() if body.radius_mm else core


def _numerals(die: DieMesh, artwork: Artwork, font: Path | None) -> list[Any]:
    """The numerals as solids, a piece each."""
    import build123d as cad

    low, high = (-BEYOND_MM, die.depth_mm) if die.raised else (-die.depth_mm, BEYOND_MM)
    made = []
    for mark, area in flat_marks(artwork, die.body.inradius_mm, font):
        frame, size = face_frame(artwork.solid, mark.face), die.body.inradius_mm
        for piece in area.decompose():
            # of the rings of one piece the outer one runs counter-clockwise, those about holes clockwise
            rings = sorted(piece.to_polygons(), key=_area, reverse=True)
            outer, *holes = (_wire(frame.in_space(ring / size, low / size) * size) for ring in rings)
            along = cad.Vector(*((high - low) * frame.normal).tolist())
            made.append(cad.Solid.extrude(cad.Face(outer, holes), along))
    return made


def _cut(body: Any, numerals: list[Any], raised: bool, stop: Stop, report: Progress) -> Any:
    """The body with its numerals cut out or set on, some at a time."""
    for begin in range(0, len(numerals), AT_ONCE):
        reason = stop()
        if reason is not None:
            raise Stopped(reason)
        report("cutting numerals for die.step", begin, len(numerals))
        some = numerals[begin : begin + AT_ONCE]
        joined = body.fuse(*some) if raised else body.cut(*some)
        [body] = joined.solids() if hasattr(joined, "solids") else joined
    return body


def export_solid(solid: Any, path: Path, title: str) -> None:
    """Writes a solid under a name; raises RunError where that cannot be."""
    from io import BytesIO

    import build123d as cad

    solid.label = title
    content = BytesIO()
    cad.export_step(solid, content, unit=cad.Unit.MM, write_pcurves=False, timestamp=NO_DATE)
    write_whole(path, content.getvalue())


def read_back(path: Path) -> Any:
    """The one solid of a file; raises MeshFault where there is none, or one with faults."""
    import build123d as cad

    read_whole(path)
    found = cad.import_step(path).solids()
    if len(found) != 1 or not found[0].is_valid:
        raise MeshFault(f"{path}: found {len(found)} solids, or one with faults; expected one without")
    return found[0]


def _judged(path: Path, volume_mm3: float) -> float:
    volume = float(read_back(path).volume)
    if not abs(volume - volume_mm3) <= VOLUME * volume_mm3:
        raise MeshFault(f"{path}: found a volume of {volume:.3f} mm³, expected {volume_mm3:.3f} mm³")
    return volume


def _wire(corners: NDArray[np.float64]) -> Any:
    import build123d as cad

    return cad.Wire.make_polygon([tuple(corner) for corner in corners.tolist()], close=True)


def _area(ring: NDArray[np.float64]) -> float:
    x, y = ring[:, 0], ring[:, 1]
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
