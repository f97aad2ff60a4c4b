"""The page of readouts in a real browser: pictures, badges, heat maps, narrow and wide, light and dark, on paper."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from facewright.search.readouts_finding import answer_readouts
from facewright.search.report.readouts_page import readouts_page
from facewright.search.stop import never

from tests.contrasts import CONTRASTS
from tests.readouts_asked import asked

pytestmark = pytest.mark.browser

Show = Callable[..., Any]


@pytest.fixture(scope="module")
def one_solid() -> str:
    """Three readouts on twelve rhombs, of which two depend on each other."""
    answer = answer_readouts(
        replace(asked("rhombic dodecahedron", 2, 3, 4), title="Tide <board>"), seed=0, stop=never
    )
    return readouts_page(answer, answer.ranked, run="tide-board", written="2026-01-31")


@pytest.fixture(scope="module")
def several_solids() -> str:
    """A choice of solids, one of which has no marks."""
    question = asked("cube", 2, 3)
    question = replace(question, solids=("cube", "octahedron", "rhombic dodecahedron"), asked="a list")
    answer = answer_readouts(question, seed=0, stop=never)
    return readouts_page(answer, answer.ranked, run="choice")


def test_pictures_show_what_a_roll_reads(show: Show, one_solid: str) -> None:
    tab = show(one_solid)
    figures = tab.locator("section.design .pictures figure")
    assert figures.count() >= 3
    for at in range(figures.count()):
        words = figures.nth(at).locator("figcaption").inner_text()
        assert re.fullmatch(r"Lying on f\d+ it reads: wind \d, rain \d, harvest \d\.", words)
        lit = figures.nth(at).locator("path.mark[paint-order]")
        assert lit.count() >= 3
        assert figures.nth(at).locator("svg").bounding_box()["width"] > 180
    assert tab.locator("h1").inner_text() == "Tide <board>"


def test_marks_are_large_enough_to_read(show: Show, one_solid: str) -> None:
    """A mark that faces the reader is at least nine pixels high; only foreshortened ones are smaller."""
    tab = show(one_solid)
    heights = tab.evaluate(
        "() => [...document.querySelectorAll('section.design .pictures figure')].map((figure) => "
        "Math.max(...[...figure.querySelectorAll('path.mark')].map((mark) => mark.getBoundingClientRect().height)))"
    )
    assert min(heights) > 15


def test_the_smallest_legible_size_is_told(show: Show, one_solid: str) -> None:
    words = show(one_solid).locator("section.design .size").inner_text()
    assert re.match(
        r"At least [\d.]+ mm \([\d.]+ in\) across flats \(rhombic dodecahedron, moulded\): ", words
    )
    assert "minutes of arc" in words


def test_badges_are_drawn_and_named(show: Show, one_solid: str) -> None:
    tab = show(one_solid)
    rows = tab.locator("section.design .readouts tbody tr")
    assert rows.count() == 3
    shapes = [rows.nth(at).locator(".badge span").inner_text() for at in range(3)]
    assert shapes == ["plain characters", "characters in a ring", "a gable above"]
    paths = [rows.nth(at).locator(".badge path").get_attribute("d") for at in range(3)]
    assert len(set(paths)) == 3


def test_a_heat_map_is_darker_where_it_is_likelier(show: Show, one_solid: str) -> None:
    tab = show(one_solid)
    cells = tab.evaluate(
        "() => [...document.querySelectorAll('.heat tbody td')].map((cell) => ["
        "Number(cell.querySelector('small').textContent), getComputedStyle(cell).backgroundColor, cell.className])"
    )
    assert len(cells) == 2 * 3 + 2 * 4 + 3 * 4
    grounds: dict[tuple[int, str], set[str]] = {}
    for count, ground, off in cells:
        grounds.setdefault((count, off), set()).add(ground)
    assert len({ground for found in grounds.values() for ground in found}) > 2
    assert {off for _, _, off in cells} == {"", "more", "less"}


def test_other_solids_are_compared(show: Show, several_solids: str) -> None:
    tab = show(several_solids)
    assert tab.locator("#solids-title").inner_text() == "Which solid?"
    rows = tab.locator(".solids tbody tr")
    shown = [rows.nth(at).locator("td").nth(1).inner_text() for at in range(rows.count())]
    assert shown[0] == "exactly independent"
    assert rows.nth(0).get_attribute("class") == "exact"


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_from_its_ground(show: Show, one_solid: str, scheme: str) -> None:
    tab = show(one_solid, color_scheme=scheme, reduced_motion="reduce")
    tab.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    found = tab.evaluate(CONTRASTS)
    assert len(found) > 60
    assert [one for one in found if one[0] < 4.5] == []


@pytest.mark.parametrize("width", [360, 768, 1280])
def test_the_page_scrolls_down_only(show: Show, one_solid: str, several_solids: str, width: int) -> None:
    for text in (one_solid, several_solids):
        tab = show(text, viewport={"width": width, "height": 800})
        assert tab.evaluate("document.documentElement.scrollWidth") <= width


def test_paper_takes_two_pages_at_most(show: Show, one_solid: str) -> None:
    pdf = show(one_solid).pdf(prefer_css_page_size=True, print_background=True)
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf)) <= 2
