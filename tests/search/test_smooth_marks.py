"""Labels, layouts and readouts at the rests of a smooth body: asked, placed, shown, made, checked, refused."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from facewright.constraints.brief import parse
from facewright.constraints.errors import BriefRefused
from facewright.constraints.solids.rests import outward
from facewright.constraints.solids.smooth.body import SmoothBody
from facewright.constraints.solids.smooth.companion import companion, site_direction, tips, turned
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES
from facewright.search.cli import status_of
from facewright.search.make.mesh_check import look
from facewright.search.make.smooth_numerals import numerals, readings
from facewright.search.make.stl import read_stl


def brief(table: str, layout: str = "") -> str:
    """A brief of degree 3 or 5, with this in its table."""
    return f'title = "Rests"\nsmooth = {{ width_mm = 30, degree = 5, {table} }}\n{layout}\n'


@pytest.mark.parametrize("name", SYMMETRIES)
def test_the_solid_rests_where_the_body_does(name: str) -> None:
    solid, turn = companion(name), turned(name)
    assert np.isclose(np.linalg.det(turn), 1), "a turn, no mirror"
    normals, _ = outward(solid.vertices, solid.faces)
    downs = [turn @ normals[rest.below] for rest in solid.rests]
    assert len(downs) == SYMMETRIES[name].ways
    # below the body is the direction opposite the tip on top
    assert np.allclose(downs, [-tip for tip in tips(name)], atol=1e-9)


@pytest.mark.parametrize("name", SYMMETRIES)
def test_what_is_read_stands_nearest_to_the_tip_on_top(name: str) -> None:
    """For plain numbers: of all numerals, those that read a rest are those nearest to its tip."""
    body = SmoothBody(name, 3, ())
    placed = numerals(body)
    for reading in readings(name, []):
        best = max(float(one.normal @ reading.tip) for one in placed)
        near = {one.text for one in placed if one.normal @ reading.tip > best - 1e-6}
        assert near == {reading.text}


def test_a_ridge_stands_between_its_two_tips() -> None:
    solid = companion("tetrahedral")
    for number, (a, b) in enumerate(solid.edges, 1):
        ends = site_direction("tetrahedral", f"v{a + 1}") + site_direction("tetrahedral", f"v{b + 1}")
        assert np.allclose(site_direction("tetrahedral", f"e{number}"), ends / np.linalg.norm(ends))
    with pytest.raises(ValueError, match="e7"):
        site_direction("tetrahedral", "e7")


@pytest.fixture
def found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    """Answers a brief in a run folder; gives the answer."""
    monkeypatch.chdir(tmp_path)

    def run(text: str) -> dict[str, Any]:
        Path("brief.toml").write_text(text, encoding="utf-8")
        assert status_of(["find", "brief.toml", "--out", "run", "--quiet", "--replace"]) == 0
        capsys.readouterr()
        assert status_of(["show", "run", "--json"]) == 0
        answer: dict[str, Any] = json.loads(capsys.readouterr().out)
        return answer

    return run


def test_labels_are_laid_out_and_cut(found: Any, capsys: pytest.CaptureFixture[str]) -> None:
    answer = found(brief('symmetry = "five-sided", place = [6, 9, 12, 15, 16]', 'layout = ["no-neighbours"]'))
    [design], [laid] = answer["designs"], answer["layouts"]
    texts = [one["text"] for one in design["reads"]]
    assert sorted(texts, key=int) == ["6", "9", "12", "15", "16"]
    assert {one["face"]: int(one["text"]) for one in design["reads"]} == laid["faces"]
    # 15 and 16 are not side by side on the ring
    a, b = texts.index("15"), texts.index("16")
    assert abs(a - b) not in (1, 4)
    assert status_of(["check", "run"]) == 0
    page = Path("run/report.html").read_text(encoding="utf-8")
    assert "What stands at its rests" in page
    capsys.readouterr()
    assert (
        status_of(["make", "run", design["id"], "--by", "print", "--out", "made", "--json", "--quiet"]) == 0
    )
    [made] = json.loads(capsys.readouterr().out)["made"]
    mesh = look(*read_stl(Path(made["folder"]) / "die.stl"))
    assert (mesh.closed, mesh.pieces) == (True, 1)
    assert f"Its rests read: {'; '.join(texts)}." in (Path(made["folder"]) / "notes.txt").read_text("utf-8")
    Path("rolls.csv").write_text("result\n" + "6\n9\n12\n15\n16\n" * 8, encoding="utf-8")
    assert status_of(["rolls", "run", design["id"], "rolls.csv", "--quiet"]) == 0


def test_two_readouts_of_four_rests_are_independent(found: Any) -> None:
    """Four rests, two by two: every pair of answers at one rest, and each answer seen from where it is read."""
    answer = found(brief('symmetry = "tetrahedral", readouts = { wind = 2, tide = "E:1 F:1" }'))
    [design], [laid] = answer["designs"], answer["layouts"]
    texts = [one["text"] for one in design["reads"]]
    assert sorted(texts) == ["wind 1, tide E", "wind 1, tide F", "wind 2, tide E", "wind 2, tide F"]
    assert laid["dependence"] == "0"
    # recounted by eye: of each readout exactly one label's site is near each tip
    for reading in design["reads"]:
        for name, sites in laid["sites"].items():
            close = {
                str(label)
                for site, label in sites.items()
                if site_direction("tetrahedral", site) @ np.array(reading["tip"]) > 0.5
            }
            assert len(close) == 1
            assert f"{name} {close.pop()}" in reading["text"]
    assert status_of(["check", "run"]) == 0


def test_labels_that_repeat_are_told_apart_by_the_question() -> None:
    plain = parse(brief('symmetry = "tetrahedral"'))
    twice = parse(brief('symmetry = "tetrahedral", place = [1, 2]'))
    assert plain.fingerprint() != twice.fingerprint()
    assert sorted(twice.marks.labels) == [1, 1, 2, 2]  # type: ignore[union-attr]
    assert type(twice).from_form(json.loads(json.dumps(twice.to_form()))) == twice  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("table", "layout", "words"),
    [
        ('symmetry = "tetrahedral", place = [1, 2, 3]', "", "3 labels for 4 rests"),
        ('symmetry = "tetrahedral", place = "1-4"', "", "smooth.place"),
        ('symmetry = "tetrahedral", place = "1..4"', 'layout = ["opposite-sums"]', "layout[1]"),
        ('symmetry = "five-sided", place = ["a", "b", "c", "d", "e"]', 'layout = ["no-neighbours"]', "words"),
        ('symmetry = "five-sided", readouts = { wind = 2 }', "", "smooth.readouts.wind"),
        ('symmetry = "tetrahedral", place = "1..4", readouts = { wind = 2 }', "", "one of them"),
        ('symmetry = "tetrahedral", readouts = { wind = [1] }', "", "smooth.readouts.wind"),
    ],
)
def test_what_no_body_carries_is_refused(table: str, layout: str, words: str) -> None:
    with pytest.raises(BriefRefused) as refused:
        parse(brief(table, layout))
    assert words in str(refused.value)
