"""The page on numerals: its example prints what stands below it, its figures are those of the program."""

from __future__ import annotations

import contextlib
import io
import re
from pathlib import Path

from facewright.search.artwork.sizes import character_height_mm, load_making
from facewright.search.artwork.wishes import CLEAR, OUTWARD

PAGE = (Path(__file__).parents[3] / "docs" / "reference" / "numerals.md").read_text(encoding="utf-8")


def test_the_example_prints_what_stands_below_it() -> None:
    [(code, printed)] = re.findall(r"```python\n(.*?)```\n\n```text\n(.*?)```", PAGE, re.DOTALL)
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        exec(code, {})
    assert out.getvalue() == printed


def test_the_routes_have_the_values_of_their_file() -> None:
    for key, route in load_making().routes:
        row = (
            f"| `{key}`, {route.name} | {route.stroke:g} mm | {route.island:g} mm | {route.recess:g} mm "
            f"| {route.wide_over_deep:g} |"
        )
        assert row in PAGE


def test_the_room_and_the_eye_have_the_values_of_the_program() -> None:
    assert f"a clear space of {CLEAR:g} of the characters' height" in PAGE
    assert f"at least {OUTWARD:g} of the way out" in PAGE
    eye = load_making().eye
    heights = [
        character_height_mm(eye.distance, arc)
        for arc in (eye.least_minutes, eye.good_minutes, eye.best_minutes)
    ]
    least, good, best = (f"{height:.1f}" for height in heights)
    assert f"from {eye.distance:g} mm: that is {least} mm, better {good} to {best} mm" in PAGE
