"""STEP of smooth bodies: the file against the body; without the extra what is said; a wrong file is refused."""

from __future__ import annotations

from fractions import Fraction
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.solids.smooth.body import SmoothBody
from facewright.search.make import smooth_step, step
from facewright.search.make.mesh_check import MeshFault

BODIES = {
    "cubic": SmoothBody("tetrahedral", 3, (Fraction(1, 20),)),
    "five": SmoothBody("five-sided", 9, (Fraction(1, 500), Fraction(1, 9000))),
}
needs_cad = pytest.mark.skipif(
    find_spec(step.CAD) is None, reason="no build123d: STEP files are not tested; pip install -e '.[cad]'"
)


def test_without_the_extra_it_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(step, "find_spec", lambda name: None)
    with pytest.raises(UsageError, match=r"needs the extra \[cad\]"):
        smooth_step.write_smooth_step(BODIES["cubic"], 20.0, tmp_path / "die.step", "x")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", BODIES)
def test_the_six_squares_meet_on_the_body(name: str) -> None:
    body = BODIES[name]
    squares = smooth_step._squares(body, 9)
    edges = [edge for points in squares for edge in (points[0], points[-1], points[:, 0], points[:, -1])]
    for at, edge in enumerate(edges):
        partners = [
            np.abs(other - edge).max() < 1e-12 or np.abs(other[::-1] - edge).max() < 1e-12
            for place, other in enumerate(edges)
            if place != at
        ]
        assert sum(partners) == 1, "each edge of a square is that of one other"
    for points in squares:
        flat = points.reshape(-1, 3)
        # no point is farther out than a tangent plane allows
        towards = flat / np.linalg.norm(flat, axis=1)[:, None]
        assert (np.linalg.norm(flat, axis=1) <= body.support(towards) + 1e-12).all()


@needs_cad
@pytest.mark.parametrize("name", BODIES)
def test_the_file_holds_the_body(name: str, tmp_path: Path) -> None:
    path = tmp_path / "die.step"
    off = smooth_step.write_smooth_step(BODIES[name], 20.0, path, "Ferry")
    assert off <= 2e-4
    text = path.read_text()
    assert text.startswith("ISO-10303-21;")
    assert "Ferry" in text
    assert text.count("B_SPLINE_SURFACE") >= 6
    # across any direction it is as wide as the body
    solid = step.read_back(path)
    for axis in ("X", "Y", "Z"):
        assert getattr(solid.bounding_box().size, axis) == pytest.approx(20.0, abs=1e-2)


@needs_cad
def test_a_surface_that_is_off_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    squares = smooth_step._squares
    monkeypatch.setattr(
        smooth_step, "_squares", lambda body, many: [1.01 * one for one in squares(body, many)]
    )
    with pytest.raises(MeshFault, match="volume"):
        smooth_step.write_smooth_step(BODIES["cubic"], 20.0, tmp_path / "die.step", "x")
