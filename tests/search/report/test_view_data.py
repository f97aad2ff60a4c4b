"""What the view to turn is given: solids, marks and outlines that draw as the marks do; its block in a page."""

from __future__ import annotations

import json
import math
import re
from typing import Any

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.frames import face_frame
from facewright.search.artwork.badges import placed
from facewright.search.artwork.glyphs import outlines
from facewright.search.artwork.laid import sites_read
from facewright.search.artwork.marks import Artwork
from facewright.search.artwork.placing import artwork_of, artwork_of_layout, numbered
from facewright.search.report.page import page
from facewright.search.report.page_data import pack
from facewright.search.report.view import view_assets, view_block
from facewright.search.report.view_data import artwork_data, numbering_data, solid_data

HOSTILE = "</script><script>alert(1)</script>\"' &"
USUAL = "largest-numeral"
FINE = 0.002
"""Inradii by which a corner of an outline may be off: half a thousandth of a figure as tall as the widest face."""


def readouts() -> Artwork:
    """A rhombic dodecahedron with words on its faces, and numbers at some of its corners and edges."""
    body = solid("rhombic dodecahedron")
    faces = {site: ("calm", "gale", "-3")[place % 3] for place, site in enumerate(body.sites("faces"))}
    corners = {f"v{place}": place for place in range(1, 15, 3)}
    edges = {"e1": "no", "e24": "yes"}
    return artwork_of(body, [faces, corners, edges], several=True)


def drawn(packed: dict[str, Any], place: int) -> list[np.ndarray[Any, Any]]:
    """The rings of a packed mark, each corner in space, from the packed values alone."""
    _, face, _, shape, x, y, height, angle = packed["marks"][place]
    vertices = np.array(packed["solid"]["vertices"], float)[packed["solid"]["faces"][face]]
    across = vertices[1] - vertices[0]
    across /= np.linalg.norm(across)
    normal = np.cross(vertices[1] - vertices[0], vertices[2] - vertices[0])
    normal /= np.linalg.norm(normal)
    origin, up = normal * (normal @ vertices[0]), np.cross(normal, across)
    rings = []
    for flat in packed["shapes"][shape][1]:
        a, b = np.array(flat[::2]) / 1000, np.array(flat[1::2]) / 1000
        right = x + height * (math.cos(angle) * a - math.sin(angle) * b)
        high = y + height * (math.sin(angle) * a + math.cos(angle) * b)
        rings.append(origin + right[:, None] * across + high[:, None] * up)
    return rings


@pytest.mark.parametrize("artwork", [numbered(solid("cube")), numbered(solid("icosahedron")), readouts()])
def test_packed_marks_are_where_the_marks_are(artwork: Artwork) -> None:
    packed = json.loads(json.dumps(artwork_data(artwork)))
    assert len(packed["marks"]) == len(artwork.marks)
    for place, mark in enumerate(artwork.marks):
        frame = face_frame(artwork.solid, mark.face)
        wanted = [frame.in_space(np.array(ring)) for ring in placed(mark)]
        found = drawn(packed, place)
        assert len(found) == len(wanted)
        for ring, other in zip(found, wanted, strict=True):
            apart = np.linalg.norm(ring[:, None] - other[None, :], axis=2)
            assert apart.min(axis=0).max() < FINE
            assert apart.min(axis=1).max() < FINE


def test_a_shape_is_written_once() -> None:
    packed = artwork_data(readouts(), ["wind", "rain", "catch"])
    assert packed["readouts"] == ["wind", "rain", "catch"]
    shapes = [(text, json.dumps(rings)) for text, rings in packed["shapes"]]
    assert len(set(shapes)) == len(shapes) < len(packed["marks"])
    assert {text for text, _ in shapes} == {"calm", "gale", "-3", "1", "4", "7", "10", "13", "no", "yes"}


def test_characters_set_a_text_as_it_is_drawn() -> None:
    texts = ["1", "10", "-3", "118", "69"]
    characters = numbering_data([("cube", USUAL, map(int, texts))])["characters"]
    for text in texts:
        points, pen = [], 0
        for one in text:
            onward, rings = characters[one]
            points += [(ring[at] + pen, ring[at + 1]) for ring in rings for at in range(0, len(ring), 2)]
            pen += onward
        xs = [x for x, _ in points]
        middle = (min(xs) + max(xs)) / 2
        wanted = np.array([point for ring in outlines(text) for point in ring])
        found = np.array([((x - middle) / 1000, y / 1000) for x, y in points])
        apart = np.linalg.norm(found[:, None] - wanted[None, :], axis=2)
        assert max(apart.min(axis=0).max(), apart.min(axis=1).max()) < 2 * FINE


@pytest.mark.parametrize(
    ("name", "kind", "copies"),
    [("cube", "f", 1), ("tetrahedron", "v", 3), ("9-sided log", "e", 2), ("triakis tetrahedron", "f", 1)],
)
def test_each_rest_has_a_place_for_its_label_where_it_is_read(name: str, kind: str, copies: int) -> None:
    body = solid(name)
    sites = sites_read(body)
    faces = body.sites("faces")
    laid = artwork_of_layout(body, {faces[rest.below]: place for place, rest in enumerate(body.rests)})
    assert {mark.site for mark in laid.marks} == set(sites)
    assert len(set(sites)) == len(body.rests)
    assert {site[0] for site in sites} == {kind}
    packed = numbering_data([(name, USUAL, [1, 12])])["solids"][0]
    assert set(packed["slots"]) == {"1", "2"}
    for length in ("1", "2"):
        assert [len(places) for places in packed["slots"][length]] == [copies] * len(body.rests)
        wanted = artwork_of(body, [dict.fromkeys(sites, int("8" * int(length)))])
        for site, places in zip(sites, packed["slots"][length], strict=True):
            marks = [mark for mark in wanted.marks if mark.site == site]
            assert [face for face, _ in places] == [mark.face for mark in marks]
            assert [packed["frames"][place] for _, place in places] == [
                pytest.approx([*mark.centre, mark.height, mark.angle], abs=1e-5) for mark in marks
            ]


def test_a_large_solid_stays_small_and_an_unknown_one_is_none() -> None:
    carried = [("no such solid", USUAL, [1]), ("disdyakis triacontahedron", USUAL, range(1, 121))]
    packed = numbering_data(carried)
    assert packed["solids"][0] is None
    assert len(packed["solids"][1]["rests"]) == 120
    assert len(json.dumps(packed, separators=(",", ":"))) < 25_000
    assert packed == numbering_data(carried)


def test_a_solid_is_drawn_in_its_own_proportions() -> None:
    usual, long = numbering_data([("6-sided log", USUAL, [1]), ("6-sided log", (4.0,), [1])])["solids"]
    assert long == {**long, **solid_data(solid("6-sided log", (4.0,)))}
    assert long["vertices"] != usual["vertices"]


def test_the_dice_of_a_page_name_their_solids() -> None:
    die = {"faces": 6, "copies": 1, "name": None, "solid": "6-sided log"}
    sets = [{"dice": [die, {**die, "shape": [4.0]}, die]}, {"dice": [{**die, "solid": "cube"}]}]
    labels = [1, 2, 3, 4, 5, 6]
    packed = pack({"sets": sets}, [{"id": "a" * 64, "rank": 1, "dice": [labels] * 3}])
    assert [die.get("drawn") for one in packed["sets"] for die in one["dice"]] == [0, 1, 0, None]
    assert [one["name"] for one in packed["view"]["solids"]] == ["6-sided log"] * 2


def test_a_block_holds_still_data_and_no_markup_of_others() -> None:
    artwork = artwork_of(solid("cube"), [{"f1": HOSTILE, "f2": "rain"}])
    block = str(view_block(artwork, [HOSTILE], name=HOSTILE, note=HOSTILE))
    assert block.count("<script") == 1
    assert block.count("</script>") == 1
    assert "<svg" in block
    found = re.search(r'<script type="application/json">(.*)</script>', block, re.S)
    assert found is not None
    packed = json.loads(found[1])
    assert packed == artwork_data(artwork, [HOSTILE])
    assert packed["readouts"] == [HOSTILE]
    assert "<svg" not in str(view_block(artwork, still=""))


def test_only_pages_with_a_solid_carry_what_draws_it() -> None:
    die = {"faces": 6, "copies": 1, "name": None}
    summary = {"title": "Tides", "verdict": "complete", "sentence": "One does it.", "run": "tides"}
    design = {"id": "a" * 64, "rank": 1, "dice": [[1, 2, 3, 4, 5, 6]]}
    with_solid = page({**summary, "sets": [{"dice": [{**die, "solid": "cube"}]}]}, [design])
    without = page({**summary, "sets": [{"dice": [{**die, "solid": "a pebble"}]}]}, [design])
    script = view_assets()[1][0]
    assert "three.js authors" in script
    assert script in with_solid
    assert "three.js authors" not in without
    assert len(with_solid) - len(without) < 600_000


def test_labels_on_faces_that_are_never_on_top_are_read_from_below() -> None:
    body = solid("tetrahedron")
    on_faces = artwork_data(artwork_of(body, [dict.fromkeys(body.sites("faces"), "7")]))["solid"]
    assert on_faces["read"] == "face below"
    assert on_faces["rests"] == [[rest.below, None] for rest in body.rests]
    at_corners = artwork_data(artwork_of(body, [dict.fromkeys(body.sites("vertices"), "7")]))["solid"]
    assert at_corners["read"] == body.read == "vertex above"
    told = artwork_data(artwork_of(body, [dict.fromkeys(body.sites("faces"), "7")]), ["tide"])["solid"]
    assert told["read"] == "vertex above"
