"""`facewright find` and `facewright new`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click
from facewright.search.cli.common import (
    ProgressLine,
    interruptible,
    json_option,
    quiet_option,
    say,
    scores_option,
    search_options,
    status,
    unused_options,
)
from facewright.search.cli.kinds import shown

if TYPE_CHECKING:
    from facewright.constraints.question import Numbering
    from facewright.constraints.readouts import Readouts

NOTHING_KEPT = 0


@click.command()
@click.argument("brief", type=click.Path(path_type=Path))
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="DIR", help="The run folder [default: runs/<title>]."
)
@json_option
@click.option("--count", "only_count", is_flag=True, help="Count the designs without listing them.")
@click.option("--replace", is_flag=True, help="Forget what the run folder holds and start anew.")
@scores_option
@search_options
@quiet_option
def find(
    brief: Path,
    out: Path | None,
    as_json: bool,
    only_count: bool,
    replace: bool,
    scores_file: Path | None,
    seed: int,
    workers: int,
    quiet: bool,
) -> int:
    """Answer the question in BRIEF (a TOML file, or - for standard input).

    Writes a run folder with the brief, the designs, what backs the verdict, and a report, and prints a table. With
    --json it prints one object instead and writes a run folder only if --out names one; so does --count.
    """
    from facewright.search.report.scores import load_scores
    from facewright.search.stop import Limits

    text, question = _read(brief)
    settings = load_scores(scores_file)
    limits = Limits(question.stop.seconds)
    if (as_json or only_count) and out is None:
        from facewright.search.finding import answered

        with interruptible(limits), ProgressLine(quiet) as line:
            limit = NOTHING_KEPT if only_count else None
            answer = answered(question, seed=seed, stop=limits, report=line, limit=limit, workers=workers)
        folder = None
    else:
        from facewright.search.runs import RUNS, perform, slug

        folder = out or RUNS / slug(question.title)
        with interruptible(limits), ProgressLine(quiet) as line:
            answer, done = perform(
                question,
                text,
                folder,
                seed=seed,
                stop=limits,
                report=line,
                again=replace,
                workers=workers,
                limit=NOTHING_KEPT if only_count else None,
            )
        if done == "known":
            say(quiet, f"{folder}: answered before; --replace answers it anew")
    kind = shown(answer)
    ranked = kind.ranked(answer, settings)
    kind.show(answer, ranked, as_json)
    if folder is not None:
        say(quiet, f"report: {kind.report(answer, ranked, folder)}")
    return status(answer)


def _read(brief: Path) -> tuple[str, Numbering | Readouts]:
    from facewright.constraints.brief import parse, read

    if str(brief) == "-":
        text = sys.stdin.buffer.read().decode("utf-8", "replace")
        return text, parse(text, "standard input")
    question = read(brief)
    return brief.read_text(encoding="utf-8"), question


@click.command()
@click.argument("kind", default="numbering")
@unused_options("--seed", "--workers", "--quiet")
def new(kind: str) -> None:
    """Print a starter brief of a KIND (numbering, readouts), with comments: facewright new KIND > brief.toml."""
    from facewright.constraints.brief.starter import starter

    click.echo(starter(kind), nl=False)
