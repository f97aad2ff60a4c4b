"""Marks in their places: within their faces, clear of each other, alike where the solid is, heads to their sites."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.solids import solid
from facewright.constraints.solids.boxes import boxes
from facewright.constraints.solids.catalogue import listed
from facewright.constraints.solids.frames import face_frame
from facewright.constraints.solids.solid import Kind
from facewright.search.artwork.badges import placed
from facewright.search.artwork.glyphs import outlines
from facewright.search.artwork.marks import Artwork, Mark
from facewright.search.artwork.placing import artwork_of, artwork_of_layout, numbered
from facewright.search.artwork.wishes import CLEAR, Size
from shapely import MultiPoint, Polygon

KINDS: dict[str, Kind] = {"f": "faces", "v": "vertices", "e": "edges"}
SOLIDS = listed()
SOME = [
    "tetrahedron",
    "cube",
    "5-sided log",
    "pentagonal trapezohedron",
    "icosahedron",
    "rhombic dodecahedron",
]
SOME += ["hexagonal scalenohedron", "tetartoid", "pentagonal icositetrahedron", "disdyakis dodecahedron"]


def carrying(name: str, kinds: str, labels: int = 12) -> Artwork:
    """A solid with a readout on all sites of each kind named."""
    die = solid(name)
    carried = [
        {site: place % labels + 1 for place, site in enumerate(die.sites(KINDS[kind]))} for kind in kinds
    ]
    return artwork_of(die, carried, several=len(carried) > 1)


def hull(mark: Mark) -> Polygon:
    return MultiPoint([point for ring in placed(mark) for point in ring]).convex_hull


def up(mark: Mark) -> np.ndarray:
    return np.array([-math.sin(mark.angle), math.cos(mark.angle)])


def assert_clear(artwork: Artwork) -> None:
    """Every mark keeps its clear space to the edges of its face, and both theirs to each other."""
    assert artwork.marks
    for face in {mark.face for mark in artwork.marks}:
        outline = Polygon(face_frame(artwork.solid, face).polygon)
        shapes = [(mark.height, hull(mark)) for mark in artwork.on_face(face)]
        for height, shape in shapes:
            assert height > 0
            assert outline.contains(shape)
            assert outline.exterior.distance(shape) >= CLEAR * height * 0.999
        for (one, first), (other, second) in combinations(shapes, 2):
            assert first.distance(second) >= CLEAR * (one + other) * 0.999


@pytest.mark.parametrize("name", SOLIDS)
def test_no_mark_crosses_an_edge_or_another_mark(name: str) -> None:
    assert_clear(numbered(solid(name)))
    if name != "coin":  # its faces have 24 corners and edges, and no question puts marks there
        assert_clear(carrying(name, "fve"))


@pytest.mark.parametrize("kinds", ["v", "e", "ff", "fv", "vv", "fffv", "eev"])
@pytest.mark.parametrize("name", SOME)
def test_readouts_that_share_a_face_keep_clear(name: str, kinds: str) -> None:
    assert_clear(carrying(name, kinds))


def test_marks_on_some_of_the_vertices_keep_clear_too() -> None:
    die = solid("rhombic dodecahedron")
    three = [f"v{v + 1}" for v, faces in enumerate(die.vertex_faces) if len(faces) == 3]
    carried = [
        dict.fromkeys(die.sites("faces"), 1),
        dict.fromkeys(three[:4], 2),
        dict.fromkeys(three[4:], 3),
    ]
    artwork = artwork_of(die, carried, several=True)
    assert_clear(artwork)
    assert len(artwork.marks) == 12 + 3 * 8


@pytest.mark.parametrize("name", SOME)
def test_copies_are_alike_and_their_heads_point_to_their_own_site(name: str) -> None:
    die = solid(name)
    for kinds in ("v", "fve"):
        artwork = carrying(name, kinds)
        for readout in {mark.readout for mark in artwork.marks}:
            assert len({mark.height for mark in artwork.marks if mark.readout == readout}) == 1
        away: dict[tuple[object, ...], list[float]] = {}
        for mark in artwork.marks:
            if mark.site[0] != "v":
                continue
            corners = face_frame(die, mark.face).polygon
            own = die.faces[mark.face].index(int(mark.site[1:]) - 1)
            offsets = corners - np.array(mark.centre)
            distances = np.linalg.norm(offsets, axis=1)
            assert up(mark) @ offsets[own] > 0.5 * distances[own]
            if kinds == "v":
                assert distances[own] == pytest.approx(distances.min(), abs=1e-6)
                orbits = [
                    place for place, orbit in enumerate(orbits_of(name)) if int(mark.site[1:]) - 1 in orbit
                ]
                away.setdefault(tuple(orbits), []).append(float(distances[own]))
        for found in away.values():
            assert len({round(one, 4) for one in found}) <= len(die.faces[0])


def orbits_of(name: str) -> list[set[int]]:
    """The orbits of vertices under all symmetries."""
    die = solid(name)
    return [
        set(one)
        for one in {tuple(sorted({a.vertices[v] for a in die.symmetry})) for v in range(len(die.vertices))}
    ]


@pytest.mark.parametrize("name", SOLIDS)
def test_a_symmetry_takes_the_places_of_marks_to_places_of_marks(name: str) -> None:
    """On a solid all of whose faces carry one label, any rotation takes each box to a box."""
    die = solid(name)
    artwork = artwork_of(die, [dict.fromkeys(die.sites("faces")[: len(die.rests)], 8)])
    where = {
        mark.face: (face_frame(die, mark.face).in_space(np.array([mark.centre]))[0], mark.height)
        for mark in artwork.marks
    }
    for action in die.rotations:
        for face, (centre, height) in where.items():
            there, same = where[action.faces[face]]
            assert height == same
            # a face with symmetries of its own may have its mark on one of several places that are alike
            assert np.linalg.norm(action.matrix @ centre) == pytest.approx(np.linalg.norm(there), abs=1e-6)


@pytest.mark.parametrize("name", SOLIDS)
def test_a_label_stands_where_its_rest_is_read(name: str) -> None:
    die = solid(name)
    artwork = numbered(die)
    sites = die.sites("faces")
    for place, rest in enumerate(die.rests, 1):
        marks = [mark for mark in artwork.marks if mark.text == str(place)]
        if die.read.startswith("face"):
            assert [(mark.site, mark.face) for mark in marks] == [(sites[rest.below], rest.below)]
        else:
            kind: Kind = "vertices" if die.read.startswith("vertex") else "edges"
            assert {mark.site for mark in marks} == {die.sites(kind)[rest.on_top or 0]}
            assert {mark.face for mark in marks} == set(rest.shows["faces"])


def test_on_a_tetrahedron_the_label_at_the_top_stands_upright_on_each_face_seen() -> None:
    """By hand: lying on a face, each of the three faces seen shows the label of the rest with its head upwards."""
    die = solid("tetrahedron")
    artwork = artwork_of_layout(die, {"f1": 1, "f2": 2, "f3": 3, "f4": 4})
    for rest in die.rests:
        frame = face_frame(die, rest.below)
        marks = [mark for mark in artwork.marks if mark.text == str(rest.below + 1)]
        assert len(marks) == 3
        for mark in marks:
            on = face_frame(die, mark.face)
            head = up(mark)[0] * on.across + up(mark)[1] * on.up
            level = math.cos(mark.angle) * on.across + math.sin(mark.angle) * on.up
            assert head @ -frame.normal > 0.9
            assert level @ frame.normal == pytest.approx(0, abs=1e-6)


def test_a_face_of_its_own_has_the_largest_box_upright_or_at_any_angle() -> None:
    for name in ("tetrahedron", "cube", "octahedron", "rhombic dodecahedron", "disdyakis dodecahedron"):
        die = solid(name)
        carried = [dict.fromkeys(die.sites("faces"), 10)]
        size = Size.of(outlines("10"))
        heights = []
        for any_angle in (False, True):
            box = boxes(die, size.across / size.tall, any_angle=any_angle)[0]
            marks = artwork_of(die, carried, any_angle=any_angle).marks
            assert box is not None
            assert all(mark.height == pytest.approx(box.height / size.tall) for mark in marks)
            heights.append(marks[0].height)
        assert heights[0] <= heights[1] * (1 + 1e-9)
        for mark in artwork_of(die, carried).marks:
            polygon = face_frame(die, mark.face).polygon
            steps = np.roll(polygon, -1, axis=0) - polygon
            turned = np.arctan2(steps[:, 1], steps[:, 0]) - mark.angle
            assert np.cos(turned).max() == pytest.approx(1)


def test_one_height_for_all_labels_whether_long_or_short() -> None:
    artwork = artwork_of_layout(solid("cube"), {"f1": 1, "f2": 2, "f3": 120, "f4": 4, "f5": "", "f6": 6})
    assert len({mark.height for mark in artwork.marks}) == 1
    assert [mark.site for mark in artwork.marks] == ["f1", "f2", "f3", "f4", "f6"], "a blank has no mark"
    shorter = artwork_of_layout(solid("cube"), {"f1": 1, "f2": 2})
    assert shorter.marks[0].height > artwork.marks[0].height


def test_a_site_that_is_no_rest_is_refused() -> None:
    with pytest.raises(
        UsageError, match="layout: found 'f7'; accepted: faces on which the cube can rest, f1 to f6"
    ):
        artwork_of_layout(solid("cube"), {"f7": 1})
    with pytest.raises(UsageError, match="found 'f6'"):
        artwork_of_layout(solid("5-sided log"), {"f6": 1})
