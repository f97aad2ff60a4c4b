"""The product sheet in a real browser: wide and narrow, light and dark, on paper; nothing complains."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from facewright.search.sheets.sheet_page import sheet_page

from tests.search.sheets.asked import sheet

pytestmark = pytest.mark.browser

Show = Callable[..., Any]


@pytest.mark.parametrize("kind", ["total", "readouts", "duels"])
def test_a_sheet_reads_on_any_screen(show: Show, kind: str) -> None:
    told = sheet(kind)
    for width, scheme in ((1280, "light"), (360, "dark")):
        tab = show(sheet_page(told), viewport={"width": width, "height": 900}, color_scheme=scheme)
        assert tab.locator("h1").inner_text() == told.title
        assert tab.locator("ol.steps li").count() == 3
        assert tab.evaluate("document.documentElement.scrollWidth") <= width
        assert tab.locator("footer li").count() == len(told.cautions)
        for box in tab.locator("main figure").all():
            assert box.bounding_box()["width"] <= width


def test_dice_have_their_size_on_paper(show: Show) -> None:
    tab = show(sheet_page(sheet("total")))
    tab.emulate_media(media="print")
    seen = tab.evaluate("document.querySelector('.hero svg').getBoundingClientRect().width")
    wanted = float(
        tab.evaluate("document.querySelector('.hero svg').getAttribute('width')").removesuffix("mm")
    )
    assert seen == pytest.approx(wanted * 96 / 25.4, rel=0.01)
