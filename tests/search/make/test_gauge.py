"""The cylinder for small parts: known bodies, witnesses that hold, and no refusal that a sample contradicts."""

from __future__ import annotations

import math

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.search.make.gauge import Cylinder, Gauged, gauged

USED = Cylinder(31.75, 25.4, 57.15)


def inside(points: np.ndarray, radius: float = 0.0) -> np.ndarray:
    """How far balls stand out of the cylinder, from its definition: wall, mouth, floor; shape (n,)."""
    x, y, z = points.T
    wall = np.hypot(x, y) + radius - USED.diameter_mm / 2
    depth = USED.shallow_mm + (USED.deep_mm - USED.shallow_mm) * (x / USED.diameter_mm + 0.5)
    # the floor is a plane at 45 degrees
    floor = (-z - depth) / math.sqrt(2) + radius
    return np.max([wall, z + radius, floor], axis=0)


def holds(found: Gauged, corners: np.ndarray, radius: float = 0.0) -> bool:
    assert found.turn is not None
    assert found.shift is not None
    assert found.turn @ found.turn.T == pytest.approx(np.eye(3), abs=1e-9)
    assert np.linalg.det(found.turn) == pytest.approx(1)
    return bool(inside(corners @ found.turn.T + found.shift, radius).max() <= 1e-6)


def test_its_floor_has_45_degrees_and_the_largest_ball_is_as_wide_as_the_cylinder() -> None:
    assert USED.slope == pytest.approx(1)
    assert USED.ball_mm() == pytest.approx(31.75)
    assert Cylinder(31.75, 5, 36.75).ball_mm() == pytest.approx(2 * 20.875 / (1 + math.sqrt(2)))


@pytest.mark.parametrize(
    ("edge", "fits"), [(16, "fits"), (22.3, "fits"), (22.6, "does not fit"), (26, "does not fit")]
)
def test_a_cube_fits_while_the_diagonal_of_its_face_does(edge: float, fits: str) -> None:
    """Least circle about a cube's shadow: that of its square face, 31.75 / √2 = 22.45."""
    corners = solid("cube").vertices * edge / 2
    found = gauged(corners, 0.0, USED)
    assert found.fits == fits
    assert fits != "fits" or holds(found, corners)


@pytest.mark.parametrize(("edge", "fits"), [(31.4, "fits"), (32.0, "does not fit")])
def test_a_tetrahedron_fits_while_its_edge_does(edge: float, fits: str) -> None:
    """Least circle about its shadow: seen along the line between the middles of opposite edges, edge / 2."""
    corners = solid("tetrahedron").vertices * edge / (2 * math.sqrt(6))
    found = gauged(corners, 0.0, USED)
    assert found.fits == fits
    assert fits != "fits" or holds(found, corners)


@pytest.mark.parametrize(("length", "fits"), [(64.5, "fits"), (70.0, "does not fit")])
def test_a_rod_fits_from_rim_to_the_deepest_point(length: float, fits: str) -> None:
    """√(31.75² + 57.15²) = 65.38."""
    rod = np.array([[0, 0, 0], [length, 0, 0], [length / 2, 0.1, 0], [length / 2, 0, 0.1]])
    found = gauged(rod, 0.0, USED)
    assert found.fits == fits
    assert fits != "fits" or holds(found, rod)


def test_rounding_counts() -> None:
    """A cube of 23 mm is too wide, unless its edges are rounded: the shadow's corners come in by (√2 − 1) radii."""
    edge, radius = 23.0, 3.0
    assert gauged(solid("cube").vertices * edge / 2, 0.0, USED).fits == "does not fit"
    core = solid("cube").vertices * (edge / 2 - radius)
    found = gauged(core, radius, USED)
    assert found.fits == "fits"
    assert holds(found, core, radius)


def test_no_refusal_that_a_sample_of_turns_contradicts() -> None:
    chance = np.random.default_rng(3)
    verdicts = []
    for size in np.linspace(14, 48, 10):
        corners = chance.normal(size=(7, 3)) * [1, 1, 2.0]
        corners *= size / np.linalg.norm(corners, axis=1).max()
        found = gauged(corners, 0.3, USED)
        verdicts.append(found.fits)
        if found.fits == "fits":
            assert holds(found, corners, 0.3)
            assert found.by_mm >= 0
            continue
        for _ in range(300):
            turn, _ = np.linalg.qr(chance.normal(size=(3, 3)))
            turned = corners @ (turn * np.sign(np.linalg.det(turn))).T
            low, high = turned.min(axis=0), turned.max(axis=0)
            centred = turned - [*(low[:2] + high[:2]) / 2, high[2] + 0.3]
            shifts = np.array([(sideways, 0, 0) for sideways in np.linspace(-6, 6, 7)])
            every = (centred[None] + shifts[:, None]).reshape(-1, 3)
            assert inside(every, 0.3).reshape(7, -1).max(axis=1).min() > 0
    assert verdicts.count("fits") > 2
    assert verdicts.count("does not fit") > 2


def test_where_it_lies_does_not_matter() -> None:
    corners = solid("octahedron").vertices * 10.5
    moved = corners + np.array([30, -20, 7])
    one, other = gauged(corners, 0.4, USED), gauged(moved, 0.4, USED)
    assert one.fits == other.fits == "fits"
    assert holds(other, moved, 0.4)
