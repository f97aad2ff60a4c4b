"""`facewright list`, `show` and `report`: runs that are there already."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

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

if TYPE_CHECKING:
    from facewright.search.flat import Table


@click.command("list")
@click.argument("folder", type=click.Path(path_type=Path), default=Path("runs"))
@json_option
@unused_options("--seed", "--workers", "--quiet")
def list_runs(folder: Path, as_json: bool) -> None:
    """List the runs and batches in FOLDER (runs/ unless another is named)."""
    from facewright.search.batch.about import about_batch
    from facewright.search.folders import RUNS, batch_folders, run_folders
    from facewright.search.report.terminal import clean
    from facewright.search.runs import about_run

    if not folder.is_dir() and folder != RUNS:
        raise UsageError(f"{folder}: found no such folder; accepted: a folder that holds run folders")
    runs = [about_run(one) for one in run_folders(folder)]
    batches = [about_batch(one) for one in batch_folders(folder)]
    if as_json:
        echo_json({"runs": runs, "batches": batches})
        return
    if not runs and not batches:
        click.echo(f"no runs in {folder}")
    names = [one["run"] for one in runs] + [one["batch"] for one in batches]
    wide = max(map(len, names), default=0)
    for one in runs:
        count = (
            ""
            if one["count"] is None
            else f"{one['count']:,}" + ("+" if one["count_is"] == "at least" else "")
        )
        title = clean(one["title"])
        click.echo(f"{one['run']:{wide}}  {one['verdict']:10}  {count:>9}  {one['ended']:16}  {title}")
    for one in batches:
        far, ended = "", ""
        if one["different"] is not None:
            far, ended = f"{one['answered']:,} of {one['different']:,}", one["ended"]
        click.echo(f"{one['batch']:{wide}}  {'batch':7} {far:>12}  {ended:16}  {clean(one['title'])}")


@click.command()
@click.argument("run")
@click.argument("design", required=False)
@json_option
@click.option("--csv", "as_csv", is_flag=True, help="Print comma-separated values, one row a design.")
@click.option(
    "--parquet",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write the same rows as a Parquet file.",
)
@click.option("--answers", is_flag=True, help="Of a batch: one row a question, not a design.")
@click.option("--all", "everything", is_flag=True, help="Print every design, not only the best.")
@scores_option
@unused_options("--seed", "--workers", "--quiet")
def show(
    run: str,
    design: str | None,
    as_json: bool,
    as_csv: bool,
    parquet: Path | None,
    answers: bool,
    everything: bool,
    scores_file: Path | None,
) -> None:
    """Show RUN, a run or a batch, or one DESIGN of a run (an id, or any unambiguous beginning of one)."""
    from facewright.search.flat import table_of
    from facewright.search.folders import batch_of
    from facewright.search.report.scores import load_scores

    asked = {"--json": as_json, "--csv": as_csv, "--parquet": parquet is not None}
    if sum(asked.values()) > 1:
        both = " and ".join(name for name, given in asked.items() if given)
        raise UsageError(f"{both}: found both; accepted: one of them")
    if (folder := batch_of(run)) is not None:
        if design is not None:
            raise UsageError(
                f"{design}: found a design of a batch; accepted: the batch alone; `facewright rank` names its designs, "
                "and the brief of a question makes a run of it"
            )
        _show_batch(folder, as_json, as_csv, parquet, answers)
        return
    if answers:
        raise UsageError(f"--answers: found a run, {run}; accepted: a batch")
    answer = answer_of(run)
    kind = shown(answer)
    ranked = kind.ranked(answer, load_scores(scores_file))
    if design is not None:
        ranked = [one_of(ranked, design, run)]
    if as_csv or parquet is not None:
        _export(table_of(kind.rows(answer, ranked)), parquet)
    elif as_json and design is not None:
        echo_json(kind.form(answer, ranked)["designs"][0])
    elif design is not None:
        click.echo(kind.details(answer, ranked[0]))
    else:
        kind.show(answer, ranked, as_json, everything)


def _show_batch(folder: Path, as_json: bool, as_csv: bool, parquet: Path | None, answers: bool) -> None:
    """A batch as a table, or how far it is."""
    from facewright.search.batch.export import answers_table, designs_table
    from facewright.search.batch.store import BatchStore
    from facewright.search.folders import BATCH, REPORT

    with BatchStore.open(folder / BATCH) as store:
        if as_csv or parquet is not None:
            _export((answers_table if answers else designs_table)(store), parquet)
            return
        tally = store.tally()
        [(designs,)] = store.rows("SELECT COUNT(*) FROM designs")
        title, note = str(store.noted("title", "")), str(store.noted("note", ""))
    if as_json:
        echo_json({"folder": str(folder), "title": title, "note": note, **tally, "designs": designs})
        return
    failed = tally["done"] - tally.get("answered", 0)
    left = tally["different"] - tally["done"]
    click.echo(
        f"{title}: a batch of {tally['questions']:,} questions, {tally['different']:,} of them different; "
        f"{tally.get('answered', 0):,} answered, {failed:,} failed, {left:,} left; {designs:,} designs kept.\n"
        f"{folder / REPORT} shows them; `facewright rank {folder}` compares them; --csv and --parquet export them."
    )


def _export(table: Table, parquet: Path | None) -> None:
    """Rows to standard output, or to a file of Parquet."""
    from facewright.search.flat import write_csv, write_parquet

    if parquet is None:
        write_csv(table, sys.stdout)
    else:
        many = write_parquet(table, parquet)
        click.echo(f"{parquet}: {many:,} rows")


@click.command()
@click.argument("run")
@json_option
@scores_option
@quiet_option
@unused_options("--seed", "--workers")
def report(run: str, as_json: bool, scores_file: Path | None, quiet: bool) -> None:
    """Write the report of RUN, a run or a batch, anew."""
    from facewright.search.folders import batch_of, folder_of
    from facewright.search.report.scores import load_scores

    if (folder := batch_of(run)) is not None:
        from facewright.search.report.batch_page import write_batch_report

        if scores_file is not None:
            raise UsageError(
                "--scores: found a batch; accepted: a run (a batch keeps the scores of its designs)"
            )
        path = write_batch_report(folder)
    else:
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
