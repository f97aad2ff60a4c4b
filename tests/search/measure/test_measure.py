"""Measured dice: the model against recomputed solid angles, planted errors found again, tolerances, rows not lost."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.angles import solid_angles
from facewright.search.cli.command import status_of
from facewright.search.measure.axes import STRONGER, Spanned, answers_of, axes_of, tolerance_mm
from scipy.spatial import HalfspaceIntersection

STEP = 1e-5


def pushed(name: str, faces: tuple[int, int], by: float) -> np.ndarray:
    """The share of each face's solid angle, about the centre of mass, once two planes are moved outwards by a step."""
    from scipy.spatial import ConvexHull, Delaunay

    body = solid(name)
    normals = []
    for face in body.faces:
        a, b, c = body.vertices[list(face[:3])]
        normal = np.cross(b - a, c - a)
        normals.append(normal / np.linalg.norm(normal))
    planes = np.array(normals)
    distances = np.array([planes[at] @ body.vertices[face[0]] for at, face in enumerate(body.faces)])
    distances[list(faces)] += by
    corners = HalfspaceIntersection(np.column_stack([planes, -distances]), np.zeros(3)).intersections
    cells = Delaunay(corners)
    tetrahedra = corners[cells.simplices]
    volumes = np.abs(np.linalg.det(tetrahedra[:, 1:] - tetrahedra[:, :1]))
    centre = (volumes[:, None] * tetrahedra.mean(axis=1)).sum(axis=0) / volumes.sum()
    shares = []
    for normal, distance in zip(planes, distances, strict=True):
        own = corners[np.abs(corners @ normal - distance) < 1e-9]
        across = np.linalg.svd(own - own.mean(axis=0))[2][:2]
        flat = (own - own.mean(axis=0)) @ across.T
        ring = np.argsort(np.arctan2(flat[:, 1], flat[:, 0]))
        order = ring if np.cross(across[0], across[1]) @ normal > 0 else ring[::-1]
        shares.append(float(solid_angles(own[order] - centre, [tuple(range(len(order)))])[0]))
    assert len(ConvexHull(corners).vertices) == len(corners)
    return np.array(shares) / (4 * np.pi)


@pytest.mark.parametrize("name", ["cube", "dodecahedron", "rhombic dodecahedron"])
def test_the_answers_are_those_of_recomputed_solid_angles(name: str) -> None:
    body = solid(name)
    pairs = tuple(axis.faces for axis in axes_of(body, {}))
    answers = answers_of(body, pairs)
    below = [rest.below for rest in body.rests]
    for at, pair in enumerate(pairs[:3]):
        # a die whose axis is longer by the share e has both planes e inradii farther out
        change = (pushed(name, pair, STEP) - pushed(name, pair, -STEP)) / (2 * STEP)
        plain = pushed(name, pair, 0.0)
        assert answers[:, at] == pytest.approx((change / plain)[below], abs=1e-4)


def test_a_cube_answers_by_the_known_exponent() -> None:
    # −2√3/π for its own axis, by integration of the solid angle of a square (own derivation)
    answers = answers_of(solid("cube"), tuple(axis.faces for axis in axes_of(solid("cube"), {})))
    assert answers.min() == pytest.approx(-2 * np.sqrt(3) / np.pi, abs=1e-9)
    assert answers.sum(axis=1) == pytest.approx(np.zeros(6), abs=1e-9)  # a larger die is no other die


@pytest.fixture
def dice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    """Keeps dice as a run and measures them; gives what the command says as JSON, or its status and words."""
    monkeypatch.chdir(tmp_path)

    def measuring(labels: list[str], table: str | None, *options: str) -> Any:
        assert status_of(["ways", *labels, "--save", "runs/dice"]) == 0
        capsys.readouterr()
        assert status_of(["show", "dice", "--json"]) == 0
        design = json.loads(capsys.readouterr().out)["designs"][0]["id"]
        given = [] if table is None else ["calipers.csv"]
        if table is not None:
            Path("calipers.csv").write_text(table, encoding="utf-8")
        status = status_of(["measure", "dice", design, *given, *options])
        said = capsys.readouterr()
        assert "Traceback" not in said.err
        return json.loads(said.out) if "--json" in options and status == 0 else (status, said.out, said.err)

    return measuring


def table(
    shared: dict[str, float], cavity: dict[str, dict[str, float]], dice: int = 40, seed: int = 1
) -> str:
    """Readings of cubes of 16 mm with planted errors, and a spread of 0.015 mm."""
    noise = np.random.default_rng(seed)
    rows = ["die;cavity;axis;mm"]
    for die in range(dice):
        name = "AB"[die % 2]
        size = 16 + noise.normal(0, 0.05)  # how large a die is harms nobody
        for axis in ("f1-f6", "f2-f4", "f3-f5"):
            mm = size + shared.get(axis, 0) + cavity.get(name, {}).get(axis, 0) + noise.normal(0, 0.015)
            rows.append(f"{die};{name};{axis};{mm:.3f}".replace(".", ","))
    return "\r\n".join(rows)


def test_planted_errors_are_found_again(dice: Any) -> None:
    planted = {"f3-f5": 0.09}
    found = dice(["1..6"], table(planted, {"A": {"f1-f6": 0.03}, "B": {"f1-f6": -0.03}}), "--json")
    assert (found["readings"], found["unread"]) == (120, [])
    [kind] = found["kinds"]
    off = {axis["name"]: axis["shared_mm"] for axis in kind["axes"]}
    # against the mean of its own die: two thirds of 0.09, and less by a third of it for the others
    assert off["f3-f5"] == pytest.approx(0.06, abs=0.006)
    assert off["f1-f6"] == pytest.approx(-0.03, abs=0.006)
    assert kind["left_mm"] == pytest.approx(0.015, abs=0.005)
    cavities = {one["name"]: one["off_mm"] for one in kind["cavities"]}
    assert cavities["A"][0] == pytest.approx(0.02, abs=0.006)
    assert cavities["A"][0] == pytest.approx(-cavities["B"][0], abs=1e-9)
    worst = max(kind["faces"], key=lambda face: abs(face["off"]))
    assert worst["name"] in ("f3", "f5")
    # 0.06 up and 0.03 down twice: −1.10 × 0.06/16 − 2 × 0.55 × 0.03/16
    assert worst["off"] == pytest.approx(-(1.1027 * 0.06 + 2 * 0.5513 * 0.03) / 16, rel=0.12)
    assert worst["low"] < worst["off"] < worst["high"] < 0
    assert worst["low"] < STRONGER * worst["off"]


def test_nothing_planted_is_nothing_found(dice: Any) -> None:
    alarms = 0
    for seed in range(12):
        [kind] = dice(["1..6"], table({}, {}, seed=seed), "--json")["kinds"]
        alarms += sum(abs(axis["shared_mm"]) > 3 * axis["error_mm"] for axis in kind["axes"])
    assert alarms <= 1


def test_a_tolerance_keeps_every_face_within_what_was_asked(dice: Any) -> None:
    [plain] = dice(["1..6"], None, "--json", "--off", "5")["tolerances"]
    [half] = dice(["1..6"], None, "--json", "--off", "2.5")["tolerances"]
    assert plain["mm"] == pytest.approx(2 * half["mm"])
    assert plain["mm_by_solid_angles"] == pytest.approx(STRONGER * plain["mm"])
    body = solid("cube")
    pairs = tuple(axis.faces for axis in axes_of(body, {}))
    answers = answers_of(body, pairs)
    for signs in np.ndindex(2, 2, 2):
        off = answers @ ((np.array(signs) * 2 - 1) * plain["mm_by_solid_angles"] / 16)
        assert np.abs(off).max() <= 0.05 * (1 + 1e-9)
    words = dice(["1..6"], None)[1]
    assert "write ±0.0" in words
    assert "mm on the drawing" in words
    assert Spanned.__doc__ and tolerance_mm.__doc__


def test_no_row_is_lost(dice: Any) -> None:
    text = (
        "die,cavity,axis,mm\n1,A,f1-f6,16.0\n1,A,2-5,16.1\n1,A,f9,16\n,A,f1-f6,16\n2,A,f1-f6,1600\n2,A,f1-f6,wide\n"
        '2,A,"f1-f6,16\n3,B,f1-f6,16.0\n'
    )
    found = dice(["1..6"], text, "--json")
    assert found["readings"] + len(found["unread"]) == 8
    assert [one["line"] for one in found["unread"]] == [4, 5, 6, 7, 8]
    assert all(one["reason"] and one["text"] for one in found["unread"])


@pytest.mark.parametrize(
    ("labels", "text", "told"),
    [
        (["1..6"], "dye,axis\n1,f1-f6\n", "found no column die"),
        (["1..6"], "", "found no line"),
        (["1..4"], "die,axis,mm\n", "no opposite ones"),
        (["1..6"], "die,axis,mm\n1,f1-f6,16\n", "no die could be judged"),
    ],
)
def test_what_cannot_be_judged_is_said(dice: Any, labels: list[str], text: str, told: str) -> None:
    status, _, err = dice(labels, text)
    assert status == 2
    assert told in err


def test_sets_of_different_dice_need_to_know_which(dice: Any) -> None:
    status, out, _ = dice(["1..6", "1..12"], "die,part,axis,mm\n1,1,f1-f6,16\n1,1,f2-f4,16\n2,,f1-f6,16\n")
    assert status == 0
    assert "`part` does not say which" in out
