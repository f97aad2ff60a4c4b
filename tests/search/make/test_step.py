"""STEP: the exact solid against the mesh and Steiner's formula; without the extra, what is said."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.solids import solid
from facewright.search.artwork.placing import numbered
from facewright.search.make import step
from facewright.search.make.die_mesh import die_mesh
from facewright.search.stop import Stopped

needs_cad = pytest.mark.skipif(
    find_spec(step.CAD) is None, reason="no build123d: STEP files are not tested; pip install -e '.[cad]'"
)


def test_without_the_extra_it_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(step, "find_spec", lambda name: None)
    artwork = numbered(solid("cube"))
    assert not step.cad_available()
    with pytest.raises(UsageError, match=r"needs the extra \[cad\]"):
        step.write_step(die_mesh(artwork, 8, 0.5, 0.5), artwork, tmp_path / "die.step")
    assert list(tmp_path.iterdir()) == []


@needs_cad
@pytest.mark.parametrize(
    ("name", "radius", "raised"),
    [
        ("cube", 0.5, False),
        ("cube", 0, False),
        ("tetrahedron", 0.5, True),
        ("5-sided log", 0.3, False),
        ("pentagonal trapezohedron", 0.5, False),
    ],
)
def test_the_solid_in_the_file_has_the_volume_of_the_die(
    name: str, radius: float, raised: bool, tmp_path: Path
) -> None:
    artwork = numbered(solid(name))
    die = die_mesh(artwork, 9, 0.4, radius, raised=raised)
    path = tmp_path / "die.step"
    volume = step.write_step(die, artwork, path, "Harbour dues, die 1")
    expected = die.body.volume_mm3 + die.volume_mm3 - die.body.mesh_volume_mm3
    assert volume == pytest.approx(expected, rel=1e-6)
    text = path.read_text()
    assert text.startswith("ISO-10303-21;")
    assert "Harbour dues, die 1" in text
    assert ".MILLI.,.METRE." in text
    assert (text.count("CYLINDRICAL_SURFACE(") > 0) == (text.count("SPHERICAL_SURFACE(") > 0) == (radius > 0)


@needs_cad
def test_the_file_tells_nothing_of_when_and_where_it_was_made(tmp_path: Path) -> None:
    artwork = numbered(solid("cube"))
    step.write_step(die_mesh(artwork, 8, 0.5, 0.5), artwork, tmp_path / "die.step")
    head = (tmp_path / "die.step").read_text().partition("DATA;")[0]
    assert step.NO_DATE in head
    assert str(tmp_path) not in head
    assert [path.name for path in tmp_path.iterdir()] == ["die.step"]


@needs_cad
def test_it_can_be_stopped_and_says_how_far_it_is(tmp_path: Path) -> None:
    artwork = numbered(solid("cube"))
    die = die_mesh(artwork, 8, 0.5, 0.5)
    told: list[tuple[str, int, int | None]] = []
    with pytest.raises(Stopped, match="enough"):
        step.write_step(die, artwork, tmp_path / "die.step", stop=lambda: "enough")
    step.write_step(die, artwork, tmp_path / "die.step", report=lambda *said: told.append(said))
    assert told == [("cutting numerals for die.step", 0, 6)]
