"""The page of products in a real browser: nothing complains, it fits any screen, every product can be reached."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from facewright.search.cli.command import status_of

pytestmark = pytest.mark.browser

Show = Callable[..., Any]


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The report of a small fair."""
    folder = tmp_path_factory.mktemp("fair")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        Path("dues.toml").write_text(
            'title = "Dues <of>"\nlike = "2d6"\nread = "total"\ndice = [6, 6]\n', encoding="utf-8"
        )
        assert status_of(["find", "dues.toml", "--quiet", "--out", "runs/dues"]) == 0
        from facewright.search.cli.showing import answer_of

        found = [one.design.id[:6] for one in answer_of("dues").found]
        Path("fair.toml").write_text(
            f'title = "Fair"\nproduct = ["dues/{found[0]}", "dues/{found[1]}"]\nmake = {{ sets = [300, 3000] }}\n',
            encoding="utf-8",
        )
        assert status_of(["find", "fair.toml", "--quiet"]) == 0
        return Path("runs/fair/report.html").read_text(encoding="utf-8")


@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (360, "dark")])
def test_the_page_fits_any_screen(show: Show, page: str, width: int, scheme: str) -> None:
    tab = show(page, viewport={"width": width, "height": 900}, color_scheme=scheme)
    assert tab.evaluate("document.documentElement.scrollWidth") <= width
    assert tab.locator("section.product").count() == 2
    assert tab.locator("section.products tbody tr").count() == 2
    for link in tab.locator("section.products tbody a").all():
        assert tab.locator(link.get_attribute("href")).count() == 1


def test_every_amount_opens_into_its_lines(show: Show, page: str) -> None:
    tab = show(page)
    tab.evaluate("document.querySelectorAll('section.product details').forEach(one => { one.open = true; })")
    text = tab.locator("section.product").first.inner_text()
    assert "invented for the demo" in tab.locator("main").inner_text()
    assert "test house" in text
