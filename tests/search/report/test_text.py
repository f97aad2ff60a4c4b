"""Text for a terminal: drawings, tables within their width, distributions with exact ways, ASCII where needed."""

from __future__ import annotations

import re
from typing import Any

import pytest
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.search.rank import load_scores, rank, score
from facewright.search.report.strips import label_text, number_line, stacked, strip
from facewright.search.report.text import can_draw, details, distribution_text, table, wants_bold
from hypothesis import given, settings
from hypothesis import strategies as st

NEAR = ((1, 2, 3, 4, 5, 6), (1, 2, 3, 4, 5, 6, 7, 7, 8, 8, 9, 10, 11, 12, 13, 14))
ODD = ((1, 5, 5, 9, 9, 13), (1, 2, 2, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 6, 6, 7))
EIGHT_AND_TWELVE = (Distribution.of_labels(range(1, 9)) + Distribution.of_labels(range(1, 13))).ways
SUMMARY: dict[str, Any] = {
    "title": "Harbour dues",
    "sentence": "Two sets do it. With whole numbers from 1 up there are no others.",
    "reason": "Every way to deal the factors was tried.",
    "verdict": "complete",
    "count": 2,
    "count_is": "all",
    "listed": 2,
    "evidence": {"engine": "factors", "proved": True, "recounted": 2, "seconds": 0.0123},
    "target": {
        "words": "d8 + d12",
        "outcomes": 96,
        "ways": [list(pair) for pair in EIGHT_AND_TWELVE.items()],
    },
    "sets": [
        {
            "dice": [
                {"faces": 6, "solid": "cube", "copies": 1, "name": "tug"},
                {"faces": 16, "solid": "octagonal bipyramid", "copies": 2, "name": None},
            ],
            "count": 2,
            "reason": "",
        }
    ],
    "dropped": [],
}


def designs(*sets: tuple[tuple[int, ...], ...], **more: Any) -> list[dict[str, Any]]:
    made = [NumberingDesign(tuple(DesignDie(len(one), "solid", one) for one in dice)) for dice in sets]
    ranked = rank(
        [score(one, [1] * len(one.dice), load_scores()) for one in made], {"readability": 2, "cost": 1}
    )
    return [
        {
            "id": one.id,
            "set": 0,
            "rank": one.position,
            "tied": one.tied,
            "dice": [list(die.labels) for die in one.scores.design.dice],
            "ordinary": False,
            "distance": "0",
            "scores": {**one.scores.scores, "overall": one.overall},
            "parts": one.scores.parts,
            **more,
        }
        for one in ranked
    ]


def longest(text: str) -> int:
    return max(len(line) for line in text.split("\n"))


def test_a_strip_is_one_line_with_repeats_standing_higher() -> None:
    assert strip(NEAR[1], 1, 16) == "▂▂▂▂▂▂▄▄▂▂▂▂▂▂  "
    assert strip(ODD[0], 1, 16) == "▂···▄···▄···▂   "
    assert strip(ODD[1], 1, 16) == "▂▄▆█▆▄▂         "
    assert strip(ODD[1], 1, 16, plain=True) == "1234321         "
    assert strip([3] * 12, 1, 5, plain=True) == "  +  "
    assert strip([-2, 0, 0], -3, 1, plain=True) == " 1.2 "


@given(st.lists(st.integers(-300, 300), min_size=1, max_size=30), st.integers(4, 60))
@settings(max_examples=100, deadline=None)
def test_a_strip_has_a_mark_for_each_label_and_fits(labels: list[int], cells: int) -> None:
    drawn = strip(labels, min(labels), max(labels), cells, plain=True)
    assert 1 <= len(drawn) <= cells
    if "+" not in drawn:
        assert sum(int(mark) for mark in drawn if mark.isdigit()) == len(labels)
    assert len(strip(labels, min(labels), max(labels), cells)) == len(drawn)


def test_a_number_line_stands_under_its_cells() -> None:
    line = number_line(1, 16)
    assert line == "1   5    10   15"
    assert [line.index(mark) for mark in ("5", "10", "15")] == [4, 9, 14]
    assert number_line(1, 240, 40) == "1       50      100     150      200"


@given(st.integers(-500, 500), st.integers(0, 900), st.integers(6, 60))
def test_a_number_line_never_runs_its_numbers_together(lowest: int, more: int, cells: int) -> None:
    line = number_line(lowest, lowest + more, cells)
    marks = [int(mark) for mark in line.split()]
    assert marks[0] == lowest
    assert marks == sorted(set(marks))
    assert all(lowest <= mark <= lowest + more for mark in marks)


def test_a_die_in_several_lines() -> None:
    assert stacked([1, 2, 2, 4], 1, 4, 40) == ["   ▄", " ▄ ▄   ▄", " 1 2 3 4"]
    assert stacked([1, 2, 2, 4], 1, 4, 40, plain=True) == ["   #", " # #   #", " 1 2 3 4"]
    narrow = stacked(NEAR[1], 1, 16, 20)
    assert narrow == ["      ▄▄", "▄" * 14, "1   5    10   15"]
    assert longest("\n".join(stacked(range(1, 241), 1, 240, 60))) <= 60


def test_labels_are_written_out_or_run_together() -> None:
    assert label_text(NEAR[1], 60) == "1 2 3 4 5 6 7 7 8 8 9 10 11 12 13 14"
    assert label_text(ODD[1], 25) == "1 2×2 3×3 4×4 5×3 6×2 7"
    assert label_text(NEAR[1], 20) == "1..6 7×2 8×2 9..14"
    assert label_text(NEAR[1], 20, plain=True) == "1..6 7x2 8x2 9..14"
    assert label_text([0] * 5 + [1] * 5 + [2] * 5, 8) == "0..2×5"


@given(st.lists(st.integers(-20, 40), min_size=1, max_size=40), st.integers(1, 80))
def test_written_labels_can_be_read_back(labels: list[int], room: int) -> None:
    back: list[int] = []
    for item in label_text(labels, room, plain=True).split():
        run, _, times = item.partition("x")
        first, _, last = run.partition("..")
        back += [x for x in range(int(first), int(last or first) + 1) for _ in range(int(times or 1))]
    assert back == sorted(labels)


@pytest.mark.parametrize("width", [48, 60, 80, 100, 120, 160])
@pytest.mark.parametrize("plain", [False, True])
def test_a_table_says_the_verdict_first_and_keeps_to_its_width(width: int, plain: bool) -> None:
    listed = designs(NEAR, ODD)
    text = table(SUMMARY, listed, width, plain=plain)
    assert longest(text) <= width
    assert " ".join(text.split()).startswith(SUMMARY["sentence"] + " " + SUMMARY["reason"])
    for one in listed:
        assert one["id"][:6] in text
        assert one["id"][:7] not in text
    assert "legible" in text and "familiar" in text and "readability" in text and "cost" in text
    assert "1 5 5 9 9 13" in text
    if plain:
        assert text.isascii()
        assert "1...2...2...1" in text
    else:
        assert "▂···▄···▄···▂" in text


def test_the_numbers_of_a_row_are_those_of_its_design() -> None:
    listed = designs(NEAR, ODD)
    rows = [line for line in table(SUMMARY, listed, 130).split("\n") if re.match(r" *\d+[= ] \w{6}", line)]
    assert len(rows) == 2
    for one, row in zip(listed, rows, strict=True):
        found = row.split()
        values = [str(one["scores"][name]) for name in ("legible", "familiar", "readability", "cost")]
        assert found[:2] == [str(one["rank"]), one["id"][:6]]
        assert found[-4:] == values


def test_ties_ordinary_dice_and_distances_are_shown() -> None:
    listed = designs(NEAR, ODD)
    listed[0] |= {"ordinary": True, "distance": "7/192"}
    listed[1] |= {"tied": True, "rank": 2}
    for width in (60, 130):
        text = table(SUMMARY, listed, width)
        assert re.search(r"^ +2= ", text, re.MULTILINE)
        assert "= shares its rank." in " ".join(text.split())
        assert "ordinary" in text
        assert "7/192" in text
        assert longest(text) <= width
    one_die = designs(((1, 2, 3, 4, 5, 6),), ordinary=True)
    assert "ordinary" in table(SUMMARY, one_die, 130)


def test_more_designs_than_shown_and_wide_ranges_are_said() -> None:
    text = table({**SUMMARY, "count": 12_345, "count_is": "at least"}, designs(NEAR), 80)
    assert "1 of at least 12,345 designs are shown." in " ".join(text.split())
    wide = designs((tuple(range(1, 241)), (1, 2)))
    text = table(SUMMARY, wide, 100)
    assert "Each mark stands for 10 numbers." in " ".join(text.split())
    assert "1..240" in text
    assert longest(text) <= 100


def test_without_a_design_the_verdict_stands_alone() -> None:
    none = {
        **SUMMARY,
        "sentence": "No set does it.",
        "reason": "24 · 35 / 96 is not whole.",
        "count": 0,
        "evidence": {},
    }
    assert table(none, [], 80) == "No set does it.\n24 · 35 / 96 is not whole."
    assert table(none, [], 80, plain=True) == "No set does it.\n24 . 35 / 96 is not whole."


def test_the_sets_of_a_choice_and_those_dropped_are_listed() -> None:
    sets = [
        {
            "dice": [{"faces": 4}, {"faces": n}],
            "count": 3 * (n == 9),
            "reason": "" if n == 9 else "The division fails.",
        }
        for n in range(4, 20)
    ]
    chosen = {**SUMMARY, "sets": sets, "dropped": [{"faces": [3, 5], "reason": "15 is too few."}]}
    lines = table(chosen, [], 80).split("\n")
    assert "  4 + 9: 3 designs" in lines
    assert "  4 + 4: 0 designs: The division fails." in lines
    assert "  and 4 more" in lines
    assert "  3 + 5: 15 is too few." in lines


def test_a_limit_reached_before_the_proof_is_said() -> None:
    early = {**SUMMARY, "evidence": {"engine": "CP-SAT", "proved": False, "bound": "7/900", "seconds": 600}}
    assert "Not proved; engine: CP-SAT; bound reached: 7/900; 600 s." in table(early, [], 80)


def test_bold_is_used_only_when_asked_for() -> None:
    assert "\033" not in table(SUMMARY, designs(NEAR), 80)
    bold = table(SUMMARY, designs(NEAR), 80, colour=True)
    assert bold.startswith("\033[1mTwo sets do it.")
    assert re.sub(r"\033\[[01]m", "", bold) == table(SUMMARY, designs(NEAR), 80)
    assert wants_bold(True, {})
    assert wants_bold(True, {"NO_COLOR": ""})
    assert not wants_bold(True, {"NO_COLOR": "1"})
    assert not wants_bold(True, {"TERM": "dumb"})
    assert not wants_bold(False, {})


def test_text_of_a_brief_cannot_command_the_terminal() -> None:
    evil = {**SUMMARY, "title": "a\033[2Jb", "sentence": "Hi\033]0;x\007\nthere\u202e", "reason": "\r\x9b1m"}
    text = table(evil, [], 80) + details(evil, designs(NEAR)[0], 80)
    assert all(one.isprintable() or one == "\n" for one in text)


def test_encodings() -> None:
    assert can_draw("utf-8") and can_draw("UTF-16")
    assert not can_draw("ascii") and not can_draw("latin-1") and not can_draw("cp1252")
    assert not can_draw(None) and not can_draw("no such encoding")


@pytest.mark.parametrize("width", [48, 80, 120])
@pytest.mark.parametrize("plain", [False, True])
def test_the_details_of_a_design_say_why_it_ranks_there(width: int, plain: bool) -> None:
    one = designs(NEAR, ODD)[0]
    text = details({**SUMMARY, "title": "Dués"}, one, width, plain=plain)
    assert longest(text) <= width
    assert one["id"] in text
    assert "Die 1, tug: 6 faces, cube" in text
    assert "Die 2: 16 labels, octagonal bipyramid, each label on 2 faces" in " ".join(text.split())
    for name in ("legible", "familiar", "readability"):
        assert f"{name} {one['scores'][name]} of 100" in text
    assert f"cost {one['scores']['cost']} points" in text
    assert f"overall {one['scores']['overall']} of 100" in text
    assert "6 and 9 need a mark" in " ".join(text.split())
    assert text.isascii() == plain


def test_a_distribution_shows_exact_ways_and_percentages() -> None:
    text = distribution_text(EIGHT_AND_TWELVE, EIGHT_AND_TWELVE, 90)
    lines = text.split("\n")
    assert lines[0] == "96 outcomes; every chance is exactly as wanted"
    assert len(lines) == 2 + 19
    assert re.match(r" 6  █+▌│ +5 ways in 96   5\.21 %$", lines[6])
    assert re.match(r" 2  █+▌│ +1 way  in 96   1\.04 %$", lines[2])
    assert longest(text) <= 90
    assert len({len(line) for line in lines[2:]}) == 1


def test_the_ways_of_a_target_are_compared_as_chances() -> None:
    twice = [[result, 2 * count] for result, count in EIGHT_AND_TWELVE.items()]
    assert "exactly as wanted" in distribution_text(EIGHT_AND_TWELVE, twice, 80)


@pytest.mark.parametrize("width", [60, 100])
def test_what_was_wanted_is_said_where_a_chance_is_another(width: int) -> None:
    found = (Distribution.of_labels(range(1, 7)) + Distribution.of_labels(range(1, 17))).ways
    text = distribution_text(found, EIGHT_AND_TWELVE, width)
    assert text.startswith("96 outcomes; distance 1/8 from what was wanted")
    assert text.count("wanted 8 in 96 (8.33 %)") == 5
    assert "wanted 0 in 96 (0.00 %)" in text
    assert "wanted 6 in 96" not in text
    assert longest(text) <= width


def test_a_distribution_in_ascii_and_without_a_target() -> None:
    plain = distribution_text(EIGHT_AND_TWELVE, EIGHT_AND_TWELVE, 60, plain=True)
    assert plain.isascii()
    assert re.search(r"^ 9  #+\| +8 ways in 96   8\.33 %$", plain, re.MULTILINE)
    alone = distribution_text({-1: 1, 2: 3}, None, 60)
    assert alone.split("\n")[0] == "4 outcomes"
    assert "│" not in alone
    assert re.search(r"^-1  █+▍? +1 way  in 4  25\.00 %$", alone, re.MULTILINE)


@given(st.dictionaries(st.integers(-50, 50), st.integers(1, 10**13), min_size=1, max_size=20))
@settings(max_examples=50, deadline=None)
def test_a_distribution_keeps_every_number_of_ways(ways: dict[int, int]) -> None:
    lines = distribution_text(ways, ways, 80).split("\n")[2:]
    outcomes = sum(ways.values())
    for (result, count), line in zip(sorted(ways.items()), lines, strict=True):
        assert line.split()[0] == str(result)
        assert re.search(rf" {count} ways? +in {outcomes} ", line)
