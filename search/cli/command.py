"""The group of all commands, and what becomes of whatever they raise."""

from __future__ import annotations

import sys
import tempfile
import traceback
from contextlib import suppress

import click
from facewright.constraints.errors import FacewrightError
from facewright.search.cli.batching import batch
from facewright.search.cli.checking import check
from facewright.search.cli.common import remark
from facewright.search.cli.finding import find, new
from facewright.search.cli.making import make
from facewright.search.cli.measuring import measure
from facewright.search.cli.own import ways
from facewright.search.cli.ranking import rank
from facewright.search.cli.rolls import rolls
from facewright.search.cli.sheets import sheet
from facewright.search.cli.showing import list_runs, report, show
from facewright.search.cli.solids import solids


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="facewright", message="facewright %(version)s")
def facewright() -> None:
    """A search engine for new dice: which numberings exist, all of them, or a proof that there are none.

    Write a brief (facewright new numbering), let it be answered (facewright find BRIEF), look at the report.
    """


for command in (
    find,
    batch,
    ways,
    new,
    check,
    list_runs,
    show,
    report,
    make,
    measure,
    rank,
    rolls,
    sheet,
    solids,
):
    facewright.add_command(command)


def status_of(arguments: list[str] | None = None) -> int:
    """Runs the command and gives its exit status."""
    try:
        result = facewright.main(args=arguments, prog_name="facewright", standalone_mode=False)
        sys.stdout.flush()
        return result if isinstance(result, int) else 0
    except click.exceptions.Abort:
        return _said("interrupted", 1)
    except click.ClickException as wrong:
        with suppress(OSError):
            wrong.show(file=sys.stderr)
        return 2
    except FacewrightError as wrong:
        return _said(str(wrong), wrong.exit_status)
    except (BrokenPipeError, SystemExit):
        # whoever read our output has seen enough (click ends the process then); a flush at exit must not complain
        sys.stdout = None
        return 0
    except KeyboardInterrupt:
        return _said("interrupted", 1)
    except MemoryError:
        return _said(
            "the machine's memory is used up; narrow the brief (fewer or smaller dice, label rules)", 1
        )
    except OSError as wrong:
        # files of ours have errors of their own: this is mostly standard output on a full disk
        sys.stdout = None
        return _said(f"{wrong.filename or 'the output'} cannot be written ({wrong.strerror})", 1)
    except Exception as wrong:
        return _said(f"a fault of this program ({type(wrong).__name__}: {wrong}){_noted()}", 1)


def _noted() -> str:
    """Keeps the traceback in a file for whoever reports the fault; says where, if it could be written."""
    try:
        with tempfile.NamedTemporaryFile("w", prefix="facewright-", suffix=".txt", delete=False) as notes:
            traceback.print_exc(file=notes)
    except OSError:
        return ""
    return f"; details are in {notes.name}"


def _said(text: str, status: int) -> int:
    remark(f"facewright: {text}")
    return status
