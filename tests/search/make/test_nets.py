"""Nets folded back in space, and what lies flat on the sheets."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
import shapely
from facewright.constraints.errors import UsageError
from facewright.constraints.solids import Solid, solid
from facewright.constraints.solids.catalogue import listed
from facewright.search.make.nets import Net, largest_face_mm, net_of
from facewright.search.make.paper import PAPERS, Paper
from facewright.search.make.unfolding import Laid

A4 = PAPERS["a4"]

SOLIDS = [name for name in listed() if name != "coin"]
"""All polyhedral solids, and the families to twelve sides: bipyramids, trapezohedra, scalenohedra, logs."""

MM = 9.0

HAIR = 1e-5
"""Millimetres: polygons that overlap less far lie side by side."""

TO = 1e-9
"""Relative to the inradius: so closely folded edges must meet."""


@cache
def laid(name: str) -> Net:
    """The net of a solid, worked out once for all tests."""
    return net_of(solid(name), MM, A4)


def folded(net: Net) -> dict[int, np.ndarray]:
    """Each piece folded in space about its shared edges by the solid's dihedral angles: face → corners, (n, 3).

    Only the flat corners, the folds and the angles between faces are used, so that a fault of the flat drawing cannot
    hide behind the solid's coordinates.
    """
    angles = dihedrals(net.solid)
    found: dict[int, np.ndarray] = {}
    for piece in net.pieces:
        flat = {one.face: np.c_[one.corners, np.zeros(len(one.corners))] for one in piece.faces}
        beside: dict[int, list[tuple[int, int]]] = {face: [] for face in flat}
        for edge in piece.folds:
            one, other = net.solid.edge_faces[edge]
            beside[one].append((other, edge))
            beside[other].append((one, edge))
        first = piece.faces[0].face
        done: dict[int, np.ndarray] = {}
        waiting: list[tuple[int, int | None, np.ndarray, np.ndarray]] = [
            (first, None, np.eye(3), np.zeros(3))
        ]
        while waiting:
            face, through, matrix, shift = waiting.pop()
            done[face] = flat[face] @ matrix.T + shift
            for after, edge in beside[face]:
                if edge != through:
                    turn, step = fold(net.solid, flat[face], face, edge, math.pi - angles[edge])
                    waiting.append((after, edge, matrix @ turn, matrix @ step + shift))
        assert set(done) == set(flat), "the folds do not hold the piece together"
        found |= done
    return found


def fold(
    solid: Solid, corners: np.ndarray, face: int, edge: int, angle: float
) -> tuple[np.ndarray, np.ndarray]:
    """The turn about an edge of a flat face that bends what lies beyond it down by an angle (Rodrigues)."""
    place = solid.face_edges[face].index(edge)
    start, end = corners[place], corners[(place + 1) % len(corners)]
    axis = (end - start) / np.linalg.norm(end - start)
    # the face lies to the left of the axis: a turn to the right by the left hand's rule lowers the other side
    cross = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    matrix = np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * cross @ cross
    return matrix, start - matrix @ start


def dihedrals(solid: Solid) -> list[float]:
    """The angle between the two faces of each edge, from the solid's own coordinates, in radians."""
    normals = []
    for face in solid.faces:
        a, b, c = solid.vertices[list(face[:3])]
        normal = np.cross(b - a, c - a)
        normals.append(normal / np.linalg.norm(normal))
    return [math.pi - math.acos(max(-1.0, min(1.0, normals[a] @ normals[b]))) for a, b in solid.edge_faces]


def alike(one: np.ndarray, other: np.ndarray) -> float:
    """How far two sets of points are apart after the best turn and shift, neither mirrored (Kabsch)."""
    a, b = one - one.mean(axis=0), other - other.mean(axis=0)
    left, _, right = np.linalg.svd(a.T @ b)
    keep = np.diag([1, 1, np.sign(np.linalg.det(left @ right))])
    return float(np.abs(a @ left @ keep @ right - b).max())


@pytest.mark.parametrize("name", SOLIDS)
def test_folded_back_it_is_the_solid(name: str) -> None:
    built, net = solid(name), laid(name)
    assert sorted(one.face for piece in net.pieces for one in piece.faces) == list(range(len(built.faces)))
    corners = folded(net)
    for piece in net.pieces:
        faces = [one.face for one in piece.faces]
        got = np.concatenate([corners[face] for face in faces])
        wanted = np.concatenate([built.vertices[list(built.faces[face])] for face in faces]) * MM
        # acos loses half of the digits near flat angles
        assert alike(got, wanted) < 1e-6
    if len(net.pieces) == 1:
        for edge, (one, other) in enumerate(built.edge_faces):
            a, b = built.edges[edge]
            for vertex in (a, b):
                here = corners[one][built.faces[one].index(vertex)]
                there = corners[other][built.faces[other].index(vertex)]
                assert np.abs(here - there).max() < 1e-6


@pytest.mark.parametrize("name", SOLIDS)
def test_nothing_overlaps_and_everything_is_joined(name: str) -> None:
    built, net = solid(name), laid(name)
    assert len(net.pieces) == 1
    assert net.sheets == 1
    joined = [one.edge for one in (*net.tabs, *net.slips)]
    assert sorted([*net.folds, *joined]) == list(range(len(built.edges)))
    assert len(net.folds) == len(built.faces) - len(net.pieces)
    on_sheet(net)


def on_sheet(net: Net) -> None:
    """Asserts that faces, tabs and slips lie on the sheets' rooms and share no area, by another library."""
    width, height = net.paper.room_mm
    sheets: dict[int, list[shapely.Polygon]] = {}
    area = 0.0
    for number, piece in enumerate(net.pieces):
        place = net.places[number]
        here = sheets.setdefault(place.sheet, [])
        faces = [shapely.Polygon(place.moved(one.corners)) for one in piece.faces]
        area += sum(face.area for face in faces)
        here += faces
        here += [shapely.Polygon(place.moved(tab.corners)) for tab in net.tabs if tab.piece == number]
    for slip, place in zip(net.slips, net.slip_places, strict=True):
        sheets.setdefault(place.sheet, []).append(shapely.Polygon(place.moved(slip.corners)))
    assert set(sheets) == set(range(net.sheets))
    room = shapely.box(0, 0, width, height).buffer(1e-9)
    for shapes in sheets.values():
        assert all(shape.is_valid and shape.exterior.is_ccw and room.contains(shape) for shape in shapes)
        apart(shapes)
    surface = sum(_area(net.solid, face) * net.mm**2 for face in range(len(net.solid.faces)))
    assert area == pytest.approx(surface, rel=TO)


def apart(shapes: list[shapely.Polygon]) -> None:
    """Asserts that no two polygons meet once each is pared down by half a hair."""
    pared = [shape.buffer(-HAIR / 2, join_style="mitre") for shape in shapes]
    assert not any(one.is_empty for one in pared)
    met = shapely.STRtree(pared).query(pared, predicate="intersects").T.tolist()
    assert [pair for pair in met if pair[0] != pair[1]] == []


def _area(built: Solid, face: int) -> float:
    corners = built.vertices[list(built.faces[face])]
    return float(np.linalg.norm(np.cross(corners, np.roll(corners, -1, axis=0)).sum(axis=0))) / 2


@pytest.mark.parametrize(
    "name", ["cube", "rhombic triacontahedron", "triakis icosahedron", "7-gonal bipyramid"]
)
def test_glued_tabs_and_slips_lie_within_their_faces_and_miss_each_other(name: str) -> None:
    built, net = solid(name), laid(name)
    faces = {one.face: one for piece in net.pieces for one in piece.faces}
    inside: dict[int, list[shapely.Polygon]] = {}
    for tab in net.tabs:
        assert {tab.face, tab.mate} == set(built.edge_faces[tab.edge])
        own, place = faces[tab.face].corners, built.face_edges[tab.face].index(tab.edge)
        along, out = tab.corners - own[place], own[(place + 1) % len(own)] - own[place]
        out = out / np.linalg.norm(out)
        flat = np.stack([along @ out, along @ np.array([out[1], -out[0]])], axis=1)
        assert flat[:, 1].min() == pytest.approx(0, abs=1e-9)
        inside.setdefault(tab.mate, []).append(glued(flat, faces[tab.mate], tab.edge, built))
    for slip in net.slips:
        flat = np.abs(slip.corners[[0, 1, 2, 3]])
        assert np.allclose(flat, slip.corners[[0, 5, 4, 3]])
        for face in built.edge_faces[slip.edge]:
            inside.setdefault(face, []).append(glued(flat, faces[face], slip.edge, built))
    for face, shapes in inside.items():
        whole = shapely.Polygon(faces[face].corners).buffer(HAIR)
        assert all(whole.covers(shape) and shape.area > 0.1 for shape in shapes)
        apart(shapes)


def glued(flat: np.ndarray, mate: Laid, edge: int, built: Solid) -> shapely.Polygon:
    """A tab on the face inside which it is glued; `flat` has x from the edge's far end in that face, y away from it."""
    there = built.face_edges[mate.face].index(edge)
    end, start = mate.corners[there], mate.corners[(there + 1) % len(mate.corners)]
    along = (end - start) / np.linalg.norm(end - start)
    return shapely.Polygon(start + flat[:, :1] * along + flat[:, 1:] * np.array([along[1], -along[0]]))


@pytest.mark.parametrize("paper", PAPERS.values(), ids=list(PAPERS))
@pytest.mark.parametrize(("name", "times"), [("cube", 1.6), ("icosahedron", 2.2), ("tetrahedron", 1.9)])
def test_a_large_solid_is_cut_into_pieces_that_fit(name: str, times: float, paper: Paper) -> None:
    built = solid(name)
    net = net_of(built, net_of(built, MM, paper).whole_mm * times, paper)
    assert len(net.pieces) > 1
    assert net.sheets > 1
    assert len({*net.folds, *net.joints}) == len(built.edges)
    on_sheet(net)


@pytest.mark.parametrize("name", ["cube", "dodecahedron", "disdyakis triacontahedron", "5-sided log"])
def test_the_size_for_one_sheet_is_kept(name: str) -> None:
    built = solid(name)
    whole = net_of(built, MM, A4).whole_mm
    net = net_of(built, whole * 0.9999, A4)
    assert (len(net.pieces), net.sheets if not net.slips else 1) == (1, 1)
    on_sheet(net)


def test_a_face_larger_than_the_sheet_is_refused_with_the_size_that_fits() -> None:
    cube = solid("cube")
    most = largest_face_mm(cube, A4)
    assert 60 < most < 150
    net = net_of(cube, most * 0.9999, A4)
    assert len(net.pieces) == 6
    on_sheet(net)
    with pytest.raises(UsageError, match=f"accepted: up to {math.floor(20 * most) / 10:g} mm"):
        net_of(cube, most * 1.01, A4)


def test_a_coin_is_a_rim_and_two_discs() -> None:
    net = net_of(solid("coin"), 3.0, A4)
    on_sheet(net)
    assert len(net.folds) + len(net.joints) == len(net.solid.edges)


def test_a_net_is_the_same_each_time() -> None:
    one, other = (net_of(solid("dodecahedron"), MM, A4) for _ in range(2))
    assert np.array_equal(one.pieces[0].points, other.pieces[0].points)
    assert [tab.corners.tolist() for tab in one.tabs] == [tab.corners.tolist() for tab in other.tabs]
