"""The page of a batch in a real browser: what cells say, sorting, opening, other axes; wide, narrow and dark."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from itertools import combinations_with_replacement
from pathlib import Path
from typing import Any

import pytest
from facewright.search.batch.performing import perform_batch
from facewright.search.batch.plan import parse_plan
from facewright.search.batch.store import BatchStore
from facewright.search.batch.tasks import answer_one
from facewright.search.folders import BATCH
from facewright.search.report.batch_page import batch_page
from facewright.search.stop import never

pytestmark = pytest.mark.browser

Show = Callable[..., Any]

PLAN = """
title = "Quays <of> Saltmere"
note = "Invented."
[brief]
read = "total"
[lists]
like = ["2d6", "2d4"]
dice = [[4, 9], [6, 6], [2, 8]]
"labels.highest" = [6, 9]
"""


class Here:
    """Answers in this process; the last question is said to have failed."""

    def run(self, jobs: Any, _stop: Any, keep: Any) -> None:
        """Answers all jobs."""
        results = [answer_one(key, brief, 5, 3) for key, brief in jobs]
        failed = {"status": "failed", "reason": "its process was lost", "seconds": 1.0}
        keep([*results[:-1], {"key": results[-1]["key"], **failed}])


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The page of a small batch."""
    folder: Path = tmp_path_factory.mktemp("batch") / "quays"
    perform_batch(
        parse_plan(PLAN), PLAN, "plan", folder, workers=1, stop=never, watch=lambda *_: None, runner=Here()
    )
    with BatchStore.open(folder / BATCH) as store:
        return batch_page(store, "quays")


def cells(tab: Any) -> dict[str, list[str]]:
    """The matrix, by row."""
    rows = tab.evaluate(
        "[...document.querySelectorAll('table.matrix tbody tr')]"
        ".map(row => [...row.cells].map(cell => cell.innerText.trim()))"
    )
    return {row[0]: row[1:] for row in rows}


def brute(*faces: int) -> str:
    """How many pairs of dice with labels from 1 to 9 have the totals of 2d6, every pair tried."""
    wanted = Counter(a + b for a in range(1, 7) for b in range(1, 7))
    found = 0
    many = [list(combinations_with_replacement(range(1, 10), n)) for n in faces]
    # the least labels are 1 and 1, and only one outcome has the total 2
    first, second = ([one for one in each if one[0] == 1 < one[1]] for each in many)
    by_sum: dict[int, list[tuple[int, ...]]] = {}
    for one in second:
        by_sum.setdefault(one[-1], []).append(one)
    for one in first:
        for other in by_sum.get(12 - one[-1], ()):
            if Counter(a + b for a in one for b in other) == wanted and (
                faces[0] != faces[1] or one <= other
            ):
                found += 1
    return str(found)


def test_the_matrix_says_what_was_found(show: Show, page: str) -> None:
    tab = show(page)
    assert tab.locator("h1").inner_text() == "Quays <of> Saltmere"
    tab.locator("#axes select").last.select_option("9")
    # what 36 or 16 outcomes cannot share is none by a division; the last question was said to have failed
    assert cells(tab) == {"4 + 9": [brute(4, 9), "–"], "6 + 6": [brute(6, 6), "–"], "2 + 8": ["–", "×"]}
    tab.locator("#axes select").last.select_option("6")
    assert cells(tab)["6 + 6"] == ["1", "–"]


def test_cells_open_and_columns_sort(show: Show, page: str) -> None:
    tab = show(page)
    tab.locator("#axes select").last.select_option("9")
    tab.locator("table.matrix td.complete button").first.click()
    chosen = tab.locator("#chosen")
    assert "numberings do it" in chosen.inner_text()
    assert chosen.locator("tbody tr").count() == 3
    chosen.locator("summary").click()
    assert 'like = "2d6"' in chosen.locator("pre").inner_text()
    before = list(cells(tab))
    tab.locator("table.matrix thead button").first.click()
    assert list(cells(tab)).index("2 + 8") == 2
    tab.locator("table.matrix thead button").first.click()
    assert next(iter(cells(tab))) == "2 + 8"
    assert sorted(before) == sorted(cells(tab))


def test_rows_and_columns_change_places(show: Show, page: str) -> None:
    tab = show(page)
    tab.locator("#axes select").first.select_option("0")
    assert list(cells(tab)) == ["2d6", "2d4"]


def test_failures_are_listed_not_hidden(show: Show, page: str) -> None:
    tab = show(page)
    assert "1 failed" in tab.locator(".sentence").inner_text()
    assert "its process was lost" in tab.locator(".failures").inner_text()


@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (360, "dark")])
def test_the_page_fits_any_screen(show: Show, page: str, width: int, scheme: str) -> None:
    tab = show(page, viewport={"width": width, "height": 900}, color_scheme=scheme)
    assert tab.evaluate("document.documentElement.scrollWidth") <= width
    assert tab.locator("footer li").count() == 2
