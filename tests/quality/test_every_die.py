"""Every solid of the list, families to twelve sides, numbered and taken through STL and 3MF within a second each."""

from __future__ import annotations

from pathlib import Path

import pytest
from facewright.constraints.solids.catalogue import listed

from tests.solid_files import made

BUDGET = 3.0
"""Seconds for mesh and both files, on a machine that may be busy; a second at the most when it is quiet."""


@pytest.mark.quality
@pytest.mark.parametrize("name", listed())
def test_every_solid_becomes_a_die(name: str, tmp_path: Path) -> None:
    _, _, seconds = made(name, tmp_path)
    assert seconds < BUDGET


def test_the_list_is_whole() -> None:
    assert len(listed()) > 60
