"""The engines for single readings: limits, stops, counts against the solver, reasons where there is none."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import islice

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.question import Numbering, StopRule
from facewright.constraints.readings import reading_of
from facewright.search.engines.base import Engine
from facewright.search.engines.exact.classes import Classes
from facewright.search.engines.exact.mirrored import Mirrored
from facewright.search.engines.exact.products import Products
from facewright.search.engines.exact.ranks import Ranks
from facewright.search.engines.exact.side_by_side import SideBySide
from facewright.search.engines.solver import Solver
from facewright.search.progress import silent
from facewright.search.recount import recount
from facewright.search.stop import never

NO_LIMIT = 1_000_000


def asked(lines: str) -> Numbering:
    """The question of a brief, without its title."""
    question = parse(f'title = "t"\n{lines}\n', "test")
    assert isinstance(question, Numbering)
    return question


def products(faces: int, dice: int = 2) -> str:
    """The target of ordinary dice multiplied."""
    ways = reading_of("product").distribution([range(1, faces + 1)] * dice).ways
    return f"ways = {{ {', '.join(f'{r} = {w}' for r, w in ways.items())} }}"


CASES: dict[str, tuple[Engine, str]] = {
    "middle of three": (Ranks(), 'read = "middle"\nlike = "d6"\ndice = [6, 6, 6]\nlabels = { repeats = 3 }'),
    "middle, one fixed": (Ranks(), 'read = "middle"\nlike = "d4"\ndice = [{ exactly = [1, 2, 3, 4] }, 4, 4]'),
    "highest, hidden labels": (
        Ranks(),
        'read = "highest"\nlike = "highest of 2d6"\ndice = [6, 6]\nlabels = { lowest = -4 }',
    ),
    "lowest of three": (
        Ranks(),
        'read = "lowest"\nlike = "lowest of 3d4"\ndice = [4, 4, 4]\nlabels = { highest = 6 }',
    ),
    "highest, level": (
        Ranks(),
        'read = "highest"\nways = { 1 = 1, 2 = 1, 3 = 1, 4 = 1, 5 = 1, 6 = 1 }\ndice = [6, 12]',
    ),
    "signed, anchored": (Mirrored(), 'read = "signed-difference"\nlike = "d8 - d8"\ndice = [8, 8]'),
    "signed, bounded": (
        Mirrored(),
        'read = "signed-difference"\nlike = "d6 + d6"\ndice = [6, 6]\nlabels = { highest = 20, avoid = [7] }',
    ),
    "products of three": (Products(), f'read = "product"\n{products(4, 3)}\ndice = [4, 4, 4]'),
    "products, a choice of sizes": (Products(), f'read = "product"\n{products(6)}\ndice = [4, 9]'),
    "products with zeros": (
        Products(),
        'read = "product"\nways = { 0 = 20, 1 = 4, 2 = 8, 4 = 4 }\ndice = [6, 6]\nlabels = { lowest = 0 }',
    ),
    "side by side": (SideBySide(), 'read = "side-by-side"\nways = { "1 2" = 1, "3 2" = 1 }\ndice = [4, 3]'),
    "remainders": (
        Classes(),
        'read = "total-modulo"\nmodulo = 3\nlike = "d3 - 1"\ndice = [3, 4]\nlabels = { repeats = 2 }',
    ),
    "how many, one fixed": (
        Classes(),
        'read = "how-many"\nat_least = 3\nways = { 0 = 1, 1 = 3, 2 = 3, 3 = 1 }\ndice = [{ exactly = [1, 3] }, 4, 4]\n'
        "labels = { highest = 5 }",
    ),
}


@pytest.mark.parametrize(("engine", "lines"), CASES.values(), ids=CASES)
def test_the_same_designs_as_the_solver(engine: Engine, lines: str) -> None:
    question = asked(lines)
    assert engine.accepts(question)
    answer, other = (one.answer(question, NO_LIMIT, never, 0, silent) for one in (engine, Solver()))
    found, wanted = list(answer), list(other)
    assert set(found) == set(wanted) and len(found) == len(wanted)
    for one in (answer, other):
        assert (one.closing.count, one.closing.count_up_to_shift) == (len(found), len(found))
        assert one.closing.verdict == ("complete" if found else "none")
    assert all(recount(question, design).agrees for design in found)


@pytest.mark.parametrize(("engine", "lines"), CASES.values(), ids=CASES)
def test_a_limit_lists_fewer_and_counts_all(engine: Engine, lines: str) -> None:
    question = asked(lines)
    every = engine.answer(question, NO_LIMIT, never, 0, silent)
    whole = list(every)
    for limit in (0, 1, 3):
        answer = engine.answer(replace(question, stop=StopRule(designs=3)), limit, never, 0, silent)
        some = list(answer)
        assert len(some) == min(limit, len(whole))
        assert answer.closing.count == every.closing.count and answer.closing.verdict == every.closing.verdict
        assert set(some) <= set(whole)


@pytest.mark.parametrize(
    ("engine", "lines"),
    [case for name, case in CASES.items() if name not in ("side by side", "products, a choice of sizes")],
)
def test_a_stop_ends_the_search(engine: Engine, lines: str) -> None:
    answer = engine.answer(asked(lines), NO_LIMIT, lambda: "interrupted", 0, silent)
    found = list(answer)
    closing = answer.closing
    assert (closing.verdict, closing.count_is, closing.count) == ("partial", "at least", len(found))
    assert "interrupted" in closing.reason


def test_designs_without_number_are_counted() -> None:
    """Three ordinary-like dice of which the middle counts: far too many to list."""
    question = asked('read = "middle"\nlike = "d12"\ndice = [12, 12, 12]')
    answer = Ranks().answer(question, 50, never, 0, silent)
    some = list(answer)
    assert len(set(some)) == 50 and all(recount(question, design).agrees for design in some)
    assert answer.closing.count > 100_000
    question = asked('read = "total-modulo"\nmodulo = 2\nlike = "d2 - 1"\ndice = [20, 20]')
    answer = Classes().answer(question, 50, never, 0, silent)
    some = list(answer)
    assert len(set(some)) == 50 and all(recount(question, design).agrees for design in some)
    assert answer.closing.count > 10**9


NONE: dict[str, tuple[Engine, str, str]] = {
    "a division": (Ranks(), 'read = "highest"\nlike = "highest of 2d6"\ndice = [4, 10]', "40 outcomes"),
    # 2 of 16 ways for 1, 7 for at most 2: 7 is a prime above 4
    "no product of counts": (
        Ranks(),
        'read = "highest"\nways = { 1 = 2, 2 = 5, 3 = 9 }\ndice = [4, 4]',
        "A result of at most 2 would need 7 of the 16 ways, which is no product of numbers of faces",
    ),
    "no product of counts above": (
        Ranks(),
        'read = "lowest"\nways = { 3 = 2, 2 = 5, 1 = 9 }\ndice = [4, 4]',
        "A result above 1 would need 7 of the 16 ways, which is no product of numbers of faces",
    ),
    # with a, b, c of the two faces at most 1, the middle is so in 2ab + 2bc + 2ca − 2abc ways: an even number
    "no middle": (
        Ranks(),
        'read = "middle"\nways = { 1 = 1, 2 = 7 }\ndice = [2, 2, 2]',
        "1 of the 8 ways, and no numbers of faces",
    ),
    "counts that cannot rise": (
        Ranks(),
        'read = "highest"\nways = { 1 = 6, 2 = 2, 3 = 8 }\ndice = [4, 4]\nlabels = { repeats = 2 }',
        "cannot rise from value to value",
    ),
    "a part for a larger die": (
        Products(),
        f'read = "product"\n{products(6)}\ndice = [4, 9]',
        "only a die with 6 faces, or a multiple",
    ),
    "parts that cannot be dealt": (
        Products(),
        f'read = "product"\n{products(6)}\ndice = [3, 12]',
        "cannot be dealt out",
    ),
    "side by side, a division": (
        SideBySide(),
        'read = "side-by-side"\nways = { "1 2" = 1, "3 2" = 2 }\ndice = [4, 3]',
        "would need 4/3 of 4 faces",
    ),
    "side by side, dependent": (
        SideBySide(),
        'read = "side-by-side"\nways = { "1 1" = 1, "2 2" = 1 }\ndice = [2, 2]',
        "1 and 1 side by side are wanted in 1 of 2 ways; the dice fall independently, which makes it a chance of 1/4",
    ),
    "side by side, a rule": (
        SideBySide(),
        'read = "side-by-side"\nways = { "1 1" = 1 }\ndice = [2, 2]\nlabels = { repeats = 1 }',
        "die 1 would have to carry 1 1",
    ),
    "signed": (
        Mirrored(),
        'read = "signed-difference"\nways = { "-1" = 1, 0 = 1, 1 = 2 }\ndice = [2, 2]',
        "only a die with 4 faces, or a multiple of it",
    ),
    "remainders": (
        Classes(),
        'read = "total-modulo"\nmodulo = 2\nways = { 0 = 1 }\ndice = [2, 2]\nlabels = { repeats = 1, highest = 2 }',
        "every choice of labels was ruled out",
    ),
}


@pytest.mark.parametrize(("engine", "lines", "words"), NONE.values(), ids=NONE)
def test_why_there_is_none(engine: Engine, lines: str, words: str) -> None:
    question = asked(lines)
    assert engine.accepts(question)
    answer = engine.answer(question, NO_LIMIT, never, 0, silent)
    assert list(answer) == []
    assert answer.closing.verdict == "none"
    assert words in answer.closing.reason
    assert answer.closing.proof
    assert list(Solver().answer(question, NO_LIMIT, never, 0, silent)) == []


@pytest.mark.parametrize(
    ("engine", "lines"),
    [
        (Products(), 'read = "product"\nways = { "-2" = 1, 2 = 1 }\ndice = [2, 2]\nlabels = { lowest = -2 }'),
        (Products(), 'read = "product"\nways = { 0 = 1 }\ndice = [2, 2]\nlabels = { lowest = 0 }'),
        (Ranks(), 'read = "highest"\nlike = "d6"\ndice = [6, 6]\nreroll = [1]'),
        (Ranks(), 'read = "highest"\nlike = "d6"\ndice = [6, 6]\naccept = "nearest"'),
        (Ranks(), 'read = "total"\nlike = "d6"\ndice = [6, 6]'),
        (Classes(), 'read = "how-many"\nat_least = 1\nlike = "d2"\ndice = [6, 6]\nreroll = [1]'),
    ],
)
def test_what_an_engine_leaves_to_others(engine: Engine, lines: str) -> None:
    assert not engine.accepts(asked(lines))


def test_paths_are_told_as_they_are_found() -> None:
    told: list[tuple[str, int]] = []
    report: Callable[..., None] = lambda words, done, _all: told.append((words, done))  # noqa: E731
    question = asked('read = "middle"\nlike = "d6"\ndice = [6, 6, 6]')
    answer = Ranks().answer(question, NO_LIMIT, never, 0, report)
    assert len(list(islice(iter(answer), 5))) == 5
    assert ("designs found", 4) in told
