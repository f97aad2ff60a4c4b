"""Widths of strokes and islands: outlines worked out by hand, then the characters themselves."""

from __future__ import annotations

import math

import pytest
from facewright.search.artwork.glyphs import outlines, usual_font
from facewright.search.artwork.lettering import LINE, PIP, Lettering, pips, underlined
from facewright.search.artwork.marks import Ring
from facewright.search.artwork.strokes import fineness

FIGURES = "0123456789"


def box(left: float, foot: float, right: float, head: float) -> Ring:
    return ((left, foot), (right, foot), (right, head), (left, head))


def disc(radius: float, corners: int = 200) -> Ring:
    turns = (math.tau * corner / corners for corner in range(corners))
    return tuple((radius * math.cos(turn), radius * math.sin(turn)) for turn in turns)


def turned(ring: Ring, angle: float) -> Ring:
    cos, sin = math.cos(angle), math.sin(angle)
    return tuple((cos * x - sin * y, sin * x + cos * y) for x, y in ring)


@pytest.mark.parametrize("angle", [0, 0.3, 1.1, 2.5])
@pytest.mark.parametrize("backwards", [False, True])
def test_a_bar_is_as_narrow_as_it_is(angle: float, backwards: bool) -> None:
    bar = turned(box(-0.1, -0.5, 0.1, 0.5), angle)
    found = fineness((bar[::-1] if backwards else bar,))
    assert found.stroke == pytest.approx(0.2, rel=0.01)
    assert found.island == math.inf


def test_a_ring_is_as_narrow_as_its_radii_differ_and_encloses_a_disc() -> None:
    found = fineness((disc(0.5), disc(0.35)))
    assert found.stroke == pytest.approx(0.15, rel=0.01)
    assert found.island == pytest.approx(0.7, rel=0.01)


def test_a_notch_and_a_needle_narrow_a_stroke_and_a_blunt_corner_does_not() -> None:
    """A bar 0.4 wide with a notch 0.3 deep is 0.1 wide there; a wedge of 60 degrees is nowhere narrow."""
    notched = ((0, 0), (1, 0), (1, 0.4), (0.6, 0.4), (0.5, 0.1), (0.4, 0.4), (0, 0.4))
    assert fineness((notched,)).stroke == pytest.approx(0.1, rel=0.01)
    triangle = ((0.0, 0.0), (1.0, 0.0), (0.5, math.sqrt(3) / 2))
    assert fineness((triangle,)).stroke == math.inf
    needle = ((0.0, 0.0), (1.0, 0.05), (0.0, 0.1))
    assert fineness((needle,)).stroke < 0.02


def test_the_end_of_a_stroke_counts_as_much_as_its_middle() -> None:
    """A foot 0.08 high under a stem 0.2 wide: nothing would fall apart, but it is the narrowest."""
    foot = ((-0.4, 0), (0.4, 0), (0.4, 0.08), (0.1, 0.08), (0.1, 1), (-0.1, 1), (-0.1, 0.08), (-0.4, 0.08))
    assert fineness((foot,)).stroke == pytest.approx(0.08, rel=0.02)


def test_the_smallest_of_several_islands_counts_and_what_stands_within_one_makes_it_smaller() -> None:
    two = (box(0, 0, 2, 1), box(0.1, 0.1, 0.5, 0.9), box(0.7, 0.1, 1.9, 0.9))
    assert fineness(two).island == pytest.approx(0.4, rel=0.01)
    # a square of 0.4 in the middle of a field of 1: discs of (1 − 0.4) / 2 fit beside it, those in the corners more
    filled = (box(-0.7, -0.7, 0.7, 0.7), box(-0.5, -0.5, 0.5, 0.5), box(-0.2, -0.2, 0.2, 0.2))
    corner = 2 * (0.3 * math.sqrt(2)) / (1 + math.sqrt(2))
    assert fineness(filled).island == pytest.approx(max(0.3, corner), rel=0.01)


def test_nothing_has_no_width() -> None:
    assert fineness(()).stroke == fineness(()).island == math.inf


def test_the_figures_that_enclose_something() -> None:
    found = {figure: fineness(outlines(figure)) for figure in FIGURES}
    assert {figure for figure, one in found.items() if math.isfinite(one.island)} == set("04689")
    assert all(0.1 < one.stroke < 0.3 for one in found.values())
    assert min(found, key=lambda figure: found[figure].island) == "4"


def test_lighter_and_serifed_fonts_are_finer() -> None:
    folder = usual_font().parent
    for figure in FIGURES:
        bold, plain, serif = (
            fineness(Lettering(font=folder / name).outline(figure)).stroke
            for name in ("DejaVuSans-Bold.ttf", "DejaVuSans.ttf", "DejaVuSerif.ttf")
        )
        assert bold > plain > serif


def test_a_text_is_as_fine_as_its_finest_character() -> None:
    for text in ("10", "84", "quay"):
        parts = [fineness(outlines(one)) for one in text]
        assert fineness(outlines(text)).stroke == pytest.approx(min(one.stroke for one in parts), rel=1e-3)
        assert fineness(outlines(text)).island == pytest.approx(min(one.island for one in parts), rel=0.01)


def test_pips_and_lines_are_as_wide_as_they_are_drawn() -> None:
    assert fineness(pips(5)).stroke == pytest.approx(PIP, rel=0.02)
    assert fineness(underlined(outlines("1"))).stroke == pytest.approx(LINE, rel=1e-6)
    # the line is no narrower than the strokes of the figures that it stands under
    for figure in "69":
        assert fineness(underlined(outlines(figure))).stroke >= 0.98 * fineness(outlines(figure)).stroke
