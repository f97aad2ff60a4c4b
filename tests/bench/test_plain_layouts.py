"""The frozen models of layouts and boxes are right: wrong ones would measure nothing."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from facewright.constraints.solids import solid

from tests.bench import plain_layouts


def test_the_plain_layouts_reach_what_is_known() -> None:
    # the cube by hand: with opposite faces at 7 the label 1, 2, 3 meet in a corner, 6, 4½ off 10½
    assert plain_layouts.layout(solid("cube"), opposite=True, seconds=60, workers=2)[0] == Fraction(9, 2)
    assert plain_layouts.layout(solid("cube"), opposite=False, seconds=60, workers=2)[0] == Fraction(3, 2)
    assert plain_layouts.layout(solid("octahedron"), opposite=False, seconds=60, workers=2)[0] == 0


def test_plain_boxes_are_the_largest() -> None:
    square = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    # by hand: a square of half the area turned any way is smaller; two squares side by side fill half of it or lean
    assert plain_layouts.box(square, 1.0) == pytest.approx(2.0, rel=1e-6)
    # an upright box half as wide as high in a triangle of side 2 and height √3: h/√3 + w/2·… by similar triangles
    triangle = np.array([[-1.0, 0.0], [1.0, 0.0], [0.0, np.sqrt(3)]])
    upright = plain_layouts._at(triangle, 1.0, 0.0)
    assert upright == pytest.approx(2 * np.sqrt(3) / (2 + np.sqrt(3)), rel=1e-6)
