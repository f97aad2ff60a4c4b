"""Hard questions with known answers, each within a stated time on a quiet machine with two cores."""

from __future__ import annotations

import time

import pytest

from tests.reference.test_contests_published import least_spread
from tests.reference.test_published import answered, question, rows

BUDGETS = {
    ("2d192", "192 192"): 10,
    ("6d12", "12 12 12 12 12 12"): 10,
    ("uniform 1296", "6 6 6 6"): 20,
    ("uniform 2744", "14 14 14"): 20,
}
"""(target, dice) → seconds: about ten times what was measured, so that only another order of growth breaks it."""

HARD = [row for row in rows() if (row["like"], row["dice"]) in BUDGETS]


@pytest.mark.quality
@pytest.mark.parametrize("row", HARD, ids=lambda row: f"{row['like']} by {row['dice']}")
def test_hard_question(row: dict[str, str]) -> None:
    started = time.monotonic()
    answer = answered(question(row))
    assert sum(1 for _ in answer) == answer.closing.count == int(row["count"])
    assert time.monotonic() - started < BUDGETS[row["like"], row["dice"]]


def test_each_budget_has_its_question() -> None:
    assert {(row["like"], row["dice"]) for row in HARD} == set(BUDGETS)


@pytest.mark.quality
@pytest.mark.parametrize(("faces", "value"), [((4,) * 4, 8), ((3,) * 5, 6)])
def test_the_least_spread_of_orders_over_a_million_words(faces: tuple[int, ...], value: int) -> None:
    # OEIS A362633 (seen), T(4,4) and T(5,3); some 13 s each
    assert least_spread(list(faces)) == value
