"""The page of a batch in a real browser: what cells say, sorting, opening, other axes; wide, narrow and dark."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator
from itertools import combinations_with_replacement
from pathlib import Path
from typing import Any

import pytest
from facewright.search.batch.performing import perform_batch
from facewright.search.batch.plan import Asked, parse_plan
from facewright.search.batch.store import BatchStore
from facewright.search.batch.tasks import answer_one
from facewright.search.folders import BATCH
from facewright.search.report import batch_data
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


def test_what_is_nearest_says_how_far_off_it_is(tmp_path: Path, show: Show) -> None:
    plan = (
        'title = "Nearest"\n[brief]\nread = "total"\naccept = "nearest"\n[lists]\nlike = ["2d4", "2d6"]\n'
        "dice = [[4, 4], [5, 5], [4, 5]]\n"
    )
    folder = tmp_path / "nearest"

    class All:
        def run(self, jobs: Any, _stop: Any, keep: Any) -> None:
            keep([answer_one(key, brief, 20, 3) for key, brief in jobs])

    perform_batch(
        parse_plan(plan), plan, "plan", folder, workers=1, stop=never, watch=lambda *_: None, runner=All()
    )
    with BatchStore.open(folder / BATCH) as store:
        tab = show(batch_page(store, "nearest"))
        told = dict(store.rows("SELECT number, bound FROM questions JOIN answers USING (key)"))
    assert "6 of 6 questions have a best that is proved." in tab.locator(".sentence").inner_text()
    # the questions run through the dice of the first target, then of the second
    expected = {
        f"{dice}": [("exact" if told[at] == "0" else told[at]) for at in (place, place + 3)]
        for place, dice in enumerate(("4 + 4", "5 + 5", "4 + 5"), 1)
    }
    assert cells(tab) == expected
    assert "exact" in expected["4 + 4"] and len({one for row in expected.values() for one in row}) > 3


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


TARGETS, SETS, EACH = 300, 40, 9
"""A large batch: so many targets, sets of dice, and designs of each question."""


def made_up(lot: random.Random, target: int, place: int) -> dict[str, Any]:
    """A design that nobody found, with scores by lot; those of the first target are the worst of all."""
    labels = [sorted(lot.randint(1, 12) for _ in range(faces)) for faces in (4, 6)]
    scores = {name: lot.randint(20, 90) for name in ("legible", "familiar", "readability")}
    return {
        "id": f"{lot.getrandbits(64):016x}",
        "distance": "0" if place > 1 else "1/36",
        "ordinary": False,
        "scores": {
            **scores,
            "cost": lot.randint(100, 600) / 100,
            "overall": 10 - place if target == 0 else lot.randint(11, 95),
        },
        "form": {
            "dice": [
                {"solid": solid, "labels": one}
                for solid, one in zip(("tetrahedron", "cube"), labels, strict=True)
            ]
        },
    }


def question(target: int, dice: int) -> tuple[Asked, str, str]:
    """A question, its fingerprint and its key."""
    chosen = (("like", f"2d6 + {target}"), ("dice", [4, dice]))
    return Asked(chosen, f'title = "Tides"\nlike = "2d6 + {target}"\n'), "f", f"{target:04}{dice:04}"


@pytest.fixture(scope="module")
def large(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, list[Any]]:
    """The page of a batch with more designs than it holds, and all of them, the best first."""
    path = tmp_path_factory.mktemp("large") / BATCH
    places = [(target, dice) for target in range(TARGETS) for dice in range(SETS)]
    all_of_them, lot = [], random.Random(1)

    def results() -> Iterator[dict[str, Any]]:
        for target, dice in places:
            designs = [made_up(lot, target, place) for place in range(1, EACH + 1)]
            designs.sort(key=lambda one: -one["scores"]["overall"])
            all_of_them.extend((one, target, dice) for one in designs)
            answer = {"status": "answered", "verdict": "complete", "count": str(EACH), "count_is": "all"}
            reason = f"{EACH} numberings do it."
            yield {
                "key": question(target, dice)[2],
                **answer,
                "reason": reason,
                "seconds": 0.1,
                "designs": designs,
            }

    with BatchStore.create(path) as store:
        store.note("title", "Tides")
        store.note("varies", ["like", "dice"])
        store.ask(question(*place) for place in places)
        store.keep(list(results()))
        page = batch_page(store, "tides")
    all_of_them.sort(
        key=lambda row: (-row[0]["scores"]["overall"], row[0]["scores"]["cost"], row[0]["id"], row[1])
    )
    return page, all_of_them


def rows_of(tab: Any, table: str) -> list[list[str]]:
    """The texts of a table's rows."""
    rows = tab.evaluate(
        "(table) => [...document.querySelectorAll(`${table} tbody tr`)]"
        ".map(row => [...row.cells].map(cell => cell.innerText.trim()))",
        table,
    )
    return list(rows)


def test_a_page_of_a_hundred_thousand_designs(show: Show, large: tuple[str, list[Any]]) -> None:
    page, designs = large
    assert len(designs) > batch_data.DESIGNS == 100_000
    assert len(page) < 20e6
    tab = show(page)
    best = tab.locator("#best")
    assert f"the best 100,000 of {len(designs):,} designs" in best.inner_text()
    assert "facewright show tides --csv" in best.inner_text()
    listed = rows_of(tab, "#designs")
    assert [row[1] for row in listed] == [one["id"][:8] for one, *_ in designs[: len(listed)]]
    assert listed[0][0] == f"2d6 + {designs[0][1]}, 4 + {designs[0][2]}"
    # only what is seen stands in the page, whatever it holds
    assert tab.evaluate("document.querySelectorAll('*').length") < 8_000
    best.get_by_role("button", name="cost", exact=True).click()
    held = [one["scores"]["cost"] for one, *_ in designs[: batch_data.DESIGNS]]
    costs = [float(row[-1]) for row in rows_of(tab, "#designs")]
    assert costs == sorted(held)[: len(costs)]
    best.get_by_role("button", name="designs after").click()
    assert "51 to 100 of 100,000 designs" in best.inner_text()


def test_a_long_list_is_narrowed(show: Show, large: tuple[str, list[Any]]) -> None:
    page, designs = large
    tab = show(page)
    best = tab.locator("#best")
    best.get_by_label("only with").fill("2d6 + 29, 4 + 7")
    best.get_by_label("legible at least").fill("60")
    best.get_by_label("exact only").check()
    wanted = [
        one["id"][:8]
        for one, target, dice in designs[: batch_data.DESIGNS]
        if "2d6 + 29" in f"2d6 + {target}"
        and f"4 + {dice}".startswith("4 + 7")
        and one["distance"] == "0"
        and one["scores"]["legible"] >= 60
    ]
    assert len(wanted) > 20
    best.get_by_text(f"of {len(wanted)} designs").wait_for()
    assert [row[1] for row in rows_of(tab, "#designs")] == wanted[:50]
    best.get_by_label("only with").fill("nothing like that")
    best.get_by_text("No design is like that.").wait_for()


def test_a_large_matrix_is_walked_through(show: Show, large: tuple[str, list[Any]]) -> None:
    from playwright.sync_api import expect

    page, designs = large
    tab = show(page)
    pagers = tab.locator("#pagers")
    assert "1 to 100 of 300 rows" in pagers.inner_text()
    assert "1 to 24 of 40 columns" in pagers.inner_text()
    pagers.get_by_role("button", name="columns after").click()
    assert len(rows_of(tab, "table.matrix")[0]) == 1 + SETS - 24
    tab.get_by_label("only like with").fill("+ 29")
    expect(tab.locator("table.matrix tbody tr")).to_have_count(11)
    # a question with none among the best still shows its first designs
    tab.get_by_label("only like with").fill("2d6 + 0")
    expect(tab.locator("table.matrix tbody tr")).to_have_count(1)
    tab.locator("table.matrix tbody button").first.click()
    worst = [one["id"][:8] for one, target, dice in designs if (target, dice) == (0, 0)]
    assert [row[0] for row in rows_of(tab, "#chosen")] == worst[: batch_data.A_QUESTION]
