"""`facewright ways`: the distribution of dice that are there already."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from facewright.search.cli.common import (
    echo_json,
    json_option,
    look,
    quiet_option,
    say,
    scores_option,
    unused_options,
    width,
)

if TYPE_CHECKING:
    from facewright.search.own_dice import OwnDice


@click.command(context_settings={"ignore_unknown_options": True})
@click.argument("labels", nargs=-1, required=True)
@click.option("--read", default="total", show_default=True, help="How the dice are read.")
@click.option("--modulo", type=click.IntRange(2, 1_000_000), help="For --read total-modulo: the number.")
@click.option(
    "--keep", type=click.IntRange(1), help="For total-of-highest, total-of-lowest: how many labels count."
)
@click.option("--at-least", type=int, help="For --read how-many: the least label that counts.")
@click.option("--reroll", metavar="LABELS", help="Labels that are rolled again once, such as 1.")
@click.option("--like", help="A target to compare with, such as 2d6.")
@click.option(
    "--save",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="Keep the dice as a design in a run folder.",
)
@click.option("--replace", is_flag=True, help="Forget what that run folder holds.")
@json_option
@scores_option
@quiet_option
@unused_options("--seed", "--workers")
def ways(
    labels: tuple[str, ...],
    read: str,
    modulo: int | None,
    keep: int | None,
    at_least: int | None,
    reroll: str | None,
    like: str | None,
    save: Path | None,
    replace: bool,
    as_json: bool,
    scores_file: Path | None,
    quiet: bool,
) -> None:
    """Show what dice do that you already have: one list of LABELS a die, such as "1 2 2 3 3 4" "1 3 4 5 6 8"."""
    from facewright.search.own_dice import again_of, own_dice
    from facewright.search.report.scores import load_scores

    settings = load_scores(scores_file)
    told = {"modulo": modulo, "keep": keep, "at_least": at_least, "reroll": again_of(reroll)}
    dice = own_dice(labels, read, like, told)
    if as_json:
        echo_json(dice.as_json(settings))
    else:
        click.echo(_text(dice))
    if save is not None:
        from facewright.search.report.contents import ranked_designs
        from facewright.search.report.writing import write_report
        from facewright.search.runs import perform
        from facewright.search.stop import never

        answer, _ = perform(
            dice.question, dice.brief, save, seed=0, stop=never, report=lambda *_: None, again=replace
        )
        say(quiet, f"saved: {write_report(answer, ranked_designs(answer, settings), save)}")


def _text(dice: OwnDice) -> str:
    from facewright.search.report.terminal import in_ascii
    from facewright.search.report.text import distribution_text

    target: Any = None if dice.like is None else list(dice.question.target.pairs)
    shown = look()
    chart = distribution_text(list(dice.distribution.pairs), target, width(), **shown)
    return f"{in_ascii(dice.sentence) if shown['plain'] else dice.sentence}\n\n{chart}"
