"""How labels are drawn: pips, lines that say which way is up, pictures and other fonts, and how they reach a solid."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.solids import solid
from facewright.search.artwork.badges import badge_of, placed, shape_of
from facewright.search.artwork.glyphs import joined, missing, outlines, usual_font
from facewright.search.artwork.lettering import LINE, LINE_GAP, Lettering, pips, says_up, underlined
from facewright.search.artwork.marks import Artwork, Ring
from facewright.search.artwork.placing import artwork_of, artwork_of_layout
from shapely import Polygon
from shapely.affinity import rotate

FONTS = usual_font().parent


def area(rings: tuple[Ring, ...]) -> Polygon:
    """What the even-odd rule fills."""
    filled = Polygon()
    for ring in rings:
        filled = filled.symmetric_difference(Polygon(ring))
    return filled


def lined(artwork: Artwork) -> set[str]:
    """The texts of the marks that are not drawn as the usual font draws them."""
    return {mark.text for mark in artwork.marks if mark.outline is not None}


@pytest.mark.parametrize("many", range(10))
def test_pips_are_as_many_as_they_say_apart_and_within_a_unit(many: int) -> None:
    rings = pips(many)
    assert len(rings) == many
    discs = [Polygon(ring) for ring in rings]
    assert all(max(map(abs, disc.bounds)) <= 0.5 + 1e-9 for disc in discs)
    for place, one in enumerate(discs):
        assert all(one.distance(other) > 0.1 for other in discs[:place])
    # no pattern looks like another upside down
    turned = rotate(area(rings), 180, origin=(0, 0)) if rings else Polygon()
    assert turned.symmetric_difference(area(rings)).area < 1e-6


def test_pips_past_nine_are_refused() -> None:
    with pytest.raises(ValueError, match="pips: found 10; accepted: 0 to 9"):
        pips(10)


def test_a_cube_with_pips_has_a_blank_for_0_and_figures_past_nine() -> None:
    artwork = artwork_of_layout(
        solid("cube"),
        {"f1": 0, "f2": 1, "f3": 6, "f4": 9, "f5": 10, "f6": "quay"},
        lettering=Lettering(pips=True),
    )
    assert {mark.text: len(shape_of(mark)) for mark in artwork.marks if mark.text in "169"} == {
        "1": 1,
        "6": 6,
        "9": 9,
    }
    assert {mark.text for mark in artwork.marks} == {"1", "6", "9", "10", "quay"}
    assert lined(artwork) == {"1", "6", "9"}


def test_a_line_stands_only_where_a_label_could_be_mistaken() -> None:
    def on(name: str, labels: list[int | str], readouts: int = 1) -> set[str]:
        die = solid(name)
        carried = dict(zip(die.sites("faces"), labels, strict=False))
        return lined(artwork_of(die, [carried]))

    assert on("cube", [1, 2, 3, 4, 5, 6]) == set()
    assert on("octahedron", list(range(1, 9))) == set()
    assert on("dodecahedron", list(range(1, 13))) == {"6", "9"}
    assert on("cube", [69, 96, 1, 2, 3, 4]) == set()
    assert on("cube", [68, 89, 1, 2, 3, 4]) == {"68", "89"}
    assert on("cube", ["NO", "ON", "1", "2", "3", "4"]) == {"NO", "ON"}
    # a label at a vertex may be read from the other side of the solid
    four = artwork_of_layout(solid("tetrahedron"), {"f1": 6, "f2": 9, "f3": 1, "f4": 2})
    assert lined(four) == {"6", "9"}


def test_a_badge_that_says_which_way_is_up_needs_no_line_beside_it() -> None:
    assert [badge_of(number).name for number in range(8) if says_up(number)] == ["gable", "hull"]
    assert not says_up(None)
    die = solid("cube")
    faces = dict(zip(die.sites("faces"), (6, 9, 1, 2, 3, 4), strict=True))
    artwork = artwork_of(die, [faces, faces, faces], several=True)
    assert {mark.readout for mark in artwork.marks if mark.outline is not None} == {0, 1}


def test_the_line_lies_below_and_is_as_wide_as_the_ink() -> None:
    plain, marked = outlines("6"), underlined(outlines("6"))
    line = Polygon(marked[-1])
    left, low, right, _ = area(plain).bounds
    assert line.bounds == pytest.approx((left, low - LINE_GAP - LINE, right, low - LINE_GAP))
    assert marked[:-1] == plain
    dotted = area(underlined(plain, "dot"))
    assert dotted.area > area(plain).area
    assert dotted.bounds[0] == pytest.approx(-dotted.bounds[2])
    assert underlined(plain, "none") == plain
    with pytest.raises(UsageError, match="marking: found 'ring'; accepted: line, dot, none"):
        Lettering(marking="ring")


def test_a_marked_label_is_no_longer_the_other_upside_down() -> None:
    for marking in ("line", "dot"):
        six, nine = (area(Lettering(marking=marking).outline(n, marked=True)) for n in (6, 9))
        turned = rotate(nine, 180, origin=(0, 0))
        assert six.symmetric_difference(turned).area > 0.05
    plain = rotate(area(outlines("9")), 180, origin=(0, 0))
    assert area(outlines("6")).symmetric_difference(plain).area < 0.02


def test_the_line_lies_within_the_face() -> None:
    die = solid("dodecahedron")
    artwork = artwork_of_layout(die, {f"f{n}": n for n in range(1, 13)})
    from facewright.constraints.solids.frames import face_frame

    for mark in artwork.marks:
        outline = Polygon(face_frame(die, mark.face).polygon)
        assert all(outline.contains(Polygon(ring)) for ring in placed(mark))
    assert len({mark.height for mark in artwork.marks}) == 1


def test_another_font_and_what_it_lacks() -> None:
    serif = FONTS / "DejaVuSerif.ttf"
    artwork = artwork_of_layout(solid("cube"), {"f1": 1, "f2": "Qu"}, lettering=Lettering(font=serif))
    assert lined(artwork) == {"1", "Qu"}
    assert artwork.marks[0].outline != outlines("1")
    assert area(Lettering(font=serif).outline(8)).area == pytest.approx(
        area(outlines("8", serif)).area, rel=1e-3
    )
    assert missing("1\u96e8", serif) == "\u96e8"
    with pytest.raises(UsageError, match="found no '\u96e8', needed for '\u96e8'"):
        Lettering(font=serif).outline("\u96e8")
    assert Lettering(font=serif).flag_on_one


def test_what_is_no_font_is_refused(tmp_path: Path) -> None:
    text = tmp_path / "text.ttf"
    text.write_text("no font")
    for path in (text, tmp_path / "none.ttf"):
        with pytest.raises(UsageError, match="accepted: a TrueType or OpenType file"):
            Lettering(font=path).outline(1)
    with pytest.raises(UsageError, match="found no figure 1"):
        Lettering(font=FONTS / "STIXSizFourSymBol.ttf").outline("(")


def test_overlapping_parts_of_a_character_are_joined() -> None:
    """By hand: two squares of side 2 that overlap in one of side 1 have an area of 7, where even-odd finds 6."""
    one = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)]
    other = [(1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0)]
    assert area(joined([one, other])).area == pytest.approx(7)
    assert area(joined([one, other], even_odd=True)).area == pytest.approx(6)


def test_words_and_letters_stand_on_one_line() -> None:
    word = area(outlines("quay"))
    assert word.bounds[2] - word.bounds[0] > 2
    assert word.bounds[0] == pytest.approx(-word.bounds[2])
    artwork = artwork_of_layout(solid("cube"), {"f1": "quay", "f2": "N"})
    assert artwork.marks[0].height == artwork.marks[1].height
    assert math.isclose(artwork.marks[0].height, artwork.marks[1].height)
