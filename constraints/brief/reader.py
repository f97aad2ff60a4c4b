"""From a file or a text to the question it asks, or to all of its faults at once."""

from __future__ import annotations

import re
from pathlib import Path
from typing import BinaryIO

from facewright.constraints.brief.contest import question_of_contest
from facewright.constraints.brief.earlier import Earlier
from facewright.constraints.brief.faults import WHOLE, Faults
from facewright.constraints.brief.kinds import LAYOUT, NUMBERING, READOUTS, SMOOTH
from facewright.constraints.brief.layout import question_of_layout
from facewright.constraints.brief.numbering import question_of
from facewright.constraints.brief.readouts import question_of_readouts
from facewright.constraints.brief.smooth import question_of_smooth
from facewright.constraints.brief.structure import (
    kind_of,
    sound_common,
    sound_layout,
    sound_numbering,
    sound_readouts,
    sound_smooth,
)
from facewright.constraints.brief.toml import load
from facewright.constraints.contest import CONTESTS
from facewright.constraints.errors import UsageError
from facewright.constraints.question_form import Question

MOST_BYTES = 1_000_000
"""How large a brief may be; an ordinary one has less than a thousandth of it."""
_HALF = re.compile("[\ud800-\udfff]")
START = "`facewright new numbering` writes one to start from"


def read(path: str | Path, earlier: Earlier | None = None) -> Question:
    """The question that a brief asks; `earlier` finds the dice of earlier runs that it may name.

    Raises UsageError where there is no such file, BriefRefused with every fault where it cannot be answered.
    """
    return parse(text_of(path), str(path), earlier)


def text_of(path: str | Path) -> str:
    """The text of a brief.

    Raises UsageError where there is no such file, BriefRefused where it is too large or no text.
    """
    name = str(path)
    try:
        with Path(path).open("rb") as file:
            return decoded(file, name)
    except FileNotFoundError:
        raise UsageError(f"{name}: no such file; a brief is a text file, {START}") from None
    except IsADirectoryError:
        raise UsageError(f"{name}: a folder; name the brief in it, a text file such as brief.toml") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise UsageError(f"{name}: the file cannot be read ({reason})") from None


def decoded(file: BinaryIO, name: str) -> str:
    """The text that comes from an open file; `name` is what faults call it.

    Raises BriefRefused where it is too large or no text.
    """
    data = file.read(MOST_BYTES + 1)
    faults = Faults()
    if len(data) > MOST_BYTES:
        faults.add_at(
            0, WHOLE, f"more than {MOST_BYTES:,} bytes", "a short text; an ordinary brief has ten lines"
        )
        faults.refuse(name)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = f"a byte that is no UTF-8 text (0x{data[error.start]:02x})"
        faults.add_at(line, WHOLE, found, "a text file saved as UTF-8")
        faults.refuse(name)


def parse(text: str, name: str = "brief", earlier: Earlier | None = None) -> Question:
    """The question that the text of a brief asks.

    Params:
        text: the brief.
        name: what faults call it.
        earlier: finds the dice of earlier runs; without it a brief that names one is refused.

    Raises BriefRefused with every fault, each with its line, key, what was found and what would be accepted.
    """
    faults = Faults()
    if broken := _HALF.search(text):
        line = text.count("\n", 0, broken.start()) + 1
        faults.add_at(line, WHOLE, "half of a character (a lone surrogate)", "whole characters")
        faults.refuse(name)
    raw = load(text.removeprefix("\ufeff"), faults)
    if not raw and not faults:
        faults.add_at(0, WHOLE, "an empty file", f"a brief; {START}")
    if not raw:
        faults.refuse(name)
    kind = kind_of(raw, faults)
    question: Question | None = None
    if kind is NUMBERING:
        part = sound_numbering(raw, faults)
        question = question_of_contest(part, faults) if part.read in CONTESTS else question_of(part, faults)
    elif kind is READOUTS:
        question = question_of_readouts(sound_readouts(raw, faults), faults)
    elif kind is LAYOUT:
        question = question_of_layout(sound_layout(raw, faults), faults, earlier)
    elif kind is SMOOTH:
        question = question_of_smooth(sound_smooth(raw, faults), faults)
    else:
        sound_common(raw, kind, faults)
    if question is None:
        faults.refuse(name)
    return question
