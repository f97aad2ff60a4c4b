"""`facewright find` and `facewright new`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from facewright.constraints.errors import RunError
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
from facewright.search.cli.kinds import Shown, shown

if TYPE_CHECKING:
    from facewright.constraints.question_form import Question

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
    limit = NOTHING_KEPT if only_count else None
    if (as_json or only_count) and out is None:
        from facewright.search.finding import answered
        from facewright.search.laying import with_layouts

        with interruptible(limits, quiet), ProgressLine(quiet) as line:
            answer = answered(question, seed=seed, stop=limits, report=line, limit=limit, workers=workers)
            answer = with_layouts(answer, settings, seed=seed, stop=limits, report=line)
        kind = shown(answer)
        kind.show(answer, kind.ranked(answer, settings), as_json)
        return status(answer)
    from facewright.search.folders import RUNS, slug
    from facewright.search.runs import perform

    folder = out or RUNS / slug(question.title)
    with interruptible(limits, quiet), ProgressLine(quiet) as line:
        answer, done = perform(
            question,
            text,
            folder,
            seed=seed,
            stop=limits,
            report=line,
            again=replace,
            workers=workers,
            limit=limit,
            settings=settings,
        )
    if done == "known":
        say(quiet, f"{folder}: answered before; --replace answers it anew")
    kind = shown(answer)
    ranked = kind.ranked(answer, settings)
    # the report first: whoever reads the table through a pipe may leave before its end
    trouble = _report(kind, answer, ranked, folder, quiet)
    kind.show(answer, ranked, as_json)
    if trouble is not None:
        raise trouble
    return status(answer)


def _report(kind: Shown, answer: Any, ranked: list[Any], folder: Path, quiet: bool) -> RunError | None:
    """Writes the report; gives the error where that fails, since the answer is to be shown all the same."""
    try:
        say(quiet, f"report: {kind.report(answer, ranked, folder)}")
    except RunError as trouble:
        return trouble
    return None


def _read(brief: Path) -> tuple[str, Question]:
    from facewright.constraints.brief import decoded, parse, text_of
    from facewright.search.earlier import die_of

    if str(brief) != "-":
        text = text_of(brief)
        return text, parse(text, str(brief), die_of)
    text = decoded(sys.stdin.buffer, "standard input")
    return text, parse(text, "standard input", die_of)


@click.command()
@click.argument("kind", default="numbering")
@unused_options("--seed", "--workers", "--quiet")
def new(kind: str) -> None:
    """Print a starter brief of a KIND, with comments: facewright new numbering > brief.toml.

    KIND is numbering, readouts, layout or smooth.
    """
    from facewright.constraints.brief.starter import starter

    click.echo(starter(kind), nl=False)
