"""`facewright check`: recounts every design by independent means."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click
from facewright.search.cli.common import echo_json, json_option, unused_options

if TYPE_CHECKING:
    from facewright.search.claims import Checked

WRONG = 3
"""Exit status where a design is wrong."""


@click.command()
@click.argument("run_or_json")
@json_option
@unused_options("--seed", "--workers", "--quiet")
def check(run_or_json: str, as_json: bool) -> int:
    """Recount every design of RUN_OR_JSON: a run, or a file that holds the JSON of an answer (- for standard input)."""
    found = _checked(run_or_json)
    if as_json:
        echo_json(found.as_json())
    else:
        some = "1 design" if found.checked == 1 else f"{found.checked:,} designs"
        click.echo(f"{some} recounted: " + ("all agree" if found.sound else f"{len(found.wrong):,} wrong"))
        for one, faults in found.wrong:
            click.echo(f"{one}: {'; '.join(faults)}")
        for fault in found.faults:
            click.echo(fault)
    return 0 if found.sound else WRONG


def _checked(name: str) -> Checked:
    from facewright.constraints.errors import UsageError
    from facewright.search.claims import checked
    from facewright.search.folders import STORE, folder_of

    path = Path(name)
    if name == "-" or (path.is_file() and path.name != STORE):
        from facewright.search.export import from_json

        try:
            text = sys.stdin.read() if name == "-" else path.read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as wrong:
            raise UsageError(f"{name}: cannot be read as text ({wrong})") from wrong
        try:
            return checked(*from_json(text, name))
        except (TypeError, ValueError, LookupError, AttributeError) as wrong:
            # JSON with the right names and wrong values under them
            raise UsageError(f"{name}: found values that no answer has ({wrong})") from wrong
    from facewright.search.store import Store

    with Store.open((path.parent if path.is_file() else folder_of(name)) / STORE) as store:
        listed = sum(outcome.listed for outcome in store.outcomes())
        return checked(store.question, store.claims(), listed, store.layouts())
