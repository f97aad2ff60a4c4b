"""The catalogue's geometry against classical closed forms (from memory): angles, volumes, radii, midspheres."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.rests import outward
from facewright.constraints.solids.solid import Solid

R2, R3, R5, R6 = (math.sqrt(x) for x in (2, 3, 5, 6))

COSINES = {
    "tetrahedron": 1 / 3,
    "cube": 0,
    "octahedron": -1 / 3,
    "dodecahedron": -1 / R5,
    "icosahedron": -R5 / 3,
    "rhombic dodecahedron": -1 / 2,
    "rhombic triacontahedron": -(1 + R5) / 4,
    "triakis tetrahedron": -7 / 11,
    "triakis octahedron": -(3 + 8 * R2) / 17,
    "tetrakis hexahedron": -4 / 5,
    "deltoidal icositetrahedron": -(7 + 4 * R2) / 17,
    "disdyakis dodecahedron": -(71 + 12 * R2) / 97,
    "triakis icosahedron": -(24 + 15 * R5) / 61,
    "pentakis dodecahedron": -(80 + 9 * R5) / 109,
    "deltoidal hexecontahedron": -(19 + 8 * R5) / 41,
    "disdyakis triacontahedron": -(179 + 24 * R5) / 241,
}
"""The cosine of the dihedral angle."""

DEGREES = {"pentagonal icositetrahedron": 136.3092, "pentagonal hexecontahedron": 153.1787}
"""The dihedral angles of the two chiral Catalan solids, whose closed forms are roots of cubics and sextics."""

VOLUMES = {
    "tetrahedron": R2 / 12,
    "cube": 1,
    "octahedron": R2 / 3,
    "dodecahedron": (15 + 7 * R5) / 4,
    "icosahedron": 5 * (3 + R5) / 12,
    "rhombic dodecahedron": 16 * R3 / 9,
    "rhombic triacontahedron": 4 * math.sqrt(5 + 2 * R5),
}
"""The volume over the cube of the edge, for solids with equal edges."""

INRADII = {
    "tetrahedron": R6 / 12,
    "cube": 1 / 2,
    "octahedron": R6 / 6,
    "dodecahedron": math.sqrt((25 + 11 * R5) / 10) / 2,
    "icosahedron": R3 * (3 + R5) / 12,
    "rhombic dodecahedron": R6 / 3,
    "rhombic triacontahedron": math.sqrt(1 + 2 / R5),
}
"""The inradius over the edge, for solids with equal edges."""


def angles(found: Solid) -> list[float]:
    """The cosine of the dihedral angle at every edge."""
    normals, _ = outward(found.vertices, found.faces)
    return [-float(normals[a] @ normals[b]) for a, b in found.edge_faces]


def volume(found: Solid) -> float:
    """The volume, from tetrahedra on the origin."""
    return sum(
        float(np.linalg.det(found.vertices[[face[0], i, j]])) / 6
        for face in found.faces
        for i, j in itertools.pairwise(face[1:])
    )


def edge_lengths(found: Solid) -> list[float]:
    return [float(np.linalg.norm(found.vertices[a] - found.vertices[b])) for a, b in found.edges]


@pytest.mark.parametrize("name", COSINES)
def test_dihedral_angles(name: str) -> None:
    assert angles(solid(name)) == pytest.approx([COSINES[name]] * len(solid(name).edges), abs=1e-9, rel=0)


@pytest.mark.parametrize("name", DEGREES)
def test_dihedral_angles_of_the_chiral_solids(name: str) -> None:
    found = angles(solid(name))
    assert max(found) - min(found) < 1e-9
    assert math.degrees(math.acos(found[0])) == pytest.approx(DEGREES[name], abs=1e-3)


@pytest.mark.parametrize("name", VOLUMES)
def test_volumes_and_inradii(name: str) -> None:
    found = solid(name)
    edges = edge_lengths(found)
    assert max(edges) - min(edges) < 1e-9
    assert volume(found) / edges[0] ** 3 == pytest.approx(VOLUMES[name], abs=1e-9, rel=0)
    assert 1 / edges[0] == pytest.approx(INRADII[name], abs=1e-9, rel=0)


@pytest.mark.parametrize("name", [*COSINES, *DEGREES])
def test_regular_and_catalan_solids_have_a_midsphere(name: str) -> None:
    """Every edge touches one sphere, and its points of contact lie within the edges."""
    found = solid(name)
    reach = []
    for a, b in found.edges:
        start, step = found.vertices[a], found.vertices[b] - found.vertices[a]
        share = -float(start @ step) / float(step @ step)
        assert 0 < share < 1
        reach.append(float(np.linalg.norm(start + share * step)))
    assert max(reach) - min(reach) < 1e-9


@pytest.mark.parametrize("name", [*COSINES, *DEGREES])
def test_the_dual_of_a_regular_or_catalan_solid_has_regular_faces(name: str) -> None:
    """The normals about a vertex are a regular polygon's corners: the dual is regular or Archimedean."""
    found = solid(name)
    normals, _ = outward(found.vertices, found.faces)
    for faces in found.vertex_faces:
        corners = normals[list(faces)]
        centre = corners.mean(axis=0)
        radii = np.linalg.norm(corners - centre, axis=1)
        assert radii.max() - radii.min() < 1e-9
        gaps = sorted(np.linalg.norm(corners[0] - corner) for corner in corners)
        k = len(faces)
        expected = sorted(2 * radii[0] * abs(math.sin(math.pi * step / k)) for step in range(k))
        assert gaps == pytest.approx(expected, abs=1e-9, rel=0)
