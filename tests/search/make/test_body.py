"""The rounded body: its volume against closed forms, its planes, its symmetries, its limits."""

from __future__ import annotations

import math

import numpy as np
import pytest
from facewright.constraints.edges import rounding
from facewright.constraints.errors import UsageError
from facewright.constraints.solids import solid
from facewright.constraints.solids.catalogue import listed
from facewright.search.make.body import Body, most_radius, rounded, usual_radius_mm
from facewright.search.make.mesh_check import look

SOME = (
    "coin",
    "3-sided log",
    "12-sided log",
    "tetrahedron",
    "cube",
    "pentagonal trapezohedron",
    "dodecagonal trapezohedron",
    "hexagonal scalenohedron",
    "pentagonal icositetrahedron",
    "disdyakis triacontahedron",
)


def core_distance(body: Body) -> np.ndarray:
    """How far each point of a body's surface lies from its shrunken solid: the nearest of corners, edges and faces."""
    points = body.vertices
    gaps = [np.linalg.norm(points[:, None] - body.core[None], axis=2).min(axis=1)]
    for a, b in body.solid.edges:
        along = body.core[b] - body.core[a]
        place = np.clip((points - body.core[a]) @ along / (along @ along), 0, 1)
        gaps.append(np.linalg.norm(points - body.core[a] - place[:, None] * along, axis=1))
    # a point straight above a face is nearer to it than to its edges; the planes bound that from below
    above = (points @ body.normals.T - (body.distances - body.radius_mm)).max(axis=1)
    return np.maximum(np.min(gaps, axis=0), above)


@pytest.mark.parametrize("edge", [15.0, 20.0])
def test_a_rounded_cube_has_the_volume_of_its_parts(edge: float) -> None:
    r = 1.5
    core = edge - 2 * r
    parts = core**3 + 6 * core**2 * r + 12 * core * math.pi * r**2 / 4 + 4 / 3 * math.pi * r**3
    assert rounded(solid("cube"), edge / 2, r).volume_mm3 == pytest.approx(parts, rel=1e-12)


def test_a_rounded_tetrahedron_has_the_volume_of_its_parts() -> None:
    # edge a: volume a³/(6√2), surface √3·a², dihedral angle arccos(1/3) (any table of the regular solids)
    inradius, r = 7.0, 1.0
    edge = (inradius - r) * 2 * math.sqrt(6)
    bend = math.pi - math.acos(1 / 3)
    parts = edge**3 / (6 * math.sqrt(2)) + math.sqrt(3) * edge**2 * r + 6 * edge * bend / 2 * r**2
    body = rounded(solid("tetrahedron"), inradius, r)
    assert body.volume_mm3 == pytest.approx(parts + 4 / 3 * math.pi * r**3, rel=1e-12)


@pytest.mark.parametrize("name", listed())
def test_the_flat_pieces_lie_no_deeper_than_promised(name: str) -> None:
    body = rounded(solid(name), 8, 0.6)
    found = look(body.vertices, body.triangles)
    assert (found.closed, found.one_way, found.pieces, found.genus) == (True, True, 1, 0)
    assert 0 < body.volume_mm3 - found.volume_mm3 < body.chord_mm * body.area_mm2
    assert found.volume_mm3 == pytest.approx(body.mesh_volume_mm3, rel=1e-12)


def test_finer_pieces_come_nearer_to_the_true_volume() -> None:
    gaps = []
    for chord in (0.02, 0.005, 0.00125):
        body = rounded(solid("pentagonal trapezohedron"), 8, 1, chord)
        gaps.append(body.volume_mm3 - body.mesh_volume_mm3)
    assert gaps[0] > 2 * gaps[1] > 4 * gaps[2] > 0


@pytest.mark.parametrize("name", SOME)
def test_faces_keep_their_planes_and_every_point_its_distance(name: str) -> None:
    body = rounded(solid(name), 8, 0.5)
    reach = (body.vertices @ body.normals.T).max(axis=0)
    assert reach == pytest.approx(body.distances, abs=1e-9)
    assert core_distance(body) == pytest.approx(np.full(len(body.vertices), 0.5), abs=1e-9)


@pytest.mark.parametrize("name", SOME)
def test_the_points_have_every_symmetry_of_the_solid(name: str) -> None:
    body = rounded(solid(name), 8, 0.5)
    for action in body.solid.symmetry:
        moved = body.vertices @ action.matrix.T
        assert _same_points(body.vertices, moved)


def _same_points(one: np.ndarray, other: np.ndarray) -> bool:
    from scipy.spatial import cKDTree

    gaps, partners = cKDTree(one).query(other)
    return bool(gaps.max() < 1e-9) and len(set(partners.tolist())) == len(one)


def test_without_a_radius_the_solid_itself_is_left() -> None:
    cube = rounded(solid("cube"), 8, 0)
    assert cube.volume_mm3 == pytest.approx(4096)
    assert cube.mesh_volume_mm3 == pytest.approx(4096)
    assert len(cube.vertices) == 8


def test_the_largest_radius_takes_an_edge_away() -> None:
    for name in SOME:
        body = rounded(solid(name), 1, most_radius(solid(name)) * (1 - 1e-6))
        ends = body.core[[list(edge) for edge in body.solid.edges]]
        assert np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1).min() < 1e-4


def test_the_usual_radius_is_one_that_every_kind_can_have() -> None:
    for name in SOME:
        found = rounding(solid(name), 8)
        radius = usual_radius_mm(solid(name), 8)
        assert 0 < radius < 8 * most_radius(solid(name))
        assert all(radius <= kind.radius_mm for kind in found.edges if kind.limited)
        if not any(kind.limited for kind in found.edges):
            assert radius == max(kind.radius_mm for kind in found.vertices)
    small = rounding(solid("tetrahedron"), 0.5)
    assert small.edges[0].limited
    assert usual_radius_mm(solid("tetrahedron"), 0.5) == small.edges[0].radius_mm


@pytest.mark.parametrize(
    ("inradius", "radius", "said"),
    [(0, 0.1, "found 0 mm"), (-1, 0.1, "found -1 mm"), (8, 8, "less than 8 mm"), (8, -0.1, "found -0.1 mm")],
)
def test_sizes_that_cannot_be_are_refused(inradius: float, radius: float, said: str) -> None:
    with pytest.raises(UsageError, match=said):
        rounded(solid("cube"), inradius, radius)
