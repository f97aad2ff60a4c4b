"""What a maker gets of a smooth body: a sound mesh with numerals in place, a drawing, notes; or a refusal in words."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.solids.smooth.body import SmoothBody
from facewright.constraints.solids.smooth.companion import tips as tips_of
from facewright.constraints.solids.smooth.mesh import sphere
from facewright.search.cli import status_of
from facewright.search.make.mesh_check import look
from facewright.search.make.smooth_mesh import smooth_mesh
from facewright.search.make.smooth_numerals import numerals
from facewright.search.make.stl import read_stl
from facewright.search.make.threemf import read_3mf

CUBIC = SmoothBody("tetrahedral", 3, (Fraction(11, 200),))
LOG = SmoothBody("three-sided", 3, (Fraction(1, 100),))


@pytest.mark.parametrize("body", [CUBIC, LOG], ids=["four rests", "three around"])
def test_numerals_stand_about_their_tips(body: SmoothBody) -> None:
    tips = tips_of(body.symmetry)
    found = numerals(body)
    assert len(found) == (12 if body.group.cubic else 6)
    for one in found:
        tip = body.points(tips[int(one.text) - 1][None])[0]
        towards = (tip - one.foot) / np.linalg.norm(tip - one.foot)
        assert one.up @ towards > 0.9, "the head is towards the tip"
        assert np.allclose(np.cross(one.across, one.up), one.normal)
        assert np.allclose(body.points(one.normal[None])[0], one.foot)
        nearest = min(tips, key=lambda other: np.linalg.norm(body.points(other[None])[0] - one.foot))
        assert nearest is tips[int(one.text) - 1]


def test_the_mesh_is_the_body_less_its_recesses() -> None:
    mesh = smooth_mesh(CUBIC, 24.0, 0.5, 0.5, "roller")
    found = look(mesh.points, mesh.triangles)
    assert (found.closed, found.one_way, found.pieces, found.genus) == (True, True, 1, 0)
    points = mesh.points.astype(float) / 24
    # a point of the surface is nowhere beyond any tangent plane; recesses lie no deeper than asked
    planes, _ = sphere(4)
    room = (CUBIC.support(planes)[None] - points @ planes.T).min(axis=1) * 24
    assert room.min() > -1e-3
    assert 0.4 < room.max() < 0.6
    assert 0 < mesh.chord_mm < 0.02
    assert mesh.shift_mm < 0.02


def test_a_width_too_small_for_its_numerals_names_one_that_does() -> None:
    with pytest.raises(UsageError, match="mm and more") as refused:
        smooth_mesh(CUBIC, 10.0, 0.5, 0.5, "roller")
    needs = float(str(refused.value).split("accepted: ")[1].split(" mm")[0])
    assert smooth_mesh(CUBIC, needs, 0.5, 0.5, "roller").high_mm < 4


@pytest.fixture
def told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    """Runs a command beside a run of a smooth brief; gives its exit status, what it printed, what it complained of."""
    monkeypatch.chdir(tmp_path)
    table = 'symmetry = "tetrahedral", width_mm = 24, degree = 3'
    Path("roller.toml").write_text(f'title = "Roller"\nsmooth = {{ {table} }}\n', encoding="utf-8")
    assert status_of(["find", "roller.toml", "--out", "run", "--quiet"]) == 0
    capsys.readouterr()

    def run(*arguments: str) -> tuple[int, str, str]:
        status = status_of(list(arguments))
        out, error = capsys.readouterr()
        return status, out, error

    return run


def test_the_command_writes_all_files(told: Any) -> None:
    one = json.loads(told("show", "run", "--json")[1])["designs"][0]["id"]
    status, out, _ = told("make", "run", one, "--out", "made", "--json")
    assert status == 0
    [made] = json.loads(out)["made"]
    assert made["files"] == ["die.stl", "die.3mf", "drawing.pdf", "notes.txt"]
    folder = Path(made["folder"])
    for read, name in ((read_stl, "die.stl"), (read_3mf, "die.3mf")):
        found = look(*read(folder / name))
        assert (found.closed, found.pieces, found.genus) == (True, 1, 0)
    text = (folder / "notes.txt").read_text(encoding="utf-8")
    for words in ("24.0 mm", "44.45 mm", "small part", "proved for the ideal body"):
        assert words in text
    assert (folder / "drawing.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--raised"], "must roll"),
        (["--size-is", "edge"], "--size alone"),
        (["--pips"], "usual numerals"),
        (["--size", "5"], "mm and more"),
    ],
)
def test_wishes_that_no_smooth_body_has_are_refused(told: Any, options: list[str], words: str) -> None:
    one = json.loads(told("show", "run", "--json")[1])["designs"][0]["id"]
    status, _, error = told("make", "run", one, "--out", "made", *options)
    assert status == 2
    assert words in error


def test_a_product_sheet_is_refused_in_words(told: Any) -> None:
    one = json.loads(told("show", "run", "--json")[1])["designs"][0]["id"]
    status, _, error = told("sheet", "run", one)
    assert status == 2
    assert "smooth body" in error
