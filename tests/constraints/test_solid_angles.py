"""Solid angles and their changes, against another formula, bodies flawed a little, and bodies cut anew from planes."""

from __future__ import annotations

import math

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.angles import FULL, angle_changes, solid_angles
from facewright.constraints.solids.rests import outward
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from tests.shares import shares

NAMES = (
    "tetrahedron",
    "cube",
    "deltoidal icositetrahedron",
    "pentagonal hexecontahedron",
    "disdyakis triacontahedron",
    "pentagonal bipyramid",
    "tetartoid",
    "7-sided log",
    "coin",
)
STEP = 1e-5
"""Inradii: the size of a flaw in a difference quotient; its square is what first order leaves out."""

Vectors = NDArray[np.float64]

coordinates = st.floats(-1, 1, allow_nan=False)
directions = st.tuples(coordinates, coordinates, coordinates).filter(lambda v: math.hypot(*v) > 0.1)


def cut_anew(normals: Vectors, distances: Vectors) -> Vectors:
    """Shares of the body between planes, seen from its own centre of mass: its corners are found anew."""
    from scipy.spatial import ConvexHull, HalfspaceIntersection

    corners = HalfspaceIntersection(np.c_[normals, -distances], np.zeros(3)).intersections
    hull = ConvexHull(corners)
    pieces = corners[hull.simplices]
    volumes = np.abs(np.linalg.det(pieces))
    centre = (pieces.sum(axis=1) / 4 * volumes[:, None]).sum(axis=0) / volumes.sum()
    seen = np.zeros(len(normals))
    for piece, plane in zip(pieces, hull.equations, strict=True):
        turned = piece if np.linalg.det(piece) > 0 else piece[[0, 2, 1]]
        seen[int((normals @ plane[:3]).argmax())] += shares(turned, [(0, 1, 2)], centre)[0]
    return seen


@pytest.mark.parametrize("name", NAMES)
def test_shares_agree_with_another_formula_and_fill_the_sphere(name: str) -> None:
    found = solid(name)
    ours = solid_angles(found.vertices, found.faces) / FULL
    assert ours == pytest.approx(shares(found.vertices, found.faces), abs=1e-14, rel=0)
    assert float(ours.sum()) == pytest.approx(1, abs=1e-13, rel=0)


@settings(max_examples=30, deadline=None)
@given(name=st.sampled_from(NAMES), towards=directions)
def test_the_centre_moves_a_little(name: str, towards: tuple[float, float, float]) -> None:
    found, c = solid(name), np.array(towards)
    ahead, behind = (shares(found.vertices, found.faces, t * STEP * c) for t in (1, -1))
    slope = (ahead - behind) / (2 * STEP)
    assert angle_changes(found).centre @ c == pytest.approx(slope, abs=1e-9, rel=0)


@settings(max_examples=30, deadline=None)
@given(name=st.sampled_from(NAMES), along=directions)
def test_the_solid_is_stretched_a_little(name: str, along: tuple[float, float, float]) -> None:
    found, d = solid(name), np.array(along) / math.hypot(*along)
    ahead, behind = (
        shares(found.vertices @ (np.eye(3) + t * STEP * np.outer(d, d)), found.faces) for t in (1, -1)
    )
    slope = (ahead - behind) / (2 * STEP)
    assert d @ angle_changes(found).stretch @ d == pytest.approx(slope, abs=1e-9, rel=0)


@pytest.mark.parametrize("name", NAMES)
def test_planes_move_a_little_and_the_body_is_cut_anew(name: str) -> None:
    """Where more than three planes meet corners move apart: an error of the order of the step."""
    found = solid(name)
    normals, distances = outward(found.vertices, found.faces)
    moves = np.random.default_rng(5).normal(size=len(normals))
    ahead, behind = (cut_anew(normals, distances + t * STEP * moves) for t in (1, -1))
    slope = (ahead - behind) / (2 * STEP)
    assert angle_changes(found).planes @ moves == pytest.approx(slope, abs=1e-3, rel=0)
    # whatever becomes of a tetrahedron's planes, it stays one of the same shape
    assert (np.abs(slope).max() > 0.05) != (name == "tetrahedron")


@pytest.mark.parametrize("name", NAMES)
def test_what_one_face_gains_others_lose(name: str) -> None:
    found = angle_changes(solid(name))
    for part in (found.centre, found.stretch, found.planes):
        assert np.abs(part.sum(axis=0)).max() < 1e-13


@pytest.mark.parametrize("name", NAMES)
def test_a_larger_solid_of_the_same_shape_has_the_same_angles(name: str) -> None:
    found = solid(name)
    changes = angle_changes(found)
    _, distances = outward(found.vertices, found.faces)
    assert np.abs(np.einsum("fii->f", changes.stretch)).max() < 1e-13
    assert np.abs(changes.planes @ distances).max() < 1e-12


def test_a_cube_stretched_as_its_planes_move() -> None:
    """On a cube a stretch along an axis is the same as two planes that move apart."""
    changes = angle_changes(solid("cube"))
    normals, _ = outward(solid("cube").vertices, solid("cube").faces)
    up = np.array([0.0, 0.0, 1.0])
    assert changes.planes @ np.abs(normals @ up) == pytest.approx(up @ changes.stretch @ up, abs=1e-14)
