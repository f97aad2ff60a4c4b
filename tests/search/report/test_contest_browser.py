"""Contests on the page: the drawing and the tables say what the exact counts say."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import product
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.duels import chance, doubled_chance
from facewright.constraints.orders import order_ways, place_ways, subsets, word
from facewright.search import find
from facewright.search.report.contents import entries, ranked_designs, summary
from facewright.search.report.scores import load_scores

pytestmark = pytest.mark.browser

Show = Callable[..., Any]


def contest(
    brief: str, run: str
) -> tuple[tuple[dict[str, Any], list[dict[str, Any]]], list[tuple[int, ...]]]:
    """What the page needs of an answer, and the dice of its best design."""
    answer = find(parse(brief))
    ranked = ranked_designs(answer, load_scores(None))
    return (summary(answer, run=run), entries(answer, ranked)), [
        die.labels for die in ranked[0].scores.design.dice
    ]


def cells(tab: Any, at: int) -> list[list[str]]:
    """The rows of a table of a contest, the heads of rows left out, notes in small print left out."""
    return list(
        tab.evaluate(
            "at => [...document.querySelectorAll('#card table.contest')[at].tBodies[0].rows].map(row => "
            "[...row.cells].slice(1).map(cell => cell.firstChild.textContent))",
            at,
        )
    )


@pytest.mark.parametrize(
    "brief",
    [
        'title = "Round"\nread = "each-beats-next"\ndice = [6, 6, 6]\n',
        'title = "Ties"\nread = "each-beats-next"\ndice = [6, 6, 6, 6]\nlabels = { lowest = 0, highest = 6 }\n',
    ],
)
def test_duels_are_drawn_with_their_chances(show: Show, brief: str) -> None:
    run, dice = contest(brief, "duels")
    tab = show(run)
    shown = cells(tab, 0)
    for a, b in product(range(len(dice)), repeat=2):
        assert shown[a][b] == ("–" if a == b else str(chance(dice[a], dice[b])))
    ring = [str(chance(die, dice[(at + 1) % len(dice)])) for at, die in enumerate(dice)]
    odds = tab.locator("svg.duels .odds:not(.idle) text").all_text_contents()
    assert sorted(odds) == sorted(ring)
    assert tab.locator("svg.duels .arc:not(.idle)").count() == len(dice)
    assert f"die 1 beats die 2: {ring[0]}" in tab.locator("svg.duels").get_attribute("aria-label")
    tab.locator("#card details.twice summary").click()
    tab.locator("#card details.twice table").wait_for()
    shown = cells(tab, 1)
    for a, b in product(range(len(dice)), repeat=2):
        assert shown[a][b] == ("–" if a == b else str(doubled_chance(dice[a], dice[b])))
    narrow = show(run, viewport={"width": 360, "height": 800}, color_scheme="dark")
    assert narrow.evaluate("document.documentElement.scrollWidth") <= 360


def test_orders_and_subsets_are_counted(show: Show) -> None:
    run, dice = contest('title = "Orders"\nread = "every-order"\ndice = [2, 4, 6]\n', "orders")
    tab = show(run)
    ways = order_ways(word(dice), 3)
    heads = tab.locator("#card table.contest").first.locator("tbody th").all_inner_texts()
    found = dict(zip(heads, cells(tab, 0), strict=True))
    assert found == {
        " › ".join(str(die + 1) for die in order): [f"{count:,}", str(Fraction(count, 48))]
        for order, count in ways.items()
    }
    assert cells(tab, 1) == [[f"{count:,}" for count in row] for row in place_ways(ways, 3)]
    tab.locator("#card details.some summary").click()
    tab.locator("#card details.some table").wait_for()
    words = {"every-order": "alike in every order", "places": "alike at every place", "first": "alike first"}
    assert cells(tab, 2) == [
        [words.get(str(fair), "not alike")] for some, fair in subsets(ways, 3) if len(some) < 3
    ]


def test_a_contest_that_shares_first_places_alone(show: Show) -> None:
    run, dice = contest('title = "F"\nread = "every-order"\nfair = "first"\ndice = [3, 4, 4]\n', "first")
    tab = show(run)
    table = place_ways(order_ways(word(dice), 3), 3)
    assert cells(tab, 1) == [[str(count) for count in row] for row in table]
    assert len({row[0] for row in table}) == 1
