"""Shares of a polygon: against arrangements worked out by hand, and never one box over another."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from facewright.constraints.solids.boxes import largest_box, sides_of
from facewright.constraints.solids.rooms import Room, Wish, share
from shapely import Polygon

SQUARE = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]], dtype=float)


def corners(wish: Wish, room: Room) -> np.ndarray:
    across, up = wish.axes
    signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    return np.array(
        [
            np.array(room.centre) + room.size / 2 * (i * wish.wide * across + j * wish.high * up)
            for i, j in signs
        ]
    )


def test_one_box_is_the_largest_box() -> None:
    for angle, wide in ((0.0, 1.2), (math.pi / 4, 0.6)):
        [room] = share(SQUARE, [Wish(wide, 1, angle, (0, 0))])
        normals, rooms = sides_of(SQUARE)
        reach = [Wish(wide, 1, angle, (0, 0)).reach(normal) for normal in normals]
        assert room.size == pytest.approx(float((rooms / reach).min()), rel=1e-5)
    box = largest_box(SQUARE, 1.2)
    assert box is not None
    assert share(SQUARE, [Wish(1.2, 1, 0, (0.3, 0))])[0].size == pytest.approx(box.height, rel=1e-5)


def test_four_boxes_quarter_a_square() -> None:
    wishes = [Wish(1, 1, 0, (0.5 * x, 0.5 * y)) for x in (1, -1) for y in (1, -1)]
    rooms = share(SQUARE, wishes)
    assert [room.size for room in rooms] == pytest.approx([1] * 4, rel=1e-5)
    for wish, room in zip(wishes, rooms, strict=True):
        assert room.centre == pytest.approx(wish.near, abs=1e-5)


def test_two_groups_are_raised_one_after_the_other() -> None:
    """A small corner keeps the first box small; the second then takes what is left, of height 2 over its width of 4."""
    first = Wish(1, 1, 0, (-0.8, 0), 0, held=((1, 0, -0.8),))
    second = Wish(1, 4, 0, (0.5, 0), 1)
    rooms = share(SQUARE, [first, second])
    assert rooms[0].size == pytest.approx(0.4, rel=1e-4)
    assert rooms[1].size == pytest.approx(0.5, rel=1e-4)
    assert rooms[1].centre == pytest.approx((0.5, 0), abs=1e-4)


def test_a_box_keeps_to_its_half_planes_and_near_where_it_likes() -> None:
    [room] = share(SQUARE, [Wish(0.5, 0.5, 0, (0, 0), held=((1, 0, -0.6),))])
    assert room.size == pytest.approx(1.6, rel=1e-4)
    assert room.centre[0] <= -0.6 + 1e-6
    assert share(SQUARE, [Wish(1, 1, 0, (0, 0), held=((1, 0, -3),))]) == (Room((0, 0), 0.0),)


@pytest.mark.parametrize("seed", range(6))
def test_boxes_never_overlap(seed: int) -> None:
    source = np.random.default_rng(seed)
    turns = np.sort(source.uniform(0, math.tau, 6))
    polygon = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    middle = polygon.mean(axis=0)
    wishes = [
        Wish(
            source.uniform(0.5, 2),
            1,
            source.uniform(0, math.tau),
            tuple(middle + 0.3 * source.uniform(-1, 1, 2)),
            int(source.integers(0, 3)),
        )
        for _ in range(5)
    ]
    groups = sorted({wish.group for wish in wishes})
    wishes = [Wish(w.wide, w.high, w.angle, w.near, groups.index(w.group)) for w in wishes]
    rooms = share(polygon, wishes)
    normals, limits = sides_of(polygon)
    outlines = [corners(wish, room) for wish, room in zip(wishes, rooms, strict=True)]
    for outline, room in zip(outlines, rooms, strict=True):
        assert room.size > 0
        assert (outline @ normals.T <= limits + 1e-7).all()
    for one, other in itertools.combinations(outlines, 2):
        assert Polygon(one).intersection(Polygon(other)).area < 1e-9
    for group in range(len(groups)):
        sizes = {room.size for room, wish in zip(rooms, wishes, strict=True) if wish.group == group}
        assert len(sizes) == 1
