"""`facewright make`: files for whoever makes a design: nets, artwork, meshes, drawings, notes."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from facewright.constraints.errors import UsageError
from facewright.constraints.layout import SIZES
from facewright.search.cli.common import (
    ProgressLine,
    echo_json,
    interruptible,
    json_option,
    quiet_option,
    say,
    unused_options,
)
from facewright.search.cli.kinds import shown

if TYPE_CHECKING:
    from facewright.constraints.smooth_design import SmoothDesign
    from facewright.search.make.dice import DieToMake
    from facewright.search.make.sizing import Wishes

ROUTES = ("mould", "cast", "laser", "print")


class Millimetres(click.FloatRange):
    """A length; "nan", which no range shuts out, is none."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The length as a number."""
        found = super().convert(value, param, ctx)
        if math.isnan(found):
            self.fail(f"{value} is no length; accepted: {self.min:g} to {self.max:g}", param, ctx)
        return found


@click.command()
@click.argument("run")
@click.argument("design")
@click.option(
    "--out", type=click.Path(path_type=Path), help="The folder for the files; RUN/make/DESIGN without it."
)
@click.option("--size", type=Millimetres(1, 500), metavar="MM", help="The size, in millimetres.")
@click.option("--size-is", type=click.Choice(SIZES), help="What the size measures; across-flats without it.")
@click.option(
    "--by", "route", type=click.Choice(ROUTES), default="mould", show_default=True, help="How it is made."
)
@click.option(
    "--paper", type=click.Choice(("a4", "letter")), default="a4", show_default=True, help="The sheets."
)
@click.option("--raised", is_flag=True, help="Raised numerals: a mock-up to look at, for it rocks.")
@click.option("--pips", is_flag=True, help="Pips for numbers from 1 to 9; 0 is a blank.")
@click.option("--font", type=click.Path(path_type=Path), metavar="FILE", help="A TrueType or OpenType file.")
@click.option(
    "--face-numbers",
    is_flag=True,
    help="A prototype to roll: each face has its own number, 1 for f1, in place of its label.",
)
@click.option(
    "--picture",
    "pictures",
    multiple=True,
    metavar="LABEL=FILE",
    help="An SVG file whose outline stands for a label; may be given for several.",
)
@json_option
@quiet_option
@unused_options("--seed", "--workers")
def make(
    run: str,
    design: str,
    out: Path | None,
    size: float | None,
    size_is: str | None,
    route: str,
    paper: str,
    raised: bool,
    pips: bool,
    font: Path | None,
    face_numbers: bool,
    pictures: tuple[str, ...],
    as_json: bool,
    quiet: bool,
) -> int:
    """Write what a maker needs for DESIGN of RUN: a folder a die with artwork, net, meshes, drawing and notes."""
    from facewright.search.artwork.lettering import Lettering
    from facewright.search.cli.showing import answer_of, one_of
    from facewright.search.folders import folder_of
    from facewright.search.make.dice import by_face, dice_of
    from facewright.search.make.maker import make_die
    from facewright.search.make.sizing import Wishes, sized
    from facewright.search.report.scores import load_scores
    from facewright.search.stop import Limits, Stopped

    answer = answer_of(run)
    one = one_of(shown(answer).ranked(answer, load_scores(None)), design, run)
    if font is not None:
        _tried(font)
    drawn = _pictures(pictures)
    wishes, lettering = Wishes(size, size_is, paper, route, raised), Lettering(font, pips, drawn)
    folder = out or folder_of(run) / "make" / (one.id[:8] + ("-faces" if face_numbers else ""))
    limits = Limits()
    made: list[dict[str, Any]] = []
    if answer.question.kind == "smooth":
        return _smooth(answer, one.design, wishes, folder, as_json, quiet, lettering != Lettering())
    with interruptible(limits, quiet), ProgressLine(quiet) as report:
        dice = dice_of(answer, one, lettering=lettering, stop=limits, report=report)
        if face_numbers:
            dice = [by_face(die, lettering) for die in dice]
        ready = [sized(die, wishes) for die in dice]
        _all_stand(drawn, [die.die for die in ready])
        for die in ready:
            if limits():
                break
            try:
                done = make_die(die, folder / die.die.folder, limits, report)
            except Stopped:
                break
            made.append(
                {
                    "folder": str(folder / die.die.folder),
                    "dice": list(die.die.positions),
                    "solid": die.die.artwork.solid.name,
                    "size": die.across,
                    "files": list(done.files),
                    "notes": list(done.told),
                }
            )
    if as_json:
        echo_json({"design": one.id, "made": made})
    else:
        for entry in made:
            places = ", ".join(map(str, entry["dice"]))
            click.echo(f"{entry['folder']}  (die {places}: {entry['solid']}, {entry['size']})")
            click.echo(f"  {' '.join(entry['files'])}")
        for line in dict.fromkeys(line for entry in made for line in entry["notes"]):
            say(quiet, line)
    return 1 if len(made) < len(ready) else 0


def _smooth(
    answer: Any,
    design: SmoothDesign,
    wishes: Wishes,
    folder: Path,
    as_json: bool,
    quiet: bool,
    drawn: bool,
) -> int:
    """Makes the files of a smooth body."""
    from facewright.search.make.smooth_maker import make_smooth, width_wanted
    from facewright.search.stop import Limits, Stopped

    if drawn:
        raise UsageError("--font, --pips, --picture: found a smooth body; accepted: its usual numerals")
    limits, across = Limits(), f"{width_wanted(answer.question, wishes):g} mm wide"
    place = folder / "die-1"
    with interruptible(limits, quiet), ProgressLine(quiet) as report:
        try:
            done = make_smooth(answer.question, design, wishes, place, limits, report, answer.layouts)
        except Stopped:
            return 1
    name = f"{design.symmetry} body of constant width"
    if as_json:
        entry = {"folder": str(place), "dice": [1], "solid": name, "size": across}
        echo_json(
            {"design": design.id, "made": [{**entry, "files": list(done.files), "notes": list(done.told)}]}
        )
        return 0
    click.echo(f"{place}  ({name}, {across})")
    click.echo(f"  {' '.join(done.files)}")
    for line in done.told:
        say(quiet, line)
    return 0


def _tried(font: Path) -> None:
    """Raises UsageError for a font file that cannot be used."""
    from facewright.search.artwork.glyphs import outlines

    try:
        outlines("0", font)
    except UsageError as wrong:
        raise UsageError(f"--font: {wrong}") from wrong
    except Exception as wrong:  # whatever a font library says of a file that is none
        raise UsageError(
            f"--font: found {font}, which cannot be used ({wrong}); accepted: a TrueType or OpenType file"
        ) from wrong


def _pictures(given: tuple[str, ...]) -> tuple[tuple[str, Path | str], ...]:
    """The labels with their files; raises UsageError for a wish without both, and for a file that is no outline."""
    from facewright.search.artwork.pictures import picture

    found: dict[str, Path | str] = {}
    for wish in given:
        label, sign, file = wish.partition("=")
        if not (label and sign and file) or label in found:
            raise UsageError(
                f"--picture: found {wish!r}; accepted: LABEL=FILE, such as yes=sun.svg, a label once"
            )
        found[label] = Path(file)
        picture(Path(file))
    return tuple(found.items())


def _all_stand(pictures: tuple[tuple[str, Path | str], ...], dice: list[DieToMake]) -> None:
    """Raises UsageError for a picture of a label that stands nowhere."""
    labels = sorted(
        {mark.text for die in dice for mark in die.artwork.marks}, key=lambda text: (len(text), text)
    )
    absent = [label for label, _ in pictures if label not in labels]
    if absent:
        raise UsageError(
            f"--picture: found no label {', '.join(absent)} on the dice; accepted: one of {', '.join(labels)}"
        )
