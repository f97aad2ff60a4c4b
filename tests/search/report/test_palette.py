"""The colours of the dice: told apart by every reader, the same on the page and in figures."""

from __future__ import annotations

import re
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from facewright.search.report.figures import DICE
from numpy.typing import NDArray

Vector = NDArray[np.float64]

# Linear RGB as a reader sees it. Source: Machado, Oliveira and Fernandes, A physiologically-based model for
# simulation of color vision deficiency, 2009, severity 1; the numbers from memory.
SIGHTS = {
    "all three": np.eye(3),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritanopia": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}
TO_XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
"""Linear sRGB to CIE XYZ, D65. Source: IEC 61966-2-1; from memory."""

LEAST_APART = 15
"""Distance in CIELAB, where about 2.3 can just be told apart side by side (from memory)."""


def linear(colour: str) -> Vector:
    """#rrggbb as linear RGB."""
    parts = np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    return np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)


def lab(rgb: Vector) -> Vector:
    """Linear RGB as CIELAB."""
    x = TO_XYZ @ np.clip(rgb, 0, 1) / (TO_XYZ @ np.ones(3))
    f = np.where(x > 0.008856, np.cbrt(x), 7.787 * x + 16 / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def palettes(root: Path) -> list[list[str]]:
    """The colours of dice 1 to 6 as the page has them: in light, in dark."""
    found = re.findall(
        r"--die-\d: (#[0-9a-f]{6})", (root / "search/report/template/page.css").read_text(encoding="utf-8")
    )
    assert len(found) == 12
    return [found[:6], found[6:]]


@pytest.mark.parametrize("sight", SIGHTS)
def test_every_reader_tells_two_dice_apart(root: Path, sight: str) -> None:
    for palette in palettes(root):
        seen = [lab(SIGHTS[sight] @ linear(colour)) for colour in palette]
        assert min(float(np.linalg.norm(a - b)) for a, b in combinations(seen, 2)) >= LEAST_APART


def test_figures_have_the_colours_of_the_page(root: Path) -> None:
    assert list(DICE) == palettes(root)[0]
