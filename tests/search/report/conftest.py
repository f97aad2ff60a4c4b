"""The sample runs, and a browser that opens their pages and tells on them."""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from facewright.search.report.page import page

SWITCHES = [
    "--no-sandbox", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
DRAWS = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
"""WebGL without a graphics card."""


@pytest.fixture(scope="session")
def sample() -> ModuleType:
    """The module of sample runs."""
    path = Path(__file__).with_name("sample.py")
    spec = importlib.util.spec_from_file_location("report_sample", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def driver() -> Iterator[Any]:
    """What starts browsers."""
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    with playwright.sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(driver: Any, chromium: str) -> Iterator[Any]:
    """A headless Chromium for the whole session, with WebGL."""
    opened = driver.chromium.launch(executable_path=chromium, args=[*SWITCHES, *DRAWS])
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def flat_browser(driver: Any, chromium: str) -> Iterator[Any]:
    """A headless Chromium without WebGL."""
    opened = driver.chromium.launch(executable_path=chromium, args=[*SWITCHES, "--disable-3d-apis"])
    yield opened
    opened.close()


@pytest.fixture
def show(browser: Any, tmp_path: Path) -> Iterator[Callable[..., Any]]:
    """Opens a run's page, or a page's text, from a file; it must neither complain nor ask the network."""
    yield from _showing(browser, tmp_path)


@pytest.fixture
def show_flat(flat_browser: Any, tmp_path: Path) -> Iterator[Callable[..., Any]]:
    """The same in a browser without WebGL."""
    yield from _showing(flat_browser, tmp_path)


def _showing(browser: Any, folder: Path) -> Iterator[Callable[..., Any]]:
    contexts, told = [], []

    def opening(run: tuple[dict[str, Any], list[dict[str, Any]]] | str, at: str = "", **settings: Any) -> Any:
        file = folder / ("page.html" if isinstance(run, str) else f"{run[0]['run']}.html")
        file.write_text(run if isinstance(run, str) else page(*run), encoding="utf-8")
        context = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, **settings})
        contexts.append(context)
        tab = context.new_page()
        tab.on("console", lambda message: told.append(f"console: {message.text}"))
        tab.on("pageerror", lambda error: told.append(f"error: {error}"))
        tab.on(
            "request", lambda request: request.url.startswith(("file:", "data:")) or told.append(request.url)
        )
        tab.goto(f"{file.as_uri()}{at}")
        return tab

    yield opening
    for context in contexts:
        context.close()
    assert told == []
