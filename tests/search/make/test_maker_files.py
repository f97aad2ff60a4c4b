"""STL and 3MF: read back by another library, the same bytes each time, damage noticed, refusals worded."""

from __future__ import annotations

import struct
import zipfile
from pathlib import Path

import numpy as np
import pytest
import trimesh
from facewright.constraints.errors import RunError
from facewright.constraints.solids import solid
from facewright.search.artwork.placing import numbered
from facewright.search.make.die_mesh import DieMesh, die_mesh
from facewright.search.make.mesh_check import MeshFault, require
from facewright.search.make.stl import TRIANGLE, read_stl, write_stl
from facewright.search.make.threemf import MODEL, read_3mf, write_3mf

SOME = (
    "coin",
    "3-sided log",
    "cube",
    "pentagonal trapezohedron",
    "icosahedron",
    "pentagonal hexecontahedron",
)


@pytest.fixture(scope="module")
def cube() -> DieMesh:
    """A cube of 16 mm, numbered."""
    return die_mesh(numbered(solid("cube")), 8, 0.5, 0.5)


def read_by_another(path: Path) -> trimesh.Trimesh:
    """A file as a library that shares no code with ours reads it."""
    found = trimesh.load(path, force="mesh")
    assert isinstance(found, trimesh.Trimesh)
    return found


@pytest.mark.parametrize("kind", ["stl", "3mf"])
@pytest.mark.parametrize("name", SOME)
def test_files_are_closed_bodies_when_another_library_reads_them(
    name: str, kind: str, tmp_path: Path
) -> None:
    die = die_mesh(numbered(solid(name)), 2 if name == "coin" else 9, 0.4, 0.3)
    path = tmp_path / f"die.{kind}"
    finding = (write_stl if kind == "stl" else write_3mf)(die, path)
    found = read_by_another(path)
    assert found.is_watertight
    assert found.is_winding_consistent
    assert found.euler_number == 2
    assert found.body_count == 1
    assert found.volume == pytest.approx(die.volume_mm3, rel=1e-5)
    assert (finding.closed, finding.one_way, finding.pieces, finding.genus) == (True, True, 1, 0)
    assert len(found.faces) == len(die.triangles)


def test_units_are_millimetres(cube: DieMesh, tmp_path: Path) -> None:
    write_3mf(cube, tmp_path / "die.3mf")
    write_stl(cube, tmp_path / "die.stl")
    # half the distance across flats is 8 mm, the recesses lie inside
    for path in (tmp_path / "die.3mf", tmp_path / "die.stl"):
        assert read_by_another(path).extents == pytest.approx([16, 16, 16], abs=1e-4)
    assert trimesh.load_scene(tmp_path / "die.3mf").units in ("millimeter", "millimeters", "mm")


@pytest.mark.parametrize("kind", ["stl", "3mf"])
def test_the_same_die_gives_the_same_bytes(kind: str, cube: DieMesh, tmp_path: Path) -> None:
    write = write_stl if kind == "stl" else write_3mf
    again = die_mesh(numbered(solid("cube")), 8, 0.5, 0.5)
    for folder, die in (("one", cube), ("other", again)):
        write(die, tmp_path / folder / f"die.{kind}", "Harbour dues, die 1")
    one, other = ((tmp_path / folder / f"die.{kind}").read_bytes() for folder in ("one", "other"))
    assert one == other
    assert [path.name for path in (tmp_path / "one").iterdir()] == [f"die.{kind}"]


def test_titles_stand_in_the_files(cube: DieMesh, tmp_path: Path) -> None:
    title = "Wächter & <Söhne>"
    write_stl(cube, tmp_path / "die.stl", title)
    write_3mf(cube, tmp_path / "die.3mf", title)
    head = (tmp_path / "die.stl").read_bytes()[:80]
    assert head.startswith(b"facewright, mm: W?chter & <S?hne>")
    with zipfile.ZipFile(tmp_path / "die.3mf") as archive:
        model = archive.read(MODEL).decode()
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert '<metadata name="Title">Wächter &amp; &lt;Söhne&gt;</metadata>' in model
    assert 'unit="millimeter"' in model
    write_3mf(cube, tmp_path / "die.3mf")
    with zipfile.ZipFile(tmp_path / "die.3mf") as archive:
        assert '<metadata name="Title">cube</metadata>' in archive.read(MODEL).decode()


def test_our_readers_agree_with_the_mesh(cube: DieMesh, tmp_path: Path) -> None:
    write_stl(cube, tmp_path / "die.stl")
    write_3mf(cube, tmp_path / "die.3mf")
    for points, triangles in (read_stl(tmp_path / "die.stl"), read_3mf(tmp_path / "die.3mf")):
        assert (points == cube.points).all()
        assert (triangles == cube.triangles).all()


def test_normals_of_the_stl_point_outwards(cube: DieMesh, tmp_path: Path) -> None:
    write_stl(cube, tmp_path / "die.stl")
    records = np.frombuffer((tmp_path / "die.stl").read_bytes()[84:], dtype=TRIANGLE)
    assert np.linalg.norm(records["normal"], axis=1) == pytest.approx(np.ones(len(records)), abs=1e-6)
    outermost = np.abs(records["corners"]).max(axis=2).min(axis=1) > 7.9999
    middles = records["corners"].mean(axis=1)
    assert outermost.any()
    assert (np.einsum("ti,ti->t", middles, records["normal"])[outermost] > 0).all()


def test_a_cut_off_stl_is_noticed(cube: DieMesh, tmp_path: Path) -> None:
    path = tmp_path / "die.stl"
    write_stl(cube, path)
    path.write_bytes(path.read_bytes()[:-50])
    with pytest.raises(MeshFault, match="a binary STL of"):
        read_stl(path)
    path.write_bytes(b"solid")
    with pytest.raises(MeshFault, match="found 5 bytes"):
        read_stl(path)


def test_a_stl_without_one_triangle_is_noticed(cube: DieMesh, tmp_path: Path) -> None:
    path = tmp_path / "die.stl"
    write_stl(cube, path)
    content = path.read_bytes()
    many = len(cube.triangles) - 1
    path.write_bytes(content[:80] + struct.pack("<I", many) + content[84:-50])
    points, triangles = read_stl(path)
    with pytest.raises(MeshFault, match="gaps"):
        require(points, triangles, cube.volume_mm3, "die.stl")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('unit="millimeter"', 'unit="inch"', "found unit 'inch'"),
        ("</model>", "", "not a 3MF package"),
        ('x="', 'u="', "not a 3MF package"),
        ("<mesh>", "<mash>", "not a 3MF package"),
    ],
)
def test_a_damaged_3mf_is_noticed(old: str, new: str, said: str, cube: DieMesh, tmp_path: Path) -> None:
    path = tmp_path / "die.3mf"
    write_3mf(cube, path)
    with zipfile.ZipFile(path) as archive:
        model = archive.read(MODEL).decode()
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr(MODEL, model.replace(old, new, 1))
    with pytest.raises(MeshFault, match=said):
        read_3mf(path)


def test_what_is_no_package_is_no_3mf(tmp_path: Path) -> None:
    (tmp_path / "die.3mf").write_text("no package")
    with pytest.raises(MeshFault, match="not a 3MF package"):
        read_3mf(tmp_path / "die.3mf")


@pytest.mark.parametrize("write", [write_stl, write_3mf])
def test_a_place_that_cannot_be_written_is_named(write: object, cube: DieMesh, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(RunError, match="cannot be written"):
        write(cube, tmp_path / "file" / "die")  # type: ignore[operator]
    with pytest.raises(RunError, match="cannot be read"):
        read_stl(tmp_path / "none.stl")


def test_a_mesh_with_a_gap_is_not_written_as_if_it_were_whole(cube: DieMesh, tmp_path: Path) -> None:
    from dataclasses import replace

    holed = replace(cube, triangles=cube.triangles[1:])
    for write, name in ((write_stl, "die.stl"), (write_3mf, "die.3mf")):
        with pytest.raises(MeshFault, match=f"{name}: not the closed body"):
            write(holed, tmp_path / name)
