"""The drawing for a moulder: true scale, no words on words, everything a moulder asks for, the same bytes each time."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import pytest
from facewright.constraints.layout import Layout
from facewright.constraints.solids import solid
from facewright.search.artwork.placing import artwork_of, artwork_of_layout
from facewright.search.make.dice import DieToMake, foot_of, standing_of
from facewright.search.make.die_mesh import DieMesh, die_mesh
from facewright.search.make.drawing import BORDER_MM, drawing_pages, drawing_pdf
from facewright.search.make.drawing_views import pictures_of, scale_words
from facewright.search.make.mould import mould_of
from facewright.search.make.notes import notes_text
from facewright.search.make.sizing import Sized, Wishes, sized

from tests.pdf_files import pages_of


def die(name: str, labels: list[int | str] | None = None, *, title: str = "Quay dues, die 1") -> DieToMake:
    body = solid(name)
    labels = labels or list(range(1, len(body.rests) + 1))
    faces = {f"f{rest.below + 1}": label for rest, label in zip(body.rests, labels, strict=True)}
    artwork = artwork_of_layout(body, faces)
    by_face = {int(face[1:]) - 1: label for face, label in faces.items()}
    question = Layout(name, tuple(labels), ("even-vertices",), title=title)
    return DieToMake(title, "0123456789abcdef", artwork, standing_of(artwork), by_face, question=question)


def made(name: str, wishes: Wishes | None = None, **how: str) -> tuple[Sized, DieMesh]:
    one = sized(die(name, **how), wishes or Wishes())  # type: ignore[arg-type]
    return one, die_mesh(one.die.artwork, one.inradius_mm, 0.4, 0.3)


SOME = [
    "cube",
    "tetrahedron",
    "icosahedron",
    "5-sided log",
    "octagonal bipyramid",
    "disdyakis triacontahedron",
]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", SOME)
def test_no_words_stand_on_words_or_beyond_the_frame(name: str, paper: str) -> None:
    one, mesh = made(
        name, Wishes(paper=paper), title="A harbour with a rather long name, and dues of many kinds, " * 2
    )
    pages = drawing_pages(one, mesh)
    assert len(pages) < 6
    for page in pages:
        boxes = np.array([box for _, box in page.words])
        assert len(boxes) > 8
        width, height = page.size_mm
        assert boxes[:, :2].min() > BORDER_MM
        assert boxes[:, 2].max() < width - BORDER_MM
        assert boxes[:, 3].max() < height - BORDER_MM
        for number, (left, low, right, high) in enumerate(boxes):
            apart = (
                (boxes[:, 0] >= right) | (boxes[:, 2] <= left) | (boxes[:, 1] >= high) | (boxes[:, 3] <= low)
            )
            met = [page.words[other][0] for other in np.flatnonzero(~apart).tolist() if other != number]
            assert met == []


@pytest.mark.parametrize("name", ["cube", "octahedron", "5-sided log"])
def test_views_are_in_scale_and_in_line(name: str) -> None:
    """First angle: the top stands below the front, as wide; the left side to its right, as high, its front inwards."""
    one = sized(die(name), Wishes())
    scale, (front, side, top, _) = pictures_of(one, 10.0, 280.0)
    assert front.middle[0] == top.middle[0]
    assert front.middle[1] == side.middle[1]
    assert top.middle[1] < front.middle[1]
    assert side.middle[0] > front.middle[0]
    assert front.half[1] == pytest.approx(side.half[1])
    assert front.half[0] == pytest.approx(top.half[0])
    assert top.half[1] == pytest.approx(side.half[0])
    assert 2 * front.half[1] / scale == pytest.approx(one.size_mm("height"))
    right, up = front.view.axes.T
    eye = np.cross(right, up)
    assert np.allclose(side.view.axes.T, [eye, up])
    assert np.allclose(top.view.axes.T, [right, -eye])


def test_lines_on_the_page_are_as_long_as_the_scale_says() -> None:
    one, mesh = made("cube", Wishes(size_mm=20))
    scale, _ = pictures_of(one, 0, 0)
    [page, *_] = pages_of(drawing_pdf(one, mesh))
    lengths = [float(np.linalg.norm(run[1] - run[0])) for run in page.whole if len(run) == 2]
    assert sum(length == pytest.approx(20 * scale, abs=1e-4) for length in lengths) >= 12
    assert any(f"Scale {scale_words(scale)}" in words for words in told(one, mesh))


def told(one: Sized, mesh: DieMesh) -> list[str]:
    return [words for page in drawing_pages(one, mesh) for words, _ in page.words]


def test_it_says_what_a_moulder_asks_for() -> None:
    one, mesh = made("icosahedron", Wishes(size_mm=20))
    words = " ".join(told(one, mesh))
    for needed in (
        "20.00 ± 0.05 mm",
        "after shrinkage",
        "0.4 to 0.7 %",
        "cut the cavity 20.08 to 20.14 mm",
        "138.2° between the faces",
        "Volume",
        "g in ABS",
        "Projected area along the draw: 3",
        "Radii of the recesses: up to 0.25 mm in inner corners",
        "0.15 mm along the floors",
        "have one radius everywhere, 0.30 mm",
        "The parting line runs",
        "Gate:",
        "Recessed, 0.4 mm",
        "radius",
        "One ink",
        "Small part",
        "sheet 1 of 2",
        "first-angle projection",
    ):
        assert needed in words
    assert all(f"f{face}" in words for face in range(1, 21))


def test_the_same_die_gives_the_same_bytes() -> None:
    one, mesh = made("cube")
    assert drawing_pdf(one, mesh) == drawing_pdf(one, mesh)


def test_feet_are_where_the_frame_says() -> None:
    """On a cube a label upright to its first edge has the face beyond that edge at its foot."""
    body = solid("cube")
    for mark in artwork_of(body, [{f"f{face}": face for face in range(1, 7)}]).marks:
        place = next(
            place
            for place, (a, b) in enumerate(pairwise((*body.faces[mark.face], body.faces[mark.face][0])))
            if foot_of(body, mark) in body.edge_faces[body.edges.index((min(a, b), max(a, b)))]
        )
        assert mark.angle == pytest.approx(place * np.pi / 2 - (2 * np.pi if place == 3 else 0), abs=1e-9)


def test_marks_at_corners_stand_once_and_are_named_with_their_readout() -> None:
    body = solid("cube")
    carried = [{f"f{face}": face for face in range(1, 7)}, {"v1": "yes", "v7": "no"}]
    standing = standing_of(artwork_of(body, carried, several=True), {0: "wind", 1: "rain"})
    assert [one.site for one in standing] == ["f1", "f2", "f3", "f4", "f5", "f6", "v1", "v7"]
    assert standing[0].label == "wind 1"
    assert standing[-1].label == "rain no"
    cut = [f"f{face + 1}" for face in body.vertex_faces[6]]
    assert standing[-1].way == f"head to v7, on {' '.join(cut)}"


def test_words_have_no_mean_for_a_gate() -> None:
    one = sized(die("cube", ["north", "east", "south", "west", "up", "down"]), Wishes())
    assert mould_of(one).gate.reason == "any label"
    mesh = die_mesh(one.die.artwork, one.inradius_mm, 0.4, 0.3)
    assert "one place is as good as another" in " ".join(notes_text(one, mesh, []).split())


@dataclass(frozen=True)
class Case:
    name: str
    size_is: str
    size: float


@pytest.mark.parametrize(
    "case",
    [
        Case("cube", "across-flats", 16.0),
        Case("tetrahedron", "height", 16.0),
        Case("icosahedron", "across-flats", 18.0),
    ],
)
def test_a_size_that_nobody_gave_is_usual_or_as_large_as_numerals_need(case: Case) -> None:
    made_ = die(case.name)
    free = DieToMake(made_.title, made_.design, made_.artwork, made_.standing, made_.faces)
    one = sized(free, Wishes())
    assert (one.size_is, one.size_mm(one.size_is)) == (case.size_is, pytest.approx(case.size))


def test_a_coin_is_no_thicker_than_its_width_allows() -> None:
    made_ = die("coin")
    one = sized(DieToMake("Toss", "0" * 16, made_.artwork, made_.standing, made_.faces), Wishes())
    assert one.size_mm("tip-to-tip") < 40
    assert one.size_mm("across-flats") < 8
