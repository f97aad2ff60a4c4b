"""STEP: the surface of a smooth body as six spline surfaces sewn to one solid, for those who make moulds.

The directions of the sphere are those of the six sides of a cube, each side a square of points that lie on the body.
Numerals are left out: the mesh and the drawing have them. It needs build123d, of the extra `[cad]`; every file is read
back and judged: one solid without faults, its volume, and at many places how far its tangent planes are from those of
the body.
"""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING, Any

import numpy as np
from facewright.constraints.errors import UsageError
from facewright.constraints.solids.smooth.measures import volume_over_pi
from facewright.search.make.mesh_check import MeshFault
from facewright.search.make.step import NO_CAD, cad_available, export_solid, read_back

if TYPE_CHECKING:
    from pathlib import Path

    from facewright.constraints.solids.smooth.body import SmoothBody
    from numpy.typing import NDArray

POINTS = 65
"""So many points along a side of a square at least."""

A_DEGREE = 4
"""So many for each degree, and one more, where that is more."""

FIT_MM = 1e-5
"""The spline surfaces come so near to the points."""

SEW_MM = 1e-3
"""Edges that are nearer to each other than this become one."""

TRUE = 1e-5
"""As shares of the width: so near must the tangent planes of the file be to those of the body."""

VOLUME = 2e-4
"""Relative: so near must the volume be; of spline surfaces the modeller reckons it to some parts in ten thousand."""

PLACES = 8
"""At so many by so many places of each surface that is looked at."""


def write_smooth_step(body: SmoothBody, width_mm: float, path: Path, title: str) -> float:
    """Writes a smooth body as a STEP file, reads it back and judges it.

    Params:
        body: of width 1.
        width_mm: its width.
        path: of the file; its folder is made where there is none.
        title: names the body.
    Returns: how far a tangent plane of the file is from that of the body at most, in millimetres, as far as was looked.
    Raises: UsageError without the extra; RunError where the file cannot be written; MeshFault where it does not hold
        one solid that is near enough to the body.
    """
    if not cad_available():
        raise UsageError(f"{path}: {NO_CAD}")
    import build123d as cad
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Sewing

    many = max(POINTS, A_DEGREE * body.degree + 1)
    sewing = BRepBuilderAPI_Sewing(SEW_MM)
    for points in _squares(body, many):
        rows = [[tuple(map(float, point)) for point in row] for row in points * width_mm]
        surface = cad.Face.make_surface_from_array_of_points(rows, tol=FIT_MM, min_deg=3, max_deg=5)
        sewing.Add(surface.wrapped)
    sewing.Perform()
    shell = cad.Shape.cast(sewing.SewedShape())
    if not isinstance(shell, cad.Shell):
        raise MeshFault(
            f"{path}: the six surfaces do not close; please report it; the other files do not depend on it"
        )
    export_solid(cad.Solid(shell), path, title)
    solid = read_back(path)
    expected = float(volume_over_pi(body)) * pi * width_mm**3
    if not abs(float(solid.volume) - expected) <= VOLUME * expected:
        raise MeshFault(f"{path}: found a volume of {solid.volume:.3f} mm³, expected {expected:.3f} mm³")
    off = _off(body, width_mm, solid)
    if not off <= TRUE * width_mm:
        raise MeshFault(
            f"{path}: found a surface {off:.6f} mm off; expected {TRUE * width_mm:.6f} mm at most"
        )
    return off


def _squares(body: SmoothBody, many: int) -> list[NDArray[np.float64]]:
    """The points of the six squares, each of shape (many, many, 3), on the body of width 1."""
    steps = np.tan(np.linspace(-1, 1, many) * pi / 4)
    one, other = np.meshgrid(steps, steps, indexing="ij")
    found = []
    for axis in range(3):
        for side in (1.0, -1.0):
            towards = np.zeros((many, many, 3))
            towards[..., axis] = side
            towards[..., (axis + 1) % 3] = one
            towards[..., (axis + 2) % 3] = other * side
            towards /= np.linalg.norm(towards, axis=2)[..., None]
            found.append(body.points(towards.reshape(-1, 3)).reshape(many, many, 3))
    return found


def _off(body: SmoothBody, width_mm: float, solid: Any) -> float:
    """How far tangent planes of a solid are from those of a body with the same normals, at most."""
    planes = []
    for face in solid.faces():
        for u in np.linspace(0.05, 0.95, PLACES):
            for v in np.linspace(0.05, 0.95, PLACES):
                place = face.position_at(float(u), float(v))
                planes.append((tuple(face.normal_at(place)), tuple(place)))
    normals, places = (np.array(column) for column in zip(*planes, strict=True))
    outwards = np.sign((normals * places).sum(axis=1))[:, None] * normals
    outwards /= np.linalg.norm(outwards, axis=1)[:, None]
    distances = (outwards * places).sum(axis=1)
    return float(np.abs(distances - width_mm * body.support(outwards)).max())
