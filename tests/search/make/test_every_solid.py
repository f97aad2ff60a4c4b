"""A few solids of every kind, numbered and taken through their files; `make quality` takes all of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.solid_files import made

SOME = {
    "9-sided log": True,
    "rhombic disphenoid": False,
    "hexagonal bipyramid": False,
    "dodecagonal trapezohedron": True,
    "octagonal scalenohedron": False,
    "pyritohedral dodecahedron": False,
    "pentagonal icositetrahedron": True,
    "rhombic triacontahedron": True,
    "disdyakis triacontahedron": True,
}
"""Each with whether its numerals are too thin at 16 mm across flats."""


@pytest.mark.parametrize("name", SOME)
def test_a_die_is_made_or_refused_with_the_size_that_works(name: str, tmp_path: Path) -> None:
    die, refused, _ = made(name, tmp_path)
    assert refused == SOME[name]
    assert len(die.triangles) > 1000
