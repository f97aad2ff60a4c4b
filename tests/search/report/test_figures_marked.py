"""Drawings of marked solids: enough sides, every mark where its face is, nothing drawn that is turned away."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from facewright.constraints.solids import solid
from facewright.search.artwork.badges import placed
from facewright.search.artwork.placing import artwork_of, numbered
from facewright.search.report.figures_marked import ABOVE, clear, marked_svg, sides
from facewright.search.report.figures_solids import view_of
from shapely import Point, Polygon

SOLIDS = ["coin", "tetrahedron", "cube", "5-sided log", "rhombic dodecahedron", "pentagonal icositetrahedron"]


@pytest.mark.parametrize("name", [*SOLIDS, "deltoidal hexecontahedron", "disdyakis triacontahedron"])
def test_the_sides_show_every_mark(name: str) -> None:
    artwork = numbered(solid(name))
    chosen = sides(artwork)
    assert chosen[0].rest == 0
    assert len(chosen) <= 6
    assert {mark.face for mark in artwork.marks} <= {face for side in chosen for face in clear(artwork, side)}
    assert sides(artwork, most=1) == chosen[:1]


@pytest.mark.parametrize("name", SOLIDS)
def test_a_mark_is_drawn_within_its_face(name: str) -> None:
    artwork = numbered(solid(name))
    for side in sides(artwork):
        root = ET.fromstring(marked_svg(artwork, side, size=400))
        paths = [one for one in root.iter() if one.tag.endswith("path")]
        view = view_of(artwork.solid, side.rest, side.aside, ABOVE)
        low, high = view.points.min(axis=0), view.points.max(axis=0)
        scale = 392 / float((high - low).max())
        drawn = {
            (one.get("data-site"), one.get("data-face")): one.get("d") or ""
            for one in paths
            if one.get("class") == "mark"
        }
        seen = [mark for mark in artwork.marks if view.facing[mark.face] > 0.1 and placed(mark)]
        assert set(drawn) == {(mark.site, f"f{mark.face + 1}") for mark in seen}
        for mark in seen:
            corners = view.points[list(artwork.solid.faces[mark.face])]
            outline = Polygon([(4 + (x - low[0]) * scale, 4 + (high[1] - y) * scale) for x, y in corners])
            numbers = [float(one) for one in re.findall(r"-?\d+\.\d", drawn[mark.site, f"f{mark.face + 1}"])]
            points = list(zip(numbers[::2], numbers[1::2], strict=True))
            assert all(outline.buffer(0.2).contains(Point(point)) for point in points)


def test_marks_of_readouts_have_badges_and_colours_only_on_request() -> None:
    cube = solid("cube")
    carried = [{"f1": 1, "f2": 2}, {"v1": "a", "v2": "b"}]
    artwork = artwork_of(cube, carried, several=True)
    plain = marked_svg(artwork)
    assert {re.sub(r".*fill=\"(#\w+)\".*", r"\1", line) for line in plain.splitlines() if "mark" in line} >= {
        "#1c2430"
    }
    assert "#b34a00" not in plain
    assert "#b34a00" in marked_svg(artwork, colours={1: "#b34a00"})
    assert 'paint-order="stroke"' in marked_svg(artwork, lit=["f1", "f2", "v1", "v2"])
    assert 'paint-order="stroke"' not in plain


def test_the_same_artwork_gives_the_same_text() -> None:
    artwork = numbered(solid("cube"))
    assert marked_svg(artwork) == marked_svg(artwork)
    assert "&lt;x&gt;" in marked_svg(artwork, title="<x>")
