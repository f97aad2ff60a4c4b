"""Judging meshes: gaps, winding, pieces, handles and volume of meshes whose answer is known."""

from __future__ import annotations

import numpy as np
import pytest
from facewright.search.make.mass import centre_of_mass, volume_of
from facewright.search.make.mesh_check import MeshFault, look, merged, require

CUBE = np.array([[x, y, z] for x in (0.0, 2.0) for y in (0.0, 2.0) for z in (0.0, 2.0)])
SIDES = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
TRIANGLES = np.array([t for a, b, c, d in SIDES for t in ((a, b, c), (a, c, d))])


def ring(around: int = 12, across: int = 8) -> tuple[np.ndarray, np.ndarray]:
    """A ring, which has one handle."""
    points, triangles = [], []
    for i in range(around):
        for j in range(across):
            u, v = 2 * np.pi * i / around, 2 * np.pi * j / across
            points.append([(3 + np.cos(v)) * np.cos(u), (3 + np.cos(v)) * np.sin(u), np.sin(v)])
            a, b = i * across + j, ((i + 1) % around) * across + j
            c = ((i + 1) % around) * across + (j + 1) % across
            d = i * across + (j + 1) % across
            triangles += [(a, b, c), (a, c, d)]
    return np.array(points), np.array(triangles)


def test_a_cube_is_one_closed_body() -> None:
    found = look(CUBE, TRIANGLES)
    assert (found.closed, found.one_way, found.pieces, found.genus) == (True, True, 1, 0)
    assert found.volume_mm3 == pytest.approx(8)
    assert volume_of(CUBE, TRIANGLES) == pytest.approx(8)
    assert centre_of_mass(CUBE, TRIANGLES) == pytest.approx([1, 1, 1])


def test_a_missing_triangle_is_a_gap() -> None:
    assert not look(CUBE, TRIANGLES[1:]).closed
    with pytest.raises(MeshFault, match="gaps"):
        require(CUBE, TRIANGLES[1:], 8, "a cube")


def test_a_doubled_triangle_is_no_surface() -> None:
    assert not look(CUBE, np.concatenate([TRIANGLES, TRIANGLES[:1]])).closed


def test_a_turned_triangle_is_seen() -> None:
    turned = TRIANGLES.copy()
    turned[3] = turned[3][::-1]
    found = look(CUBE, turned)
    assert found.closed
    assert not found.one_way
    with pytest.raises(MeshFault, match="counter-clockwise from outside"):
        require(CUBE, turned, 8, "a cube")


def test_a_body_inside_out_is_seen() -> None:
    assert not look(CUBE, TRIANGLES[:, ::-1]).one_way


def test_two_bodies_are_two_pieces() -> None:
    both = np.concatenate([CUBE, CUBE + 5]), np.concatenate([TRIANGLES, TRIANGLES + 8])
    found = look(*both)
    assert (found.closed, found.pieces, found.genus) == (True, 2, 0)
    with pytest.raises(MeshFault, match="2 pieces"):
        require(*both, 16, "two cubes")


def test_a_ring_has_a_handle() -> None:
    points, triangles = ring()
    found = look(points, triangles)
    assert (found.closed, found.one_way, found.pieces, found.genus) == (True, True, 1, 1)
    assert require(points, triangles, found.volume_mm3, "a ring", genus=1) == found
    with pytest.raises(MeshFault, match="1 holes right through, expected 0"):
        require(points, triangles, found.volume_mm3, "a ring")


def test_two_bodies_that_touch_in_a_point_are_seen() -> None:
    points, numbers = merged(np.concatenate([CUBE, CUBE + 2]))
    found = look(points, numbers[np.concatenate([TRIANGLES, TRIANGLES + 8])])
    assert found.closed
    assert (found.pieces, found.genus) == (1, None)


def test_a_wrong_volume_is_seen() -> None:
    with pytest.raises(MeshFault, match=r"8\.000 mm³, expected 8\.100 mm³"):
        require(CUBE, TRIANGLES, 8.1, "a cube")


def test_equal_points_become_one() -> None:
    rng = np.random.default_rng(1)
    points = rng.integers(0, 4, (200, 3)).astype(np.float32)
    kept, numbers = merged(points)
    assert (kept[numbers] == points).all()
    assert len(kept) == len({tuple(point) for point in points.tolist()})
