"""STEP: the exact solid against the mesh and Steiner's formula; without the extra, what is said."""

from __future__ import annotations

import json
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest
import trimesh
from facewright.constraints.errors import UsageError
from facewright.constraints.solids import solid
from facewright.constraints.solids.frames import face_frame
from facewright.search.artwork.placing import artwork_of_layout, numbered
from facewright.search.cli.command import status_of
from facewright.search.make import step
from facewright.search.make.die_mesh import die_mesh
from facewright.search.make.numerals_mesh import flat_marks
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


@needs_cad
@pytest.mark.parametrize(
    ("name", "labels"), [("cube", 6), ("icosahedron", 20), ("pentagonal trapezohedron", 10)]
)
def test_the_whole_command_writes_a_solid_with_its_numerals(
    name: str,
    labels: int,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """One solid of the mesh's volume; under each face a floor as large as its label, as deep as the recess."""
    import build123d as cad

    monkeypatch.chdir(tmp_path)
    text = f'title = "Berths"\nsolid = "{name}"\nplace = "1..{labels}"\nlayout = ["opposite-sums"]\nsize_mm = 20\n'
    Path("brief.toml").write_text(text, encoding="utf-8")
    assert status_of(["find", "brief.toml", "--json", "--quiet", "--out", "run"]) == 0
    [design] = json.loads(capsys.readouterr().out)["designs"]
    assert status_of(["make", "run", design["id"], "--json", "--quiet", "--out", "files"]) == 0
    [entry] = json.loads(capsys.readouterr().out)["made"]
    assert "die.step" in entry["files"]
    folder = Path(entry["folder"])
    [found] = cad.import_step(folder / "die.step").solids()
    assert found.is_valid
    # the meshes cut the roundings into flat pieces
    assert found.volume == pytest.approx(trimesh.load(folder / "die.stl").volume, rel=2e-4)
    body, depth = solid(name), 0.5
    floors = np.zeros(len(body.faces))
    normals = np.array([face_frame(body, face).normal for face in range(len(body.faces))])
    for face in found.faces():
        if face.geom_type == cad.GeomType.PLANE:
            at = np.array(tuple(face.center()))
            [owner] = np.flatnonzero(normals @ np.array(tuple(face.normal_at())) > 1 - 1e-9).tolist() or [-1]
            if owner >= 0 and abs(normals[owner] @ at - (10 - depth)) < 1e-6:
                floors[owner] += face.area
    artwork = artwork_of_layout(body, design["faces"])
    wanted = np.zeros(len(body.faces))
    for mark, area in flat_marks(artwork, 10):
        wanted[mark.face] += area.area()
    assert wanted.min() > 1
    assert floors == pytest.approx(wanted, rel=1e-6)
