"""The plain way to a mesh and ours give the same die, so that the benchmark compares like with like."""

from __future__ import annotations

from pathlib import Path

import pytest
from facewright.constraints.solids import solid
from facewright.search.artwork.placing import numbered
from facewright.search.make.die_mesh import die_mesh

from tests.bench import plain_mesh


@pytest.mark.parametrize(("name", "inradius"), [("cube", 8.0), ("octahedron", 9.0)])
def test_the_plain_die_has_the_same_volume(name: str, inradius: float, tmp_path: Path) -> None:
    volume, _ = plain_mesh.run(name, inradius, 0.5, 0.5, 3, tmp_path)
    assert die_mesh(numbered(solid(name)), inradius, 0.5, 0.5).volume_mm3 == pytest.approx(volume, rel=1e-3)
