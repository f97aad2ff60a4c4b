"""`facewright batch`: many questions from one plan."""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

import click
from facewright.search.cli.common import (
    echo_json,
    interruptible,
    json_option,
    quiet_option,
    remark,
    say,
    unused_options,
)

if TYPE_CHECKING:
    from facewright.search.batch.performing import Done
    from facewright.search.batch.plan import Plan

EVERY = 0.5
"""Seconds between two updates of the progress line."""

TRIED = 12
"""So many questions are answered to say how long all would take."""

TRIED_SECONDS = 3.0
"""So long each of them may take."""


@click.command()
@click.argument("plan", type=click.Path(path_type=Path))
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="The batch's folder [default: runs/<title>].",
)
@click.option(
    "--dry-run", is_flag=True, help="Say how many questions there are, and roughly how long they take."
)
@click.option("--replace", is_flag=True, help="Forget what the folder holds and start anew.")
@click.option("--retry", is_flag=True, help="Try again what failed before.")
@click.option(
    "--where",
    metavar="ADDRESS",
    help="A dask.distributed scheduler, such as tcp://10.0.0.1:8786; its workers answer.",
)
@click.option(
    "--workers", type=click.IntRange(1, 256), help="Processes on this machine [default: one a core]."
)
@json_option
@quiet_option
@unused_options("--seed")
def batch(
    plan: Path,
    out: Path | None,
    dry_run: bool,
    replace: bool,
    retry: bool,
    where: str | None,
    workers: int | None,
    as_json: bool,
    quiet: bool,
) -> int:
    """Answer all questions of PLAN (a TOML file), with checkpoints: started again, it goes on where it was."""
    import os

    from facewright.constraints.brief import text_of
    from facewright.search.batch.performing import perform_batch
    from facewright.search.batch.plan import parse_plan
    from facewright.search.folders import RUNS, slug
    from facewright.search.stop import Limits

    text = text_of(plan)
    asked = parse_plan(text, str(plan))
    if dry_run:
        return _tell_size(asked, text, str(plan), workers or os.cpu_count() or 1, as_json)
    limits = Limits()
    runner = None
    if where is not None:
        from facewright.search.batch.cluster import Cluster

        runner = Cluster(where, asked.each, tell=lambda text: say(quiet, text))
    with interruptible(limits, quiet), _Line(quiet) as line:
        done = perform_batch(
            asked,
            text,
            str(plan),
            out or RUNS / slug(asked.title),
            workers=workers or os.cpu_count() or 1,
            stop=limits,
            watch=line,
            runner=runner,
            again=replace,
            failed_too=retry,
        )
    from facewright.search.report.batch_page import write_batch_report

    say(quiet, f"report: {write_batch_report(done.folder)}")
    if as_json:
        echo_json(_form(done))
    else:
        click.echo(_words(done))
    return 1 if done.stopped or done.failures else 0


def _tell_size(plan: Plan, text: str, name: str, workers: int, as_json: bool) -> int:
    """Says how many questions a plan asks, and tries some to say how long they may take."""
    import random
    import statistics

    from facewright.search.batch.plan import asked_of
    from facewright.search.batch.tasks import answer_one

    briefs: dict[str, str] = {}
    many = 0
    for asked, fingerprint in asked_of(plan, text, name):
        many += 1
        briefs.setdefault(fingerprint, asked.brief)
    tried = random.Random(1).sample(sorted(briefs.values()), min(TRIED, len(briefs)))
    limit = min(TRIED_SECONDS, plan.each.seconds)
    results = [answer_one("", brief, limit, plan.each.designs) for brief in tried]
    mean = statistics.fmean(one["seconds"] for one in results) if results else 0.0
    long = sum(one["seconds"] >= limit for one in results)
    estimate = mean * len(briefs) / workers
    if as_json:
        echo_json(
            {"questions": many, "different": len(briefs), "seconds": round(estimate, 1), "tried": len(tried)}
        )
        return 0
    click.echo(f"{many:,} questions, {len(briefs):,} of them different.")
    at_least = "at least " if long else ""
    click.echo(
        f"Roughly {at_least}{_span(estimate)} with {workers} workers, going by {len(tried)} of them"
        + (f", of which {long} took longer than {limit:g} s." if long else ".")
    )
    return 0


def _form(done: Done) -> dict[str, object]:
    return {
        "folder": str(done.folder),
        **done.tally,
        "taken": done.taken,
        "failures": done.failures,
        "left": done.left,
        "stopped": done.stopped,
    }


def _words(done: Done) -> str:
    tally = done.tally
    parts = [f"{tally.get('answered', 0):,} of {tally['different']:,} questions answered"]
    if done.taken:
        parts.append(f"{done.taken:,} of them by other batches")
    if done.failures:
        parts.append(f"{done.failures:,} failed (the report lists them; --retry tries them again)")
    if done.stopped:
        parts.append(f"stopped early ({done.stopped}): the same command goes on")
    return "; ".join(parts) + "."


def _span(seconds: float) -> str:
    """A span of time in words, roughly.

    Example:
        >>> _span(0.4), _span(95), _span(7300)
        ('a second', '2 minutes', '2 hours')
    """
    for unit, words in ((86_400, "day"), (3600, "hour"), (60, "minute"), (1, "second")):
        if seconds >= 0.9 * unit:
            many = max(1, round(seconds / unit))
            return f"{many} {words}{'s' * (many != 1)}"
    return "a second"


class _Line:
    """Progress on one line of standard error where that is a terminal, else a line now and then."""

    def __init__(self, quiet: bool) -> None:
        self._shown = not quiet
        self._one_line = sys.stderr.isatty()
        self._last = 0.0
        self._wrote = False

    def __enter__(self) -> _Line:
        return self

    def __exit__(self, *_: object) -> None:
        if self._wrote and self._one_line:
            remark("\r\x1b[K", end="")

    def __call__(self, tally: dict[str, int], rate: float | None) -> None:
        """Shows how far the batch is, when it is time again."""
        now = time.monotonic()
        if not self._shown or now - self._last < (EVERY if self._one_line else 60 * EVERY):
            return
        self._last, self._wrote = now, True
        left = tally["different"] - tally["done"]
        text = f"{tally['done']:,} of {tally['different']:,} questions"
        if failed := tally["done"] - tally.get("answered", 0):
            text += f", {failed:,} failed"
        if rate:
            end = time.strftime("%H:%M:%S", time.localtime(time.time() + left / rate))
            text += f", {rate:.3g} a second, {left:,} left, done about {end}"
        start, stop = ("\r\x1b[K", "") if self._one_line else ("", "\n")
        remark(f"{start}{text}", end=stop)
