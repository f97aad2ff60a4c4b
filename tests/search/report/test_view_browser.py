"""The view to turn in a real browser: read back from scene and pixels, worked by hand, by keys, without WebGL."""

from __future__ import annotations

import io
import math
from collections.abc import Callable
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.constraints.solids import solid
from facewright.constraints.solids.frames import face_frame
from facewright.constraints.solids.rests import outward
from facewright.constraints.solids.solid import Solid
from facewright.search.answer import Closing
from facewright.search.artwork.badges import placed
from facewright.search.artwork.laid import sites_read
from facewright.search.artwork.marks import Artwork, Mark
from facewright.search.artwork.placing import artwork_of, numbered
from facewright.search.layouts_answer import FoundLayout, LayoutAnswer
from facewright.search.readouts_answer import SolidOutcome
from facewright.search.report.layouts_page import layouts_page
from facewright.search.report.shell import policy, styles
from facewright.search.report.view import view_assets, view_block
from numpy.typing import NDArray

from tests.contrasts import CONTRASTS

pytestmark = pytest.mark.browser

Show = Callable[..., Any]
Points = NDArray[np.float64]
CALM = {"reduced_motion": "reduce"}
PHONE = {"viewport": {"width": 360, "height": 780}, "is_mobile": True, "has_touch": True, **CALM}
ABOVE = math.radians(35)
SEEN = """() => {
  const { painter, body } = document.querySelector(".view-figure").view;
  const { camera, layers } = painter;
  camera.updateMatrixWorld();
  const look = camera.projectionMatrix.clone().multiply(camera.matrixWorldInverse);
  const part = ({ mesh, from, count }) => ({
    turned: [...mesh.matrixWorld.elements], visible: mesh.visible,
    corners: [...mesh.geometry.attributes.position.array.slice(3 * from, 3 * (from + count))],
    colour: [...mesh.geometry.attributes.color.array.slice(4 * from, 4 * from + 4)],
  });
  return {
    look: [...look.elements],
    faces: layers.faces.parts.map(part), plates: layers.plates.parts.map(part), rims: layers.rims.parts.map(part),
    marks: body.marks.map((mark, place) => ({ site: mark.site, face: mark.face, ...part(layers.ink.parts[place]) })),
  };
}"""

TURNED = """() => {
  const { layers } = document.querySelector(".view-figure").view.painter;
  return [...layers.faces.mesh.matrixWorld.elements];
}"""


def holding(*blocks: Any) -> str:
    """A page that includes blocks as any page of a report does."""
    css, scripts = view_assets()
    head = f'<meta http-equiv="Content-Security-Policy" content="{policy(scripts)}">'
    style = f"<style>{styles(('page.css', 'print.css'))}{css}</style>"
    run = "".join(f"<script>{script}</script>" for script in scripts)
    inside = "".join(map(str, blocks))
    return (
        f'<!doctype html><html lang="en"><meta charset="utf-8">{head}{style}<main>{inside}</main>{run}</html>'
    )


def harbour_signs() -> tuple[Artwork, tuple[str, ...]]:
    """Three readouts of an invented harbour town on twelve rhombs: faces, corners and edges."""
    body = solid("rhombic dodecahedron")
    low = [vertex for vertex, faces in enumerate(body.vertex_faces) if len(faces) == 3]
    corners = {f"v{vertex + 1}": ("calm", "gale")[place % 2] for place, vertex in enumerate(low)}
    faces = {site: 1 + place % 3 for place, site in enumerate(body.sites("faces"))}
    return artwork_of(body, [faces, corners], several=True), ("catch", "wind")


def opened(show: Show, artwork: Artwork, readouts: tuple[str, ...] = (), **settings: Any) -> Any:
    tab = show(holding(view_block(artwork, readouts)), **{**CALM, **settings})
    tab.locator(".view-open").click()
    return tab


def labelled(name: str) -> Artwork:
    """A solid whose rests read 1, 2, 3, … where they are read."""
    body = solid(name)
    return artwork_of(body, [{site: place for place, site in enumerate(sites_read(body), 1)}])


def turned(part: dict[str, Any]) -> Points:
    """The corners of a part before the eye: across, up, towards the eye."""
    corners = np.array(part["corners"]).reshape(-1, 3)
    matrix = np.array(part["turned"]).reshape(4, 4).T
    return np.asarray(corners @ matrix[:3, :3].T + matrix[:3, 3])


def projected(seen: dict[str, Any], points: Points) -> Points:
    """Points before the eye, on the picture: from −1 to 1 across and up."""
    look = np.array(seen["look"]).reshape(4, 4).T
    lifted = np.c_[points, np.ones(len(points))] @ look.T
    return np.asarray(lifted[:, :2] / lifted[:, 3:])


def turn_of(tab: Any) -> Points:
    """The turn from the solid's coordinates to those before the eye."""
    return np.asarray(np.array(tab.evaluate(TURNED)).reshape(4, 4).T[:3, :3])


def area(corners: Points) -> float:
    """The area of triangles, three corners each, in the plane or in space."""
    a, b, c = corners[0::3], corners[1::3], corners[2::3]
    return float(np.linalg.norm(np.cross(b - a, c - a).reshape(len(a), -1), axis=1).sum() / 2)


def ink_area(mark: Mark) -> float:
    """The area that a mark covers by the even-odd rule, in squared inradii."""
    from shapely.geometry import Polygon

    covered = Polygon()
    for ring in placed(mark):
        covered = covered.symmetric_difference(Polygon(ring).buffer(0))
    return float(covered.area)


def head_of(body: Solid, mark: Mark) -> Points:
    """The direction of a mark's top, in space."""
    frame = face_frame(body, mark.face)
    return np.asarray(math.cos(mark.angle) * frame.up - math.sin(mark.angle) * frame.across)


def down(above: float = ABOVE) -> Points:
    """Straight down to the table, before an eye that looks down by so much."""
    return np.array([0, -math.cos(above), -math.sin(above)])


def inside(point: Points, polygon: Points) -> bool:
    """Whether a point lies within a convex outline that runs counter-clockwise."""
    edges = np.roll(polygon, -1, axis=0) - polygon
    off = point - polygon
    return bool((edges[:, 0] * off[:, 1] - edges[:, 1] * off[:, 0] > 0).all())


@pytest.mark.parametrize(
    "which",
    [
        "cube",
        "icosahedron",
        "tetrahedron",
        "9-sided log",
        "pentagonal trapezohedron",
        "rhombic triacontahedron",
        "disdyakis dodecahedron",
        "signs",
    ],
)
def test_marks_sit_on_their_faces_as_they_are_cut(show: Show, which: str) -> None:
    artwork, readouts = harbour_signs() if which == "signs" else (labelled(which), ())
    seen = opened(show, artwork, readouts).evaluate(SEEN)
    body = artwork.solid
    normals, distances = outward(body.vertices, body.faces)
    assert [(mark["site"], mark["face"]) for mark in seen["marks"]] == [
        (mark.site, mark.face) for mark in artwork.marks
    ]
    for found, mark in zip(seen["marks"], artwork.marks, strict=True):
        corners = np.array(found["corners"]).reshape(-1, 3)
        assert np.abs(corners @ normals[mark.face] - distances[mark.face]).max() < 1e-4
        frame = face_frame(body, mark.face)
        wanted = np.concatenate([frame.in_space(np.array(ring)) for ring in placed(mark)])
        apart = np.linalg.norm(corners[:, None] - wanted[None, :], axis=2)
        assert apart.min(axis=1).max() < 0.002
        assert apart.min(axis=0).max() < 0.002
        assert area(corners) == pytest.approx(ink_area(mark), rel=0.01)


@pytest.mark.parametrize("name", ["cube", "icosahedron", "tetrahedron"])
def test_marks_are_seen_within_their_faces(show: Show, name: str) -> None:
    """On the picture each mark's middle lies within its face; ink is dark where a numeral is, pale beside it."""
    from PIL import Image

    artwork = labelled(name)
    body = artwork.solid
    tab = opened(show, artwork)
    seen = tab.evaluate(SEEN)
    picture = np.asarray(
        Image.open(io.BytesIO(tab.locator(".view-stage canvas").screenshot())).convert("L"), dtype=int
    )
    high, wide = picture.shape
    turn = turn_of(tab)
    normals, _ = outward(body.vertices, body.faces)
    looked = 0
    for found, mark in zip(seen["marks"], artwork.marks, strict=True):
        facing = (turn @ normals[mark.face])[2]
        assert found["visible"] == (facing > 0.02)
        if facing < 0.35:
            continue
        face = projected(seen, body.vertices[list(body.faces[mark.face])] @ turn.T - [0, 0, 3])
        corners = projected(seen, turned(found))
        middle = projected(
            seen, face_frame(body, mark.face).in_space(np.array([mark.centre])) @ turn.T - [0, 0, 3]
        )
        assert inside(middle[0], face)
        assert all(inside(corner, face) for corner in corners)
        triangles = corners.reshape(-1, 3, 2)
        sizes = [abs(np.linalg.det(np.c_[three[1] - three[0], three[2] - three[0]])) for three in triangles]
        ink = triangles[int(np.argmax(sizes))].mean(axis=0)
        x, y = (1 + ink[0]) / 2 * wide, (1 - ink[1]) / 2 * high
        assert picture[int(y), int(x)] < 80
        bare = face.mean(axis=0) * 0.06 + face[0] * 0.94
        x, y = (1 + bare[0]) / 2 * wide, (1 - bare[1]) / 2 * high
        assert picture[int(y), int(x)] > 130
        looked += 1
    assert looked >= 2


@pytest.mark.parametrize(
    ("name", "where"),
    [
        ("cube", "on top"),
        ("tetrahedron", "at the corner on top"),
        ("9-sided log", "along the edge on top"),
        ("triakis tetrahedron", "on the face below, turned up to be read"),
        ("deltoidal icositetrahedron", "on top"),
    ],
)
def test_lay_it_on_this_face_puts_that_face_down_and_says_what_it_reads(
    show: Show, name: str, where: str
) -> None:
    artwork = labelled(name)
    body = artwork.solid
    tab = opened(show, artwork)
    normals, _ = outward(body.vertices, body.faces)
    for place, rest in list(enumerate(body.rests))[1::3][:4]:
        tab.locator(".view select").select_option(str(rest.below))
        tab.get_by_role("button", name="Lay it on this face").click()
        assert turn_of(tab) @ normals[rest.below] == pytest.approx(down(), abs=1e-4)
        line = tab.locator(".view-line").inner_text()
        assert line == f"It lies on face {rest.below + 1} and reads {place + 1}, {where}."


@pytest.mark.parametrize(
    "name",
    [
        "cube",
        "tetrahedron",
        "9-sided log",
        "triakis tetrahedron",
        "icosahedron",
        "pentagonal trapezohedron",
        "disdyakis dodecahedron",
    ],
)
def test_what_a_rest_reads_stands_upright_before_the_reader(show: Show, name: str) -> None:
    artwork = labelled(name)
    body = artwork.solid
    tab = opened(show, artwork)
    button = tab.get_by_role("button", name="Show what this rest reads")
    button.click()
    assert button.get_attribute("aria-pressed") == "true"
    normals, _ = outward(body.vertices, body.faces)
    for rest, site in list(zip(body.rests, sites_read(body), strict=True))[1::4][:3]:
        tab.locator(".view select").select_option(str(rest.below))
        tab.get_by_role("button", name="Lay it on this face").click()
        seen = tab.evaluate(SEEN)
        turn = turn_of(tab)
        lit = [part["colour"][3] == 1 for part in seen["plates"]]
        assert lit == [mark.site == site for mark in artwork.marks]
        faint = [part["colour"][3] < 0.5 for part in seen["marks"]]
        assert faint == [not one for one in lit]
        first = next(mark for mark in artwork.marks if mark.site == site)
        head = turn @ head_of(body, first)
        assert math.degrees(abs(math.atan2(head[0], head[1]))) < 1
        assert (turn @ normals[first.face])[2] > 0.5
    button.click()
    assert all(part["colour"][3] == 0 for part in tab.evaluate(SEEN)["plates"])


def test_readouts_are_told_by_name(show: Show) -> None:
    artwork, names = harbour_signs()
    body = artwork.solid
    tab = opened(show, artwork, names)
    options = tab.locator(".view option").all_inner_texts()
    assert len(options) == 12
    carried = [{mark.site: mark.text for mark in artwork.marks if mark.readout == one} for one in (0, 1)]
    for option, rest in zip(options, body.rests, strict=True):
        catch = carried[0][f"f{rest.shows['faces'][0] + 1}"]
        winds = dict.fromkeys(carried[1].get(f"v{vertex + 1}") for vertex in rest.shows["vertices"])
        told = {wind for wind in winds if wind}
        begin, wind = option.split(", wind ")
        assert begin == f"face {rest.below + 1}: reads catch {catch}"
        assert set(wind.split(", ")) == told


def test_keys_turn_it_by_fifteen_degrees(show: Show) -> None:
    tab = opened(show, numbered(solid("dodecahedron")))
    stage = tab.get_by_role("application")
    assert stage.evaluate("(node) => document.activeElement === node")
    picture = tab.locator(".view-stage canvas")
    before, shot = turn_of(tab), picture.screenshot()
    for key, axis in (("ArrowRight", 1), ("ArrowLeft", 1), ("ArrowDown", 0), ("ArrowUp", 0)):
        start = turn_of(tab)
        tab.keyboard.press(key)
        step = turn_of(tab) @ start.T
        angle = math.degrees(math.acos((np.trace(step) - 1) / 2))
        assert angle == pytest.approx(15, abs=1e-3)
        assert step[axis, axis] == pytest.approx(1, abs=1e-6)
    assert turn_of(tab) == pytest.approx(before, abs=1e-6)
    for _ in range(4):
        tab.keyboard.press("ArrowRight")
    assert picture.screenshot() != shot
    assert tab.locator(".view-line").inner_text().startswith("It would settle on face ")
    tab.keyboard.press("Enter")
    line = tab.locator(".view-line").inner_text()
    assert line.startswith("It lies on face ")
    tab.keyboard.press("Home")
    assert turn_of(tab) == pytest.approx(before, abs=1e-6)
    assert picture.screenshot() == shot


def test_a_drag_turns_it_and_a_tap_chooses_a_face(show: Show) -> None:
    artwork = labelled("cube")
    tab = opened(show, artwork)
    box = tab.locator(".view-stage").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    before = turn_of(tab)
    tab.mouse.move(x, y)
    tab.mouse.down()
    tab.mouse.move(x + 100, y, steps=4)
    tab.mouse.up()
    step = turn_of(tab) @ before.T
    assert step[1, 1] == pytest.approx(1, abs=1e-6)
    assert math.acos((np.trace(step) - 1) / 2) == pytest.approx(0.85, abs=0.01)
    assert step[0, 2] > 0, "what is before the eye follows the hand"
    tab.get_by_role("button", name="Reset").click()
    tab.mouse.click(x, y - 0.3 * box["height"])
    seen = tab.evaluate(SEEN)
    chosen = [place for place, part in enumerate(seen["rims"]) if part["colour"][3] == 1]
    turn = turn_of(tab)
    normals, _ = outward(artwork.solid.vertices, artwork.solid.faces)
    assert chosen == [int(np.argmax(normals @ turn.T @ -down()))]
    assert tab.locator(".view select").input_value() == str(chosen[0])
    tab.get_by_role("button", name="Lay it on this face").click()
    assert turn_of(tab) @ normals[chosen[0]] == pytest.approx(down(), abs=1e-4)


def test_no_lying_on_a_face_that_is_no_rest(show: Show) -> None:
    artwork = labelled("9-sided log")
    body = artwork.solid
    tab = opened(show, artwork)
    seen = tab.evaluate(SEEN)
    turn = turn_of(tab)
    rests = {rest.below for rest in body.rests}
    normals, _ = outward(body.vertices, body.faces)
    ends = [face for face in range(len(body.faces)) if face not in rests]
    end = max(ends, key=lambda face: (turn @ normals[face])[2])
    middle = projected(seen, body.vertices[list(body.faces[end])].mean(axis=0)[None] @ turn.T - [0, 0, 3])[0]
    box = tab.locator(".view-stage").bounding_box()
    tab.mouse.click(
        box["x"] + (1 + middle[0]) / 2 * box["width"], box["y"] + (1 - middle[1]) / 2 * box["height"]
    )
    button = tab.get_by_role("button", name="Lay it on this face")
    assert tab.evaluate(SEEN)["rims"][end]["colour"][3] == 1
    assert button.is_disabled()
    assert button.get_attribute("title") == "It does not come to lie on this face"


def test_a_finger_turns_it_and_the_page_stays(show: Show) -> None:
    tab = opened(show, labelled("octahedron"), **PHONE)
    box = tab.locator(".view-stage").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    before, scrolled = turn_of(tab), tab.evaluate("() => scrollY")
    touch = tab.context.new_cdp_session(tab)
    touch.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for step in range(1, 6):
        at = {"x": x + 6 * step, "y": y - 14 * step}
        touch.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [at]})
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    step = turn_of(tab) @ before.T
    assert math.degrees(math.acos((np.trace(step) - 1) / 2)) > 20
    assert tab.evaluate("() => scrollY") == scrolled
    assert tab.evaluate("() => document.documentElement.scrollWidth <= innerWidth")


def test_without_webgl_the_still_is_turned_instead(show_flat: Show) -> None:
    artwork = labelled("dodecahedron")
    tab = opened(show_flat, artwork)
    assert "no WebGL" in tab.locator(".view-missing").inner_text()
    drawing = tab.locator(".view-flat svg")
    assert drawing.is_visible()
    assert tab.locator(".view-stage canvas").count() == 0
    before = drawing.inner_html()
    tab.keyboard.press("ArrowRight")
    assert drawing.inner_html() != before
    tab.locator(".view select").select_option("4")
    tab.get_by_role("button", name="Lay it on this face").click()
    tab.get_by_role("button", name="Show what this rest reads").click()
    assert tab.locator(".view-line").inner_text() == "It lies on face 5 and reads 5, on top."
    assert tab.locator(".view-flat .plate").count() == 1
    assert tab.locator(".view-flat .ink.dim").count() == 1


def test_a_lost_context_falls_back_to_the_still(show: Show) -> None:
    tab = show(holding(view_block(labelled("cube"))), **CALM)
    tab.locator(".view-open").click()
    tab.evaluate(
        "() => document.querySelector('.view-stage canvas').dispatchEvent(new Event('webglcontextlost'))"
    )
    assert tab.locator(".view-flat svg").is_visible()
    tab.keyboard.press("ArrowLeft")
    assert tab.locator(".view-line").inner_text().startswith("It would settle")


def test_motion_only_where_it_is_welcome(show: Show) -> None:
    artwork = labelled("cube")
    normals, _ = outward(artwork.solid.vertices, artwork.solid.faces)
    tab = opened(show, artwork, reduced_motion="no-preference")
    tab.locator(".view select").select_option("4")
    before = turn_of(tab)
    tab.get_by_role("button", name="Lay it on this face").click()
    steps = [turn_of(tab) for _ in range(3)]
    assert any(np.abs(step @ normals[4] - down()).max() > 0.01 for step in steps)
    tab.wait_for_timeout(800)
    assert turn_of(tab) @ normals[4] == pytest.approx(down(), abs=1e-4)
    assert np.abs(turn_of(tab) - before).max() > 0.5


def test_the_still_stays_and_comes_back(show: Show) -> None:
    tab = show(holding(view_block(labelled("cube"), note="An invented die.")), **CALM)
    still, button = tab.locator(".view-still svg"), tab.locator(".view-open")
    assert still.is_visible()
    assert tab.locator("canvas").count() == 0
    button.click()
    assert not still.is_visible()
    assert tab.get_by_text("An invented die.").is_visible()
    tab.get_by_role("button", name="Close").click()
    assert still.is_visible()
    assert tab.locator("canvas").count() == 0
    assert button.evaluate("(node) => document.activeElement === node")


def test_it_can_be_opened_again_and_again(show: Show) -> None:
    """More often than a browser keeps contexts: closing gives them back."""
    tab = show(holding(view_block(labelled("cube"))), **CALM)
    for _ in range(20):
        tab.locator(".view-open").click()
        assert tab.locator(".view-missing").count() == 0
        tab.get_by_role("button", name="Close").click()


def test_on_paper_the_drawing_stands_for_the_canvas(show: Show) -> None:
    tab = opened(show, labelled("cube"))
    tab.keyboard.press("ArrowRight")
    tab.evaluate("() => window.dispatchEvent(new Event('beforeprint'))")
    tab.emulate_media(media="print")
    assert tab.locator(".view-print svg").is_visible()
    assert not tab.locator(".view-stage canvas").is_visible()
    assert not tab.locator(".view-controls").is_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_and_numerals_are_read_in_light_and_dark(show: Show, scheme: str) -> None:
    tab = opened(show, labelled("cube"), color_scheme=scheme)
    tab.get_by_role("button", name="Show what this rest reads").click()
    low = [found for found in tab.evaluate(CONTRASTS) if found[0] < 4.5]
    assert low == []
    colours = tab.evaluate(
        "() => { const look = getComputedStyle(document.querySelector('.view-stage'));"
        "return ['--face-lit', '--face-shade', '--face-ink', '--hit', '--on-hit']"
        ".map((one) => look.getPropertyValue(one)); }"
    )
    lit, shade, ink, hit, on_hit = map(luminance, colours)
    assert (lit + 0.05) / (ink + 0.05) > 7
    assert (shade + 0.05) / (ink + 0.05) > 4.5
    assert (hit + 0.05) / (on_hit + 0.05) > 7
    before = tab.evaluate(SEEN)["marks"][1]["colour"][:3]
    tab.emulate_media(color_scheme="dark" if scheme == "light" else "light")
    for _ in range(40):
        changed = tab.evaluate(SEEN)["marks"][1]["colour"][:3]
        if changed != before:
            break
        tab.wait_for_timeout(50)
    now = tab.evaluate(
        "() => getComputedStyle(document.querySelector('.view-stage')).getPropertyValue('--face-ink')"
    )
    assert now != colours[2]
    assert changed == pytest.approx([int(now[at : at + 2], 16) / 255 for at in (1, 3, 5)], abs=1e-3)


def luminance(colour: str) -> float:
    """The relative luminance of #rrggbb. Source: WCAG 2.2; from memory."""
    parts = np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    return float(
        np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4) @ [0.2126, 0.7152, 0.0722]
    )


def test_each_die_of_a_numbering_is_drawn_and_can_be_turned(show: Show, sample: ModuleType) -> None:
    summary, designs = run = sample.harbour()
    tab = show(run, **CALM)
    stills = tab.locator("#card .die-solid svg")
    assert stills.count() == 2
    assert all(stills.nth(at).is_visible() for at in range(2))
    assert tab.locator("canvas").count() == 0
    tab.get_by_role("button", name="Turn die 2, octagonal bipyramid").click()
    labels = designs[0]["dice"][1]
    told = [text.split("reads ")[1] for text in tab.locator("#view-2 option").all_inner_texts()]
    assert sorted(map(int, told)) == sorted(labels)
    body = solid("octagonal bipyramid")
    sums = {
        int(told[place]) + int(told[body.opposite[rest.below] or 0]) for place, rest in enumerate(body.rests)
    }
    note = tab.locator("#view-2 .hint").last.inner_text()
    assert sums == {labels[0] + labels[-1]}
    assert note == f"Not laid out yet: the labels stand in order, opposite ones with the sum {min(sums)}."
    tab.get_by_role("button", name="The next design").click()
    assert tab.locator("canvas").count() == 0
    assert len(summary["sets"]) == 1


BODY = """() => document.querySelector("#view-1").view.body.marks.map(
  ({ site, face, text, rings }) => ({ site, face, text, rings }))"""


def numbering(name: str, labels: list[int], **more: Any) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """A run with one die."""
    die = {"faces": len(labels), "copies": 1, "name": None, "solid": name}
    summary = {"title": "A", "run": "a", "verdict": "complete", "sentence": "One does it.", "read": "total"}
    design = {"id": "a" * 64, "rank": 1, "dice": [sorted(labels)], **more}
    return {**summary, "sets": [{"dice": [die]}]}, [design]


@pytest.mark.parametrize("name", ["cube", "tetrahedron", "icosahedron"])
def test_a_layout_of_the_run_is_drawn_as_it_is_cut(show: Show, name: str) -> None:
    body = solid(name)
    labels = list(range(5, 5 + len(body.rests)))
    laid = [*labels[2:], *labels[:2]]
    tab = show(numbering(name, labels, laid=[laid]), **CALM)
    tab.locator(".die-solid button").click()
    told = [text.split("reads ")[1] for text in tab.locator("#view-1 option").all_inner_texts()]
    assert list(map(int, told)) == laid
    assert tab.get_by_text("Laid out as the run has it.").is_visible()
    artwork = artwork_of(body, [dict(zip(sites_read(body), laid, strict=True))])
    for found, mark in zip(tab.evaluate(BODY), artwork.marks, strict=True):
        assert (found["site"], found["face"], found["text"]) == (mark.site, mark.face, mark.text)
        frame = face_frame(body, mark.face)
        for ring, other in zip(found["rings"], placed(mark), strict=True):
            apart = np.linalg.norm(np.array(ring)[:, None] - frame.in_space(np.array(other))[None, :], axis=2)
            assert max(apart.min(axis=0).max(), apart.min(axis=1).max()) < 0.002


@pytest.mark.parametrize("name", ["cube", "tetrahedron", "icosahedron", "octagonal bipyramid", "9-sided log"])
def test_labels_that_the_page_sets_fit_their_faces(show: Show, name: str) -> None:
    """Composed from characters; as high as they would be cut, within their faces, lined where they need it."""
    from shapely.geometry import Polygon

    body = solid(name)
    many = len(body.rests)
    labels = [1, 3, 6, 8, 9, 10] if many == 6 else list(range(6, 6 + many))
    tab = show(numbering(name, labels), **CALM)
    tab.locator(".die-solid button").click()
    found = tab.evaluate(BODY)
    at = {int(one["text"]): one["site"] for one in found}
    artwork = artwork_of(body, [{site: label for label, site in at.items()}])
    wanted = {(mark.site, mark.face): mark for mark in artwork.marks}
    assert {(one["site"], one["face"]) for one in found} == set(wanted)
    assert {int(mark.text) for mark in artwork.marks if mark.outline} >= {6, 9}
    for one in found:
        mark = wanted[one["site"], one["face"]]
        frame = face_frame(body, mark.face)
        drawn = [frame.in_face(np.array(ring)) for ring in one["rings"]]
        cut = placed(mark)
        assert [len(ring) for ring in drawn] == [len(ring) for ring in cut]
        assert [Polygon(ring).area for ring in drawn] == pytest.approx(
            [Polygon(ring).area for ring in cut], rel=0.15
        )
        assert all(inside(point, frame.polygon) for ring in drawn for point in ring)


def test_labels_without_a_constant_sum_stand_in_order(show: Show, sample: ModuleType) -> None:
    summary, designs = sample.nearest()
    tab = show((summary, designs), **CALM)
    dice = designs[0]["dice"]
    place = next(
        at
        for at, labels in enumerate(dice)
        if len({a + b for a, b in zip(labels, labels[::-1], strict=True)}) > 1
    )
    tab.locator(".die-solid button").nth(place).click()
    told = [
        int(text.split("reads ")[1]) for text in tab.locator(f"#view-{place + 1} option").all_inner_texts()
    ]
    assert told == sorted(dice[place])
    assert (
        tab.locator(f"#view-{place + 1} .hint").last.inner_text()
        == "Not laid out yet: the labels stand in order."
    )


def test_a_page_of_layouts_holds_the_view(show: Show) -> None:
    question = Layout("tetrahedron", (1, 2, 3, 4), ("apart",), title="Berths")
    design = LayoutDesign.of(question, (2, 4, 1, 3))
    closing = Closing("best", 1, 1, "all", "One layout does it.")
    outcome = SolidOutcome("tetrahedron", "layout", closing, 1, 0.1)
    answer = LayoutAnswer(question, (outcome,), (FoundLayout(design),))
    tab = show(layouts_page(answer, answer.ranked, run="berths"), **CALM)
    tab.locator(".view-open").click()
    told = [text.split("reads ")[1] for text in tab.locator(".view option").all_inner_texts()]
    assert told == [str(label) for label in design.labels], (
        "the label of the face below stands at the corner on top"
    )
