"""Outlines from SVG: files with shapes, transforms and fill rules, path data, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.solids import solid
from facewright.search.artwork.lettering import Lettering
from facewright.search.artwork.marks import Ring
from facewright.search.artwork.pictures import MOST_BYTES, picture
from facewright.search.artwork.placing import artwork_of_layout
from shapely import Polygon

SQUARE_WITH_HOLE = "M0 0 H10 V10 H0 Z M2 2 V8 H8 V2 Z"


def area(rings: tuple[Ring, ...]) -> Polygon:
    filled = Polygon()
    for ring in rings:
        filled = filled.symmetric_difference(Polygon(ring))
    return filled


def svg(tmp_path: Path, inside: str) -> Path:
    path = tmp_path / "mark.svg"
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">{inside}</svg>')
    return path


def test_path_data_becomes_a_unit_high_about_its_middle() -> None:
    """By hand: a square of 10 with a hole of 6 is 1 high with an area of 1 − 0.36."""
    found = area(picture(SQUARE_WITH_HOLE))
    assert found.bounds == pytest.approx((-0.5, -0.5, 0.5, 0.5))
    assert found.area == pytest.approx(0.64)


def test_y_is_turned_upwards() -> None:
    """A triangle with its tip at the top of the drawing has it above."""
    tip = max(picture("M0 10 L10 10 L5 0 Z")[0], key=lambda point: point[1])
    assert tip == pytest.approx((0, 0.5))


def test_a_circle_of_a_file_and_its_place(tmp_path: Path) -> None:
    found = area(picture(svg(tmp_path, '<circle cx="30" cy="70" r="20"/>')))
    assert found.area == pytest.approx(3.14159 / 4, rel=0.01)
    assert found.bounds == pytest.approx((-0.5, -0.5, 0.5, 0.5), abs=1e-6)


def test_curves_and_arcs_of_path_data() -> None:
    for data in (
        "M0 0 A5 5 0 0 0 10 0 A5 5 0 0 0 0 0 Z",
        "M0 0 C0 6.667 10 6.667 10 0 C10 -6.667 0 -6.667 0 0 Z",
    ):
        assert area(picture(data)).area == pytest.approx(3.14159 / 4, rel=0.02)


def test_transforms_and_several_shapes(tmp_path: Path) -> None:
    """By hand: the first square lies from 5 to 25, the second beside it up to 45, so the box is 40 by 20."""
    first = '<g transform="translate(5 5) scale(2)"><rect width="10" height="10"/></g>'
    second = '<rect x="25" y="5" width="20" height="20"/>'
    left, low, right, high = area(picture(svg(tmp_path, first + second))).bounds
    assert (right - left, high - low) == pytest.approx((2, 1))


@pytest.mark.parametrize(
    ("transform", "wide"),
    [
        ("rotate(90)", 1 / 2),
        ("rotate(90, 3, 4)", 1 / 2),
        ("matrix(0 1 -1 0 0 0)", 1 / 2),
        ("skewX(45)", 2 + 1),
        ("skewY(0) translate(7)", 2),
        ("scale(1, 2)", 1),
    ],
)
def test_each_transform_on_a_box_twice_as_wide_as_high(tmp_path: Path, transform: str, wide: float) -> None:
    path = svg(tmp_path, f'<rect transform="{transform}" width="20" height="10"/>')
    left, low, right, high = area(picture(path)).bounds
    assert (right - left, high - low) == pytest.approx((wide, 1))


def test_what_is_not_filled_or_not_shown_is_left_out(tmp_path: Path) -> None:
    inside = (
        '<defs><rect width="90" height="90"/></defs><g style="fill:none"><rect width="80" height="80"/></g>'
        '<rect display="none" width="70" height="70"/><!-- a note --><rect width="20" height="10"/>'
    )
    left, low, right, high = area(picture(svg(tmp_path, inside))).bounds
    assert (right - left, high - low) == pytest.approx((2, 1))
    for tag in ("use", "text", "image"):
        (tmp_path / tag).mkdir()
        with pytest.raises(UsageError, match=f"found <{tag}>; accepted: paths and shapes"):
            picture(svg(tmp_path / tag, f"<{tag}/>"))
    with pytest.raises(UsageError, match=r"found turn\(9\); accepted: SVG's transforms"):
        (tmp_path / "turn").mkdir()
        picture(svg(tmp_path / "turn", '<rect transform="turn(9)" width="1" height="1"/>'))


def test_fill_rules(tmp_path: Path) -> None:
    """A square within a square, both drawn the same way round: filled by the non-zero rule, a hole by even-odd."""
    data = "M0 0 H10 V10 H0 Z M2 2 H8 V8 H2 Z"
    assert area(picture(svg(tmp_path, f'<path d="{data}"/>'))).area == pytest.approx(1)
    (tmp_path / "odd").mkdir()
    odd = svg(tmp_path / "odd", f'<path fill-rule="evenodd" d="{data}"/>')
    assert area(picture(odd)).area == pytest.approx(0.64)


def test_a_picture_stands_on_a_die(tmp_path: Path) -> None:
    path = svg(tmp_path, f'<path fill-rule="evenodd" d="{SQUARE_WITH_HOLE}"/>')
    lettering = Lettering.of({"6": path, "sun": "M0 0 H4 V2 H0 Z"})
    artwork = artwork_of_layout(solid("cube"), {"f1": 6, "f2": 9, "f3": "sun"}, lettering=lettering)
    outlines = {mark.text: mark.outline for mark in artwork.marks}
    assert outlines["6"] == picture(path)
    assert area(outlines["sun"] or ()).bounds == pytest.approx((-1, -0.5, 1, 0.5))
    assert outlines["9"] is None, "no 6 is written that it could be taken for"


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("M0 0 Q", "accepted: SVG with paths"),
        ("nonsense", "accepted: SVG with paths|found no area"),
        ("M0 0 L10 10", "found no area; accepted: closed and filled outlines"),
        ("", "found no area"),
    ],
)
def test_data_that_encloses_nothing_is_refused(source: str, said: str) -> None:
    with pytest.raises(UsageError, match=said):
        picture(source)


def test_files_that_are_no_svg_are_refused(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="No such file"):
        picture(tmp_path / "none.svg")
    with pytest.raises(UsageError, match="accepted: SVG with paths or shapes"):
        path = tmp_path / "broken.svg"
        path.write_text("<svg><path d=")
        picture(path)
    with pytest.raises(UsageError, match="found no area"):
        picture(svg(tmp_path, ""))
    with pytest.raises(UsageError, match="entity"):
        path = tmp_path / "entity.svg"
        path.write_text('<!DOCTYPE svg [<!ENTITY a "b">]><svg/>')
        picture(path)
    with pytest.raises(UsageError, match=f"accepted: at most {MOST_BYTES}"):
        path = tmp_path / "large.svg"
        path.write_bytes(b" " * (MOST_BYTES + 1))
        picture(path)
