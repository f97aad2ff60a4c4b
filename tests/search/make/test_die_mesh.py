"""A die with its numerals as a mesh: what is cut away, what is said, what is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.moulding import moulding
from facewright.constraints.solids import solid
from facewright.constraints.solids.frames import face_frame
from facewright.search.artwork.badges import placed, shape_of
from facewright.search.artwork.lettering import PIP, pips
from facewright.search.artwork.marks import Artwork, Mark
from facewright.search.artwork.placing import artwork_of, artwork_of_layout, numbered
from facewright.search.artwork.strokes import fineness
from facewright.search.make.body import usual_radius_mm
from facewright.search.make.die_mesh import MOCK_UP, die_mesh
from facewright.search.make.mass import centre_of_mass
from facewright.search.make.mesh_check import MeshFault, look
from facewright.search.make.numerals_mesh import TooSmall, flat_radius_mm
from shapely.geometry import Polygon

SOME = ("coin", "5-sided log", "tetrahedron", "cube", "pentagonal trapezohedron", "icosahedron")


def areas(artwork: Artwork, inradius_mm: float) -> list[tuple[Mark, Polygon]]:
    """Each mark with its area in the frame of its face, in square millimetres, by another library."""
    found = []
    for mark in artwork.marks:
        whole = Polygon()
        for ring in placed(mark):
            whole = whole.symmetric_difference(Polygon([(x * inradius_mm, y * inradius_mm) for x, y in ring]))
        found.append((mark, whole))
    return found


@pytest.mark.parametrize("name", SOME)
@pytest.mark.parametrize("raised", [False, True])
def test_numerals_take_or_add_their_area_times_their_depth(name: str, raised: bool) -> None:
    artwork, inradius = numbered(solid(name)), 2.0 if name == "coin" else 9.0
    die = die_mesh(artwork, inradius, 0.5, 0.4, raised=raised)
    inked = sum(area.area for _, area in areas(artwork, inradius))
    found = look(die.points, die.triangles)
    assert (found.closed, found.one_way, found.pieces, found.genus) == (True, True, 1, 0)
    # corners of outlines move by up to 0.005 mm where that saves some
    change = (die.volume_mm3 - die.body.mesh_volume_mm3) * (1 if raised else -1)
    assert change == pytest.approx(0.5 * inked, rel=5e-3)
    assert found.volume_mm3 == pytest.approx(die.volume_mm3, rel=1e-6)


@pytest.mark.parametrize("name", SOME)
def test_recesses_have_flat_floors_under_their_faces(name: str) -> None:
    artwork, inradius = numbered(solid(name)), 2.0 if name == "coin" else 9.0
    die = die_mesh(artwork, inradius, 0.5, 0.4)
    for mark, area in areas(artwork, inradius):
        frame = face_frame(artwork.solid, mark.face)
        height = die.points @ frame.normal - inradius * float(frame.origin @ frame.normal)
        flat = frame.in_face(die.points / inradius) * inradius
        floor = np.abs(height + 0.5) < 1e-4
        left, low, right, high = area.bounds
        inside = floor & (flat[:, 0] > left - 0.1) & (flat[:, 0] < right + 0.1)
        inside &= (flat[:, 1] > low - 0.1) & (flat[:, 1] < high + 0.1)
        assert flat[inside].min(axis=0) == pytest.approx((left, low), abs=0.01)
        assert flat[inside].max(axis=0) == pytest.approx((right, high), abs=0.01)


def test_a_numeral_reads_the_right_way_round_from_outside() -> None:
    # the flag of a 1 is on its left: more of its floor lies left of its stem than right
    cube = solid("cube")
    artwork = Artwork(cube, (Mark("f1", 0, "1", (0.0, 0.0), 1.2),))
    die = die_mesh(artwork, 8, 0.5, 0)
    frame = face_frame(cube, 0)
    corners = die.points[die.triangles]
    floor = np.abs(corners @ frame.normal - 7.5).max(axis=1) < 1e-4
    flat = (corners[floor] - frame.origin * 8) @ np.stack([frame.across, frame.up], axis=1)
    assert flat[:, :, 1].max() > 4
    top = flat[flat[:, :, 1].mean(axis=1) > 2]
    assert top[:, :, 0].min() < -1.5
    assert top[:, :, 0].max() < 1.5


def test_the_same_die_is_the_same_mesh() -> None:
    artwork = numbered(solid("icosahedron"))
    one, other = (die_mesh(artwork, 9, 0.5, 0.4) for _ in range(2))
    assert one.points.tobytes() == other.points.tobytes()
    assert one.triangles.tobytes() == other.triangles.tobytes()


def test_readouts_are_cut_with_their_badges() -> None:
    body = solid("cube")
    faces = {f"f{i + 1}": i % 2 + 1 for i in range(6)}
    corners = {f"v{i + 1}": i % 2 + 3 for i in range(8)}
    whole = artwork_of(body, [faces, corners], several=True)
    artwork = Artwork(body, tuple(replace(mark, height=mark.height * 0.6) for mark in whole.marks))
    die = die_mesh(artwork, 12, 0.4, 0.3)
    inked = sum(area.area for _, area in areas(artwork, 12))
    assert len(artwork.marks) == 6 + 8 * 3
    assert die.notes == ()
    assert die.body.mesh_volume_mm3 - die.volume_mm3 == pytest.approx(0.4 * inked, rel=1e-2)


def test_pips_are_cut_as_the_discs_that_they_are() -> None:
    body = solid("cube")
    artwork = Artwork(body, (Mark("f1", 0, "5", (0.0, 0.0), 1.0, outline=pips(5)),))
    die = die_mesh(artwork, 8, 0.5, 0.5)
    disc = math.pi * (PIP / 2 * 8) ** 2
    assert die.body.mesh_volume_mm3 - die.volume_mm3 == pytest.approx(5 * disc * 0.5, rel=0.01)


def test_marks_over_the_edge_of_a_face_are_named() -> None:
    body = solid("cube")
    artwork = Artwork(body, (Mark("v1", 0, "8", (0.8, 0.8), 0.6), Mark("f2", 1, "1", (0.0, 0.0), 0.6)))
    [note] = die_mesh(artwork, 8, 0.4, 0.3).notes
    assert note == "The marks of v1 reach over the edges of their faces: make them smaller."


def test_engraving_moves_the_centre_as_the_areas_say() -> None:
    inradius, depth = 8.0, 0.5
    whole = numbered(solid("cube"))
    # 7 mm high on 16 mm, as numerals of cubes are
    artwork = Artwork(whole.solid, tuple(replace(mark, height=7 / 8) for mark in whole.marks))
    die = die_mesh(artwork, inradius, depth, 1)
    removed, moment = 0.0, np.zeros(3)
    for mark, area in areas(artwork, inradius):
        frame = face_frame(artwork.solid, mark.face)
        middle = np.array([[area.centroid.x, area.centroid.y]]) / inradius
        removed += depth * area.area
        moment += depth * area.area * frame.in_space(middle, -depth / 2 / inradius)[0] * inradius
    expected = -moment / (die.body.volume_mm3 - removed)
    assert die.shift.mm == pytest.approx(expected, abs=2e-4)
    assert die.shift.mm == pytest.approx(centre_of_mass(die.points, die.triangles), abs=1e-6)
    # about a hundredth of a millimetre in a cube of 16 mm (common practice, no source)
    assert 0.003 < die.shift.length_mm < 0.03
    assert die.shift.inradii == pytest.approx(die.shift.length_mm / 8)
    assert f"{die.shift.length_mm:.3f} mm" in die.shift.words
    assert "ink" in die.shift.words


def test_equal_numerals_all_round_move_nothing() -> None:
    body = solid("cube")
    artwork = artwork_of(body, [dict.fromkeys(body.sites("faces"), 8)])
    assert die_mesh(artwork, 8, 0.5, 0.5).shift.length_mm < 1e-3


def test_raised_numerals_are_for_mock_ups_and_it_says_why() -> None:
    artwork = numbered(solid("cube"))
    assert die_mesh(artwork, 8, 0.5, 0.5).notes == ()
    raised = die_mesh(artwork, 8, 0.5, 0.5, raised=True)
    assert raised.notes == (MOCK_UP,)
    assert "rock" in MOCK_UP
    assert raised.points.max() == pytest.approx(8.5)
    assert "ink" not in raised.shift.words


def test_a_radius_that_reaches_into_numerals_is_said_with_the_one_that_does_not() -> None:
    artwork = numbered(solid("cube"))
    [note] = die_mesh(artwork, 8, 0.5, 5).notes
    assert "f1, f2" in note
    most = float(note.split("up to ")[1].split(" mm")[0])
    assert die_mesh(artwork, 8, 0.5, most).notes == ()
    assert die_mesh(artwork, 8, 0.5, most + 0.02).notes != ()


@pytest.mark.parametrize(("inradius", "smaller"), [(8.0, False), (40.0, True)])
def test_the_radius_leaves_numerals_on_the_flat(inradius: float, smaller: bool) -> None:
    """Labels at the corners of a long trapezohedron stand so near to edges that its usual radius reaches into them."""
    body = solid("dodecagonal trapezohedron")
    artwork = artwork_of_layout(body, {f"f{rest.below + 1}": at for at, rest in enumerate(body.rests, 1)})
    usual, radius = usual_radius_mm(artwork.solid, inradius), flat_radius_mm(artwork, inradius)
    assert (radius < usual) == smaller
    if smaller:
        assert radius >= moulding().rounding.vertex_least_mm
        assert die_mesh(artwork, inradius, 0.5, radius).notes == ()
        assert die_mesh(artwork, inradius, 0.5, usual).notes != ()


def test_thin_strokes_are_refused_with_the_size_that_works() -> None:
    artwork = numbered(solid("icosahedron"))
    with pytest.raises(TooSmall) as refused:
        die_mesh(artwork, 6, 0.5, 0.3, least_stroke_mm=0.5)
    works = refused.value.needs_inradius_mm
    assert f"{2 * works:.2f} mm across flats" in str(refused.value)
    assert die_mesh(artwork, works, 0.5, 0.3, least_stroke_mm=0.5).body.inradius_mm == works
    with pytest.raises(TooSmall):
        die_mesh(artwork, works - 0.02, 0.5, 0.3, least_stroke_mm=0.5)
    thinnest = min(mark.height * fineness(shape_of(mark)).stroke for mark in artwork.marks)
    assert works == pytest.approx(math.ceil(50 / thinnest) / 100)


def test_blanks_leave_their_faces_alone() -> None:
    body = solid("cube")
    blank = Mark("f2", 1, " ", (0.0, 0.0), 1.0)
    one = Artwork(body, (Mark("f1", 0, "3", (0.0, 0.0), 1.0), blank))
    assert (
        die_mesh(one, 8, 0.5, 0.5, least_stroke_mm=0.5).volume_mm3
        < die_mesh(Artwork(body, (blank,)), 8, 0.5, 0.5).volume_mm3
    )


def test_recesses_that_meet_under_the_surface_are_refused() -> None:
    artwork = numbered(solid("tetrahedron"))
    grown = Artwork(artwork.solid, tuple(replace(mark, height=2.2 * mark.height) for mark in artwork.marks))
    with pytest.raises(
        MeshFault, match=r"run into one another under the surface: v\d on f\d and v\d on f\d, "
    ):
        die_mesh(grown, 8, 2.5, 0)


@pytest.mark.parametrize("depth", [0, -0.5, 8])
def test_depths_that_cannot_be_are_refused(depth: float) -> None:
    with pytest.raises(UsageError, match="depth of the numerals"):
        die_mesh(numbered(solid("cube")), 8, depth, 0.5)
