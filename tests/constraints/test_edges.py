"""Rounded edges and vertices: circles and balls by hand, a rolling body, kinds, limits, wear."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from facewright.constraints.edges import dihedral_angles, rounding, worn
from facewright.constraints.moulding import moulding
from facewright.constraints.solids import solid
from facewright.constraints.solids.rests import outward

NAMES = (
    "cube",
    "tetrahedron",
    "dodecahedron",
    "octahedron",
    "rhombic dodecahedron",
    "7-sided log",
    "tetartoid",
)


@pytest.mark.parametrize("name", [*NAMES, "coin", "pentagonal hexecontahedron"])
def test_kinds_are_alike_and_cover_all(name: str) -> None:
    body = solid(name)
    found = rounding(body, 10.0)
    assert sorted(edge for kind in found.edges for edge in kind.edges) == list(range(len(body.edges)))
    assert sorted(one for kind in found.vertices for one in kind.vertices) == list(range(len(body.vertices)))
    angles = dihedral_angles(body)
    for kind in found.edges:
        assert [angles[edge] for edge in kind.edges] == pytest.approx([kind.dihedral_deg] * len(kind.edges))
    in_order = [round(kind.dihedral_deg, 6) for kind in found.edges]
    assert in_order == sorted(in_order)


@pytest.mark.parametrize(
    ("name", "edges", "vertices"),
    [("cube", 1, 1), ("rhombic dodecahedron", 1, 2), ("disdyakis dodecahedron", 3, 3), ("7-sided log", 3, 2)],
)
def test_how_many_kinds(name: str, edges: int, vertices: int) -> None:
    found = rounding(solid(name), 10.0)
    assert (len(found.edges), len(found.vertices)) == (edges, vertices)


def test_a_cube_by_hand() -> None:
    """A circle of radius r in a right angle touches r from the corner and leaves (√2 − 1) r; a ball (√3 − 1) r."""
    found = rounding(solid("cube"), 8.0)
    (edge,), (vertex,) = found.edges, found.vertices
    assert (edge.radius_mm, edge.setback_mm) == (pytest.approx(0.4), pytest.approx(0.4))
    assert edge.lost_mm == pytest.approx(0.4 * (math.sqrt(2) - 1))
    assert edge.length_mm == pytest.approx(16)
    assert vertex.radius_mm == 0.5
    assert vertex.lost_mm == pytest.approx(0.5 * (math.sqrt(3) - 1))
    assert vertex.tip_deg == pytest.approx(2 * math.degrees(math.atan(1 / math.sqrt(2))))
    assert not vertex.sharp


def test_the_tip_of_a_tetrahedron_is_sharp() -> None:
    (vertex,) = rounding(solid("tetrahedron"), 5.0).vertices
    assert vertex.tip_deg == pytest.approx(2 * math.degrees(math.asin(1 / 3)))
    assert vertex.sharp


@pytest.mark.parametrize("name", NAMES)
def test_how_a_rounded_body_rolls(name: str) -> None:
    """The height of the centre of mass is the width of the body below it: over the core's corners, and the radius."""
    body, inradius = solid(name), 8.0
    found = rounding(body, inradius)
    radius = {edge: kind.radius_mm / inradius for kind in found.edges for edge in kind.edges}
    normals, distances = outward(body.vertices, body.faces)
    rises = []
    for rest in body.rests:
        for edge, (a, b) in enumerate(body.edge_faces):
            if rest.below not in (a, b):
                continue
            here, there = normals[rest.below], normals[b if a == rest.below else a]
            r = radius[edge]
            planes = np.stack([here, there, np.cross(here, there)])
            heights = np.array([distances[a], distances[b]])[:: 1 if a == rest.below else -1]
            # a point of the axis of the rounding: r inside both planes
            axis = np.linalg.solve(planes, [*(heights - r), 0.0])
            turn = math.acos(float(np.clip(here @ there, -1, 1)))
            side = (there - math.cos(turn) * here) / math.sin(turn)
            steps = np.linspace(0, turn, 20_001)
            towards = np.cos(steps)[:, None] * here + np.sin(steps)[:, None] * side
            rises.append(float((towards @ axis).max() + r - distances[rest.below]))
    assert found.settles[1] == pytest.approx(min(rises), abs=1e-6)
    assert found.settles[1] < found.settles[0] == min(rest.settle for rest in body.rests)


def test_small_faces_limit_the_radius() -> None:
    body = solid("disdyakis triacontahedron")
    values = moulding()
    wanted = replace(values, rounding=replace(values.rounding, edge_of_inradius=0.5, most_of_margin=0.1))
    found = rounding(body, 20.0, wanted)
    assert all(kind.limited for kind in found.edges)
    nearest = 0.1 * min(rest.margin for rest in body.rests) * 20
    assert max(kind.setback_mm for kind in found.edges) <= 0.1 * 20
    assert min(kind.setback_mm for kind in found.edges) == pytest.approx(nearest)


def test_a_die_too_small_for_its_edges() -> None:
    assert rounding(solid("cube"), 0.5).too_small
    assert not rounding(solid("cube"), 5.0).too_small


def test_wear() -> None:
    assert worn(0, 0.2) == 0.2
    assert worn(0.4, 0.2) / 0.4 == pytest.approx(math.sqrt(1.25))
    # the same wear again: as if at once, in squares
    assert worn(worn(0.4, 0.2), 0.2) == pytest.approx(worn(0.4, 0.2 * math.sqrt(2)))
