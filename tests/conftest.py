"""What every test may ask for, a browser among it; slow checks run only when they are asked for."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest
from facewright.search.threads import one_thread
from hypothesis import settings

ROOT = Path(__file__).resolve().parent.parent
CHROMIUMS = ("chromium", "chromium-browser", "google-chrome")

# A shared machine is sometimes slow for a moment: that is no finding. The same examples every time, so that a
# failure can be repeated.
settings.register_profile("facewright", deadline=None, derandomize=True)
settings.load_profile("facewright")

os.environ.setdefault("MPLBACKEND", "Agg")

# As the command does; the tests share the processors among themselves, too.
one_thread()

# Answers kept from an earlier run would be tested instead of the engine; tests of the cache name a folder of their own.
os.environ["FACEWRIGHT_CACHE"] = ""

# Left to itself, sympy computes with FLINT where it is installed: our engines, which use FLINT, would then be
# checked by FLINT.
os.environ["SYMPY_GROUND_TYPES"] = "python"


@pytest.fixture(scope="session")
def root() -> Path:
    """The folder of the checkout."""
    return ROOT


@pytest.fixture(scope="session")
def chromium() -> str:
    """The path of a Chromium; without one the test is skipped, and says so."""
    found = next((path for name in CHROMIUMS if (path := shutil.which(name))), None)
    if found is None:
        pytest.skip(f"no browser: none of {', '.join(CHROMIUMS)} is installed")
    return found


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leaves out the slow checks unless `-m` asks for marks."""
    if config.option.markexpr:
        return
    slow = [item for item in items if item.get_closest_marker("quality")]
    if slow:
        config.hook.pytest_deselected(items=slow)
        items[:] = [item for item in items if not item.get_closest_marker("quality")]
