"""Benchmarks of batches: growth from a hundred to a million designs, two workers against one, what a question costs.

Each step is a process of its own, which tells its own peak of resident memory (that of its workers apart).
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from facewright.search.batch.plan import parse_plan
from facewright.search.batch.tasks import answer_one

DESIGNS = 100
"""Designs kept of each question of the growth; every one of them has 185."""

STEP = """
import json, os, resource, sys, time
from pathlib import Path

def peak():
    [line] = [one for one in open("/proc/self/status") if one.startswith("VmHWM:")]
    return int(line.split()[1]) / 1024

out, *arguments = sys.argv[1:]
told = os.dup(1)
os.dup2(os.open(out, os.O_CREAT | os.O_WRONLY | os.O_TRUNC), 1)
started = time.perf_counter()
if arguments[0] == "perform":
    from facewright.search.batch.performing import perform_batch
    from facewright.search.batch.plan import parse_plan
    from facewright.search.stop import never

    _, plan, folder, workers = arguments
    text = Path(plan).read_text()
    done = perform_batch(parse_plan(text), text, plan, Path(folder), workers=int(workers), stop=never,
                         watch=lambda *_: None)
    status = int(done.tally.get("answered", 0) != done.tally["different"])
else:
    from facewright.search.cli.command import status_of

    status = status_of(arguments)
sys.stdout.flush()
seconds = time.perf_counter() - started
workers = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
os.write(told, json.dumps([status, seconds, peak(), workers]).encode())
"""
"""Performs a plan without its page, or any command, and tells its status, seconds, peak and its workers' peak (MiB)."""


def step(folder: Path, *arguments: str) -> tuple[float, float, float]:
    """Seconds, peak memory of a process and of the largest process that it started (MiB), for a step in a folder."""
    told = subprocess.run(
        [sys.executable, "-c", STEP, "out", *arguments], cwd=folder, capture_output=True, check=True
    )
    status, seconds, peak, workers = json.loads(told.stdout)
    if status:
        raise SystemExit(f"bench: {' '.join(arguments)} ended with status {status}: {told.stderr.decode()}")
    return seconds, peak, workers


def plan(title: str, lowest: list[int], like: list[str], dice: list[int], designs: int) -> str:
    """A plan of two lists: least labels and targets."""
    return (
        f'title = "{title}"\n[brief]\nread = "total"\ndice = {dice}\n[lists]\n"labels.lowest" = {lowest}\n'
        f"like = {json.dumps(like)}\n[each]\ndesigns = {designs}\n"
    )


def shifted(target: str, many: int) -> list[str]:
    """A target, and the same so many higher each."""
    return [target, *(f"{target} + {more}" for more in range(1, many))]


def growing(questions: int) -> str:
    """Two cubes with the totals of two ordinary ones and more, labels from far below: 185 designs a question."""
    lowest = [-60 + at for at in range(min(questions, 20))]
    return plan("growth", lowest, shifted("2d6", max(1, questions // 20)), [6, 6], DESIGNS)


def growth(sizes: list[int], workers: int) -> list[str]:
    """Rows: batches of so many designs, then their page, their ranking and their exports, each read anew."""
    rows = [
        "| designs | questions | seconds | designs a second | parent | a worker | store | page | "
        "`rank` | `--csv` | `--parquet` |",
        "|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|",
    ]
    for designs in sizes:
        questions = designs // DESIGNS
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            (folder / "plan.toml").write_text(growing(questions))
            seconds, parent, worker = step(folder, "perform", "plan.toml", "run", str(workers))
            store = (folder / "run/batch.sqlite").stat().st_size / 1e6
            cells = []
            for arguments in (
                ("report", "run", "--quiet"),
                ("rank", "run", "--json"),
                ("show", "run", "--csv"),
                ("show", "run", "--parquet", "designs.parquet"),
            ):
                took, peak, _ = step(folder, *arguments)
                cells.append(f"{took:.1f} s, {peak:.0f} MiB")
                if "--json" in arguments:
                    compared = json.loads((folder / "out").read_text())["compared"]
                    if compared != designs:
                        raise SystemExit(f"bench: a batch of {designs} designs has {compared}")
            cells[0] += f", {(folder / 'run/report.html').stat().st_size / 1e6:.1f} MB"
        rows.append(
            f"| {designs:,} | {questions:,} | {seconds:.1f} s | {designs / seconds:,.0f} | {parent:.0f} MiB | "
            f"{worker:.0f} MiB | {store:.1f} MB | {' | '.join(cells)} |"
        )
        print(rows[-1], file=sys.stderr)
    return rows


def looped(text: str) -> float:
    """Seconds that the questions of a plan take one after the other in this process, loading left out."""
    asked = parse_plan(text)
    briefs = [one.brief for one in asked.questions()]
    answer_one("", briefs[0], asked.each.seconds, asked.each.designs)
    started = time.perf_counter()
    for brief in briefs:
        answer_one("", brief, asked.each.seconds, asked.each.designs)
    return time.perf_counter() - started


def shares(cases: list[tuple[str, str]], repeats: int) -> list[str]:
    """Rows: plans with one worker and with two, their start included, and in a plain loop; the best run of each.

    What a question costs beyond the loop is told with one worker, whose parent has a processor of its own, and with
    two, as the time of both processors.
    """
    rows = [
        "| plan | questions | plain loop | one worker | two workers | two against one | a question, beyond the loop |",
        "|---|---:|---:|---:|---:|---:|---:|",
    ]
    for title, text in cases:
        many = parse_plan(text).size
        best: dict[str, float] = {}
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            (folder / "plan.toml").write_text(text)
            for at in range(repeats):
                runs: dict[str, Any] = {
                    "one": step(folder, "perform", "plan.toml", f"one-{at}/run", "1")[0],
                    "two": step(folder, "perform", "plan.toml", f"two-{at}/run", "2")[0],
                    "loop": looped(text),
                }
                best = {which: min(seconds, best.get(which, seconds)) for which, seconds in runs.items()}
        over = [1000 * (took - best["loop"]) / many for took in (best["one"], 2 * best["two"])]
        rows.append(
            f"| {title} | {many:,} | {best['loop']:.2f} s | {best['one']:.2f} s | {best['two']:.2f} s | "
            f"{best['one'] / best['two']:.2f} | {over[0]:.2f} ms, {over[1]:.2f} ms |"
        )
        print(rows[-1], file=sys.stderr)
    return rows


HEAVY = ("two 48-face dice", plan("heavy", [0, -1], shifted("2d48 + 1", 25), [48, 48], 2))
"""Questions that keep a processor busy and give few designs."""

SMALL = ("two 4-face dice", plan("small", [-at for at in range(50)], shifted("2d4 + 1", 200), [4, 4], 2))
"""Questions of a millisecond or two."""


def batches(*, quick: bool) -> None:
    """Measures and prints."""
    workers = min(2, os.cpu_count() or 1)
    print(f"\n## Batches\n\n{workers} workers; peaks of resident memory, each process by itself.\n")
    print("\n".join(growth([10**power for power in range(2, 5 if quick else 7)], workers)), flush=True)
    print("\nThe start of the workers counts; the best of some runs.\n")
    print("\n".join(shares([HEAVY] if quick else [HEAVY, SMALL], 2 if quick else 3)), flush=True)
