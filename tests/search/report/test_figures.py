"""Figures for documents and print: the same text each time, and what they show."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from types import ModuleType

import pytest
from facewright.search.report.figures import design_svg

NAMES = {"svg": "http://www.w3.org/2000/svg", "xlink": "http://www.w3.org/1999/xlink"}


def fills(svg: str, colour: str) -> int:
    """How many shapes are filled with a colour."""
    tree = ET.fromstring(svg)
    return sum(
        1 for path in tree.iter(f"{{{NAMES['svg']}}}path") if f"fill: {colour}" in path.get("style", "")
    )


def test_the_same_design_gives_the_same_text(sample: ModuleType) -> None:
    summary, designs = sample.harbour()
    wanted = summary["target"]["ways"]
    first = design_svg(designs[0]["dice"], wanted)
    assert first == design_svg(designs[0]["dice"], dict(map(tuple, wanted)))
    assert "<dc:date>" not in first


def test_a_block_stands_for_each_face(sample: ModuleType) -> None:
    summary, designs = sample.harbour()
    svg = design_svg(designs[0]["dice"], summary["target"]["ways"])
    assert fills(svg, "#006dad") >= 6
    assert fills(svg, "#b34a00") >= 16
    assert fills(svg, "#5b98c6") == 19


def test_columns_off_the_target_are_hatched(sample: ModuleType) -> None:
    summary, designs = sample.nearest()
    svg = design_svg(designs[0]["dice"], summary["target"]["ways"])
    assert "<pattern" in svg
    exact = design_svg([[1, 2], [1, 2]], {2: 1, 3: 2, 4: 1})
    assert "<pattern" not in exact


def test_large_and_many_dice_have_no_grid(sample: ModuleType) -> None:
    summary, designs = sample.great(3)
    assert "QuadMesh" not in design_svg(designs[0]["dice"], summary["target"]["ways"])
    assert "QuadMesh" not in design_svg([[1, 2, 3]] * 4)
    assert "QuadMesh" in design_svg([[1, 2, 3], [1, 5]])


def test_wrong_use_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one die"):
        design_svg([])
    with pytest.raises(ValueError, match=r"accepted: .*total"):
        design_svg([[1, 2]], read="tallest")
