"""What sheets say: the steps tell the truth about the design, the chances add up, cautions are always there."""

from __future__ import annotations

from fractions import Fraction

import pytest
from facewright.constraints.grammar import capital
from facewright.search.artwork.laid import sites_read
from facewright.search.make.sizing import Wishes
from facewright.search.sheets.chances import percent, the
from facewright.search.sheets.facts import LARGE, SMALL_PART, sheet_of

from tests.search.sheets.asked import BRIEFS, asked, sheet


@pytest.mark.parametrize("kind", BRIEFS)
def test_every_kind_has_three_steps_a_reason_and_cautions(kind: str) -> None:
    told = sheet(kind)
    assert len(told.steps) == 3
    assert told.why.endswith(".")
    assert told.why[0] == capital(told.why)[0]
    assert any("swallowed" in line for line in told.cautions)
    assert any("licensed gaming" in line for line in told.cautions)
    assert told.age == LARGE if kind == "readouts" else told.age.startswith(SMALL_PART)
    assert "fair" not in " ".join(
        [told.why, told.proof, *told.cautions, *(step.words for step in told.steps)]
    )


@pytest.mark.parametrize("kind", ["total", "carrier", "highest", "nearest"])
def test_the_example_reads_what_the_dice_show(kind: str) -> None:
    answer, one = asked(kind)
    told = sheet(kind)
    shown = told.steps[1].dice
    labels = []
    for die, made in zip(shown, one.scores.design.dice, strict=True):
        [site] = die.read
        assert site == sites_read(die.artwork.solid)[die.rest] or die.artwork.solid.read == "face below"
        [label] = {mark.text for mark in die.artwork.marks if mark.site == site}
        labels.append(int(label))
        assert int(label) in made.labels
    assert told.steps[2].line.endswith(f" {answer.question.reading.result(labels)}")
    for label in labels:
        assert str(label) in told.steps[2].line


def test_readouts_tell_what_the_rest_shows() -> None:
    answer, one = asked("readouts")
    told = sheet("readouts")
    [die] = told.steps[1].dice
    seen = {
        f"{kind[0]}{number + 1}"
        for kind, numbers in die.artwork.solid.rests[die.rest].shows.items()
        for number in numbers
    }
    read = [f"{name} {label}" for name, held in one.design.sites for site, label in held if site in seen]
    assert told.steps[2].line == " · ".join(read)
    assert len(read) == len(answer.question.readouts)


@pytest.mark.parametrize("kind", [kind for kind in BRIEFS if kind not in ("duels", "orders")])
def test_chances_add_up(kind: str) -> None:
    for one in sheet(kind).chances:
        assert sum(one.ours) == 1
        assert not one.theirs or sum(one.theirs) == 1
        half = sum(abs(a - b) for a, b in zip(one.ours, one.theirs, strict=True)) / 2 if one.theirs else 0
        assert half == one.gap


def test_familiar_dice_stand_beside() -> None:
    [found] = sheet("layout").chances
    assert (found.beside, found.gap) == ("d8", 0)
    [found] = sheet("pairs").chances
    # by hand: of 2, 3 and 4 with chances of 1/4, 1/2, 1/4 a d4 has 1/4 each, and a 1 besides
    assert (found.beside, found.gap) == ("d4", Fraction(1, 4))
    [found] = sheet("nearest").chances
    assert found.gap == asked("nearest")[0].found[0].distance
    assert percent(found.gap) in sheet("nearest").why


def test_duels_show_the_chance_of_each() -> None:
    [found] = sheet("duels").chances
    assert len(found.ours) == 3
    assert min(found.ours) == Fraction(5, 9)
    assert "55.6 %" in sheet("duels").why


def test_large_dice_are_no_small_parts() -> None:
    answer, one = asked("layout")
    assert sheet_of(answer, one, Wishes(size_mm=60)).age == LARGE


def test_the_box_names_every_die() -> None:
    assert sheet("total").contents == "Two tetrahedra, and a card that says how to read them."
    assert sheet("layout").contents == "An octahedron, and a card that says how to read it."
    assert len(sheet("duels").steps[1].dice) == 3


def test_words_of_familiar_dice() -> None:
    assert [the(words) for words in ("d6 + 1", "2d6", "- d4 + 7", "difference of 2d6", "lowest of 2d6")] == [
        "d6 + 1",
        "2d6",
        "- d4 + 7",
        "the difference of 2d6",
        "the lowest of 2d6",
    ]
    assert percent(Fraction(1, 2000)) == "0.1 %"
