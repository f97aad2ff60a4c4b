"""Questions beyond any machine: a limit of time or an interrupt ends them soon, and memory holds."""

from __future__ import annotations

import json
import os
import resource
import signal
import time
from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.search.finding import find
from facewright.search.stop import Limits

ENORMOUS = {
    "six sixties": 'like = "6d60"\ndice = [60, 60, 60, 60, 60, 60]',
    "twenty twenties": f'like = "20d20"\ndice = {[20] * 20}',
    "thousands": 'like = "2d1000"\ndice = [1000, 1000]',
    "thousands apart": 'like = "d1000 + d720"\ndice = [1000, 720]',
    "four of 840": 'like = "4d840"\ndice = [840, 840, 840, 840]',
    "two ends": "ways = { 0 = 1, 100000 = 1 }\ndice = [6, 6]\nlabels = { lowest = 0 }",
    "far ends": "ways = { 0 = 1, 99999 = 2, 100000 = 1 }\ndice = [4, 6, 8]\nlabels = { lowest = 0 }",
    "far down": 'like = "2d6"\ndice = [6, 6]\nlabels = { lowest = -100000 }',
    "far down with a bar": 'like = "4d6"\ndice = [6, 6, 6, 6]\nlabels = { lowest = -1000, avoid = [3] }',
    "a hundred cubes": f'like = "100d6"\ndice = {[6] * 100}',
    "a large choice": 'like = "4d12"\ndice = "4 of 4 6 8 9 12 16 18 24 36 48"',
    "coins by the dozen": 'like = "30d2"\ndice = [2, 4, 8, 16, 32, 64, 128, 256, 512, 2, 2, 2, 2, 2]',
}

SECONDS = 0.3
LATEST = 15.0
"""Seconds of a search that was given `SECONDS`, on a machine that others use too."""

MEMORY = 6 * 2**30
"""Bytes of addresses that a process may use; numpy's threads alone reserve some."""


@pytest.mark.parametrize("name", ENORMOUS)
def test_a_limit_of_time_is_kept(name: str) -> None:
    question = parse(f'title = "t"\nread = "total"\n{ENORMOUS[name]}\n', "test")
    started = time.monotonic()
    answer = find(question, stop=Limits(SECONDS))
    assert time.monotonic() - started < LATEST
    if answer.verdict == "complete":
        assert answer.seconds < SECONDS + LATEST, "a machine so fast that the limit did not come first"
        return
    assert (answer.verdict, answer.count_is) == ("partial", "at least")
    assert answer.count == len(answer.found)
    reason = "0.3 s was reached" if len(question.sets) == 1 else "were not reached"
    assert reason in answer.reason


def test_what_memory_cannot_hold_is_not_begun() -> None:
    text = 'title = "t"\nread = "total"\nlike = "3d48"\ndice = [48, 48, 48]\nlabels = { lowest = -100000 }\n'
    answer = find(parse(text, "test"))
    assert answer.verdict == "partial"
    assert "than memory holds; a higher lowest label leaves fewer" in answer.reason


def test_a_hundred_equal_coins_need_no_counting() -> None:
    answer = find(parse(f'title = "t"\nread = "total"\nlike = "100d2"\ndice = {[2] * 100}\n', "test"))
    assert (answer.verdict, answer.count) == ("complete", 1)


def test_none_stays_proved_when_the_search_for_the_reason_is_stopped() -> None:
    # the proof is a division; the reason would look for what other label rules allow
    text = (
        'title = "t"\nread = "total"\nlike = "2d12"\ndice = [6, 24]\nlabels = { highest = 12, repeats = 2 }\n'
    )
    question = parse(text, "test")

    def after(calls: int) -> Callable[[], str | None]:
        asked = count(1)
        return lambda: "enough" if next(asked) > calls else None

    verdicts = []
    for calls in (0, 2, 30, 100, 300, 10_000):
        answer = find(question, stop=after(calls))
        verdicts.append(answer.verdict)
        if answer.verdict == "none":
            assert answer.count_is == "all" and answer.reason
    assert verdicts[0] == "partial" and verdicts[-1] == "none"
    assert sorted(verdicts, key=["partial", "none"].index) == verdicts


def test_an_interrupt_is_heard_while_the_pattern_is_taken_apart(
    facewright: Any, soon: Callable[[Callable[[], Any]], Any]
) -> None:
    process = facewright.start("find", facewright.brief(ENORMOUS["far ends"]), "--json")
    if Path("/proc").is_dir():
        soon(lambda: factoring(process.pid))
    else:
        time.sleep(2)
    os.killpg(process.pid, signal.SIGINT)
    asked = time.monotonic()
    status, out, _ = facewright.ended(process)
    assert time.monotonic() - asked < LATEST
    assert status == 1 and json.loads(out)["verdict"] == "partial"
    if Path("/proc").is_dir():
        assert not factoring(process.pid)


def factoring(group: int) -> bool:
    """Whether a process of the group takes a pattern apart."""
    for entry in Path("/proc").glob("[0-9]*"):
        try:
            if (
                "splitting.factoring" in (entry / "cmdline").read_text()
                and os.getpgid(int(entry.name)) == group
            ):
                return True
        except OSError:
            continue
    return False


@pytest.mark.quality
@pytest.mark.parametrize("name", ENORMOUS)
def test_two_seconds_are_two_seconds_and_memory_holds(name: str, facewright: Any) -> None:
    brief = facewright.brief(ENORMOUS[name], "stop = { seconds = 2 }")
    started = time.monotonic()
    status, out, err = facewright.run(
        "find",
        brief,
        "--json",
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY)),
    )
    assert time.monotonic() - started < 2 + LATEST
    assert (status, json.loads(out)["verdict"]) in ((1, "partial"), (0, "complete")), err


@pytest.mark.quality
@pytest.mark.parametrize("name", ["three 96", "many designs"])
def test_an_interrupt_is_heard_at_any_moment(name: str, facewright: Any) -> None:
    lines = {"three 96": 'like = "3d96"\ndice = [96, 96, 96]', "many designs": ENORMOUS["far down"]}[name]
    brief = facewright.brief(lines)
    for seconds in (1, 2, 4, 8):
        process = facewright.start("find", brief, "--json")
        time.sleep(seconds)
        os.killpg(process.pid, signal.SIGINT)
        asked = time.monotonic()
        assert facewright.ended(process)[0] == 1
        assert time.monotonic() - asked < LATEST
