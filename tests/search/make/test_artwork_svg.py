"""Artwork as SVG: true size, outlines only, one path a face and layer."""

from __future__ import annotations

import re

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.search.artwork.placing import artwork_of, numbered
from facewright.search.make.artwork_svg import LAYERS, artwork_svg
from lxml import etree

SVG = "{http://www.w3.org/2000/svg}"
MM = 8.0


def parsed(text: str) -> etree._Element:
    return etree.fromstring(text.encode())


def rings(path: str) -> list[np.ndarray]:
    """The closed or open runs of a path of M and L."""
    runs = [run for run in path.replace("Z", "").split("M") if run]
    return [np.array([[float(x) for x in point.split()] for point in run.split("L")]) for run in runs]


def layer(root: etree._Element, name: str) -> dict[str, list[np.ndarray]]:
    [group] = root.findall(f"{SVG}g[@id='{name}']")
    return {
        path.get("id").removeprefix(f"{name}-"): rings(path.get("d"))
        for path in group
        if path.get("id") != "register-sheet"
    }


@pytest.mark.parametrize(
    "name", ["cube", "icosahedron", "rhombic triacontahedron", "tetrahedron", "5-sided log"]
)
def test_faces_are_in_true_size_and_carry_their_numerals(name: str) -> None:
    built = solid(name)
    root = parsed(artwork_svg(numbered(built), MM, "a die"))
    assert root.get("width") == f"{float(root.get('viewBox').split()[2]):g}mm"
    outlines, numerals, points = (layer(root, one) for one in ("outlines", "numerals", "register"))
    marked = {f"f{mark.face + 1}" for mark in numbered(built).marks}
    assert set(outlines) == set(numerals) == set(points) == marked
    boxes = []
    for face, [corners] in outlines.items():
        wanted = built.vertices[list(built.faces[int(face[1:]) - 1])] * MM
        for step in range(1, len(wanted)):
            there = np.linalg.norm(wanted - np.roll(wanted, step, axis=0), axis=1)
            assert np.linalg.norm(corners - np.roll(corners, step, axis=0), axis=1) == pytest.approx(
                there, abs=2e-4
            )
        low, high = corners.min(axis=0), corners.max(axis=0)
        boxes.append((low, high))
        for ring in numerals[face]:
            assert (ring >= low).all()
            assert (ring <= high).all()
        # the cross lies under the centre of mass: as far from every corner as that foot is
        normal = np.cross(wanted[1] - wanted[0], wanted[2] - wanted[0])
        normal /= np.linalg.norm(normal)
        foot = normal * (normal @ wanted[0])
        cross = points[face][0].mean(axis=0)
        assert np.linalg.norm(corners - cross, axis=1) == pytest.approx(
            np.linalg.norm(wanted - foot, axis=1), abs=2e-4
        )
    for number, (low, high) in enumerate(boxes):
        for other_low, other_high in boxes[:number]:
            assert (low > other_high).any() or (other_low > high).any()


def test_seen_from_outside_faces_run_counter_clockwise() -> None:
    """On the screen y runs downwards, so that the area by the shoelace formula is negative."""
    for [corners] in layer(
        parsed(artwork_svg(numbered(solid("dodecahedron")), MM, "x")), "outlines"
    ).values():
        after = np.roll(corners, -1, axis=0)
        assert (corners[:, 0] * after[:, 1] - corners[:, 1] * after[:, 0]).sum() < 0


def test_layers_have_ids_and_no_text_needs_a_font() -> None:
    text = artwork_svg(numbered(solid("cube")), MM, 'Dues <1> & "more"', "Invented data.")
    root = parsed(text)
    assert [one.get("id") for one in root.findall(f"{SVG}g")] == list(LAYERS)
    assert root.findall(f".//{SVG}text") == []
    assert root.findtext(f"{SVG}title") == 'Dues <1> & "more"'
    assert "Invented data." in root.findtext(f"{SVG}desc")
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    assert text == artwork_svg(numbered(solid("cube")), MM, 'Dues <1> & "more"', "Invented data.")


def test_own_labels_stand_upright_and_arrows_point_up() -> None:
    built = solid("icosahedron")
    root = parsed(artwork_svg(artwork_of(built, [{"f1": 7, "f2": 7}], any_angle=True), MM, "x"))
    one, other = layer(root, "numerals").values()
    for first, second in zip(one, other, strict=True):
        assert np.ptp(first, axis=0) == pytest.approx(np.ptp(second, axis=0), abs=1e-3)
        assert np.ptp(first[:, 1]) > np.ptp(first[:, 0])
    for shaft, head in layer(root, "arrows").values():
        assert shaft[1, 1] < shaft[0, 1]
        assert head[1].tolist() == shaft[1].tolist()
