"""Legible, familiar and readability: upside-down labels, what makes a die easier, settings that a user may pass."""

from __future__ import annotations

import math
import re
from dataclasses import fields
from pathlib import Path

import pytest
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.errors import BriefRefused
from facewright.constraints.solids import solid as solid_of
from facewright.constraints.solids.sizes import measures
from facewright.search.artwork.placing import artwork_of, artwork_of_layout
from facewright.search.artwork.sizes import load_making
from facewright.search.artwork.turning import half_turn
from facewright.search.report.cost import Cost
from facewright.search.report.heights import height_over_size
from facewright.search.report.readability import (
    Familiar,
    Legible,
    Readability,
    drawn,
)
from facewright.search.report.scores import SHIPPED, TABLES, Part, Score, Settings, load_scores
from hypothesis import given, settings
from hypothesis import strategies as st

SHIPPED_SETTINGS = load_scores()
labels_of_a_die = st.lists(st.integers(-20, 130), min_size=1, max_size=12).map(sorted)


def design(*dice: list[int], solid: str = "solid") -> NumberingDesign:
    """Dice on a solid; by default on one that is not built, where a face is taken as a disc."""
    return NumberingDesign(tuple(DesignDie(len(labels), solid, tuple(sorted(labels))) for labels in dice))


def value(
    kind: type[Legible | Familiar | Readability],
    *dice: list[int],
    chosen: Settings = SHIPPED_SETTINGS,
    solid: str = "solid",
) -> int:
    return kind(chosen).value(design(*dice, solid=solid), [1] * len(dice))


def parts(
    kind: type[Legible | Familiar | Readability], *dice: list[int], solid: str = "solid"
) -> dict[str, Part]:
    found = kind(SHIPPED_SETTINGS).parts(design(*dice, solid=solid), [1] * len(dice))
    return {part.name: part for part in found}


def copy(tmp_path: Path, text: str) -> Settings:
    path = tmp_path / "mine.toml"
    path.write_text(text, encoding="utf-8")
    return load_scores(path)


def test_a_mark_is_needed_only_where_both_stand_on_one_die() -> None:
    assert parts(Legible, [1, 2, 3, 4, 5, 6])["upside down"].share == 1
    assert parts(Legible, [1, 2, 3, 4, 5, 6], [7, 8, 9, 10])["upside down"].words == "no label needs a mark"
    found = parts(Legible, [6, 6, 7, 8, 9, 10])["upside down"]
    assert found.share == pytest.approx(1 / 2)
    assert found.words == "6 and 9 need a mark"
    assert parts(Legible, [69, 96])["upside down"].share == 1
    many = parts(Legible, [6, 9, 66, 99, 68, 89, 86, 98])["upside down"]
    assert many.words == "6 and 9, 66 and 99, 68 and 89 and 1 more need a mark"
    assert many.share == 0


def test_a_mark_on_a_lone_label_is_a_setting(tmp_path: Path) -> None:
    careful = copy(tmp_path, "[characters]\nmark_alone = true\n")
    assert drawn((1, 2, 3, 4, 5, 6), careful.characters).alone == ()
    assert drawn((2, 4, 6, 8, 10, 12), careful.characters).alone == (6,)
    words = Legible(careful).parts(design([2, 4, 6, 8, 10, 12]), [1])[3].words
    assert words == "6 needs a mark"
    assert drawn((6, 9), careful.characters).alone == ()


def test_a_flag_on_the_1_is_a_setting(tmp_path: Path) -> None:
    plain = copy(tmp_path, "[characters]\nflag_on_one = false\n")
    assert drawn((16, 91), plain.characters).pairs == ((16, 91),)
    assert drawn((16, 91), SHIPPED_SETTINGS.characters).pairs == ()


@given(labels_of_a_die, st.integers(0, 11))
@settings(max_examples=150, deadline=None)
def test_giving_a_6_its_9_never_raises_legible(labels: list[int], at: int) -> None:
    """Two faces with 6 and 5, or with 6 and 9, beside any others: the pair is never the better one."""
    quiet = [label for label in labels if half_turn(label) in {None, label}]
    assert value(Legible, [*quiet, 6, 9]) <= value(Legible, [*quiet, 6, 5])
    assert value(Legible, [*labels, 68, 89]) <= value(Legible, [*labels, 72, 75])


@given(st.lists(labels_of_a_die, min_size=1, max_size=4))
@settings(max_examples=150, deadline=None)
def test_all_scores_lie_within_0_and_100_and_their_parts_add_up(dice: list[list[int]]) -> None:
    for kind in (Legible, Familiar, Readability):
        score: Score = kind(SHIPPED_SETTINGS)
        found = score.parts(design(*dice), [1] * len(dice))
        total = score.value(design(*dice), [1] * len(dice))
        assert isinstance(total, int)
        assert 0 <= total <= 100
        assert all(0 <= part.share <= 1 and part.words for part in found)
        assert abs(sum(part.counts for part in found) - total) <= 0.5 + 1e-6


@given(st.lists(labels_of_a_die, min_size=2, max_size=4), st.randoms(use_true_random=False))
@settings(max_examples=100, deadline=None)
def test_the_order_of_the_dice_changes_nothing(dice: list[list[int]], random: object) -> None:
    for kind in (Legible, Familiar, Readability):
        assert value(kind, *dice) == value(kind, *dice[::-1]) == value(kind, *dice[1:], dice[0])


@pytest.mark.parametrize(
    ("easier", "harder"),
    [
        ([1, 2, 3, 4, 5, 6], [1, 2, 3, 5, 6, 7]),  # gaps
        ([1, 2, 3, 4, 5, 6], [1, 2, 2, 3, 3, 4]),  # repeats
        ([1, 2, 3, 4, 5, 6], [11, 12, 13, 14, 15, 16]),  # large numbers
        ([1, 2, 3, 4, 5, 6], [0, 1, 2, 3, 4, 5]),  # a zero
        ([0, 1, 2, 3, 4, 5], [-1, 0, 1, 2, 3, 4]),  # a negative
        ([1, 3, 5, 7, 9, 11], [1, 2, 5, 8, 9, 11]),  # uneven spacing, equally many left out
        ([1, 1, 2, 2, 3, 3], [1, 2, 2, 2, 2, 3]),  # uneven repeats, equally many
        ([1, 3, 3, 5, 5, 7], [1, 5, 5, 9, 9, 13]),  # wide spacing
    ],
)
def test_what_makes_a_die_familiar(easier: list[int], harder: list[int]) -> None:
    assert value(Familiar, easier) > value(Familiar, harder)


def test_ordinary_dice_are_perfectly_familiar_and_a_cube_perfectly_legible() -> None:
    assert value(Familiar, [1, 2, 3, 4, 5, 6], list(range(1, 17))) == 100
    assert value(Legible, [1, 2, 3, 4, 5, 6]) == value(Readability, [1, 2, 3, 4, 5, 6]) == 100


def test_the_hardest_die_counts_more_than_the_mean() -> None:
    known, strange = [1, 2, 3, 4, 5, 6], [1, 5, 5, 9, 9, 13]
    assert value(Familiar, known, strange) < (value(Familiar, known) + value(Familiar, strange)) / 2


def test_fewer_characters_are_more_legible() -> None:
    assert (
        value(Legible, [1, 2, 3, 4, 5, 7])
        > value(Legible, [1, 2, 3, 4, 5, 10])
        > value(Legible, [1, 2, 3, 4, 5, 100])
    )
    found = parts(Legible, [1, 2, 3, 4, 5, 10], [1, 2, 3, 4])
    assert found["long labels"].share == pytest.approx(10 / 11)
    assert found["long labels"].words == "1 of 10 faces has more than one character"
    assert found["numeral size"].words == "up to 2 characters on a face"


def test_the_height_of_a_label_on_its_solid_by_hand() -> None:
    """On a square a box as wide as w, with a tenth to each side: the wider of its sides fills the square of a cube.

    A figure is 0.8 wide, two 1.8, so with the space about them 1 by 1.2 and 2 by 1.2, over √12 from tip to tip.
    """
    drawing = SHIPPED_SETTINGS.characters
    tips = 2 * math.sqrt(3)
    assert height_over_size("cube", 6, 1, drawing) == pytest.approx(2 / 1.2 / tips)
    assert height_over_size("cube", 6, 2, drawing) == pytest.approx(2 / 2 / tips)
    assert height_over_size("cube", 6, 3, drawing) == pytest.approx(2 / 3 / tips)
    found = parts(Legible, [1, 2, 3, 4, 5, 10], solid="cube")
    assert found["numeral size"].share == pytest.approx(1.2 / 2)


def test_past_the_solids_that_are_built_a_face_is_a_disc() -> None:
    """By hand: 400 discs as large as a sphere are a tenth of its diameter wide, and hold a box of 1 by 1.2."""
    drawing = SHIPPED_SETTINGS.characters
    disc = height_over_size("200-gonal bipyramid", 400, 1, drawing)
    assert disc == pytest.approx(0.1 / math.hypot(1, 1.2))
    built = height_over_size("disdyakis triacontahedron", 120, 1, drawing)
    assert height_over_size("no such solid", 120, 1, drawing) == pytest.approx(built, rel=0.5)


def test_high_characters_are_more_legible_than_low_ones() -> None:
    labels = [1, 2, 3, 4, 5, 7]
    many = list(range(1, 121))
    assert parts(Legible, labels, solid="cube")["character height"].share == 1
    low = parts(Legible, many, solid="disdyakis triacontahedron")["character height"]
    mm = 25 * height_over_size("disdyakis triacontahedron", 120, 3, SHIPPED_SETTINGS.characters)
    assert low.share == pytest.approx(mm / 2.909, rel=1e-3)
    assert low.words.endswith("on dice of 25 mm from tip to tip, lower than the eye needs at 500 mm")
    assert value(Legible, many, solid="disdyakis triacontahedron") < value(Legible, labels, solid="cube")
    words = parts(Legible, [*range(1, 21)], solid="icosahedron")["character height"].words
    assert re.fullmatch(
        r"\d\.\d mm \(0\.\d\d in\) high on dice of 25 mm .*, enough to read well at 500 mm", words
    )


def test_labels_at_a_vertex_are_measured_there() -> None:
    """A tetrahedron carries each label three times, so that its characters are lower than one on a face alone."""
    drawing = SHIPPED_SETTINGS.characters
    die = solid_of("tetrahedron")
    marks = artwork_of_layout(die, {"f1": 8, "f2": 8, "f3": 8, "f4": 8}).marks
    at_vertex = height_over_size("tetrahedron", 4, 1, drawing)
    assert at_vertex == pytest.approx(marks[0].height / measures(die)["tip-to-tip"], rel=0.05)
    assert at_vertex < 0.8 * artwork_of(die, [{"f1": 8}]).marks[0].height / measures(die)["tip-to-tip"]


def test_larger_dice_and_nearer_eyes_are_settings(tmp_path: Path) -> None:
    labels = [*range(1, 21)] * 6
    shares = [
        Legible(copy(tmp_path, text)).parts(design(labels, solid="disdyakis triacontahedron"), [1])[2].share
        for text in (
            "",
            "[reading]\ntip_to_tip = 30\n",
            "[reading]\ndistance = 300\n",
            "[reading]\ndistance = 0\n",
        )
    ]
    assert shares == sorted(shares)
    assert shares[0] < shares[1]
    assert shares[3] == 1


def test_the_eye_is_the_same_in_both_files() -> None:
    eye, reading = load_making().eye, SHIPPED_SETTINGS.reading
    assert (eye.distance, eye.least_minutes, eye.good_minutes) == (
        reading.distance,
        reading.least_minutes,
        reading.good_minutes,
    )


def test_the_words_say_what_was_counted() -> None:
    found = parts(Familiar, [1, 5, 5, 9, 9, 13], [-1, 0, 1, 2])
    assert found["gaps"].words == "9 and 0 numbers skipped"
    assert found["repeats"].words == "2 and 0 faces repeat a label"
    assert found["range"].words == "up to 13 and 2"
    assert found["zeros and negatives"].words == "1 zero, 1 negative"
    assert found["expected numbers"].words == "6 of 10 faces are not what players expect"
    assert parts(Readability, [1, 2, 3, 4, 5, 6])["familiar"].words == "100 of 100"


def test_every_setting_says_what_it_rests_on() -> None:
    lines = SHIPPED.read_text(encoding="utf-8").splitlines()
    silent = [line for line in lines if "=" in line.partition("#")[0] and not line.partition("#")[2].strip()]
    assert silent == []
    assert sum("=" in line.partition("#")[0] for line in lines) == 33


def test_a_copy_may_change_one_value_and_leave_out_the_rest(tmp_path: Path) -> None:
    mine = copy(tmp_path, "[readability]\nfamiliar = 0\n")
    strange = [1, 5, 5, 9, 9, 13]
    assert value(Readability, strange, chosen=mine) == value(Legible, strange)
    assert mine.legible == SHIPPED_SETTINGS.legible
    assert copy(tmp_path, SHIPPED.read_text(encoding="utf-8")) == SHIPPED_SETTINGS


def test_every_fault_of_a_copy_is_named_with_its_line(tmp_path: Path) -> None:
    text = (
        "[familiar]\ngap = 3\nrepeats = -1\nrange = nan\n\n[shape]\nzero = 2\n"
        "[characters]\nflag_on_one = 1\n[colour]\nink = 3\n[readability]\nlegible = 0\nfamiliar = 0\n"
    )
    with pytest.raises(BriefRefused) as refused:
        copy(tmp_path, text)
    said = [str(fault) for fault in refused.value.faults]
    assert said == [
        "line 2, familiar.gap: found an unknown key; accepted: gaps?",
        "line 3, familiar.repeats: found -1; accepted: a number of at least 0",
        "line 4, familiar.range: found nan; accepted: a number of at least 0",
        "line 7, shape.zero: found 2; accepted: a number from 0 to 1",
        "line 9, characters.flag_on_one: found 1; accepted: true or false",
        "line 10, colour: found an unknown table or key; "
        "accepted: characters, reading, seeing, legible, familiar, shape, readability, cost",
        "line 12, readability: found weights that are all 0; accepted: at least one above 0",
    ]


@pytest.mark.parametrize(
    ("text", "said"),
    [("legible = ", "no TOML"), ("legible = 3", r"line 1, legible: found 3; accepted: a table \[legible\]")],
)
def test_what_is_no_settings_file_is_refused(text: str, said: str, tmp_path: Path) -> None:
    with pytest.raises(BriefRefused, match=said):
        copy(tmp_path, text)


def test_a_missing_file_and_one_that_is_no_text_are_refused(tmp_path: Path) -> None:
    with pytest.raises(BriefRefused, match="No such file"):
        load_scores(tmp_path / "none.toml")
    (tmp_path / "odd.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BriefRefused, match="not UTF-8"):
        load_scores(tmp_path / "odd.toml")


def test_the_page_on_scores_names_every_setting_with_its_value() -> None:
    page = (Path(__file__).parents[3] / "docs" / "reference" / "scores.md").read_text(encoding="utf-8")
    for table, kind in TABLES.items():
        for one in fields(kind):
            chosen = getattr(getattr(SHIPPED_SETTINGS, table), one.name)
            text = str(chosen).lower() if isinstance(chosen, bool) else str(chosen)
            assert f"`{table}.{one.name}` = {text}" in page


def test_the_example_of_the_page_on_scores() -> None:
    cube = [1, 2, 3, 5, 6, 7]
    assert [value(kind, cube) for kind in (Legible, Familiar, Readability)] == [100, 90, 94]
    shares = [part.share for part in parts(Familiar, cube).values()]
    assert shares == pytest.approx([6 / 7, 1, 6 / 7, 1, 5 / 6])
    assert Cost(SHIPPED_SETTINGS).value(design(cube), [1]) == 1.0
