"""Volumes, areas, midradii and dihedral angles of regular and Catalan solids against published ones; see the README."""

from __future__ import annotations

import csv
import itertools
from pathlib import Path

import numpy as np
import pytest
from facewright.constraints.edges import dihedral_angles
from facewright.constraints.solids import solid

with Path(__file__).with_name("geometry.csv").open(encoding="utf-8", newline="") as file:
    TABLE = {row["solid"]: {key: row[key] for key in row if key != "solid"} for row in csv.DictReader(file)}


def test_all_regular_and_catalan_solids_are_there() -> None:
    assert len(TABLE) == 5 + 13


@pytest.mark.parametrize("name", TABLE)
def test_measures(name: str) -> None:
    found, published = solid(name), TABLE[name]
    volume = area = 0.0
    for face in found.faces:
        for i, j in itertools.pairwise(face[1:]):
            a, b, c = found.vertices[[face[0], i, j]]
            volume += float(np.linalg.det(np.stack([a, b, c]))) / 6
            area += float(np.linalg.norm(np.cross(b - a, c - a))) / 2
    assert volume == pytest.approx(float(published["volume"]), abs=1e-8, rel=0)
    assert area == pytest.approx(float(published["area"]), abs=1e-8, rel=0)
    for a, b in found.vertices[np.array(found.edges)]:
        reach = float(np.linalg.norm(np.cross(a, b)) / np.linalg.norm(b - a))
        assert reach == pytest.approx(float(published["midradius"]), abs=1e-8, rel=0)
    for angle in dihedral_angles(found):
        assert angle == pytest.approx(float(published["dihedral"]), abs=1e-7, rel=0)
        assert f"{angle:.3f}" == published["printed_dihedral"]
