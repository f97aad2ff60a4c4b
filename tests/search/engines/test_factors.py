"""The engine `factors`: counting without listing, limits, stops, shifts, and its reasons."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import count

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.grammar import number
from facewright.constraints.question import Numbering
from facewright.search.answer import Closing
from facewright.search.engines.factors import Factors
from facewright.search.engines.solver import Solver
from facewright.search.progress import silent
from facewright.search.stop import never


def question(like: str, dice: str, more: str = "") -> Numbering:
    return parse(f'title = "t"\nlike = "{like}"\nread = "total"\ndice = {dice}\n{more}', "test")


def closed(asked: Numbering, limit: int = 10_000) -> tuple[int, Closing]:
    answering = Factors().answer(asked, limit, never, 0, silent)
    return len(list(answering)), answering.closing


COUNTED = [
    ("3d12", "[12, 12, 12]", ""),
    ("4d6", "[6, 6, 6, 6]", "labels = { lowest = -1 }"),
    ("2d12", "[8, 18]", "labels = { lowest = -2, highest = 20, avoid = [3] }"),
    ("2d12", "[12, 12]", "labels = { lowest = 0, only = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 15] }"),
    ("d6 + d10 + d12", "[6, 10, 12]", "labels = { lowest = 0, repeats = 2 }"),
    ("4d6", "[6, 6, 4, 9]", "labels = { lowest = 0 }"),
]


@pytest.mark.parametrize(("like", "dice", "more"), COUNTED)
def test_counts_without_listing_equal_the_list(like: str, dice: str, more: str) -> None:
    asked = question(like, dice, more)
    listed, whole = closed(asked)
    assert listed == whole.count > 2
    for limit in (0, 1, whole.count - 1):
        some, cut = closed(asked, limit)
        assert some == limit
        assert (cut.verdict, cut.count, cut.count_is) == ("complete", whole.count, "all")
        assert cut.count_up_to_shift == whole.count_up_to_shift


def test_designs_come_once_and_in_canonical_form() -> None:
    asked = question("4d6", "[6, 6, 6, 6]", "labels = { lowest = -1 }")
    designs = list(Factors().answer(asked, 10_000, never, 0, silent))
    assert len({design.id for design in designs}) == len(designs)
    for design in designs:
        assert [die.labels for die in design.dice] == sorted(die.labels for die in design.dice)


@pytest.mark.parametrize("calls", [1, 2, 3, 5, 8])
def test_a_stop_keeps_what_was_found(calls: int, monkeypatch: pytest.MonkeyPatch) -> None:
    from facewright.search.engines.splitting import listing

    monkeypatch.setattr(listing, "ASK_EVERY", 10)
    asked = question("4d12", "[12, 12, 12, 12]")
    seen = count()
    answering = Factors().answer(asked, 10_000, lambda: "enough" if next(seen) >= calls else None, 0, silent)
    found = list(answering)
    closing = answering.closing
    assert (closing.verdict, closing.count, closing.count_is) == ("partial", len(found), "at least")
    assert "enough" in closing.reason


def test_the_closing_is_there_only_at_the_end() -> None:
    answering = Factors().answer(question("2d6", "[6, 6]"), 10, never, 0, silent)
    with pytest.raises(RuntimeError, match="must end first"):
        _ = answering.closing


REASONS = [
    ("2d6", "[4, 10]", "", "the result 2 would need 40 × 1/36 = 10/9 of them, no whole number"),
    ("highest of 2d6", "[6, 6]", "", "only a die with 36 faces"),
    ("2d6", "[6, { exactly = [1, 1, 1, 1, 1, 2] }]", "", "No labels on the other dice can do it"),
    ("d12", "[3, 4]", "", "With lowest = 0"),
    (
        "2d12",
        "[6, 24]",
        "labels = { highest = 12, repeats = 2 }",
        "your limit of two equal labels rules out the last",
    ),
    ("2d6", "[4, 9]", "labels = { repeats = 1 }", "no label stands twice on a die rules out all three"),
    ("2d6", "[6, 6]", "labels = { avoid = [3] }", "your bar on 3 rules out both"),
    ("2d6", "[6, 6]", "labels = { only = [1, 2, 3, 4, 5, 7] }", "only the labels 1, 2, 3, 4, 5 or 7"),
    ("2d6", "[6, 6]", "labels = { highest = 5 }", "your highest label of 5 rules out both"),
]


@pytest.mark.parametrize(("like", "dice", "more", "words"), REASONS)
def test_reasons(like: str, dice: str, more: str, words: str) -> None:
    listed, closing = closed(question(like, dice, more))
    assert (listed, closing.verdict, closing.count) == (0, "none", 0)
    assert words in closing.reason
    assert closing.proof


@pytest.mark.parametrize(
    ("ways", "dice", "words"),
    [
        # 2x³ + x² + 1 = (x + 1)(2x² − x + 1), both 2 at 1: either coin would get a factor with a negative coefficient
        ("0 = 1, 2 = 1, 3 = 2", [2, 2], "fewer than no faces"),
        # (3x + 1)(x + 3), both 4 at 1: one of them would have to go to the coin
        ("0 = 3, 1 = 10, 2 = 3", [2, 8], "cannot be dealt out"),
    ],
)
def test_factors_that_cannot_be_dealt(ways: str, dice: list[int], words: str) -> None:
    text = f'title = "t"\nread = "total"\ndice = {dice}\nlabels = {{ lowest = 0 }}\nways = {{ {ways} }}\n'
    listed, closing = closed(parse(text, "test"))
    assert (listed, closing.verdict) == (0, "none")
    assert words in closing.reason


LOWER = [
    # like, dice, label rules; what the reason names is looked for again by the other engine
    ("d12", "[3, 4]", ""),
    ("2d6", "[6, 6]", "labels = { lowest = 4 }"),
    ("2d6", "[{ faces = 6, labels = { lowest = -2 } }, { faces = 6, labels = { lowest = 6 } }]", ""),
    ("2d6", "[{ faces = 6, labels = { lowest = 0 } }, { faces = 6, labels = { lowest = 3 } }]", ""),
    ("2d4", "[2, 2, 2, { faces = 2, labels = { lowest = 0 } }]", "labels = { avoid = [2] }"),
    ("2d4", "[4, 4]", "labels = { lowest = 3, highest = 6 }"),
    ("d6 + 4", "[2, { faces = 3, labels = { only = [4, 5, 6] } }]", "labels = { lowest = 3 }"),
]


@pytest.mark.parametrize(("like", "dice", "more"), LOWER)
def test_the_lowest_that_the_reason_names_is_the_highest_that_works(like: str, dice: str, more: str) -> None:
    asked = question(like, dice, more)
    listed, closing = closed(asked)
    named = re.search(r"With lowest = (-?\d+), (\w+) exist", closing.reason)
    assert (listed, closing.verdict) == (0, "none")
    assert named is not None
    works = int(named[1])
    assert not shapes(lowered_by_hand(asked, works + 1))
    some = len(shapes(lowered_by_hand(asked, works)))
    assert some
    assert named[2] == ("one" if some == 1 else number(some))


def lowered_by_hand(asked: Numbering, lowest: int) -> Numbering:
    """The question with every lowest label at most `lowest`, defaults of highest labels far out of the way."""
    dice = []
    for place, die in enumerate(asked.dice):
        rules = die.rules
        if rules.only is None:
            highest = rules.highest if "highest" in rules.given else 14
            rules = replace(rules, lowest=min(rules.lowest, lowest), highest=highest)
        first = asked.dice.index(die)
        dice.append(replace(die, rules=rules, name=str(min(first, place))))
    return asked.alone(tuple(dice))


def shapes(asked: Numbering) -> set[tuple[tuple[int, ...], ...]]:
    """Up to shift, all designs, found by the other engine."""
    answering = Solver().answer(asked, 10_000, never, 0, silent)
    found = {tuple(die.labels for die in design.up_to_shift(asked.dice).dice) for design in answering}
    assert answering.closing.count_is == "all"
    return found


DIFFERENT_RULES = (
    "[{ faces = 6, labels = { repeats = 1, avoid = [3] } }, { faces = 6, labels = { lowest = 4 } }]"
)


def test_a_reason_counts_alike_from_its_first_number_to_its_last() -> None:
    _, closing = closed(question("2d6", DIFFERENT_RULES))
    exist, bites = closing.reason.split(" exist for ")
    assert exist.endswith("Three numberings")
    assert "the last" in bites or "all three" in bites
