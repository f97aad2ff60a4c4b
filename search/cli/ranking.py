"""`facewright rank`: designs of several runs and batches, compared."""

from __future__ import annotations

import click
from facewright.search.cli.common import echo_json, json_option, unused_options

SHOWN = 30


@click.command()
@click.argument("runs", nargs=-1, required=True, metavar="RUN...")
@click.option(
    "--keep", multiple=True, metavar="CONDITION", help='What every design must meet, such as "legible >= 80".'
)
@click.option(
    "--most",
    type=click.IntRange(1, 10_000),
    default=SHOWN,
    show_default=True,
    help="How many designs are shown.",
)
@json_option
@unused_options("--seed", "--workers", "--quiet")
def rank(runs: tuple[str, ...], keep: tuple[str, ...], most: int, as_json: bool) -> None:
    """Compare designs of each RUN, a run or a batch: what nothing betters first, then by weights."""
    from facewright.search.comparing import WEIGHTS, compared, conditions
    from facewright.search.report.readouts_text import columns

    found, front, many = compared(runs, conditions(keep), most)
    if as_json:
        designs = [
            {
                "name": one.name,
                "id": one.id,
                "front": one.front,
                "overall": one.overall,
                "dice": list(one.dice),
                **{key: str(value) if key == "distance" else value for key, value in one.values.items()},
            }
            for one in found
        ]
        echo_json({"compared": many, "front": front, "weights": WEIGHTS, "designs": designs})
        return
    rows = [("design", "front", "overall", "legible", "familiar", "cost", "distance", "dice")]
    for one in found:
        values = one.values
        rows.append(
            (
                one.name,
                "yes" if one.front else "",
                str(one.overall),
                f"{values['legible']:g}",
                f"{values['familiar']:g}",
                f"{values['cost']:g}",
                str(values["distance"]),
                "; ".join(one.dice),
            )
        )
    click.echo("\n".join(columns(rows)))
    weights = " and ".join(f"{name} {weight}" for name, weight in WEIGHTS.items())
    click.echo(
        f"\n{many:,} designs compared; {front:,} on the front: no other is at least as legible, familiar, cheap and "
        f"exact, and better in one of these. Within, by weights: {weights}."
    )
