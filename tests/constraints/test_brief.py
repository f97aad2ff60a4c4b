"""Briefs that are accepted: every key of a numbering, its defaults, and what becomes of it."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from facewright.constraints.brief import parse, read
from facewright.constraints.brief.models import (
    AlsoPart,
    DiePart,
    LabelPart,
    NumberingPart,
    RankPart,
    ReadoutsPart,
    StopPart,
    fields_of,
)
from facewright.constraints.brief.models_layout import FromPart, LayoutPart
from facewright.constraints.brief.models_product import MakePart, ProductPart
from facewright.constraints.brief.models_smooth import SmoothPart, SmoothTable
from facewright.constraints.brief.starter import KINDS, starter
from facewright.constraints.errors import UsageError
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import StopRule

ROOT = Path(__file__).resolve().parents[2]
HARBOUR = """\
title = "Harbour dues"
like  = "d8 + d12"
read  = "total"
dice  = [6, 16]
"""


def with_dice(dice: str, *lines: str, like: str = "2d6") -> str:
    """A brief with these dice and these further lines."""
    return "\n".join(['title = "Ferry"', f'like = "{like}"', 'read = "total"', f"dice = {dice}", *lines])


def dice(text: str) -> tuple[Die, ...]:
    """The only set of dice of a brief."""
    return parse(text).dice


def test_the_shortest_brief_with_every_default() -> None:
    question = parse(HARBOUR)
    assert question.title == "Harbour dues"
    assert (question.read, question.accept, question.like) == ("total", "exact", "d8 + d12")
    assert (question.note, question.choice, question.dropped) == ("", "", ())
    assert question.stop == StopRule(None, None)
    assert question.rank == (("readability", 2), ("cost", 1))
    assert question.target.ways[9] == 8
    rules = LabelRules(1, 19)
    assert question.dice == (Die(6, "cube", 1, rules), Die(16, "octagonal bipyramid", 1, rules))
    assert question.dice[0].rules.given == frozenset()


def test_every_key_of_a_numbering_reaches_the_question() -> None:
    question = parse(
        'schema = 1\ntitle = " Harbour dues "\nnote = """\nTwo\nlines"""\n'
        'ways = { "-1" = 2, 0 = 4, 3 = 2 }\nread = "total"\naccept = "exact"\nalso = []\nlayout = []\n'
        "dice = [4, 2]\nlabels = { lowest = -3, highest = 4, repeats = 2, avoid = [3, 2, 2] }\n"
        "stop = { seconds = 1.5, designs = 7 }\nrank = { cost = 3 }\n"
    )
    assert question.title == "Harbour dues"
    assert question.note == "Two\nlines"
    assert question.target.ways == {-1: 2, 0: 4, 3: 2}
    assert question.stop == StopRule(1.5, 7)
    assert question.rank == (("cost", 3),)
    first = question.dice[0]
    assert first.rules == LabelRules(-3, 4, 2, None, (2, 3))
    assert first.rules.given == {"lowest", "highest", "repeats", "avoid"}


def test_the_default_highest_leaves_each_other_die_its_least_label() -> None:
    three = dice(
        with_dice("[4, 6, { faces = 3, exactly = [5, 3, 4] }]", "labels = { lowest = 0 }", like="3d6")
    )
    assert [die.rules.highest for die in three[:2]] == [18 - 0 - 3, 18 - 0 - 3]
    assert three[2].exactly == (3, 4, 5)
    assert dice(with_dice("[6, 6]", "labels = { lowest = 0 }"))[0].rules == LabelRules(0, 12)


def test_a_target_too_small_for_the_dice_is_a_question_whose_answer_is_none() -> None:
    die = dice(with_dice("[2, 2, 2, 2]", like="2d2 - 10"))[0]
    assert die.rules.highest < die.rules.lowest
    assert die.rules.allowed() == ()


def test_only_sets_the_bounds_unless_they_are_given() -> None:
    only, bounded = (
        dice(with_dice("[6, 6]", f"labels = {labels}"))[0].rules
        for labels in ("{ only = [5, 2, 2, 3] }", "{ only = [2, 3, 5], lowest = 3 }")
    )
    assert (only.lowest, only.highest, only.only) == (2, 5, (2, 3, 5))
    assert (bounded.lowest, bounded.highest, bounded.allowed()) == (3, 5, (3, 5))


def test_a_dies_own_labels_override_part_by_part() -> None:
    own, plain = dice(
        with_dice(
            "[{ faces = 6, labels = { highest = 5, avoid = [] } }, 6]", "labels = { lowest = 0, avoid = [4] }"
        )
    )
    assert own.rules == LabelRules(0, 5, None, None, ())
    assert own.rules.given == {"lowest", "highest", "avoid"}
    assert plain.rules == LabelRules(0, 12, None, None, (4,))


def test_the_forms_of_a_die() -> None:
    found = dice(
        with_dice(
            '[6, "Hexahedron", { faces = 3, solid = "cube" }, { solid = "cube", name = "tug" }, '
            "{ faces = 2, exactly = [2, 1] }, { exactly = [1, 1, 0] }]",
            like="6d6",
        )
    )
    shapes = [(die.faces, die.solid, die.copies, die.exactly, die.name) for die in found]
    assert shapes == [
        (6, "cube", 1, None, None),
        (6, "cube", 1, None, None),
        (3, "cube", 2, None, None),
        (6, "cube", 1, None, "tug"),
        (2, "coin", 1, (1, 2), None),
        (3, "3-sided log", 1, (0, 1, 1), None),
    ]
    assert found[0] == found[1] != found[3]
    assert all(die.keeps(die.exactly) for die in found if die.exactly)


def test_fixed_labels_need_not_keep_the_briefs_own_rules() -> None:
    free, fixed = dice(with_dice("[6, { exactly = [0, 9] }]", "labels = { highest = 4, repeats = 2 }"))
    assert (fixed.exactly, free.rules.highest) == ((0, 9), 4)


def test_a_choice_is_every_set_and_the_impossible_ones_are_dropped_with_the_division() -> None:
    question = parse(with_dice('"1 to 2 of 8, 3, 4 9 36"'))
    assert question.choice == "1 to 2 of 8, 3, 4 9 36"
    assert [tuple(die.faces for die in one) for one in question.sets] == [
        (36,), (3, 36), (4, 9), (4, 36), (8, 9), (8, 36), (9, 36), (36, 36)
    ]  # fmt: skip
    reasons = {one.faces: one.reason for one in question.dropped}
    assert len(reasons) == 12
    assert reasons[3, 8] == (
        "a 3-face die and an 8-face die have 24 outcomes; the result 2 would need 24 × 1/36 = 2/3 of them, "
        "no whole number"
    )
    assert reasons[8,] == (
        "an 8-face die has 8 outcomes; the result 2 would need 8 × 1/36 = 2/9 of them, no whole number"
    )
    assert reasons[4, 4].startswith("two 4-face dice have 16 outcomes; ")
    assert question.sets[2][1].rules.highest == 11
    assert question.sets[0][0].rules.highest == 12


def test_a_choice_of_which_nothing_is_left_is_still_a_question() -> None:
    question = parse(with_dice('"2 of 5 7"'))
    assert question.sets == ()
    assert [one.faces for one in question.dropped] == [(5, 5), (5, 7), (7, 7)]


def test_sets_of_a_choice_with_too_few_labels_are_dropped() -> None:
    question = parse(with_dice('"2 of 4 9"', "labels = { highest = 4, repeats = 2 }"))
    reasons = {one.faces: one.reason for one in question.dropped}
    assert reasons[4, 9] == (
        "a 9-face die has too few labels: 4 labels allowed, each at most 2×, fill 8 of 9 faces"
    )


def test_a_plain_set_is_never_dropped() -> None:
    question = parse(with_dice("[3, 8]"))
    assert len(question.sets) == 1
    assert question.dropped == ()


def test_the_largest_choice_is_read_quickly_enough() -> None:
    counts = " ".join(str(n) for n in range(2, 198))
    question = parse(with_dice(f'"2 of {counts}"', "labels = { only = [1, 2, 3, 4] }"))
    assert len(question.sets) + len(question.dropped) == 196 * 197 // 2


def test_questions_are_told_apart_by_what_is_asked_alone() -> None:
    same = (
        HARBOUR.replace("Harbour dues", "Other").replace("d8 + d12", "d12 + d8") + "stop = { designs = 3 }\n"
    )
    assert parse(same) == parse(HARBOUR)
    assert parse(same).fingerprint() == parse(HARBOUR).fingerprint()
    assert parse(HARBOUR.replace("16", "24")).fingerprint() != parse(HARBOUR).fingerprint()


@pytest.mark.parametrize(
    "text",
    [
        HARBOUR.replace("\n", "\r\n"),
        "\ufeff" + HARBOUR,
        "# a comment\n\n" + HARBOUR.replace("[6, 16]", "[\n  6, # the small one\n  16,\n]"),
        HARBOUR.replace("dice  = [6, 16]\n", "[[dice]]\nfaces = 6\n[[dice]]\nfaces = 16\n"),
    ],
    ids=["windows lines", "byte order mark", "many lines", "tables"],
)
def test_other_ways_of_writing_the_same(text: str) -> None:
    assert parse(text) == parse(HARBOUR)


def test_a_brief_is_read_from_a_file(tmp_path: Path) -> None:
    path = tmp_path / "brief.toml"
    path.write_text(HARBOUR, encoding="utf-8")
    assert read(path) == read(str(path)) == parse(HARBOUR)


def test_there_is_a_starter_for_every_kind_answered_and_it_can_be_answered() -> None:
    assert KINDS == ("numbering", "readouts", "layout", "smooth", "product")
    # a product brief names designs of runs, which its own tests have
    for kind in KINDS[:-1]:
        assert parse(starter(kind)).kind == kind
        assert "#" in starter(kind)


def test_other_starters_are_refused() -> None:
    with pytest.raises(UsageError, match="accepted: numbering, readouts, layout, smooth or product"):
        starter("nmbering")


def test_every_key_stands_in_the_reference() -> None:
    page = (ROOT / "docs" / "reference" / "briefs.md").read_text(encoding="utf-8")
    rows = set(re.findall(r"^\| `([^`]+)` (?:\|[^|]*){3}\|$", page, re.MULTILINE))
    tables = {
        "": NumberingPart,
        "readouts briefs: ": ReadoutsPart,
        "layout briefs: ": LayoutPart,
        "product briefs: ": ProductPart,
        "make.": MakePart,
        "smooth briefs: ": SmoothPart,
        "smooth.": SmoothTable,
        "from.": FromPart,
        "stop.": StopPart,
        "rank.": RankPart,
        "labels.": LabelPart,
        "dice[].": DiePart,
        "also[].": AlsoPart,
    }
    keys = {prefix.rpartition(": ")[2] + key for prefix, model in tables.items() for key in fields_of(model)}
    assert keys - rows == set(), "keys that docs/reference/briefs.md does not describe"
    assert rows - keys == set(), "rows of docs/reference/briefs.md for keys that do not exist"


def test_a_sound_brief_loads_nothing_heavy() -> None:
    code = (
        "import sys\nfrom facewright.constraints.brief import parse\n"
        f"parse({HARBOUR!r})\n"
        "print(sorted({'numpy', 'flint', 'tree_sitter', 'ortools', 'pandas', 'difflib'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stdout.strip() == "[]"


def test_the_nearest_of_fixed_dice_is_a_question() -> None:
    fixed = "{ exactly = [1, 2, 3, 4, 5, 5] }"
    question = parse(
        f'title = "t"\nlike = "2d6"\nread = "total"\naccept = "nearest"\ndice = [{fixed}, {fixed}]\n', "test"
    )
    assert question.accept == "nearest"


def test_every_score_may_be_weighed() -> None:
    from facewright.search.rank import RANK_NAMES

    assert set(RankPart.model_fields) == set(RANK_NAMES)
