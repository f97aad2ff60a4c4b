"""Thousands of bad briefs: faults planted in known places are all found there; noise never ends in a traceback."""

from __future__ import annotations

import random

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.errors import BriefRefused

PLANTED = 2_000
NOISY = 2_000
BATCHES = 10

Plant = tuple[str, int, str]
"""A bad statement, the line of it (from 0) at which the fault must stand, the key that the fault must name."""

SOUND: dict[str, list[str]] = {
    "title": ['title = "Harbour dues"', "title = 'Tide \"table\"'", 'title="""Ferry"""'],
    "note": ['note = "invented data"', 'note = """two\nlines"""', "note = '''\n[not a table]\nx\n'''"],
    "schema": ["schema = 1", "schema = 0x1"],
    "like": ['like = "d8 + d12"', 'like = "2d6"', 'like = "highest 3 of 4d6"', "ways = { 2 = 1, 3 = 2, 4 = 1 }"],
    "read": ['read = "total"', '"read" = "total"', 'read = "to\\u0074al"'],
    "dice": ["dice = [6, 16]", "dice = [\n  4,  # small\n  { faces = 9 },\n]", 'dice = ["cube", 6]',
             'dice = [{ faces = 3, solid = "cube" }, 12]'],
    "labels": ["labels = { lowest = 0, highest = 20 }", "labels.lowest = 0\nlabels.avoid = [6]",
               "labels = { only = [\n 1, 2,\n 3 ] }"],
    "stop": ["stop = { seconds = 600, designs = 1000 }", "stop.seconds = 1.5"],
    "rank": ["rank = { readability = 2, cost = 1 }", "rank.cost = 1"],
    "accept": ['accept = "exact"'],
    "layout": ['layout = ["opposite-sums", "apart"]'],
}  # fmt: skip
"""Statements that may stand together in any order, by the key that they set."""

NEEDED = {"title", "like", "read", "dice"}

PLANTS: dict[str, list[Plant]] = {
    "title": [
        ("title = 5", 0, "title"), ('title = ""', 0, "title"), ("title = [1]", 0, "title"),
        ('title = "a\\nb"', 0, "title"), ("title = Harbour", 0, "title"), ('title = "Harbour', 0, "title"),
        ("title = 2024-01-01", 0, "title"),
    ],
    "note": [
        ("note = 3.5", 0, "note"), ("note = {}", 0, "note"), ("note = 'open", 0, "note"),
        ("note = true", 0, "note"),
    ],
    "schema": [("schema = 2", 0, "schema"), ('schema = "1"', 0, "schema"), ("schema = true", 0, "schema"),
               ("schema = 1.0", 0, "schema"), ("schema =", 0, "schema")],
    "like": [
        ('like = "2x6"', 0, "like"), ("like = 26", 0, "like"), ('like = ""', 0, "like"),
        ('like = "999999d999999"', 0, "like"), ('like = "highest 9 of 4d6"', 0, "like"),
        ('like = "difference of 3d6"', 0, "like"), ("ways = { 2 = 1, 3 = 0 }", 0, "ways.3"),
        ("ways = { 2 = 1, x = 1 }", 0, "ways.x"), ("ways = { 2 = 1.5 }", 0, "ways.2"),
        ("ways = {}", 0, "ways"), ("ways = [1]", 0, "ways"), ("ways = { 0 = 1, 200000 = 1 }", 0, "ways"),
        ('like = "2d6"\nways = { 2 = 1 }', 1, "ways"), ("like = 2d6", 0, "like"),
    ],
    "read": [
        ('read = "totl"', 0, "read"), ("read = 1", 0, "read"), ('read = "hihgest"', 0, "read"),
        ('read = "every order"', 0, "read"), ("read = total", 0, "read"), ('read = ["total"]', 0, "read"),
    ],
    "dice": [
        ("dice = []", 0, "dice"), ("dice = 6", 0, "dice"), ("dice = [6,\n  1]", 1, "dice[2]"),
        ("dice = [\n  6,\n  6.0,\n]", 2, "dice[2]"), ('dice = ["cueb", 6]', 0, "dice[1]"),
        ('dice = [6, "6"]', 0, "dice[2]"), ("dice = [6, true]", 0, "dice[2]"), ("dice = [6, {}]", 0, "dice[2]"),
        ("dice = [6,\n  { fases = 6 }]", 1, "dice[2].fases"), ('dice = [{ faces = "6" }, 6]', 0, "dice[1].faces"),
        ('dice = [6, { faces = 4, solid = "cube" }]', 0, "dice[2].faces"),
        ("dice = [6, { faces = 3, exactly = [1, 2] }]", 0, "dice[2].exactly"),
        ("dice = [6,\n { faces = 2, exactly = [1,\n 2.5] }]", 2, "dice[2].exactly[2]"),
        ("dice = [{ exactly = [1, 1], labels = { repeats = 1 } }]", 0, "dice[1].exactly"),
        ("dice = [6, { faces = 6, labels = { lowest = 5, highest = 2 } }]", 0, "dice[2].labels.lowest"),
        ("dice = [6, { faces = 6, labels = { lowst = 5 } }]", 0, "dice[2].labels.lowst"),
        ("dice = [6, { faces = 6, labels = { repeats = 2, only = [1, 2] } }]", 0, "dice[2].labels.repeats"),
        ("dice = [{ faces = 6, name = 7 }]", 0, "dice[1].name"), ('dice = "two of 4 6"', 0, "dice"),
        ('dice = "2 of 4 1"', 0, "dice"), ('dice = "40 of 4 6 8 10 12 20"', 0, "dice"),
        ('dice = [6, { solid = "cube", shape = 2 }]', 0, "dice[2].shape"), ("dice = [6, 16", 0, "dice"),
        ("dice = [6 16]", 0, "dice"),
    ],
    "labels": [
        ('labels = { lowest = "0" }', 0, "labels.lowest"), ("labels.highest = 2.0", 0, "labels.highest"),
        ("labels = { lowest = 0, lowst = 1 }", 0, "labels.lowst"), ("labels = 3", 0, "labels"),
        ("labels.repeats = 0", 0, "labels.repeats"), ("labels = { only = [] }", 0, "labels.only"),
        ("labels = { only = [\n 1,\n false ] }", 2, "labels.only[2]"),
        ('labels.avoid = [1, "2"]', 0, "labels.avoid[2]"),
        ("labels = { highest = 1000001 }", 0, "labels.highest"), ("labels = { lowest = 1", 0, "labels"),
        ("labels = { lowest = 1, lowest = 2 }", 0, "labels"),
    ],
    "stop": [
        ("stop = 600", 0, "stop"), ("stop = { seconds = -1 }", 0, "stop.seconds"),
        ("stop.designs = 0", 0, "stop.designs"),
        ('stop = { seconds = "600" }', 0, "stop.seconds"), ("stop = { second = 600 }", 0, "stop.second"),
        ("stop = { seconds = nan }", 0, "stop.seconds"), ("stop { seconds = 1 }", 0, "stop"),
    ],
    "rank": [
        ("rank = { cost = -1 }", 0, "rank.cost"), ("rank = { costs = 1 }", 0, "rank.costs"),
        ("rank.readability = 1.5", 0, "rank.readability"), ("rank = { readability = 0 }", 0, "rank"),
        ("rank = []", 0, "rank"),
    ],
    "accept": [
        ('accept = "best"', 0, "accept"), ('accept = "exactly"', 0, "accept"), ("accept = true", 0, "accept"),
    ],
    "layout": [
        ('layout = ["apert"]', 0, "layout[1]"), ('layout = ["apart",\n "off-centre",\n "apart"]', 2, "layout[3]"),
        ("layout = 3", 0, "layout"), ('layout = "apart"', 0, "layout"), ("layout = [1]", 0, "layout[1]"),
        ('layout = ["long-along-draw"]', 0, "layout[1]"),
    ],
    "further": [
        ("labelz = 3", 0, "labelz"), ("Title2 = 1", 0, "Title2"),
        ('"a b" = 1', 0, '"a b"'), ("colour = 1", 0, "colour"),
        ("readouts = { a = 2 }", 0, "readouts"),
        ('independent = "best"', 0, "independent"), ("modulo = 4", 0, "modulo"),
        ('also = [{ rule = "symetric" }]', 0, "also[1].rule"), ("also = 3", 0, "also"),
        ('also = [{ rule = "distinct" }]', 0, "also[1].at_most"), ('reroll = ["1"]', 0, "reroll[1]"),
        ('nearest = "larg"', 0, "nearest"), ("x.y.z = 1", 0, "x"),
        ("= 3", 0, "the brief"), ("size_mm = 20", 0, "size_mm"),
    ],
}  # fmt: skip
"""Bad statements by the key that they set; `further` ones set none that a sound brief has."""

BESIDE = ("modulo", "readouts")
"""Plants that are at fault only beside a sound `read`."""

TOKENS = [
    *"[]{}\"=,.#\n'\\- +_ed0159", '"""', "'''", "\r\n", "\x00", "\x1b", "é", "\u2028", "0x", "1e999", "nan", "true",
    "2024-01-01", "9" * 30, "[[", "]]", "\\u00", "dice", "labels", "read = ", "[[dice]]", "\ud800",
]  # fmt: skip
"""What noise puts in."""


def bad_brief(rng: random.Random) -> tuple[str, set[tuple[int, str]]]:
    """A brief with one to six planted faults, its lines in any order; the faults as (line, key)."""
    keys = [key for key in SOUND if key in NEEDED or rng.random() < 0.6]
    spoilt = set(rng.sample([*keys, "further"], rng.randint(1, min(6, len(keys)))))
    missing = {key for key in keys if key in spoilt & NEEDED and rng.random() < 0.15}
    plants = {key: rng.choice(PLANTS[key]) for key in sorted(spoilt - missing)}
    if "further" in plants and plants["further"][2] in BESIDE and "read" in spoilt:
        plants["further"] = ("colour = 1", 0, "colour")
    present = [key for key in keys if key not in missing]
    rng.shuffle(present)
    lines: list[str] = []
    planted = {(0, key) for key in missing}
    for key in [*present, *(["further"] if "further" in plants else [])]:
        lines += rng.choice([[], [], [""], ["# a comment = 1"]])
        text, offset, at_fault = plants.get(key) or (rng.choice(SOUND[key]), 0, "")
        if at_fault:
            planted.add((len(lines) + 1 + offset, at_fault))
        lines += text.split("\n")
    return rng.choice(["\n", "\n", "\r\n"]).join(lines), planted


def noisy_brief(rng: random.Random) -> str:
    """A brief, sound or bad, after some blind edits."""
    text = bad_brief(rng)[0] if rng.random() < 0.5 else "\n".join(rng.choice(SOUND[key]) for key in SOUND)
    for _ in range(rng.randint(1, 8)):
        at = rng.randrange(len(text) + 1)
        match rng.randrange(5):
            case 0:
                text = text[:at] + text[at + rng.randint(1, 12) :]
            case 1:
                text = text[:at] + rng.choice(TOKENS) + text[at:]
            case 2:
                text = text[:at] + text[rng.randrange(len(text) + 1) :][:20] + text[at:]
            case 3:
                lines = text.split("\n")
                rng.shuffle(lines)
                text = "\n".join(lines)
            case 4 if rng.random() < 0.2:
                text = text[:at]
    return text


def refused(text: str) -> BriefRefused | None:
    """The refusal of a brief; None where it is accepted. Anything else fails the test."""
    try:
        parse(text, "brief.toml")
    except BriefRefused as error:
        return error
    return None


def check_words(error: BriefRefused, text: str) -> None:
    """Every fault has a place in the file, and words that a terminal can show."""
    assert error.faults
    assert list(error.faults) == sorted(set(error.faults))
    for fault in error.faults:
        assert 0 <= fault.line <= text.count("\n") + 1
        words = (fault.key, fault.found, fault.accepted)
        assert all(word and word.isprintable() and len(word) < 500 for word in words)
        whole = fault.key == "the brief" or fault.found == "nothing: the key is missing"
        assert fault.line > 0 or whole, "a fault of something in the file has its line"


@pytest.mark.parametrize("batch", range(BATCHES))
def test_all_planted_faults_are_found_where_they_stand_and_no_others(batch: int) -> None:
    rng = random.Random(f"planted {batch}")
    several = 0
    for _ in range(PLANTED // BATCHES):
        text, planted = bad_brief(rng)
        error = refused(text)
        assert error is not None, text
        check_words(error, text)
        assert {(fault.line, fault.key) for fault in error.faults} == planted, text
        several += len(planted) > 2
    assert several > PLANTED // BATCHES // 3


@pytest.mark.parametrize("batch", range(BATCHES))
def test_noise_is_refused_in_words_or_accepted(batch: int) -> None:
    rng = random.Random(f"noise {batch}")
    bad = 0
    for _ in range(NOISY // BATCHES):
        text = noisy_brief(rng)
        if (error := refused(text)) is not None:
            check_words(error, text)
            bad += 1
    assert bad > NOISY // BATCHES // 2


@pytest.mark.parametrize("key", PLANTS)
def test_each_plant_alone_is_one_fault(key: str) -> None:
    for text, offset, at_fault in PLANTS[key]:
        others = [SOUND[other][0] for other in SOUND if other != key]
        brief = "\n".join([*others, text])
        error = refused(brief)
        assert error is not None, brief
        assert [(fault.line, fault.key) for fault in error.faults] == [
            (len(others) + 1 + offset, at_fault)
        ], brief


def test_every_sound_statement_is_accepted() -> None:
    for key, statements in SOUND.items():
        for text in statements:
            assert refused("\n".join([text, *(SOUND[other][0] for other in SOUND if other != key)])) is None
