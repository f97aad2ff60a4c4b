"""What the commands share: options, interrupts, progress, the look of the terminal."""

from __future__ import annotations

import os
import shutil
import signal
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Any, TypedDict, TypeVar

import click

if TYPE_CHECKING:
    from facewright.search.answer import Answer
    from facewright.search.rank import Ranked
    from facewright.search.stop import Limits

Command = TypeVar("Command", bound=Callable[..., Any])

ROWS = 30
"""Designs in a table at most, unless all are asked for."""

FACES = 900
"""Faces in a table, about: of sets with many faces fewer designs are shown."""

EVERY = 0.2
"""Seconds between two updates of the progress line."""


def quiet_option(command: Command) -> Command:
    """`--quiet`."""
    return click.option("--quiet", "-q", is_flag=True, help="Say nothing on standard error but errors.")(
        command
    )


def json_option(command: Command) -> Command:
    """`--json`."""
    return click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")(command)


def search_options(command: Command) -> Command:
    """`--seed` and `--workers`."""
    command = click.option(
        "--workers",
        type=click.IntRange(1, 256),
        default=1,
        show_default=True,
        help="Processes that share the sets of dice of a choice, or its solids.",
    )(command)
    return click.option(
        "--seed",
        type=click.IntRange(0, 2**31 - 1),
        default=0,
        show_default=True,
        help="Seed for engines that use chance.",
    )(command)


def unused_options(*names: str) -> Callable[[Command], Command]:
    """Options that every command takes, on one where they change nothing: accepted, not shown."""

    def with_them(command: Command) -> Command:
        for name in names:
            flag = name == "--quiet"
            declared = ("--quiet", "-q") if flag else (name,)
            kind = None if flag else click.IntRange(0)
            command = click.option(*declared, is_flag=flag, type=kind, hidden=True, expose_value=False)(
                command
            )
        return command

    return with_them


def scores_option(command: Command) -> Command:
    """`--scores`."""
    return click.option(
        "--scores",
        "scores_file",
        type=click.Path(path_type=Path),
        metavar="FILE",
        help="A TOML file with your own weights for the scores (docs/reference/scores.md).",
    )(command)


@contextmanager
def interruptible(limits: Limits, quiet: bool) -> Iterator[None]:
    """The first Ctrl-C (or SIGTERM) asks the search to stop and keep what it found; a second one ends it at once."""

    def ask(_signal: int, _frame: FrameType | None) -> None:
        if limits.interrupted:
            raise KeyboardInterrupt
        limits.interrupted = True
        if not quiet:
            # past the buffer of standard error, in whose midst the signal may have come
            os.write(2, b"\nstopping; what was found is kept (once more to end at once)\n")

    before = {number: signal.signal(number, ask) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


class ProgressLine:
    """Progress on one line of standard error, where that is a terminal; used as a context manager."""

    def __init__(self, quiet: bool) -> None:
        self._shown = not quiet and sys.stderr.isatty()
        self._last = time.monotonic()
        self._wrote = False

    def __enter__(self) -> ProgressLine:
        return self

    def __exit__(self, *_: object) -> None:
        if self._wrote:
            remark("\r\x1b[K", end="")

    def __call__(self, doing: str, done: int, of: int | None) -> None:
        """Shows how far it is, a few times a second."""
        now = time.monotonic()
        if not self._shown or now - self._last < EVERY:
            return
        self._last = now
        self._wrote = True
        far = f"{done:,} of {of:,}" if of else f"{done:,}" if done else "…"
        remark(f"\r\x1b[K{doing}: {far}", end="")


def echo_json(value: object) -> None:
    """Prints a value as one line of JSON, in ASCII where the encoding of standard output cannot hold it."""
    import json

    text = json.dumps(value, ensure_ascii=False)
    try:
        text.encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        text = json.dumps(value)
    click.echo(text)


def say(quiet: bool, text: str) -> None:
    """A remark on standard error, unless it was asked to be quiet."""
    if not quiet:
        remark(text)


def remark(text: str, end: str = "\n") -> None:
    """Writes to standard error; where that cannot be (a full disk, a reader that left) the work goes on without."""
    try:
        print(text, end=end, file=sys.stderr, flush=True)
    except OSError:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115 - open to the end


def width() -> int:
    """The width of the terminal in characters."""
    return shutil.get_terminal_size((100, 24)).columns


class Look(TypedDict):
    """How text is to look on standard output."""

    colour: bool
    plain: bool


def look() -> Look:
    """Bold where standard output is a terminal that wants it, ASCII where its encoding has no blocks."""
    from facewright.search.report.terminal import can_draw, wants_bold

    return {"colour": wants_bold(sys.stdout.isatty(), os.environ), "plain": not can_draw(sys.stdout.encoding)}


def show_answer(answer: Answer, ranked: list[Ranked], as_json: bool, everything: bool = False) -> None:
    """Prints an answer as JSON, or as a table of its best designs, or of all."""
    if as_json:
        from facewright.search.export import as_json as form

        echo_json(form(answer, ranked))
        return
    from facewright.search.report.contents import entries, summary
    from facewright.search.report.text import table

    faces = max((sum(die.faces for die in one.scores.design.dice) for one in ranked), default=1)
    shown = ranked if everything else ranked[: max(5, min(ROWS, FACES // faces))]
    click.echo(table(summary(answer), entries(answer, shown, parts=False), width(), **look()))
    if len(shown) < len(ranked):
        click.echo(
            f"{len(ranked) - len(shown):,} more are in the report; `facewright show RUN --all` prints them all."
        )


def status(answer: Answer) -> int:
    """0 where the question was answered or the user's own limit on designs ended it, else 1.

    Where all designs are counted and only some listed, what was cut short is the search for the best of them.
    """
    limit = answer.question.stop.designs
    unselected = any(
        one.closing.count_is == "all" and one.listed < one.closing.count for one in answer.outcomes
    )
    wanted = limit is not None and len(answer.found) >= limit and not unselected
    return 0 if answer.verdict != "partial" or wanted else 1
