"""A numbered die of any solid taken through its files, for the tests that go through many solids."""

from __future__ import annotations

import time
from pathlib import Path

import trimesh
from facewright.constraints.solids import solid
from facewright.search.artwork.placing import numbered
from facewright.search.make.die_mesh import DieMesh, die_mesh
from facewright.search.make.numerals_mesh import TooSmall
from facewright.search.make.stl import write_stl
from facewright.search.make.threemf import write_3mf

LEAST_STROKE_MM = 0.5
INRADIUS_MM = 8.0


def made(name: str, folder: Path) -> tuple[DieMesh, bool, float]:
    """Makes a die of 16 mm, or of the size that its refusal names, and checks both files with another library.

    Returns: the die, whether 16 mm were refused, and the processor's seconds for our mesh and files.
    """
    artwork = numbered(solid(name))
    refused = False
    started = time.process_time()
    try:
        die = die_mesh(artwork, INRADIUS_MM, 0.5, 0.4, least_stroke_mm=LEAST_STROKE_MM)
    except TooSmall as small:
        refused = True
        assert small.needs_inradius_mm > INRADIUS_MM
        started = time.process_time()
        die = die_mesh(artwork, small.needs_inradius_mm, 0.5, 0.4, least_stroke_mm=LEAST_STROKE_MM)
    write_stl(die, folder / "die.stl")
    write_3mf(die, folder / "die.3mf")
    seconds = time.process_time() - started
    for path in (folder / "die.stl", folder / "die.3mf"):
        found = trimesh.load(path, force="mesh")
        assert found.is_watertight, path
        assert found.is_winding_consistent, path
        assert (found.euler_number, found.body_count) == (2, 1), path
        assert abs(found.volume - die.volume_mm3) < 1e-5 * die.volume_mm3, path
    assert 0 < die.volume_mm3 < die.body.mesh_volume_mm3 < die.body.volume_mm3
    return die, refused, seconds
