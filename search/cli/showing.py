"""`facewright list`, `show` and `report`: runs that are there already."""

from __future__ import annotations

import csv
import io
from pathlib import Path
from typing import Any

import click
from facewright.constraints.errors import UsageError
from facewright.search.cli.common import (
    echo_json,
    json_option,
    quiet_option,
    say,
    scores_option,
    unused_options,
)
from facewright.search.cli.kinds import shown


@click.command("list")
@click.argument("folder", type=click.Path(path_type=Path), default=Path("runs"))
@json_option
@unused_options("--seed", "--workers", "--quiet")
def list_runs(folder: Path, as_json: bool) -> None:
    """List the runs in FOLDER (runs/ unless another is named)."""
    from facewright.search.folders import RUNS, run_folders
    from facewright.search.report.terminal import clean
    from facewright.search.runs import about_run

    if not folder.is_dir() and folder != RUNS:
        raise UsageError(f"{folder}: found no such folder; accepted: a folder that holds run folders")
    runs = [about_run(one) for one in run_folders(folder)]
    if as_json:
        echo_json({"runs": runs})
        return
    if not runs:
        click.echo(f"no runs in {folder}")
    wide = max((len(one["run"]) for one in runs), default=0)
    for one in runs:
        count = (
            ""
            if one["count"] is None
            else f"{one['count']:,}" + ("+" if one["count_is"] == "at least" else "")
        )
        title = clean(one["title"])
        click.echo(f"{one['run']:{wide}}  {one['verdict']:10}  {count:>9}  {one['ended']:16}  {title}")


@click.command()
@click.argument("run")
@click.argument("design", required=False)
@json_option
@click.option("--csv", "as_csv", is_flag=True, help="Print comma-separated values, one row a design.")
@click.option("--all", "everything", is_flag=True, help="Print every design, not only the best.")
@scores_option
@unused_options("--seed", "--workers", "--quiet")
def show(
    run: str, design: str | None, as_json: bool, as_csv: bool, everything: bool, scores_file: Path | None
) -> None:
    """Show RUN, or one DESIGN of it (an id, or any unambiguous beginning of one)."""
    from facewright.search.report.scores import load_scores

    if as_json and as_csv:
        raise UsageError("--json and --csv: found both; accepted: one of them")
    answer = answer_of(run)
    kind = shown(answer)
    ranked = kind.ranked(answer, load_scores(scores_file))
    if design is not None:
        ranked = [one_of(ranked, design, run)]
    if as_csv:
        click.echo(_csv(kind.rows(answer, ranked)), nl=False)
    elif as_json and design is not None:
        echo_json(kind.form(answer, ranked)["designs"][0])
    elif design is not None:
        click.echo(kind.details(answer, ranked[0]))
    else:
        kind.show(answer, ranked, as_json, everything)


@click.command()
@click.argument("run")
@json_option
@scores_option
@quiet_option
@unused_options("--seed", "--workers")
def report(run: str, as_json: bool, scores_file: Path | None, quiet: bool) -> None:
    """Write the report of RUN anew."""
    from facewright.search.folders import folder_of
    from facewright.search.report.scores import load_scores

    answer = answer_of(run)
    kind = shown(answer)
    path = kind.report(answer, kind.ranked(answer, load_scores(scores_file)), folder_of(run))
    if as_json:
        echo_json({"report": str(path)})
    else:
        say(quiet, "report written")
        click.echo(path)


def answer_of(run: str) -> Any:
    """The stored answer of a run."""
    from facewright.search.folders import STORE, folder_of
    from facewright.search.store import Store

    with Store.open(folder_of(run) / STORE) as store:
        return store.answer()


def one_of(ranked: list[Any], beginning: str, run: str) -> Any:
    """The design whose id begins so; raises UsageError where none or several do."""
    fitting = [one for one in ranked if one.id.startswith(beginning.lower())]
    if len(fitting) != 1:
        found = f"{len(fitting)} designs" if fitting else "no design"
        some = ", ".join(one.id[:8] for one in (fitting or ranked)[:6])
        raise UsageError(
            f"{beginning}: found {found} of {run} beginning so; ids begin: {some or 'there are none'}"
        )
    return fitting[0]


def _csv(table: list[dict[str, Any]]) -> str:
    columns = list(dict.fromkeys(name for row in table for name in row)) or ["rank", "tied", "id"]
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows(table)
    return text.getvalue()
