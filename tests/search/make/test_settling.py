"""Surfaces as files hold them: triangles without area go, the surface stays."""

from __future__ import annotations

import numpy as np
from facewright.constraints.solids import solid
from facewright.search.artwork.placing import numbered
from facewright.search.make.body import rounded
from facewright.search.make.die_mesh import die_mesh
from facewright.search.make.mesh_check import look
from facewright.search.make.settling import THIN_MM, settled


def heights(points: np.ndarray, triangles: np.ndarray) -> np.ndarray:
    """The height of each triangle over its longest edge."""
    a, b, c = (points[triangles[:, corner]].astype(np.float64) for corner in range(3))
    longest = np.max([np.linalg.norm(x - y, axis=1) for x, y in ((a, b), (b, c), (c, a))], axis=0)
    return np.linalg.norm(np.cross(b - a, c - a), axis=1) / longest


def test_a_corner_on_an_edge_leaves_no_triangle_without_area() -> None:
    body = rounded(solid("cube"), 8, 0)
    first, *others = body.triangles.tolist()
    b, c = first[1:]
    [beyond] = [row for row in others if {b, c} <= set(row)]
    [apex] = set(beyond) - {b, c}
    others.remove(beyond)
    # two corners n and m on the edge from b to c: the one face keeps the edge whole, two lines fill the gap to them
    n, m = len(body.vertices), len(body.vertices) + 1
    along = body.vertices[c] - body.vertices[b]
    points = np.concatenate([body.vertices, [body.vertices[b] + along / 3, body.vertices[b] + 2 * along / 3]])
    lines = [[b, n, c], [n, m, c]]
    triangles = np.array([*others, first, *lines, [n, b, apex], [m, n, apex], [c, m, apex]])
    before = look(points, triangles)
    assert before.closed and before.one_way
    assert (heights(points, triangles) < THIN_MM).sum() == len(lines)
    after, faces = settled(points, triangles)
    found = look(after, faces)
    assert (found.closed, found.one_way, found.genus) == (True, True, 0)
    assert np.isclose(found.volume_mm3, 16**3)
    assert heights(after, faces).min() > 1
    assert len(faces) == len(triangles)


def test_equal_corners_become_one_and_their_triangles_go() -> None:
    body = rounded(solid("cube"), 8, 0)
    a, b, c = body.triangles[0].tolist()
    [other] = [row for row in body.triangles[1:].tolist() if {a, b} <= set(row)]
    [d] = set(other) - {a, b}
    # a second corner next to b, closer than files tell apart
    twin = len(body.vertices)
    points = np.concatenate([body.vertices, body.vertices[b : b + 1] + 1e-7])
    rest = [row for row in body.triangles.tolist() if row not in ([a, b, c], other)]
    triangles = np.array([*rest, [a, b, twin], [a, twin, c], [b, c, twin], [b, a, d]])
    assert look(points, triangles).closed
    after, faces = settled(points, triangles)
    found = look(after, faces)
    assert (len(after), len(faces)) == (8, 12)
    assert (found.closed, found.one_way) == (True, True)


def test_the_order_of_the_surface_depends_on_the_surface_alone() -> None:
    body = rounded(solid("icosahedron"), 8, 0.5)
    rng = np.random.default_rng(2)
    shuffled = rng.permutation(len(body.vertices))
    place = np.empty_like(shuffled)
    place[shuffled] = np.arange(len(shuffled))
    turned = np.roll(place[body.triangles], 1, axis=1)[rng.permutation(len(body.triangles))]
    one, other = settled(body.vertices, body.triangles), settled(body.vertices[shuffled], turned)
    assert one[0].tobytes() == other[0].tobytes()
    assert one[1].tobytes() == other[1].tobytes()


def test_dice_have_no_triangles_without_area() -> None:
    for name in ("icosahedron", "deltoidal icositetrahedron", "disdyakis dodecahedron"):
        die = die_mesh(numbered(solid(name)), 9, 0.4, 0.3)
        assert heights(die.points, die.triangles).min() > THIN_MM / 2
