"""`facewright solids`: the list, one solid, JSON as promised, refusals; the page of solids says what the code says."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.catalogue import listed
from facewright.search.cli import status_of
from facewright.search.report.figures_solids import solid_svg, view_of
from facewright.search.report.solids_page import PAGE, PICTURES, drawn, pictures, written

ROOT = Path(__file__).resolve().parents[2]


def test_the_list_names_every_solid(capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["solids"]) == 0
    lines = capsys.readouterr().out.splitlines()
    for name in listed():
        assert sum(line.startswith(f"{name}  ") for line in lines) == 1
    assert any("cocked" in line and "disdyakis triacontahedron" in line for line in lines)


def test_the_list_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["solids", "--json", "--sides", "4"]) == 0
    rows = json.loads(capsys.readouterr().out)["solids"]
    assert [row["name"] for row in rows] == list(listed(4))
    assert all(row["fair"] for row in rows)


def test_a_number_lists_the_solids_with_so_many_rests(capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["solids", "24", "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)["solids"]
    assert {row["rests"] for row in rows} == {24}
    assert {"24-sided log", "dodecagonal bipyramid", "tetrakis hexahedron", "diploid"} <= {
        row["name"] for row in rows
    }


def test_one_solid_as_json_has_what_is_promised(capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["solids", "trigonal bipyramid", "--json"]) == 0
    plain = json.loads(capsys.readouterr().out)
    assert plain["name"] == "triangular bipyramid"
    assert (len(plain["vertices"]), len(plain["faces"]), len(plain["edges"])) == (5, 6, 9)
    assert (plain["symmetry"], plain["rotations"], plain["read"]) == (12, 6, "face below")
    assert plain["numbers_from"] == 0
    assert {corner for face in plain["faces"] for corner in face} == set(range(5))
    assert [rest["below"] for rest in plain["rests"]] == [f"f{number}" for number in range(1, 7)]


def test_one_solid_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["solids", "Pyritohedron"]) == 0
    text = capsys.readouterr().out
    assert text.startswith("pyritohedral dodecahedron (also pyritohedron)")
    assert "slope" in text


def test_shapes(capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["solids", "13-gonal bipyramid", "--shape", "2.5", "--json"]) == 0
    plain = json.loads(capsys.readouterr().out)
    assert plain["shape"] == {"height": 2.5}
    assert max(abs(z) for _, _, z in plain["vertices"]) == pytest.approx(2.5)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["icosahedorn"], "nearest: icosahedron"),
        (["500"], "from 2 to 120"),
        (["1"], "from 2 to 120"),
        (["500-gonal bipyramid"], "at most 120"),
        (["cube", "--shape", "2"], "no free proportion"),
        (["square bipyramid", "--shape", "widest"], "settles-best"),
        (["--shape", "2"], "goes with the NAME"),
        (["\x1b[31m"], "the name of a solid"),
    ],
)
def test_bad_input_gets_one_clear_message(
    arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert status_of(["solids", *arguments]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert words in said.err
    assert said.err.count("\n") == 1
    assert "\x1b" not in said.err


def test_the_page_says_what_the_code_says() -> None:
    page = (ROOT / PAGE).read_text(encoding="utf-8")
    assert written(page) == page, "run `make solids`"


def test_the_pictures_are_what_the_code_draws() -> None:
    made = dict(pictures())
    committed = {path.name: path.read_text(encoding="utf-8") for path in (ROOT / PICTURES).iterdir()}
    assert committed.keys() == made.keys()
    assert sorted(name for name in made if made[name] != committed[name]) == [], "run `make solids`"
    assert sum(len(text) for text in made.values()) < 200_000


def test_a_page_without_its_marks_is_refused() -> None:
    with pytest.raises(ValueError, match="are needed"):
        written("# Solids\n")


@pytest.mark.parametrize("name", ["coin", "tetrahedron", "disdyakis triacontahedron"])
def test_a_picture_shows_the_faces_that_turn_to_the_eye(name: str) -> None:
    found = solid(name)
    view = view_of(found)
    picture = ET.fromstring(solid_svg(found))
    filled = [path for path in picture.iter("{http://www.w3.org/2000/svg}path") if path.get("fill")]
    assert 0 < len(filled) == sum(view.seen) < len(found.faces)
    assert not view.seen[found.rests[0].below]
    assert name in drawn()
