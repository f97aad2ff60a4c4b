"""`facewright measure`: calliper readings of real dice; without readings, the tolerance to write on the drawing."""

from __future__ import annotations

from pathlib import Path

import click
from facewright.constraints.errors import UsageError
from facewright.constraints.layout import SIZES
from facewright.search.cli.common import echo_json, json_option, say, unused_options, width
from facewright.search.cli.kinds import shown
from facewright.search.cli.making import ROUTES


@click.command()
@click.argument("run")
@click.argument("design")
@click.argument("table", metavar="[CALLIPERS.csv]", type=click.Path(path_type=Path), required=False)
@click.option(
    "--off", metavar="PERCENT", type=click.FloatRange(0, 100, min_open=True), default=5, show_default=True,
    help="Without a table: by how much no face may be off, in per cent of its chance.",
)  # fmt: skip
@click.option(
    "--size", type=click.FloatRange(1, 500), metavar="MM", help="The size in which the dice were made."
)
@click.option("--size-is", type=click.Choice(SIZES), help="What the size measures; across-flats without it.")
@click.option(
    "--by", "route", type=click.Choice(ROUTES), default="mould", show_default=True, help="How they were made."
)
@json_option
@unused_options("--seed", "--workers", "--quiet")
def measure(
    run: str,
    design: str,
    table: Path | None,
    off: float,
    size: float | None,
    size_is: str | None,
    route: str,
    as_json: bool,
) -> int:
    """Judge dice of DESIGN of RUN by the calliper readings in CALLIPERS.csv; without them, give the tolerance."""
    from facewright.search.cli.showing import answer_of, one_of
    from facewright.search.make.dice import dice_of
    from facewright.search.make.sizing import Wishes, sized
    from facewright.search.measure.axes import spanned
    from facewright.search.measure.judging import judged
    from facewright.search.measure.table import readings_of
    from facewright.search.measure.words import judged_json, judged_text, tolerance_json, tolerance_text
    from facewright.search.report.scores import load_scores

    answer = answer_of(run)
    if answer.question.kind in ("smooth", "product"):
        raise UsageError(
            f"{run}: found a {answer.question.kind} run; accepted: a run whose designs are dice with faces"
        )
    one = one_of(shown(answer).ranked(answer, load_scores(None)), design, run)
    kinds = [spanned(sized(die, Wishes(size, size_is, route=route))) for die in dice_of(answer, one)]
    if table is None:
        share = off / 100
        if as_json:
            echo_json(tolerance_json(kinds, share, one.id))
        else:
            click.echo(tolerance_text(kinds, share, width()))
        return 0
    readings = readings_of(table, kinds)
    found = judged(kinds, readings.read)
    if as_json:
        echo_json(judged_json(found, readings, one.id))
    else:
        click.echo(judged_text(found, readings, width()))
    if not found:
        say(False, f"facewright: {table}: no die could be judged; the reasons stand above")
        return 2
    return 0
