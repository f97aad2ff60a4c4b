"""`facewright sheet`: a product sheet for buyers and a card for players."""

from __future__ import annotations

from pathlib import Path

import click
from facewright.constraints.layout import SIZES
from facewright.search.cli.common import (
    ProgressLine,
    echo_json,
    interruptible,
    json_option,
    quiet_option,
    unused_options,
)
from facewright.search.cli.kinds import shown
from facewright.search.cli.making import ROUTES


@click.command()
@click.argument("run")
@click.argument("design")
@click.option(
    "--out", type=click.Path(path_type=Path), help="The folder for the files; RUN/sheets/DESIGN without it."
)
@click.option("--title", default="", help="What the product is called; without it as its brief.")
@click.option("--size", type=click.FloatRange(1, 500), metavar="MM", help="The size, in millimetres.")
@click.option("--size-is", type=click.Choice(SIZES), help="What the size measures; across-flats without it.")
@click.option(
    "--by", "route", type=click.Choice(ROUTES), default="mould", show_default=True, help="How it is made."
)
@click.option(
    "--paper", type=click.Choice(("a4", "letter")), default="a4", show_default=True, help="The sheet's paper."
)
@json_option
@quiet_option
@unused_options("--seed", "--workers")
def sheet(
    run: str,
    design: str,
    out: Path | None,
    title: str,
    size: float | None,
    size_is: str | None,
    route: str,
    paper: str,
    as_json: bool,
    quiet: bool,
) -> int:
    """Write a product sheet (HTML and PDF) and a player's card for DESIGN of RUN."""
    from facewright.search.cli.showing import answer_of, one_of
    from facewright.search.folders import REPORT, folder_of
    from facewright.search.make.sizing import Wishes
    from facewright.search.report.scores import load_scores
    from facewright.search.sheets.facts import sheet_of
    from facewright.search.sheets.writing import write_sheet
    from facewright.search.stop import Limits

    answer = answer_of(run)
    one = one_of(shown(answer).ranked(answer, load_scores(None)), design, run)
    home = folder_of(run)
    folder = out or home / "sheets" / one.id[:8]
    limits = Limits()
    with interruptible(limits, quiet), ProgressLine(quiet) as report:
        told = sheet_of(
            answer, one, Wishes(size, size_is, paper, route), title=title, stop=limits, report=report
        )
        if limits():
            return 1
        files = write_sheet(told, folder, paper=paper, report=home / REPORT)
    if as_json:
        echo_json({"design": one.id, "files": [str(path) for path in files]})
    else:
        for path in files:
            click.echo(path)
    return 0
