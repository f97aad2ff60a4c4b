"""Convex polygons: overlap and touch."""

from __future__ import annotations

import numpy as np
import shapely
from facewright.search.make.convex import Crowd, overlap

SQUARE = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])


def test_overlap_is_told_from_touching() -> None:
    assert not overlap(SQUARE, SQUARE + np.array([1.0, 0.0]))
    assert not overlap(SQUARE, SQUARE + np.array([1.0, 1.0]))
    assert not overlap(SQUARE, SQUARE + np.array([1.0, -0.3]))
    assert overlap(SQUARE, SQUARE + np.array([0.999, 0.0]))
    assert overlap(SQUARE, SQUARE * 0.1 + 0.4)
    assert overlap(SQUARE, SQUARE)


def test_overlaps_agree_with_another_library_on_random_triangles() -> None:
    chance = np.random.default_rng(5)
    crowd, shapes, met = Crowd(), [], 0
    for _ in range(300):
        corners = chance.random(2) * 8 + chance.normal(size=(3, 2))
        shape = shapely.Polygon(corners)
        if shape.area < 0.05:
            continue
        corners = corners if shape.exterior.is_ccw else corners[::-1]
        wanted = any(shapely.intersects(shape, other) for other in shapes)
        assert crowd.overlaps(corners) == wanted
        met += wanted
        if not wanted:
            crowd.add(corners)
            shapes.append(shape)
    assert met > 50
    assert len(shapes) > 10
