"""What a solid's size measures: closed forms, and back again."""

from __future__ import annotations

import math

import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.layout import SIZES
from facewright.constraints.solids import solid
from facewright.constraints.solids.catalogue import listed
from facewright.constraints.solids.sizes import both_units, inradius_mm, measures, size_mm

PHI = (1 + math.sqrt(5)) / 2


@pytest.mark.parametrize(
    ("name", "edge", "height", "tips"),
    [
        # with edge a: inradius a·√6/12, height a·√(2/3)
        ("tetrahedron", 2 * math.sqrt(6), 4, 2 * math.sqrt(6)),
        ("cube", 2, 2, 2 * math.sqrt(3)),
        # inradius a·√6/6, tip to tip a·√2
        ("octahedron", math.sqrt(6), 2, 2 * math.sqrt(3)),
        # inradius φ²·a/(2·√3), tip to tip a·√(φ²+1)
        ("icosahedron", 2 * math.sqrt(3) / PHI**2, 2, 2 * math.sqrt(3) / PHI**2 * math.sqrt(PHI**2 + 1)),
        # inradius a·√6/3; the long axes of four-edged vertices are 4/√3 edges
        ("rhombic dodecahedron", 3 / math.sqrt(6), 2, 3 / math.sqrt(6) * 4 / math.sqrt(3)),
    ],
)
def test_measures_in_closed_form(name: str, edge: float, height: float, tips: float) -> None:
    found = measures(solid(name))
    assert found["across-flats"] == 2
    assert found["edge"] == pytest.approx(edge)
    assert found["height"] == pytest.approx(height)
    assert found["tip-to-tip"] == pytest.approx(tips)


@pytest.mark.parametrize("name", listed())
def test_there_and_back(name: str) -> None:
    die = solid(name)
    assert tuple(measures(die)) == SIZES
    for size_is in SIZES:
        assert size_mm(die, inradius_mm(die, 20, size_is), size_is) == pytest.approx(20)
    # lying on a face opposite which there is another, a solid is as high as it is thick
    if die.opposite[die.rests[0].below] is not None:
        assert measures(die)["height"] == pytest.approx(2)
    assert measures(die)["height"] <= measures(die)["tip-to-tip"] + 1e-9


def test_the_longest_edge_is_meant() -> None:
    kite = solid("deltoidal icositetrahedron")
    ends = [math.dist(kite.vertices[a], kite.vertices[b]) for a, b in kite.edges]
    assert measures(kite)["edge"] == pytest.approx(max(ends))
    assert min(ends) < max(ends)


def test_inches_stand_beside() -> None:
    assert both_units(25.4) == "25.4 mm (1.00 in)"


def test_another_measure_is_refused() -> None:
    with pytest.raises(
        UsageError, match="size_is: found 'girth'; accepted: across-flats, edge, height, tip-to-tip"
    ):
        inradius_mm(solid("cube"), 16, "girth")
