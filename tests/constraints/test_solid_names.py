"""Which solid a face count stands for, and what a name means."""

from __future__ import annotations

import pytest
from facewright.constraints.solids.names import MOST_FACES, default_solid, nearest_names, solid_named
from facewright.constraints.texts import TextError

DEFAULTS = {
    2: "coin",
    3: "3-sided log",
    4: "tetrahedron",
    5: "5-sided log",
    6: "cube",
    7: "7-sided log",
    8: "octahedron",
    9: "9-sided log",
    10: "pentagonal trapezohedron",
    12: "dodecahedron",
    14: "heptagonal trapezohedron",
    16: "octagonal bipyramid",
    18: "enneagonal trapezohedron",
    20: "icosahedron",
    22: "hendecagonal trapezohedron",
    24: "deltoidal icositetrahedron",
    26: "13-gonal trapezohedron",
    28: "14-gonal bipyramid",
    30: "rhombic triacontahedron",
    48: "disdyakis dodecahedron",
    60: "deltoidal hexecontahedron",
    100: "50-gonal bipyramid",
    101: "101-sided log",
    120: "disdyakis triacontahedron",
}
"""Face count → solid, as briefs are promised to read a bare face count."""


@pytest.mark.parametrize(("faces", "solid"), DEFAULTS.items())
def test_default_solids(faces: int, solid: str) -> None:
    assert default_solid(faces) == solid


def test_every_default_solid_has_that_many_faces_and_is_known_by_its_name() -> None:
    for faces in range(2, MOST_FACES + 1):
        assert solid_named(default_solid(faces)) == (default_solid(faces), faces)


def test_no_default_below_two_faces() -> None:
    with pytest.raises(ValueError, match="at least 2"):
        default_solid(1)


@pytest.mark.parametrize(
    ("text", "name", "faces"),
    [
        ("Cube", "cube", 6),
        ("  hexahedron ", "cube", 6),
        ("Rhombic  Dodecahedron", "rhombic dodecahedron", 12),
        ("tetrakis-hexahedron", "tetrakis hexahedron", 24),
        ("8-gonal bipyramid", "octagonal bipyramid", 16),
        ("octagonal dipyramid", "octagonal bipyramid", 16),
        ("3-gonal trapezohedron", "triangular trapezohedron", 6),
        ("trigonal bipyramid", "triangular bipyramid", 6),
        ("nonagonal trapezohedron", "enneagonal trapezohedron", 18),
        ("12-gonal bipyramid", "dodecagonal bipyramid", 24),
        ("13-gonal bipyramid", "13-gonal bipyramid", 26),
        ("6 sided log", "6-sided log", 6),
        ("hexagonal log", "6-sided log", 6),
        ("500-gonal bipyramid", "500-gonal bipyramid", 1000),
    ],
)
def test_names_and_their_other_forms(text: str, name: str, faces: int) -> None:
    assert solid_named(text) == (name, faces)


@pytest.mark.parametrize(
    ("text", "near"),
    [
        ("icosahedorn", "icosahedron"),
        ("octogonal bipyramid", "octagonal bipyramid"),
        ("rombic triacontahedron", "rhombic triacontahedron"),
        ("2-gonal bipyramid", "bipyramid"),
        ("501-gonal bipyramid", "bipyramid"),
    ],
)
def test_a_name_that_nothing_has_is_refused_with_the_nearest(text: str, near: str) -> None:
    with pytest.raises(TextError) as refused:
        solid_named(text)
    assert refused.value.found == f'"{text}"'
    assert near in refused.value.accepted


@pytest.mark.parametrize("text", ["20", "d20", "D20"])
def test_a_number_in_quotation_marks_is_taken_for_a_face_count(text: str) -> None:
    with pytest.raises(TextError, match="a face count without quotation marks, 20"):
        solid_named(text)


@pytest.mark.parametrize("text", ["", "x" * 10_000, "\x1b[31m"])
def test_odd_texts_are_refused_in_printable_words(text: str) -> None:
    with pytest.raises(TextError) as refused:
        solid_named(text)
    assert str(refused.value).isprintable()
    assert len(str(refused.value)) < 300


def test_nearest_names_are_canonical_and_different() -> None:
    near = nearest_names("hexahedron", 5)
    assert near[0] == "cube"
    assert len(set(near)) == 5
