"""`facewright solids`: the fair solids, or one with its geometry."""

from __future__ import annotations

import json

import click
from facewright.search.cli.common import json_option, unused_options


@click.command()
@click.argument("name", required=False)
@json_option
@click.option(
    "--sides",
    type=click.IntRange(3, 120),
    default=12,
    show_default=True,
    help="Lists the members of families with polygons of up to so many sides.",
)
@click.option(
    "--shape",
    default="largest-numeral",
    show_default=True,
    metavar="AIM_OR_NUMBER",
    help="Free proportions: largest-numeral, settles-best or a number.",
)
@unused_options("--seed", "--workers", "--quiet")
def solids(name: str | None, as_json: bool, sides: int, shape: str) -> None:
    """List the fair solids, or those with so many faces ("24"), or show the one called NAME ("13-gonal bipyramid")."""
    from facewright.constraints.solids import solid
    from facewright.constraints.solids.geometry import about, geometry
    from facewright.constraints.texts import TextError
    from facewright.search.report.solids_text import particulars, table

    many = int(name) if name is not None and name.isdecimal() and len(name) < 5 else None
    try:
        if name is not None and many is None:
            row = geometry(solid(name, _shape(shape)))
            click.echo(json.dumps(row, ensure_ascii=False) if as_json else particulars(row))
            return
        from facewright.constraints.solids.catalogue import MOST_RESTS, listed

        aim = _shape(shape)
        if not isinstance(aim, str):
            raise TextError(f"--shape {shape} for a list", "an aim; a number goes with the NAME of one solid")
        names = listed(sides) if many is None else listed(many, many)
        if not names:
            raise TextError(f"{many} faces", f"from 2 to {MOST_RESTS}")
        rows = [about(solid(one, aim)) for one in names]
    except TextError as wrong:
        from facewright.constraints.errors import UsageError

        raise UsageError(f"solids: {wrong}") from None
    click.echo(json.dumps({"solids": rows}, ensure_ascii=False) if as_json else table(rows))


def _shape(text: str) -> str | float:
    """An aim's name, or a number where the text is one."""
    try:
        return float(text)
    except ValueError:
        return text
