"""How solids lie: logs off their ends, the coin off its rim, what is on top, what is shown, how firmly."""

from __future__ import annotations

import math

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.assembly import assemble
from facewright.constraints.solids.catalogue import listed
from facewright.constraints.solids.geometry import about, geometry
from facewright.constraints.solids.logs import POINTED, coin, log
from facewright.constraints.solids.rests import COCKED_ABOVE, margins, outward


@pytest.mark.parametrize("sides", [*range(3, 13), 25, 40])
def test_a_log_rests_on_its_sides_alone(sides: int) -> None:
    found = solid(f"{sides}-sided log")
    assert len(found.faces) == 3 * sides
    assert [rest.below for rest in found.rests] == list(range(sides))
    assert found.read == ("edge above" if sides % 2 else "face above")
    assert len({rest.on_top for rest in found.rests}) == sides
    # the ends miss being rests by a clear margin
    assert margins(found.vertices, found.faces)[sides:].max() < -0.05


@pytest.mark.parametrize("sides", [3, 4, 5, 8, 13, 30])
@pytest.mark.parametrize("length", [0.7, 1.0, 1.3, 2.5])
def test_the_rule_for_the_ends_of_a_log(sides: int, length: float) -> None:
    """An end facet is no rest if and only if L·h > a², whatever the number of sides."""
    for product in (0.95, 1.05):
        vertices, faces = log(sides, length)
        vertices = vertices.copy()
        vertices[2 * sides :, 2] = np.sign(vertices[2 * sides :, 2]) * (length + product / length)
        ends = [number for number, face in enumerate(faces) if len(face) == 3]
        standing = margins(vertices, faces)[ends] > 0
        assert standing.all() == (product < 1)
        assert standing.any() == (product < 1)


def test_a_log_that_could_stand_on_its_ends_is_found_unfair() -> None:
    vertices, faces = log(5, 1.0)
    vertices = vertices.copy()
    vertices[10:, 2] *= 1.5 / (1 + POINTED)
    found = assemble("blunt", vertices, faces)
    assert len(found.rests) == 15
    assert not found.fair


def test_the_coin_has_two_rests() -> None:
    found = solid("coin")
    assert [(rest.below, rest.on_top) for rest in found.rests] == [(0, 1), (1, 0)]
    assert found.fair
    vertices, faces = coin()
    assert (margins(vertices, faces)[2:] < -0.2).all()


def test_a_straight_rim_makes_a_coin_unfair() -> None:
    vertices, faces = coin()
    vertices = vertices.copy()
    vertices[24:48, :2] = vertices[:24, :2] * 1.001
    found = assemble("straight", vertices, faces)
    assert len(found.rests) > 2
    assert not found.fair


@pytest.mark.parametrize("name", listed())
def test_what_a_rest_shows_and_what_lies_on_top(name: str) -> None:
    found = solid(name)
    normals, _ = outward(found.vertices, found.faces)
    for rest in found.rests:
        heights = -(found.vertices @ normals[rest.below])
        highest = set(np.flatnonzero(heights > heights.max() - 1e-9).tolist())
        shows = {kind: set(sites) for kind, sites in rest.shows.items()}
        if rest.read == "face below":
            assert rest.on_top is None
            assert shows["faces"] == {rest.below}
            assert shows["vertices"] == set(found.faces[rest.below])
            continue
        assert rest.on_top is not None
        if rest.read == "face above":
            assert set(found.faces[rest.on_top]) == highest == shows["vertices"]
            assert shows["faces"] == {rest.on_top} == {found.opposite[rest.below]}
            assert len(shows["edges"]) == len(highest)
        elif rest.read == "vertex above":
            assert highest == {rest.on_top} == shows["vertices"]
            assert shows["faces"] == set(found.vertex_faces[rest.on_top])
            assert shows["edges"] == {i for i, edge in enumerate(found.edges) if rest.on_top in edge}
        else:
            assert set(found.edges[rest.on_top]) == highest == shows["vertices"]
            assert shows["faces"] == set(found.edge_faces[rest.on_top])
            assert shows["edges"] == {rest.on_top}


@pytest.mark.parametrize(
    "name", ["triakis tetrahedron", "tetartoid", "deltoidal dodecahedron", "hexakis tetrahedron"]
)
def test_fewer_tops_than_rests_are_read_from_below(name: str) -> None:
    found = solid(name)
    normals, _ = outward(found.vertices, found.faces)
    tops = {int(np.argmax(-(found.vertices @ normals[rest.below]))) for rest in found.rests}
    assert len(tops) == 4
    assert found.read == "face below"


@pytest.mark.parametrize(
    ("name", "settle"),
    [
        ("cube", math.sqrt(2) - 1),
        ("tetrahedron", math.sqrt(3) - 1),
        ("octahedron", math.sqrt(1.5) - 1),
        ("rhombic dodecahedron", 2 / math.sqrt(3) - 1),
        ("4-sided log", math.sqrt(2) - 1),
    ],
)
def test_how_firmly_a_solid_lies(name: str, settle: float) -> None:
    """The midradius over the inradius, less 1, in closed form."""
    assert all(rest.settle == pytest.approx(settle, abs=1e-9, rel=0) for rest in solid(name).rests)


def test_solids_with_many_rests_carry_a_warning() -> None:
    for name in listed():
        found = solid(name)
        assert ("cocked" in found.warning) == (len(found.rests) > COCKED_ABOVE)


@pytest.mark.parametrize(
    "name", ["cube", "triakis tetrahedron", "pentagonal icositetrahedron", "5-sided log"]
)
def test_the_geometry_is_enough_to_recount_from(name: str) -> None:
    """From the plain values alone: corners, faces and what each rest shows fit together."""
    plain = geometry(solid(name))
    corners = np.array(plain["vertices"])
    assert plain["symmetry"] == len(solid(name).symmetry)
    assert plain["rotations"] == len(solid(name).rotations)
    for rest in plain["rests"]:
        below = plain["faces"][int(rest["below"][1:]) - 1]
        a, b, c = corners[below[:3]]
        normal = np.cross(b - a, c - a)
        normal /= np.linalg.norm(normal)
        assert a @ normal > 0
        if rest["on_top"] is None:
            assert plain["read"] == "face below"
            assert rest["shows"][0] == rest["below"]
            continue
        kind, number = rest["on_top"][0], int(rest["on_top"][1:]) - 1
        assert plain["read"] == {"f": "face", "v": "vertex", "e": "edge"}[kind] + " above"
        on_top = {"f": plain["faces"], "e": plain["edges"], "v": [[one] for one in range(len(corners))]}[
            kind
        ][number]
        heights = corners @ -normal
        assert set(np.flatnonzero(heights > heights.max() - 1e-9).tolist()) == set(on_top)
        assert rest["on_top"] in rest["shows"]
    assert set(about(solid(name))) <= set(plain)
