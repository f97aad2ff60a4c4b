"""The page of a smooth body in a real browser: it fits, it is read, the body turns and comes to lie."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from facewright.constraints.smooth import Smooth
from facewright.search.report.smooth_page import smooth_page
from facewright.search.smooth_finding import answer_smooth
from facewright.search.stop import never

from tests.contrasts import CONTRASTS

pytestmark = pytest.mark.browser

Show = Callable[..., Any]


@pytest.fixture(scope="module")
def text() -> str:
    """The page of the simplest body."""
    question = Smooth("tetrahedral", Fraction(1, 20), 3, title="Rolling <stock>", width_mm=24.0)
    answer = answer_smooth(question, seed=0, stop=never)
    return smooth_page(answer, answer.ranked, run="roller", written="2026-01-31")


@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (360, "dark")])
def test_it_fits_and_is_read(show: Show, text: str, width: int, scheme: str) -> None:
    page = show(text, viewport={"width": width, "height": 800}, color_scheme=scheme)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.locator("h1").inner_text() == "Rolling <stock>"
    contrasts = page.evaluate(CONTRASTS)
    assert len(contrasts) > 20
    assert min(found for found, *_ in contrasts) >= 4.5, sorted(contrasts)[:3]


def test_the_body_turns_and_comes_to_lie(show: Show, text: str) -> None:
    page = show(text)
    line, stage = page.locator(".view-line"), page.locator(".view-stage")
    assert line.inner_text() == "It lies and reads 1, at the tip on top."
    drawn = "c => c.getContext('2d').getImageData(0, 0, c.width, c.height).data.filter((x) => x).length"
    assert stage.locator("canvas").evaluate(drawn) > 10_000
    stage.focus()
    page.keyboard.press("ArrowRight")
    assert "would settle" in line.inner_text()
    page.keyboard.press("Enter")
    assert line.inner_text() == "It lies and reads 1, at the tip on top."
    for label in (1, 2, 3, 4):
        page.locator(".smooth-view select").select_option(str(label - 1))
        assert line.inner_text() == f"It lies and reads {label}, at the tip on top."
    eye = page.evaluate("document.querySelector('.smooth-view').axes().eye")
    box = stage.bounding_box()
    page.mouse.move(box["x"] + 100, box["y"] + 100)
    page.mouse.down()
    page.mouse.move(box["x"] + 180, box["y"] + 140)
    page.mouse.up()
    assert page.evaluate("document.querySelector('.smooth-view').axes().eye") != eye
