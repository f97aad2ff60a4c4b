"""Sites that lie side by side: counts that Euler's formula gives, and pairs worked out by hand."""

from __future__ import annotations

import pytest
from facewright.constraints.site_neighbours import beside, touching
from facewright.constraints.solids import solid


@pytest.mark.parametrize(
    "name", ["tetrahedron", "cube", "rhombic dodecahedron", "square trapezohedron", "5-sided log"]
)
def test_close_pairs_are_edges_and_corners_of_faces(name: str) -> None:
    body, where = solid(name), beside(solid(name))
    kinds = {letter: [pair for pair in where.close if pair[0][0] == letter] for letter in "fve"}
    assert len(kinds["f"]) == len(kinds["v"]) == len(body.edges)
    assert len(kinds["e"]) == sum(len(face) for face in body.faces)
    assert not where.close & where.near
    assert all(int(a[1:]) < int(b[1:]) for a, b in where.close | where.near)


def test_near_pairs_of_a_cube() -> None:
    """Faces of a cube meet in edges or not at all; two diagonals on each of its six faces; edges that are parallel."""
    near = beside(solid("cube")).near
    assert not [pair for pair in near if pair[0][0] == "f"]
    assert len([pair for pair in near if pair[0][0] == "v"]) == 12
    # of the four edges of a face two pairs do not meet; each such pair lies on one face only
    assert len([pair for pair in near if pair[0][0] == "e"]) == 12


def test_near_faces_of_an_octahedron_touch_at_a_vertex() -> None:
    near = [pair for pair in beside(solid("octahedron")).near if pair[0][0] == "f"]
    assert len(near) == 12


def test_equal_labels_that_touch() -> None:
    where = beside(solid("cube"))
    assert touching(where, [[("f1", 1), ("f2", 1), ("f6", 1)]]) == (2, 0)
    assert touching(where, [[("f1", 1), ("f6", 1)], [("v1", "a"), ("v3", "a"), ("v2", "b")]]) == (0, 1)
    assert touching(where, [[("f1", 1)], [("f2", 1)]]) == (0, 0)
