"""`facewright check`: recounts every design by independent means."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from facewright.search.cli.common import json_option, quiet_option, unused_options

if TYPE_CHECKING:
    from facewright.constraints.question import Numbering
    from facewright.constraints.readouts import Readouts

WRONG = 3
"""Exit status where a design is wrong."""


@click.command()
@click.argument("run_or_json")
@json_option
@quiet_option
@unused_options("--seed", "--workers")
def check(run_or_json: str, as_json: bool, quiet: bool) -> int:
    """Recount every design of RUN_OR_JSON: a run folder, or a file that holds the JSON of an answer."""
    question, designs = _designs(run_or_json)
    checked, wrong = 0, []
    for claimed, design in designs:
        checked += 1
        faults = _faults(question, claimed, design)
        if faults:
            wrong.append({"id": claimed, "faults": faults})
    if as_json:
        click.echo(json.dumps({"checked": checked, "wrong": wrong}, ensure_ascii=False))
    else:
        some = "1 design" if checked == 1 else f"{checked:,} designs"
        click.echo(f"{some} recounted: " + ("all agree" if not wrong else f"{len(wrong):,} wrong"))
    if not quiet:
        for one in wrong:
            print(f"{one['id']}: {'; '.join(one['faults'])}", file=sys.stderr)
    return WRONG if wrong else 0


def _designs(name: str) -> tuple[Numbering | Readouts, Iterable[tuple[str, Any]]]:
    from facewright.search.runs import STORE, folder_of

    path = Path(name)
    if path.is_file() and path.name != STORE:
        from facewright.constraints.errors import UsageError
        from facewright.search.export import from_json

        try:
            text = path.read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as wrong:
            raise UsageError(f"{name}: cannot be read as text ({wrong})") from wrong
        return from_json(text, name)
    from facewright.search.store import Store

    store = Store.open((path.parent if path.is_file() else folder_of(name)) / STORE)
    return store.question, store.claims()


def _faults(question: Numbering | Readouts, claimed: str, design: Any) -> list[str]:
    from facewright.constraints.readouts import Readouts

    finding: Any
    if isinstance(question, Readouts):
        from facewright.search.recount_readouts import recount_readouts

        finding = recount_readouts(question, design)
    else:
        from facewright.search.recount import recount

        finding = recount(question, design)
    faults = list(finding.faults)
    if not faults and design.id != claimed:
        faults.append(f"its id should be {design.id}")
    return faults
