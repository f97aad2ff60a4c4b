"""Briefs that are refused: every fault, its line, its key, what was found and what would be accepted."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest
from facewright.constraints.brief import parse, read
from facewright.constraints.brief.reader import MOST_BYTES
from facewright.constraints.errors import BriefRefused, Fault, UsageError

GOOD = """\
title = "Ferry"
like = "2d6"
read = "total"
dice = [6, 6]
"""


def faults(text: str) -> tuple[Fault, ...]:
    """The faults of a brief that must be refused."""
    with pytest.raises(BriefRefused) as refused:
        parse(text, "brief.toml")
    return refused.value.faults


def only_fault(text: str) -> tuple[int, str, str, str]:
    """The one fault of a brief: line, key, found, accepted."""
    found = faults(text)
    assert len(found) == 1, found
    return found[0].line, found[0].key, found[0].found, found[0].accepted


def changed(key: str, line: str) -> str:
    """The good brief with the line of one key changed; a key that it has not comes last."""
    lines = GOOD.splitlines()
    at = next((n for n, old in enumerate(lines) if old.startswith(key + " ")), len(lines))
    lines[at : at + 1] = [line]
    return "\n".join(lines)


LABEL = "a whole number from -1,000,000 to 1,000,000"
SINGLE = [
    # wrong types and bounds
    ("title", "title = 3", 1, "title", "3", "a text of 1 to 200 characters on one line"),
    ("title", 'title = " "', 1, "title", "an empty text", "a text of 1 to 200 characters on one line"),
    ("title", 'title = "a\\nb"', 1, "title", '"a\\nb"', "a text of 1 to 200 characters on one line"),
    ("schema", "schema = 2", 5, "schema", "2", "1"),
    ("schema", "schema = true", 5, "schema", "true, a yes-or-no value", "1"),
    ("note", "note = 1979-05-27", 5, "note", "1979-05-27, a date or a time", "a text of up to 10,000 characters"),
    ("read", 'read = "totl"', 3, "read", '"totl"', None),
    ("stop", "stop = { seconds = 0 }", 5, "stop.seconds", "0", "a number above 0, such as 600"),
    ("stop", "stop = { seconds = inf }", 5, "stop.seconds", "inf, a number with a decimal point",
     "a number above 0, such as 600"),
    ("stop", "stop = { seconds = nan }", 5, "stop.seconds", "nan, a number with a decimal point",
     "a number above 0, such as 600"),
    ("stop", "stop = { designs = 2.0 }", 5, "stop.designs", "2.0, a number with a decimal point",
     "a whole number from 1 to 1,000,000,000, such as 1000"),
    ("rank", "rank = { cost = 0 }", 5, "rank", "no weight above 0",
     "at least one weight above 0, such as { readability = 2, cost = 1 }"),
    ("rank", "rank.cost = -1", 5, "rank.cost", "-1", "a weight, a whole number from 0 to 1,000"),
    ("labels", 'labels = { lowest = "0" }', 5, "labels.lowest",
     '"0", a text (a number stands without quotation marks)', LABEL),
    ("labels", "labels = { highest = true }", 5, "labels.highest", "true, a yes-or-no value", LABEL),
    ("labels", "labels = { lowest = -1_000_001 }", 5, "labels.lowest", "-1000001", LABEL),
    ("labels", "labels = { repeats = 0 }", 5, "labels.repeats", "0",
     "a whole number from 1 to 1,000: how often one label may stand on a die"),
    ("labels", "labels = { only = [1, 2.5] }", 5, "labels.only[2]", "2.5, a number with a decimal point", LABEL),
    ("labels", "labels = { only = [] }", 5, "labels.only", "an empty list",
     "a list of the labels allowed, at least one, such as [1, 2, 3]"),
    ("labels", "labels = 0x" + "f" * 5000, 5, "labels", "a whole number of about 6,000 digits",
     "a table such as { lowest = 1, highest = 20, repeats = 3 }"),
    # unknown keys
    ("labels", "labels = { lowst = 0 }", 5, "labels.lowst", "an unknown key",
     "the nearest known key is lowest"),
    ("labels", "lables = { lowest = 0 }", 5, "lables", "an unknown key", "the nearest known key is labels"),
    ("stop", "stop = { zzz = 0 }", 5, "stop.zzz", "an unknown key", "the known keys are seconds, designs"),
    ("x", '"a key" = 0', 5, '"a key"', "an unknown key", None),
    ("share", "share = 1", 5, "share", "a key of readouts briefs", "a numbering brief's own keys"),
    # the target
    ("like", 'like = "2x6"', 2, "like", '"2x6"', None),
    ("like", "ways = { 1.5 = 2 }", 2, "ways.1", "a table with 5", "a positive whole number of ways"),
    ("like", "ways = { two = 2 }", 2, "ways.two", '"two" for a result',
     "a whole number from -1,000,000 to 1,000,000, without leading zeros, such as \"-2\""),
    ("like", "ways = { 02 = 2 }", 2, "ways.02", '"02" for a result', None),
    ("like", "ways = { 2 = 0 }", 2, "ways.2", "0", "a positive whole number of ways"),
    ("like", "ways = {}", 2, "ways", "an empty table", None),
    ("like", "ways = { 0 = 1, 100001 = 1 }", 2, "ways", "results from 0 to 100,001",
     "results that lie at most 100,000 apart"),
    ("ways", "ways = { 2 = 1 }", 5, "ways", "both `like` and `ways`",
     "one of them: they say the same thing in two forms"),
    # dice
    ("dice", "dice = 6", 4, "dice", "6", None),
    ("dice", "dice = []", 4, "dice", "an empty list", None),
    ("dice", "dice = [1, 6]", 4, "dice[1]", "1", None),
    ("dice", "dice = [6, 1001]", 4, "dice[2]", "1001", None),
    ("dice", "dice = [6, true]", 4, "dice[2]", "true, a yes-or-no value", None),
    ("dice", "dice = [6,\n 6.0]", 5, "dice[2]", "6.0, a number with a decimal point", None),
    ("dice", 'dice = [6, "6"]', 4, "dice[2]", '"6"', "a face count without quotation marks, 6, or a solid's name"),
    ("dice", 'dice = [6, "cueb"]', 4, "dice[2]", '"cueb"', None),
    ("dice", "dice = [6, {}]", 4, "dice[2]", "a die without a size", 'faces = 6, solid = "cube" or both'),
    ("dice", "dice = [6, { face = 3 }]", 4, "dice[2].face", "an unknown key", "the nearest known key is faces"),
    ("dice", 'dice = [6, { faces = 4, solid = "cube" }]', 4, "dice[2].faces", "4 labels on a solid with 6 faces, cube",
     "a number of labels that divides its 6 faces: 2, 3, 6"),
    ("dice", 'dice = [6, { faces = 12, solid = "cube" }]', 4, "dice[2].faces",
     "12 labels on a solid with 6 faces, cube", None),
    ("dice", "dice = [6, { faces = 3, exactly = [1, 2] }]", 4, "dice[2].exactly", "2 labels for 3 faces", "3 labels"),
    ("dice", 'dice = [6, { solid = "cube", exactly = [1, 2, 3] }]', 4, "dice[2].exactly", "3 labels for 6 faces",
     "6 labels, or faces = 3 beside it, so that the solid carries each label 2×"),
    ("dice", "dice = [6, { exactly = [1, 9], labels = { highest = 8 } }]", 4, "dice[2].exactly",
     "the label 9, above the die's own highest 8", None),
    ("dice", "dice = [6, { exactly = [1, 1], labels = { repeats = 1 } }]", 4, "dice[2].exactly",
     "the label 1 2×, more often than the die's own repeats 1", None),
    ("dice", "dice = [6, { exactly = [1] }]", 4, "dice[2].exactly", "1 item, a list, [1]", None),
    ("dice", 'dice = [6, { faces = 6, name = "" }]', 4, "dice[2].name", "an empty text", None),
    ("dice", 'dice = [6, { faces = 6, shape = 1.5 }]', 4, "dice[2].shape", "shape 1.5",
     "no number: cube has no free proportion"),
    ("dice", 'dice = [6, { faces = 6, shape = "flat" }]', 4, "dice[2].shape", '"flat"',
     "largest-numeral, settles-best or a number"),
    ("dice", "dice = [6, { faces = 130, shape = 1.5 }]", 4, "dice[2].shape", "proportions of a solid with 130 faces",
     "no such key: solids are built up to 120 faces"),
    ("dice", "dice = [" + "6, " * 101 + "]", 4, "dice", "101 items", None),
    # choices
    ("dice", 'dice = "two of 4 6"', 4, "dice", '"two of 4 6"', None),
    ("dice", 'dice = "cube"', 4, "dice", '"cube"', None),
    ("dice", 'dice = "2 of "', 4, "dice", '"2 of "', None),
    ("dice", 'dice = "3 to 2 of 4 6"', 4, "dice", "3 to 2 dice", "1 to 100 dice, the smaller number first"),
    ("dice", 'dice = "0 of 4 6"', 4, "dice", "0 dice", "1 to 100 dice, the smaller number first"),
    ("dice", 'dice = "2 of 4 1"', 4, "dice", '"1" among the face counts', "face counts from 2 to 1,000"),
    ("dice", 'dice = "2 of 4 cube"', 4, "dice", '"cube" among the face counts', "face counts from 2 to 1,000"),
    ("dice", 'dice = "9 of 2 3 4 5 6 7 8 9 10 11 12"', 4, "dice", "a choice of 92,378 sets", None),
    ("dice", 'dice = "100 of ' + " ".join(map(str, range(2, 90))) + '"', 4, "dice",
     "a choice of more than 1,000,000,000,000 sets", None),
    # rules that cannot be kept
    ("labels", "labels = { lowest = 5, highest = 3 }", 5, "labels.lowest", "lowest 5 and highest 3",
     "a highest of at least 5, or a lower lowest"),
    ("labels", "labels = { highest = 0 }", 5, "labels.highest", "lowest 1 (the default) and highest 0", None),
    ("labels", "labels = { only = [1, 2], lowest = 3 }", 5, "labels.only",
     "[1, 2], of which no label is left beside lowest 3", None),
    ("labels", "labels = { only = [1, 2], avoid = [2, 1] }", 5, "labels.only",
     "[1, 2], of which no label is left beside avoid [1, 2]", None),
    ("labels", "labels = { highest = 2, avoid = [1, 2, 3] }", 5, "labels.avoid", "all labels from 1 to 2", None),
    ("labels", "labels = { highest = 2, repeats = 2 }", 5, "labels.repeats", None,
     "repeats of at least 3, or more labels allowed"),
    ("labels", "labels = { lowest = -1_000_000 }", 5, "labels.lowest", None, "a higher lowest or a lower highest"),
    # what this version does not do yet, and what does not go together
    ("read", 'read = "every-order"', 2, "like", "a distribution that is wanted",
     'no such key: read = "every-order" compares dice with one another'),
    ("ties", 'ties = "lose"', 5, "ties", 'a key that goes with read = "each-beats-next"',
     'no such key beside read = "total"'),
    ("layout", "layout = [1]", 5, "layout[1]", "1", None),
    ("read", 'read = "total-modulo"', 0, "modulo", "nothing: the key is missing",
     'a whole number from 2 to 1,000,000: read = "total-modulo" needs it'),
    ("accept", 'accept = "near"', 5, "accept", '"near"', '"exact" or "nearest"'),
    ("nearest", 'nearest = "largest"', 5, "nearest", "what near means, where exact answers are wanted",
     'no such key, or accept = "nearest"'),
    ("also", 'also = [{ rule = "symetric" }]', 5, "also[1].rule", '"symetric"', None),
    ("also", 'also = [{ rul = "symmetric" }]', 5, "also[1].rul", "an unknown key", "the nearest known key is rule"),
    ("also", 'also = [{ chance = "1/6" }]', 5, "also[1]", "a table without `rule`", None),
    ("also", 'also = ["symmetric"]', 5, "also[1]", '"symmetric", a text', 'a table such as { rule = "symmetric" }'),
    ("also", 'also = { rule = "symmetric" }', 5, "also", "a table with rule", None),
    ("also", 'also = [{ rule = "equal-labels" }]', 5, "also[1].chance", "nothing: the key is missing",
     'a fraction from 0 to 1 as a text, such as "1/6"'),
    ("also", 'also = [{ rule = "equal-labels", chance = 0.5 }]', 5, "also[1].chance",
     "0.5, a number with a decimal point",
     'a fraction from 0 to 1 as a text, such as "1/6"'),
    ("also", 'also = [{ rule = "equal-labels", chance = "7/6" }]', 5, "also[1].chance", '"7/6"', None),
    ("also", 'also = [{ rule = "equal-labels", chance = "1/0" }]', 5, "also[1].chance", '"1/0"', None),
    ("also", 'also = [{ rule = "symmetric", at_most = 3 }]', 5, "also[1].at_most",
     'a key that goes with rule = "distinct"', 'no such key beside rule = "symmetric"'),
    ("also", 'also = [{ rule = "distinct" }]', 5, "also[1].at_most", "nothing: the key is missing", None),
    ("also", 'also = [{ rule = "distinct", at_most = 0 }]', 5, "also[1].at_most", "0", None),
    ("also", 'also = [{ rule = "symmetric" }, { rule = "symmetric" }]', 5, "also[2]",
     'the rule "symmetric" for the second time', "each rule once"),
    ("also", 'also = [{ rule = "also-read", like = "2d6" }]', 5, "also[1].read", "nothing: the key is missing", None),
    ("also", 'also = [{ rule = "also-read", read = "highest" }]', 5, "also[1].like",
     "nothing: the key is missing", None),
    ("also", 'also = [{ rule = "also-read", read = "highest", like = "2x6" }]', 5, "also[1].like", '"2x6"', None),
    ("also", 'also = [{ rule = "also-read", read = "highest", ways = { 1 = 0 } }]', 5, "also[1].ways.1", "0", None),
    ("also", 'also = [{ rule = "also-read", read = "highest", ways = { x = 1 } }]', 5, "also[1].ways.x",
     '"x" for a result', None),
    ("also", 'also = [{ rule = "also-read", read = "middle", like = "d6" }]', 5, "also[1].read",
     '"middle" beside 2 dice',
     "an odd number of dice, such as three"),
    ("also", 'also = [{ rule = "also-read", read = "difference", like = "d6 - 2" }]', 5, "also[1].like",
     "the result -1", None),
    ("also", 'also = [{ rule = "also-read", read = "total-modulo", like = "d2 - 1" }]', 5, "also[1].modulo",
     "nothing: the key is missing", None),
    ("also", 'also = [{ rule = "also-read", read = "total", like = "2d6", modulo = 2 }]', 5, "also[1].modulo",
     'a key beside read = "total"', "no such key there"),
    ("also", 'also = [{ rule = "also-read", read = "every-order", like = "2d6" }]', 5, "also[1].read",
     '"every-order"', None),
    ("dice", 'dice = [6]\nalso = [{ rule = "same-mean" }]', 5, "also[1].rule",
     '"same-mean" for one die', "two dice or more"),
    ("layout", 'layout = ["apart", "oposite-sums"]', 5, "layout[2]", '"oposite-sums"', '"opposite-sums"'),
    ("layout", 'layout = ["apart", "apart"]', 5, "layout[2]", '"apart" for the second time',
     "each goal once, what matters most first"),
    ("layout", 'layout = ["long-along-draw"]', 5, "layout[1]", '"long-along-draw" in this brief', None),
    ("modulo", "modulo = 4", 5, "modulo", 'a key that goes with read = "total-modulo"',
     'no such key beside read = "total"'),
    ("readouts", "readouts = { a = 2 }", 5, "readouts", "`readouts` (readouts) beside `read` (numbering)",
     "one of them: a brief asks one question"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("key", "line", "at", "path", "found", "accepted"),
    SINGLE,
    ids=[f"{c[3]}-{n}" for n, c in enumerate(SINGLE)],
)
def test_one_fault(key: str, line: str, at: int, path: str, found: str | None, accepted: str | None) -> None:
    """None stands for words that are long and checked elsewhere, or that only need be there."""
    fault = only_fault(changed(key, line))
    assert fault[:2] == (at, path)
    assert found is None or fault[2] == found
    assert accepted is None or fault[3] == accepted
    assert all(fault[2:])


SYNTAX = [
    ("title = Ferry", 1, "title", "no value that can be read"),
    ('title = "Ferry', 1, "title", "a text that is not closed"),
    ("title", 1, "title", "a key without ="),
    ("title =", 1, "title", "no value that can be read"),
    ('title = "a" "b"', 1, "title", "more after a complete value"),
    ('title = "a"\ntitle = "b"', 2, "title", "a key that stands in the brief already"),
    ('title = "a"\nstop = { seconds = 1, seconds = 2 }', 2, "stop", "a key that stands in the table already"),
    ('title = "a"\nlabels = { lowest = 1', 2, "labels", "a table that is not closed"),
    ('title = "a"\nlabels = { only = [1, 2 }', 2, "labels", "a list that is not closed"),
    ("title = " + "9" * 5000, 1, "title", "a number with thousands of digits"),
    ('title = "a"\n= 3', 2, "the brief", "a line that TOML does not allow"),
]


@pytest.mark.parametrize(("line", "at", "key", "found"), SYNTAX, ids=[str(n) for n in range(len(SYNTAX))])
def test_a_broken_line_is_the_only_fault(line: str, at: int, key: str, found: str) -> None:
    fault = only_fault(changed("title", line))
    assert fault[:2] == (at, key)
    assert fault[2].startswith(found)


def test_broken_lines_hide_no_other_fault() -> None:
    text = 'titel = "x\nlike = 2d6\nread = "totl"\ndice = [6, 6\nlabels = { lowest = 5, highest = 3 }\nstop = {\n'
    assert [(fault.line, fault.key) for fault in faults(text)] == [
        (0, "title"), (1, "titel"), (2, "like"), (3, "read"), (4, "dice"), (5, "labels.lowest"), (6, "stop")
    ]  # fmt: skip


def test_a_broken_table_header_takes_its_keys_with_it() -> None:
    text = GOOD + "[labels\nlowest = 1\nwhatever = 2\n[stop]\nsecond = 3\n"
    assert [(fault.line, fault.key) for fault in faults(text)] == [(5, "labels"), (9, "stop.second")]


def test_a_break_in_a_text_of_many_lines_is_one_fault_with_its_line() -> None:
    assert only_fault(GOOD + 'note = """\nopen\nkey = 1\n')[:2] == (5, "note")
    assert only_fault('note = """\nx = 1\n"""\n' + GOOD.replace("= [", "["))[:2] == (7, "dice")


def test_every_missing_key_is_named() -> None:
    assert [(fault.line, fault.key) for fault in faults("schema = 1")] == [
        (0, "dice"), (0, "like"), (0, "read"), (0, "title")
    ]  # fmt: skip


def test_all_faults_at_once_in_the_order_of_the_file() -> None:
    text = (
        'titel = "x"\nlike = "2d6"\nread = "total"\ndice = [\n  6,\n  "cub",\n  { faces = 3.5 },\n'
        '  { solid = "cube", labels = { lowest = 4, highest = 2 } },\n]\n'
        "[labels]\nrepeats = 0\nonly = [1,\n  2,\n  true]\n[stop]\nsecond = 1\n"
    )
    assert [(fault.line, fault.key) for fault in faults(text)] == [
        (0, "title"),
        (1, "titel"),
        (6, "dice[2]"),
        (7, "dice[3].faces"),
        (8, "dice[4].labels.lowest"),
        (11, "labels.repeats"),
        (14, "labels.only[3]"),
        (16, "stop.second"),
    ]


def test_lines_inside_lists_of_tables_and_dotted_keys() -> None:
    text = (
        'title = "x"\nlike = "2d6"\nread = "total"\nlabels.lowest = 0\nlabels."re\\u0070eats" = "3"\n'
        "[[dice]]\nfaces = 6\n[[dice]]\nfaces = 1\n[dice.labels]\nlowest = 0.5\n[[dice]]\n# nothing\n"
    )
    assert [(fault.line, fault.key) for fault in faults(text)] == [
        (5, "labels.repeats"), (9, "dice[2].faces"), (11, "dice[2].labels.lowest"), (12, "dice[3]")
    ]  # fmt: skip


def test_a_fault_of_the_briefs_own_rules_is_said_once_for_all_dice() -> None:
    assert only_fault(GOOD + "labels = { lowest = 3, highest = 2 }")[1] == "labels.lowest"
    both = faults(GOOD + "labels = { highest = 2, repeats = 2 }")
    assert [fault.found for fault in both] == ["2 labels allowed, each at most 2×, fill 4 of 6 faces"] or both


def test_too_few_labels_are_said_for_each_face_count() -> None:
    text = GOOD.replace("[6, 6]", "[4, 6, 8]") + "labels = { highest = 2, repeats = 2 }"
    assert [fault.found for fault in faults(text)] == [
        "2 labels allowed, each at most 2×, fill 4 of 6 faces",
        "2 labels allowed, each at most 2×, fill 4 of 8 faces",
    ]


def test_too_few_labels_under_a_default_bound_is_left_to_the_answer() -> None:
    assert parse(GOOD + "labels = { repeats = 1, lowest = 6 }").dice[0].rules.highest == 6


def test_a_spoilt_rule_brings_no_second_fault() -> None:
    assert only_fault(GOOD + 'labels = { lowest = "0", highest = 0 }')[1] == "labels.lowest"
    assert only_fault(GOOD + 'labels = { highest = 2, repeats = 1, only = "x" }')[1] == "labels.only"


def test_another_kind_is_a_limit_of_this_version_said_once() -> None:
    line, key, found, accepted = only_fault('title = "x"\nproduct = "y"\nstop = { seconds = 3 }')
    assert (line, key) == (2, "product")
    assert "brief" in found
    assert "no other kind is answered yet" in accepted


def test_the_rest_of_another_kind_of_brief_is_checked_too() -> None:
    text = 'product = ["a"]\nmake = {}\nrats = "r.toml"\nstop = 3\ntitle = "x"'
    assert [(fault.line, fault.key) for fault in faults(text)] == [
        (1, "product"),
        (3, "rats"),
        (4, "stop"),
    ]
    assert faults(text)[1].accepted == "the nearest known key is rates"


def test_two_kinds_together_are_refused() -> None:
    line, key, found, accepted = only_fault(
        'title = "x"\nsmooth = { symmetry = "tetrahedral" }\nproduct = ["a"]'
    )
    assert (line, key) == (3, "product")
    assert "beside" in found
    assert accepted == "one of them: a brief asks one question"


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "\ufeff"])
def test_an_empty_brief(text: str) -> None:
    line, key, found, accepted = only_fault(text)
    assert (line, key, found) == (0, "the brief", "an empty file")
    assert "facewright new numbering" in accepted


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("x = " + "[" * 100_000, 1),
        (GOOD + "x = " + "[" * 300 + "]" * 300, 5),
        (GOOD + "x = " + "{ a = " * 300 + "1" + " }" * 300, 5),
        (GOOD + "\n" + ".".join("a" * 200_000) + " = 1", 6),
        (GOOD + "[" + ".".join("a" * 5_000) + "]\nb = 1", 5),
    ],
    ids=["open lists", "lists", "tables", "dots", "header"],
)
def test_deep_nesting_is_a_fault_and_quick(text: str, line: int) -> None:
    began = time.process_time()
    fault = only_fault(text)
    assert fault[:3] == (line, "the brief", "brackets or dots more than 20 deep")
    assert time.process_time() - began < 2


def test_brackets_and_dots_in_texts_and_comments_do_not_nest() -> None:
    parse(GOOD + f'note = "{"[." * 50}" # {"[." * 50}\n')
    parse(GOOD + f"note = '''\n{'[.' * 50}'''\n")


def test_many_faults_are_reported_without_delay() -> None:
    began = time.process_time()
    assert len(faults(GOOD + "".join(f"key{n} = {n}\n" for n in range(30_000)))) == 1000
    assert time.process_time() - began < 8


def test_a_fault_shows_nothing_that_a_terminal_obeys() -> None:
    text = 'title = "\\u001b[31m\\nred"\n"\\u001b[2J" = 1\nread = "\\u0007"\nlike = "\\u001b"\ndice = ["\\u001b"]\n'
    with pytest.raises(BriefRefused) as refused:
        parse(text, "brief.toml")
    assert all(line.isprintable() for line in str(refused.value).splitlines())
    assert len(refused.value.faults) == 5


def test_half_a_character_is_a_fault() -> None:
    assert only_fault(GOOD + 'note = "\ud800"')[:3] == (
        5,
        "the brief",
        "half of a character (a lone surrogate)",
    )


def refusal(path: str | Path) -> str:
    """The words of a file that is refused."""
    with pytest.raises((UsageError, BriefRefused)) as refused:
        read(path)
    assert refused.value.exit_status == 2
    return str(refused.value)


def test_files_that_are_no_briefs(tmp_path: Path) -> None:
    assert "no such file" in refusal(tmp_path / "none.toml")
    assert "a folder" in refusal(tmp_path)
    assert "cannot be read" in refusal("a\0b")
    assert "cannot be read" in refusal("x" * 5000)
    (tmp_path / "latin.toml").write_bytes(GOOD.encode() + b'note = "caf\xe9"\n')
    assert "line 5, the brief: found a byte that is no UTF-8 text (0xe9)" in refusal(tmp_path / "latin.toml")
    (tmp_path / "huge.toml").write_bytes(b"#" * (MOST_BYTES + 1))
    assert f"more than {MOST_BYTES:,} bytes" in refusal(tmp_path / "huge.toml")
    (tmp_path / "empty.toml").touch()
    assert "an empty file" in refusal(tmp_path / "empty.toml")
    (tmp_path / "binary.toml").write_bytes(bytes(range(256)) * 20)
    assert "line 2" in refusal(tmp_path / "binary.toml")


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may read everything")
def test_a_file_that_may_not_be_read(tmp_path: Path) -> None:
    path = tmp_path / "closed.toml"
    path.write_text(GOOD, encoding="utf-8")
    path.chmod(0)
    assert "cannot be read" in refusal(path)


def test_an_endless_file_is_not_read_to_its_end() -> None:
    assert f"more than {MOST_BYTES:,} bytes" in refusal("/dev/zero")
