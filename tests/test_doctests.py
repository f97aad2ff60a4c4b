"""Every example in a docstring holds."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import facewright.constraints
import facewright.search
import pytest


def modules() -> list[str]:
    """The names of all modules of both packages."""
    found = []
    for package in (facewright.constraints, facewright.search):
        found.append(package.__name__)
        found += [one.name for one in pkgutil.walk_packages(package.__path__, package.__name__ + ".")]
    return sorted(one for one in found if not one.endswith(".__main__"))


@pytest.mark.parametrize("module", modules())
def test_examples(module: str) -> None:
    result = doctest.testmod(importlib.import_module(module))
    assert result.failed == 0
