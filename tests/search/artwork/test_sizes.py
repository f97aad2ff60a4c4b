"""The smallest die: hand calculations of making and reading, which of the two governs, facts that a user may pass."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.solids import solid
from facewright.search.artwork.glyphs import outlines
from facewright.search.artwork.marks import Artwork, Mark
from facewright.search.artwork.placing import artwork_of, artwork_of_layout, numbered
from facewright.search.artwork.sizes import (
    SHIPPED,
    character_height_mm,
    load_making,
    smallest,
)
from facewright.search.artwork.strokes import fineness

BAR = (((-0.1, -0.5), (0.1, -0.5), (0.1, 0.5), (-0.1, 0.5)),)
"""A stroke of a fifth of its height."""

FRAME = (
    ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)),
    ((-0.3, -0.3), (0.3, -0.3), (0.3, 0.3), (-0.3, 0.3)),
)
"""A stroke of a fifth of its height about an island of three fifths."""


def cube_with(outline: tuple[tuple[tuple[float, float], ...], ...], height: float = 0.5) -> Artwork:
    return Artwork(solid("cube"), (Mark("f1", 0, "x", (0, 0), height, outline=outline),))


@pytest.mark.parametrize(
    ("distance", "minutes", "height"),
    [
        # 2·d·tan(α/2), worked out by hand to a hundredth of a millimetre
        (400, 16, 1.86),
        (400, 20, 2.33),
        (400, 22, 2.56),
        (500, 16, 2.33),
        (500, 20, 2.91),
        (500, 22, 3.20),
        (600, 16, 2.79),
        (600, 20, 3.49),
        (600, 22, 3.84),
        (1000, 16, 4.65),
        (1000, 20, 5.82),
        (1000, 22, 6.40),
    ],
)
def test_heights_of_characters(distance: float, minutes: float, height: float) -> None:
    assert character_height_mm(distance, minutes) == pytest.approx(height, abs=0.005)


def test_a_bar_on_a_cube_by_hand() -> None:
    """Half an inradius high and a fifth of that wide: 0.5 mm asks for an inradius of 5 mm, 2.33 mm of one of 4.65."""
    found = smallest(cube_with(BAR), "mould")
    needs = {limit.need: limit.inradius_mm for limit in found.limits}
    assert needs["stroke"] == pytest.approx(5, rel=0.01)
    assert needs["recess"] == pytest.approx(5, rel=0.01)
    assert needs["eye"] == pytest.approx(2 * character_height_mm(500, 16))
    assert "island" not in needs
    assert found.governs.need == "stroke"
    assert found.size_mm() == pytest.approx(10, rel=0.01)
    assert found.size_mm("tip-to-tip") == pytest.approx(10 * math.sqrt(3), rel=0.01)


def test_an_island_by_hand() -> None:
    """Three fifths of half an inradius: 0.6 mm asks for an inradius of 2 mm, less than the stroke does."""
    needs = {limit.need: limit.inradius_mm for limit in smallest(cube_with(FRAME), "mould").limits}
    assert needs["island"] == pytest.approx(2, rel=0.01)
    assert needs["stroke"] == pytest.approx(5, rel=0.01)


def test_the_larger_of_making_and_reading_governs_and_the_text_says_which() -> None:
    moulded = smallest(cube_with(BAR), "mould")
    assert moulded.words() == (
        "At least 10.0 mm (0.39 in) across flats (cube, moulded): the narrowest stroke, of “x”, is 0.20 of its height, "
        "and must be 0.5 mm wide. For reading alone 9.3 mm (0.37 in) would do: characters 2.3 mm (0.09 in) high are "
        "read at 500 mm (16 minutes of arc)."
    )
    far = smallest(cube_with(BAR), "laser", distance=800, minutes=20)
    assert far.governs.need == "eye"
    assert far.words("edge").startswith(f"At least {2 * character_height_mm(800, 20) / 0.5:.1f} mm (")
    assert "edge (cube, marked by laser): characters" in far.words("edge")
    assert "For making alone" in far.words("edge")


def test_the_recess_governs_where_it_is_deep(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text("[mould]\nrecess = 0.8\n")
    found = smallest(cube_with(BAR), "mould", making=load_making(path))
    assert found.governs.need == "recess"
    assert found.inradius_mm == pytest.approx(8, rel=0.01)
    assert "0.8 mm wide for a recess 0.8 mm deep" in found.words()


def test_the_size_that_a_needs_asks_for_is_just_large_enough() -> None:
    found = smallest(numbered(solid("icosahedron")))
    assert found.too_small(found.size_mm()) == ()
    assert found.too_small(found.size_mm("edge"), "edge") == ()
    assert found.too_small(found.size_mm() * 0.999)[0] == found.governs
    assert len(found.too_small(1)) == len(found.limits)


def test_the_characters_that_are_used_count_and_no_others() -> None:
    die = solid("cube")
    ones = artwork_of(die, [dict.fromkeys(die.sites("faces"), 1)])
    eights = artwork_of(die, [dict.fromkeys(die.sites("faces"), 8)])
    assert "island" not in {limit.need for limit in smallest(ones).limits}
    island = next(limit for limit in smallest(eights).limits if limit.need == "island")
    expected = 0.6 / (eights.marks[0].height * fineness(outlines("8")).island)
    assert island.inradius_mm == pytest.approx(expected)


def test_longer_labels_and_finer_faces_ask_for_larger_dice() -> None:
    die = solid("cube")
    sizes = [
        smallest(artwork_of(die, [dict.fromkeys(die.sites("faces"), text)])).size_mm()
        for text in ("8", "88", "888")
    ]
    assert sizes == sorted(sizes)
    names = ("cube", "dodecahedron", "icosahedron", "rhombic triacontahedron", "disdyakis triacontahedron")
    dice = [smallest(numbered(solid(name))).size_mm() for name in names]
    assert dice == sorted(dice)
    # twenty faces at about 20 mm are common practice (no source), so a figure far above would be a mistake of ours
    assert dice[2] < 25


def test_each_route_asks_for_its_own_size() -> None:
    artwork = artwork_of_layout(solid("dodecahedron"), {f"f{n}": n for n in range(1, 13)})
    sizes = {key: smallest(artwork, key).size_mm() for key, _ in load_making().routes}
    assert set(sizes) == {"mould", "cast", "laser", "print"}
    assert sizes["laser"] < sizes["print"] <= sizes["cast"] < sizes["mould"]
    with pytest.raises(UsageError, match="route: found 'carve'; accepted: mould, cast, laser, print"):
        smallest(artwork, "carve")
    with pytest.raises(UsageError, match="found a cube without marks"):
        smallest(Artwork(solid("cube"), ()))


def test_every_fact_says_what_it_rests_on() -> None:
    lines = SHIPPED.read_text(encoding="utf-8").splitlines()
    stated = [
        line for line in lines if "=" in line.partition("#")[0] and "name" not in line.partition("=")[0]
    ]
    assert all(line.partition("#")[2].strip() for line in stated)
    tables = tomllib.loads(SHIPPED.read_text(encoding="utf-8"))
    assert len(stated) == sum(len(set(table) - {"name"}) for table in tables.values())


def test_a_route_of_ones_own(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(
        '[carve]\nname = "carved"\nstroke = 1\nisland = 1\nrecess = 1\nwide_over_deep = 0.5\n[eye]\ndistance = 600\n'
    )
    making = load_making(path)
    assert smallest(cube_with(BAR), "carve", making=making).inradius_mm == pytest.approx(10, rel=0.01)
    assert making.eye.distance == 600
    assert load_making().eye.distance == 500


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("mould = 3", r"mould: found 3; accepted: a table \[mould\]"),
        ("[mould]\nstrok = 1", "strok: found an unknown key; accepted: name, stroke"),
        ("[mould]\nstroke = -1", "stroke: found -1; accepted: a number above 0"),
        ("[mould]\nstroke = true", "stroke: found True; accepted: a number above 0"),
        ("[mould]\nname = 1", "name: found 1; accepted: a text"),
        ("[carve]\nstroke = 1", "carve: found no name; accepted: name, stroke, island"),
        ("[mould", "accepted: a TOML file"),
    ],
)
def test_facts_that_cannot_be_used_are_refused(text: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(text)
    with pytest.raises(UsageError, match=said):
        load_making(path)
    with pytest.raises(UsageError, match="No such file"):
        load_making(tmp_path / "none.toml")
