"""The page of layouts in a real browser: pictures and what they read, narrow and wide, light and dark, on paper."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.search import find
from facewright.search.layouts_finding import answer_layout
from facewright.search.report.contents import entries, ranked_designs
from facewright.search.report.contents import summary as summed
from facewright.search.report.laid_out import shown
from facewright.search.report.layouts_page import layouts_page
from facewright.search.report.page import page
from facewright.search.report.scores import load_scores
from facewright.search.stop import never

from tests.contrasts import CONTRASTS
from tests.layouts_asked import asked

pytestmark = pytest.mark.browser

Show = Callable[..., Any]


@pytest.fixture(scope="module")
def dodecahedra() -> str:
    """Several layouts of twelve labels, some of them equal."""
    question = replace(
        asked("dodecahedron", [1, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 10], "apart", "even-vertices"),
        title="Berths <of> the harbour",
        note="Invented data.",
        size_mm=18.0,
        draw="edge",
    )
    answer = answer_layout(question, seed=0, stop=never, limit=4)
    return layouts_page(answer, answer.ranked, run="berths", written="2026-01-31")


@pytest.fixture(scope="module")
def numbering() -> str:
    """A numbering whose best design is laid out beside it."""
    answer = find(
        parse('title = "T"\nlike = "2d6"\nread = "total"\ndice = [4, 9]\nlayout = ["apart", "even-vertices"]')
    )
    ranked = ranked_designs(answer, load_scores(None))
    return page(summed(answer, run="t"), entries(answer, ranked), shown(answer.layouts))


def test_pictures_show_what_is_read(show: Show, dodecahedra: str) -> None:
    tab = show(dodecahedra)
    assert tab.locator("h1").inner_text() == "Berths <of> the harbour"
    figures = tab.locator("section.design .pictures figure")
    assert figures.count() >= 2
    seen = set()
    for at in range(figures.count()):
        words = figures.nth(at).locator("figcaption").inner_text()
        assert re.fullmatch(r"Lying on f\d+ it reads: \d+, on top\.", words)
        lit = figures.nth(at).locator("path.mark[paint-order]")
        assert lit.count() == 1
        seen |= {
            mark.get_attribute("data-site") for mark in figures.nth(at).locator("path.mark").element_handles()
        }
    assert len(seen) == 12, "every face is drawn from some side"


def test_each_face_is_listed_with_its_label(show: Show, dodecahedra: str) -> None:
    tab = show(dodecahedra)
    tab.locator("section.design .places summary").click()
    items = tab.locator("section.design .faces li")
    assert items.count() == 12
    labels = sorted(int(text.split("\n")[-1]) for text in items.all_inner_texts())
    assert labels == [1, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 10]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_from_its_ground(show: Show, dodecahedra: str, scheme: str) -> None:
    tab = show(dodecahedra, color_scheme=scheme, reduced_motion="reduce")
    tab.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    found = tab.evaluate(CONTRASTS)
    assert len(found) > 60
    assert [one for one in found if one[0] < 4.5] == []


@pytest.mark.parametrize("width", [360, 768, 1280])
def test_the_page_scrolls_down_only(show: Show, dodecahedra: str, numbering: str, width: int) -> None:
    for text in (dodecahedra, numbering):
        tab = show(text, viewport={"width": width, "height": 800})
        tab.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        assert tab.evaluate("document.documentElement.scrollWidth") <= width


def test_paper_takes_two_pages_at_most(show: Show, dodecahedra: str) -> None:
    pdf = show(dodecahedra).pdf(prefer_css_page_size=True, print_background=True)
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf)) <= 2


def test_the_card_of_the_best_design_shows_its_layout(show: Show, numbering: str) -> None:
    """The view of a die that is laid out says nothing of labels in order, and reads what the layout says."""
    tab = show(numbering, reduced_motion="reduce")
    assert tab.locator(".laid .design").count() == 2
    listed = tab.locator(".laid .faces").first.locator("li").all_inner_texts
    tab.locator(".laid .places summary").first.click()
    faces = dict(text.split("\n") for text in listed())
    tab.locator(".die-solid .view-open").first.click()
    told = tab.locator(".view option").all_inner_texts()
    assert [text.split("reads ")[1] for text in told] == [faces[f"f{at}"] for at in range(1, 5)]
    assert "Not laid out" not in tab.locator(".view").inner_text()
