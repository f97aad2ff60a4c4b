"""The narrowest stroke: shapes whose answer is known, and figures against paring by another library."""

from __future__ import annotations

import math

import pytest
from facewright.search.artwork.badges import STROKE, drawn
from facewright.search.make.strokes import CLOSE, cross_section, narrowest, stroke

NEAR = 2 * CLOSE


def box(left: float, low: float, right: float, high: float) -> tuple[tuple[float, float], ...]:
    """A rectangle as a ring."""
    return ((left, low), (right, low), (right, high), (left, high))


def circle(radius: float, many: int = 256) -> tuple[tuple[float, float], ...]:
    """A circle as a ring."""
    turns = [2 * math.pi * i / many for i in range(many)]
    return tuple((radius * math.cos(t), radius * math.sin(t)) for t in turns)


def test_a_bar_is_as_narrow_as_it_is() -> None:
    assert narrowest(cross_section((box(0, 0, 2, 0.17),))) == pytest.approx(0.17, abs=NEAR)


def test_the_neck_between_two_pieces_counts() -> None:
    dumb_bell = (
        (0, 0),
        (1, 0),
        (1, 0.45),
        (2, 0.45),
        (2, 0),
        (3, 0),
        (3, 1),
        (2, 1),
        (2, 0.55),
        (1, 0.55),
        (1, 1),
        (0, 1),
    )
    assert narrowest(cross_section((dumb_bell,))) == pytest.approx(0.1, abs=NEAR)


def test_a_loop_opens_at_its_narrowest_place() -> None:
    loop = (circle(0.5), tuple((x + 0.06, y) for x, y in circle(0.3)))
    assert narrowest(cross_section(loop)) == pytest.approx(0.14, abs=1e-3)


def test_a_tapering_end_does_not_count() -> None:
    # a triangle is pared to a point in its incentre: its stroke is the diameter of the inscribed circle
    triangle = ((0, 0), (0.6, 0), (0, 0.8))
    assert narrowest(cross_section((triangle,))) == pytest.approx(0.4, abs=NEAR)


def test_the_smallest_of_several_pieces_counts() -> None:
    assert narrowest(cross_section((box(0, 0, 1, 1), box(2, 0, 2.12, 1)))) == pytest.approx(0.12, abs=NEAR)


def test_a_number_is_as_narrow_as_its_narrowest_figure() -> None:
    assert stroke("10") == pytest.approx(min(stroke("1"), stroke("0")))
    assert stroke("10") == pytest.approx(narrowest(cross_section(drawn("10"))), abs=NEAR)


def test_a_badge_counts_too() -> None:
    assert stroke("1") > STROKE + NEAR
    assert stroke("1", 1) == pytest.approx(STROKE, abs=1e-3)


def test_nothing_drawn_has_no_stroke() -> None:
    assert stroke(" ") == math.inf


@pytest.mark.parametrize("figure", "0123456789")
def test_figures_hold_together_just_below_their_stroke_and_not_above(figure: str) -> None:
    from shapely.geometry import Polygon

    whole = Polygon()
    for ring in drawn(figure):
        whole = whole.symmetric_difference(Polygon(ring))

    def shape(width: float) -> tuple[int, int]:
        pared = whole.buffer(-width / 2, quad_segs=32)
        pieces = [piece for piece in getattr(pared, "geoms", [pared]) if not piece.is_empty]
        return len(pieces), sum(len(piece.interiors) for piece in pieces)

    found = stroke(figure)
    assert shape(found - 0.002) == shape(0)
    assert shape(found + 0.002) != shape(0)
