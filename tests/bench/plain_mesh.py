"""FROZEN: a die made the plain way, the yardstick of the benchmarks; it stays as it is.

The body is the convex hull of a ball of so many points at each corner of the shrunken solid. Each numeral becomes a
shapely polygon, is extruded, put in its place and taken off the die with trimesh, one after another; trimesh writes
both files. It uses nothing of the maker's part; of the program only the solid, its faces' frames and the outlines of
its marks.
"""

from __future__ import annotations

import time
from pathlib import Path

import numpy as np
import trimesh
from facewright.constraints.solids import solid
from facewright.constraints.solids.frames import face_frame
from facewright.search.artwork.badges import placed
from facewright.search.artwork.placing import numbered
from shapely.geometry import MultiPolygon, Polygon

BEYOND = 0.3


def body_of(name: str, inradius: float, radius: float, subdivisions: int) -> trimesh.Trimesh:
    """The rounded body of an isohedral solid, all of whose faces lie equally far out."""
    ball = trimesh.creation.icosphere(subdivisions=subdivisions, radius=radius).vertices
    corners = solid(name).vertices * (inradius - radius)
    return trimesh.Trimesh((corners[:, None] + ball[None]).reshape(-1, 3)).convex_hull


def run(
    name: str, inradius: float, depth: float, radius: float, subdivisions: int, folder: Path
) -> tuple[float, float]:
    """The volume of the die, and the seconds from its marks to both files."""
    artwork = numbered(solid(name))
    rings = [placed(mark) for mark in artwork.marks]
    started = time.perf_counter()
    die = body_of(name, inradius, radius, subdivisions)
    for mark, outline in zip(artwork.marks, rings, strict=True):
        area = Polygon()
        for ring in outline:
            area = area.symmetric_difference(Polygon(np.array(ring) * inradius))
        frame = face_frame(artwork.solid, mark.face)
        place = np.eye(4)
        place[:3, 0], place[:3, 1], place[:3, 2] = frame.across, frame.up, frame.normal
        place[:3, 3] = frame.origin * inradius - depth * frame.normal
        for piece in area.geoms if isinstance(area, MultiPolygon) else (area,):
            tool = trimesh.creation.extrude_polygon(piece, depth + BEYOND, engine="manifold")
            die = die.difference(tool.apply_transform(place))
    die.export(folder / "die.stl")
    die.export(folder / "die.3mf")
    for path in (folder / "die.stl", folder / "die.3mf"):
        assert trimesh.load(path, force="mesh").is_watertight
    return float(die.volume), time.perf_counter() - started
