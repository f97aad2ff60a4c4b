"""Every solid of the list, families to twelve sides, numbered and taken through STL and 3MF, each in under a second."""

from __future__ import annotations

from pathlib import Path

import pytest
from facewright.constraints.solids.catalogue import listed

from tests.solid_files import made

BUDGET = 1.5
"""Seconds of the processor for mesh and both files, for the first with loading: twice what was measured."""


@pytest.mark.quality
@pytest.mark.parametrize("name", listed())
def test_every_solid_becomes_a_die(name: str, tmp_path: Path) -> None:
    _, _, seconds = made(name, tmp_path)
    assert seconds < BUDGET


def test_the_list_is_whole() -> None:
    assert len(listed()) > 60
