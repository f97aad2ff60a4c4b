"""Layouts under attack: kills, interrupts, a limit that passes at once, and thousands of bad briefs."""

from __future__ import annotations

import json
import random
import signal
import sqlite3
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.errors import BriefRefused

# a moment of work, then a proof
SOON = 'title = "Attack"\nplace = "1..12"\nlayout = ["even-vertices", "opposite-sums"]\n'
# more layouts than anybody lists
LONG = 'title = "Attack"\nplace = "1..30"\nlayout = ["no-neighbours"]\nstop = { designs = 100000000 }\n'
# nobody has proved the best of it
HARD = 'title = "Attack"\nplace = "1..120"\nlayout = ["even-vertices"]\nstop = {}\n'
BESIDE = 'title = "Attack"\nlike = "2d6"\nread = "total"\ndice = [6, 6]\nlayout = ["opposite-sums"]\n'


def brief(folder: Path, text: str) -> Path:
    path = folder / "brief-of-the-test.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("text", [SOON, BESIDE], ids=["layout", "numbering laid out"])
def test_a_killed_run_goes_on(facewright: Any, text: str) -> None:
    path = brief(facewright.folder, text)
    whole = facewright.answer("find", path, "--out", facewright.folder / "whole")
    moments = random.Random(text)
    folder = facewright.folder / "run"
    for _ in range(3):
        process = facewright.start("find", path, "--out", folder, "--quiet")
        time.sleep(moments.uniform(0.3, 2.5))
        process.kill()
        process.communicate()
    assert facewright.answer("find", path, "--out", folder) == whole


def test_an_interrupt_keeps_what_was_found(facewright: Any, soon: Callable[[Callable[[], Any]], Any]) -> None:
    path, folder = brief(facewright.folder, LONG), facewright.folder / "run"
    process = facewright.start("find", path, "--out", folder)

    def some() -> int:
        try:
            with sqlite3.connect(f"file:{folder / 'run.sqlite'}?mode=ro", uri=True) as store:
                return int(store.execute("SELECT COUNT(*) FROM designs").fetchone()[0])
        except sqlite3.Error:
            return 0

    soon(lambda: some() > 0 or process.poll() is not None)
    process.send_signal(signal.SIGINT)
    status, out, err = facewright.ended(process)
    assert (status, "what was found is kept" in err) == (0, True), (
        "the best is proved; only the list is cut short"
    )
    assert "ended early (interrupted)" in " ".join(out.split())
    status, out, _ = facewright.run("check", folder)
    assert status == 0
    assert "all agree" in out


def test_a_limit_that_passes_at_once_claims_nothing(facewright: Any) -> None:
    text = HARD.replace("stop = {}", "stop = { seconds = 0.05 }")
    folder = facewright.folder / "run"
    status, out, _ = facewright.run("find", brief(facewright.folder, text), "--out", folder, "--json")
    answer = json.loads(out)
    assert status == 1
    assert (answer["verdict"], answer["count_is"]) == ("partial", "at least")
    assert "what lies between is open" in " ".join(answer["proof"])
    assert "ruled out" in answer["reason"]
    assert len(answer["designs"]) == answer["count"] == 1
    status, out, _ = facewright.run("check", folder)
    assert (status, "all agree" in out) == (0, True)


PLACES = [
    '"1..6"',
    '"6..1"',
    '"1-6"',
    "6",
    "[]",
    "[1]",
    "[1, 1]",
    '["a", 1, 2.5]',
    '"1..7"',
    '["", " "]',
    '"0..5"',
    "true",
]
GOALS = [
    '["apart"]',
    "[]",
    '"apart"',
    '["apart", "apart"]',
    '["even"]',
    "[3]",
    '["long-along-draw"]',
    '["off-centre"]',
]
OTHERS = [
    'solid = "cube"', "solid = 7", 'solid = "cub"', "solid = [6]", "size_mm = 0", "size_mm = 16", "size_mm = nan",
    'size_is = "edge"', 'size_is = "wide"', 'draw = "face"', "draw = [0, 0, 0]", "draw = [1e308, 0, 0]",
    "draw = [0, 1e-200, 0]", "draw = [1]",
    "shape = 3", 'shape = "settles-best"', "shape = [1, 2, 3, 4, 5]", "rename = true", 'same_under = "turning"',
    'from = { run = "x" }', 'from = { run = "..", design = "a", die = 9 }', "stop = { seconds = -1 }", "place2 = 3",
    "rename = 1", 'read = "total"', "smooth = {}",
]  # fmt: skip


def test_bad_briefs_end_in_words() -> None:
    """Any mixture of right and wrong lines is either a question or a refusal whose faults have a place and words."""
    rng = random.Random("bad layout briefs")
    accepted = refused = 0
    for _ in range(2_000):
        lines = ['title = "x"', f"place = {rng.choice(PLACES)}", f"layout = {rng.choice(GOALS)}"]
        lines += rng.sample(OTHERS, rng.choice([0, 0, 1, 1, 2, 3]))
        rng.shuffle(lines)
        try:
            parse("\n".join(lines))
            accepted += 1
        except BriefRefused as error:
            refused += 1
            for fault in error.faults:
                assert fault.found and fault.accepted
                assert 0 <= fault.line <= len(lines)
                assert fault.line or fault.found == "nothing: the key is missing", lines
    assert accepted > 50
    assert refused > 1_000
