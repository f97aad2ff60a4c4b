"""The largest boxes on faces: against known values, a plain linear programme, a fine grid of angles, and themselves."""

from __future__ import annotations

import csv
import math
import time
from pathlib import Path

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.boxes import (
    Box,
    boxes,
    closing,
    cost_of_centring,
    heights,
    largest_box,
    largest_height,
    sides_of,
)
from facewright.constraints.solids.catalogue import listed
from facewright.constraints.solids.frames import face_frame

Floats = np.ndarray
BOXES = Path(__file__).parents[1] / "reference" / "boxes.csv"
KNOWN = list(csv.DictReader(BOXES.read_text(encoding="utf-8").splitlines()))
WIDES = (0.6, 1.2, 1.8)
SQUARE = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]], dtype=float)


def polygons(many: int) -> list[Floats]:
    """Convex polygons of 3 to 9 corners about the origin, the same at each run."""
    from scipy.spatial import ConvexHull

    source = np.random.default_rng(5)
    found = []
    while len(found) < many:
        points = source.normal(size=(source.integers(3, 14), 2)) * source.uniform(0.3, 3, size=2)
        points -= points.mean(axis=0)
        hull = points[ConvexHull(points).vertices]
        if sides_of(hull)[1].min() > 0.05:
            found.append(hull)
    return found


def within(polygon: Floats, box: Box, slack: float = 1e-9) -> bool:
    normals, rooms = sides_of(polygon)
    return bool((box.corners() @ normals.T <= rooms + slack).all())


def by_linear_programme(polygon: Floats, wide: float, angle: float) -> float:
    """The height of the largest box at one angle: its corners within every side, scipy's solver."""
    from scipy.optimize import linprog

    normals, rooms = sides_of(polygon)
    across, up = (
        np.array([math.cos(angle), math.sin(angle)]),
        np.array([-math.sin(angle), math.cos(angle)]),
    )
    rows, limits = [], []
    for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        corner = (i * wide * across + j * up) / 2
        rows += [[*normal, normal @ corner] for normal in normals]
        limits += rooms.tolist()
    solved = linprog([0, 0, -1], A_ub=rows, b_ub=limits, bounds=[(None, None), (None, None), (0, None)])
    assert solved.status == 0
    return float(solved.x[2])


@pytest.mark.parametrize("row", KNOWN, ids=lambda row: f"{row['solid']}-{row['wide']}-{row['angle']}")
def test_the_largest_box_on_a_face_is_the_known_one(row: dict[str, str]) -> None:
    """Heights over the across-flats size, to 0.1 %; a box that is larger and fits corrects the known value."""
    die, wide = solid(row["solid"]), float(row["wide"])
    box = boxes(die, wide, any_angle=row["angle"] == "any")[0]
    assert box is not None and within(face_frame(die, 0).polygon, box)
    known = float(row["height"])
    room = 0.002 if "ours is larger" in row["source"] else 0.001
    assert known * (1 - 0.001) <= box.height / 2 <= known * (1 + room)


@pytest.mark.parametrize("wide", WIDES)
def test_the_largest_box_in_a_triangle_by_hand(wide: float) -> None:
    """Upright in an equilateral triangle of side 1: the top corners lie on the slopes, w·h + 2h/√3 = 1."""
    triangle = np.array([[-0.5, 0], [0.5, 0], [0, math.sqrt(3) / 2]]) - [0, math.sqrt(3) / 6]
    box = largest_box(triangle, wide)
    assert box is not None and box.edge == 0
    assert box.height == pytest.approx(1 / (wide + 2 / math.sqrt(3)), rel=1e-12)


def test_the_largest_box_in_a_square_by_hand() -> None:
    """Turned by 45° a box of width w fills the diagonal: (w + 1)·h = 2√2; upright w·h = 2."""
    assert largest_height(SQUARE, 1) == pytest.approx(2)
    assert largest_height(SQUARE, 1.2) == pytest.approx(2 / 1.2)
    assert largest_height(SQUARE, 4) == pytest.approx(2 * math.sqrt(2) / 5)
    turned = largest_box(SQUARE, 4, any_angle=True)
    assert turned is not None and abs(turned.angle) == pytest.approx(math.pi / 4)


@pytest.mark.parametrize("wide", [0.3, *WIDES, 4.0])
def test_no_plain_linear_programme_finds_a_larger_box(wide: float) -> None:
    for number, polygon in enumerate(polygons(12)):
        normals, rooms = sides_of(polygon)
        angles = np.random.default_rng(number).uniform(0, math.pi, size=5)
        exact = heights(angles, normals, rooms, closing(normals), wide)
        plain = [by_linear_programme(polygon, wide, angle) for angle in angles]
        assert exact == pytest.approx(plain, rel=1e-7)


@pytest.mark.parametrize("wide", [0.3, *WIDES, 4.0])
def test_the_best_angle_is_the_best_of_a_fine_grid(wide: float) -> None:
    """On random polygons: never below any angle of the grid, and reached by one near it."""
    grid = np.linspace(0, math.pi, 20_001)
    for polygon in polygons(60):
        normals, rooms = sides_of(polygon)
        tried = float(heights(grid, normals, rooms, closing(normals), wide).max())
        box = largest_box(polygon, wide, any_angle=True)
        assert box is not None and within(polygon, box)
        assert tried * (1 - 1e-9) <= box.height <= tried * (1 + 1e-3)


def test_centred_boxes_are_the_best_of_a_fine_grid() -> None:
    grid = np.linspace(0, math.pi, 20_001)
    for polygon in polygons(60):
        normals, rooms = sides_of(polygon)
        tried = float(heights(grid, normals, rooms, np.eye(len(normals)), 1.2).max())
        box = largest_box(polygon, 1.2, any_angle=True, centred=True)
        assert box is not None and box.centre == (0, 0) and within(polygon, box)
        assert tried * (1 - 1e-9) <= box.height <= tried * (1 + 1e-3)


def test_a_box_lies_as_near_to_the_rest_point_as_it_can() -> None:
    """In a rectangle that is long for its box, the box can slide along: it stays in the middle."""
    box = largest_box(SQUARE * [5, 1], 1.2)
    assert box is not None and box.centre == pytest.approx((0, 0), abs=1e-9)
    shifted = largest_box(SQUARE * [5, 1] + np.array([3, 0.5]), 1.2)
    assert shifted is not None and shifted.centre == pytest.approx((0, 0.5), abs=1e-9)
    away = largest_box(SQUARE + np.array([3, 0]), 1, centred=True)
    assert away is None


@pytest.mark.parametrize("name", listed())
def test_boxes_on_every_solid_lie_on_their_faces_and_are_alike(name: str) -> None:
    die = solid(name)
    below = {rest.below for rest in die.rests}
    for any_angle in (False, True):
        for wide in WIDES:
            free = boxes(die, wide, any_angle=any_angle)
            middle = boxes(die, wide, any_angle=any_angle, centred=True)
            for face, box in enumerate(free):
                assert box is not None and box.height > 0
                polygon = face_frame(die, face).polygon
                assert within(polygon, box, 1e-7)
                if face in below:
                    centred = middle[face]
                    assert centred is not None and centred.height <= box.height * (1 + 1e-9)
                    assert box.height == pytest.approx(free[0].height)  # type: ignore[union-attr]
                if not any_angle:
                    assert box.edge is not None
                    step = polygon[(box.edge + 1) % len(polygon)] - polygon[box.edge]
                    along = step / np.linalg.norm(step)
                    assert along == pytest.approx([math.cos(box.angle), math.sin(box.angle)], abs=1e-7)


@pytest.mark.parametrize("name", listed())
def test_turning_freely_and_moving_freely_never_lose(name: str) -> None:
    die = solid(name)
    for wide in WIDES:
        turned, upright = boxes(die, wide, any_angle=True)[0], boxes(die, wide)[0]
        assert turned is not None and upright is not None
        assert upright.height <= turned.height * (1 + 1e-9)
        assert -1e-9 <= cost_of_centring(die, wide) < 0.6


def test_what_centring_costs_by_hand() -> None:
    """Faces with two mirrors lose nothing. In an equilateral triangle of side 1, the rest point r = √3/6 from each
    side, a box about it reaches the slopes, with normals (±√3/2, 1/2), when w·h·√3/4 + h/4 = r, the foot at h/2 = r.
    """
    for name in ("cube", "rhombic dodecahedron", "rhombic triacontahedron"):
        assert cost_of_centring(solid(name), 0.6, any_angle=True) == pytest.approx(0, abs=1e-9)
    r = math.sqrt(3) / 6
    triangle = np.array([[-0.5, -r], [0.5, -r], [0, 2 * r]])
    for wide in (0.3, *WIDES):
        box = largest_box(triangle, wide, centred=True)
        assert box is not None
        assert box.height == pytest.approx(min(2 * r, r / (wide * math.sqrt(3) / 4 + 1 / 4)), rel=1e-12)
    assert cost_of_centring(solid("icosahedron"), 1.2) == pytest.approx(
        1 - r / (1.2 * math.sqrt(3) / 4 + 1 / 4) * (1.2 + 2 / math.sqrt(3)), rel=1e-9
    )


def test_all_boxes_of_the_catalogue_take_less_than_a_second() -> None:
    dice = [solid(name) for name in listed()]
    boxes.cache_clear()
    started = time.process_time()
    for die in dice:
        for wide in WIDES:
            boxes(die, wide)
            boxes(die, wide, any_angle=True)
    assert time.process_time() - started < 3  # 0.4 s on a quiet machine; the bound leaves room for a busy one
