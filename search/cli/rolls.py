"""`facewright rolls`: rolls of real dice against their design; without rolls, a plan and log sheets."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from facewright.constraints.errors import RunError, UsageError
from facewright.search.cli.common import (
    ProgressLine,
    echo_json,
    json_option,
    quiet_option,
    say,
    unused_options,
    width,
)
from facewright.search.cli.kinds import shown

if TYPE_CHECKING:
    from facewright.search.rolls.judging import Judged
    from facewright.search.rolls.tally import Tally
    from facewright.search.rolls.views import Subject

PERCENT = click.FloatRange(0, 100, min_open=True, max_open=True)


@click.command()
@click.argument("run")
@click.argument("design")
@click.argument("table", metavar="[ROLLS.csv]", type=click.Path(path_type=Path), required=False)
@click.option(
    "--off", multiple=True, metavar="PERCENT", type=click.FloatRange(0, 1000, min_open=True),
    help="A bias of one face, in per cent of its own chance; several when planning.",
)  # fmt: skip
@click.option(
    "--certainty", multiple=True, metavar="PERCENT", type=PERCENT,
    help="How sure to be to see it; several when planning.",
)  # fmt: skip
@click.option(
    "--level", metavar="PERCENT", type=PERCENT, default=5, show_default=True,
    help="How often a false alarm is accepted.",
)  # fmt: skip
@click.option(
    "--sheet", type=click.Path(path_type=Path), metavar="FILE.pdf", help="Write log sheets to print."
)
@click.option(
    "--rolls", "many", type=click.IntRange(1, 20_000), default=200, show_default=True,
    help="For --sheet: how many rolls the sheets hold.",
)  # fmt: skip
@click.option("--faces", is_flag=True, help="For --sheet: columns for faces, not labels.")
@click.option(
    "--paper", type=click.Choice(("a4", "letter")), default="a4", show_default=True, help="For --sheet."
)
@click.option("--out", type=click.Path(path_type=Path), metavar="FILE.html", help="Where the page goes.")
@click.option(
    "--seed",
    type=click.IntRange(0, 2**31 - 1),
    default=0,
    show_default=True,
    help="Seed for simulated numbers.",
)
@json_option
@quiet_option
@unused_options("--workers")
def rolls(
    run: str,
    design: str,
    table: Path | None,
    off: tuple[float, ...],
    certainty: tuple[float, ...],
    level: float,
    sheet: Path | None,
    many: int,
    faces: bool,
    paper: str,
    out: Path | None,
    seed: int,
    as_json: bool,
    quiet: bool,
) -> int:
    """Test rolls of DESIGN of RUN that stand in ROLLS.csv; without that file, plan how many rolls it takes."""
    from facewright.search.cli.showing import answer_of, one_of
    from facewright.search.report.scores import load_scores
    from facewright.search.rolls.subject import subject_of

    if min(certainty, default=100.0) <= level:
        raise UsageError(f"--certainty: found {min(certainty):g}; accepted: more than the level, {level:g}")
    answer = answer_of(run)
    one = one_of(shown(answer).ranked(answer, load_scores(None)), design, run)
    subject = subject_of(answer, one)
    shares, sure = tuple(x / 100 for x in off), tuple(x / 100 for x in certainty)
    if sheet is not None:
        _write_sheet(sheet, answer.question.title, one.id, subject, many, faces, paper)
        say(quiet, f"log sheets: {sheet}")
    if table is None:
        _plan(subject, shares, sure, level / 100, seed, as_json)
        return 0
    from facewright.search.rolls.judging import judged
    from facewright.search.rolls.tally import tallied

    with ProgressLine(quiet) as report:
        tally = tallied(table, subject, report)
        found = judged(
            tally,
            subject.untested(tally.present),
            level=level / 100,
            off=shares[0] if shares else 0.2,
            wanted=sure[0] if sure else 0.9,
            seed=seed,
        )
    page = None
    if out is not None or not as_json:
        page = _write_page(out, run, answer.question.title, one.id, table, found, tally, subject, quiet)
    if as_json:
        echo_json(_json(found, tally, subject, one.id, page))
    else:
        from facewright.search.rolls.text import rolls_text

        click.echo(rolls_text(found, tally, subject, width()))
    if not tally.rolls:
        say(False, f"facewright: {table}: no row that could be read tells a roll; the reasons stand above")
        return 2
    return 0


def _plan(
    subject: Subject, off: tuple[float, ...], sure: tuple[float, ...], level: float, seed: int, as_json: bool
) -> None:
    from facewright.search.rolls.plan import USUAL_CERTAINTY, USUAL_OFF, plan_json, plan_text, planned

    plan = planned(subject, off or USUAL_OFF, sure or USUAL_CERTAINTY, level, seed)
    if as_json:
        echo_json(plan_json(plan, level))
    else:
        click.echo(plan_text(plan, subject, level))


def _json(found: Judged, tally: Tally, subject: Subject, design: str, page: Path | None) -> dict[str, Any]:
    from facewright.search.rolls.export import as_json
    from facewright.search.rolls.words import looked_sentence, seen_sentence, sentence, together_sentence

    said = {
        "design": design,
        "of": subject.words,
        "sentence": sentence(found, tally, subject),
        "would_have_seen": seen_sentence(found),
        "looked": looked_sentence(found),
        "errors": together_sentence(found),
        "page": None if page is None else str(page),
    }
    return as_json(found, tally, said)


def _write_page(
    out: Path | None,
    run: str,
    title: str,
    design: str,
    table: Path,
    found: Judged,
    tally: Tally,
    subject: Subject,
    quiet: bool,
) -> Path | None:
    """Writes the page; where nobody asked for it, a folder that cannot be written is only said."""
    from facewright.search.folders import folder_of, slug, write_text
    from facewright.search.rolls.page import rolls_page

    path = out or folder_of(run) / "rolls" / f"{design[:8]}-{slug(table.stem)}.html"
    text = rolls_page(title, design, run, table.name, found, tally, subject)
    try:
        if out is None:
            path.parent.mkdir(exist_ok=True)
        write_text(path, text)
    except (RunError, OSError) as wrong:
        if out is not None:
            raise UsageError(
                f"--out: {path} cannot be written ({getattr(wrong, 'strerror', None) or wrong.__cause__}); accepted: a "
                "file in a folder that is there"
            ) from wrong
        say(quiet, f"no page: {path.parent} cannot be written; --out names another file")
        return None
    say(quiet, f"page: {path}")
    return path


def _write_sheet(
    path: Path, title: str, design: str, subject: Subject, many: int, faces: bool, paper: str
) -> None:
    from facewright.search.make.pages import pdf_of
    from facewright.search.rolls.sheet import sheet_pages

    columns = _columns(subject, faces)
    pages = sheet_pages(f"{title}: {subject.words}", design, columns, many, paper)
    try:
        path.write_bytes(pdf_of(pages, f"Rolls of {title}"))
    except OSError as wrong:
        raise UsageError(
            f"--sheet: {path} cannot be written ({wrong.strerror}); accepted: a file name"
        ) from wrong


def _columns(subject: Subject, faces: bool) -> list[str]:
    """The columns of a log sheet: every label that a roll shows, or every face."""
    known = list(subject.columns())
    by_face = [name for name in known if name == "face" or name.startswith("face_")]
    if faces and not by_face:
        raise UsageError("--faces: found a design whose labels are rolled again; accepted: sheets for labels")
    if faces:
        return by_face[:1] if "face" in by_face else by_face
    own = [name for name in known if name not in by_face]
    dice = [name for name in own if name.startswith("die_")]
    return ["result"] if len(dice) == 1 and "result" in own else dice or own
