"""Badges: distinct shapes in one ink, clear of the characters that they mark."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from facewright.search.artwork.badges import BADGES, GAP, badge_of, drawn, extent, placed
from facewright.search.artwork.glyphs import outlines
from facewright.search.artwork.marks import Mark
from shapely import Polygon
from shapely.ops import unary_union

TEXTS = ["1", "8", "12", "120", "yes", "Q"]


def ink(rings: tuple[tuple[tuple[float, float], ...], ...]) -> Polygon:
    """What the even-odd rule fills."""
    filled = Polygon()
    for ring in rings:
        filled = filled.symmetric_difference(Polygon(ring))
    return filled


@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("readout", range(1, 11))
def test_a_badge_keeps_clear_of_its_characters(text: str, readout: int) -> None:
    characters = outlines(text)
    badge = drawn(text, readout)[len(characters) :]
    assert badge
    assert ink(characters).distance(unary_union([ink((ring,)).boundary for ring in badge])) > GAP / 2
    assert ink(drawn(text, readout)).area > ink(characters).area * 1.05


@pytest.mark.parametrize("text", TEXTS)
def test_badges_differ_upright_and_upside_down(text: str) -> None:
    """No two badges fill the same place, nor does one fill that of another turned by half."""
    own = len(outlines(text))
    shapes = [ink(drawn(text, readout)[own:]) for readout in range(1, 11)]
    turned = [Polygon() if shape.is_empty else shape for shape in shapes]
    for (a, one), (b, other) in combinations(enumerate(shapes), 2):
        assert one.symmetric_difference(other).area > 0.02, (a, b)
        half = _half_turn(turned[b])
        assert one.symmetric_difference(half).area > 0.02, (a, b)


def _half_turn(shape: Polygon) -> Polygon:
    from shapely.affinity import rotate

    return rotate(shape, 180, origin=(0, 0))


def test_the_first_readout_and_a_die_of_one_are_plain() -> None:
    assert drawn("7", 0) == drawn("7", None) == outlines("7")
    assert len({badge_of(place).name for place in range(12)}) == 12
    assert len({badge_of(place).words for place in range(12)}) == 12
    assert len(BADGES) == 8


def test_the_extent_holds_every_point() -> None:
    for readout in range(9):
        left, bottom, right, top = extent("12", readout)
        points = [point for ring in drawn("12", readout) for point in ring]
        assert all(left <= x <= right and bottom <= y <= top for x, y in points)
    assert extent("") == (-0.3, -0.5, 0.3, 0.5)


def test_a_placed_mark_is_scaled_turned_and_moved() -> None:
    plain = drawn("4")
    mark = Mark("f1", 0, "4", (2.0, -1.0), 0.5, math.pi / 2)
    for ring, moved in zip(plain, placed(mark), strict=True):
        for (x, y), (u, v) in zip(ring, moved, strict=True):
            assert (u, v) == pytest.approx((2.0 - 0.5 * y, -1.0 + 0.5 * x))
