"""What a terminal can show: blocks or ASCII alone, bold or not; and text made safe for it."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Mapping, Sequence
from typing import Any

NARROWEST = 48
"""A narrower terminal is written to as if it were so wide."""

USED = "▁▂▃▄▅▆▇█▏▎▍▌▋▊▉│░·×"
"""All that is drawn with beyond ASCII."""

ASCII_FOR = str.maketrans(
    {"×": "x", "·": ".", "–": "-", "—": "-", "−": "-", "…": "...", "’": "'", "“": '"', "”": '"'}
)
"""How what we write ourselves is written in ASCII."""


def can_draw(encoding: str | None) -> bool:
    """Whether text in this encoding can hold the blocks; None stands for an unknown one, which cannot."""
    try:
        return bool(USED.encode(encoding or "ascii"))
    except (UnicodeEncodeError, LookupError):
        return False


def wants_bold(terminal: bool, environment: Mapping[str, str]) -> bool:
    """Whether headings may be bold: on a terminal, unless NO_COLOR is set to anything or TERM is dumb."""
    return terminal and not environment.get("NO_COLOR") and environment.get("TERM") != "dumb"


def in_ascii(text: str) -> str:
    """The text with the nearest ASCII characters; a question mark where there is none."""
    apart = unicodedata.normalize("NFKD", text.translate(ASCII_FOR))
    kept = "".join(one for one in apart if not unicodedata.combining(one))
    return kept.encode("ascii", "replace").decode()


def folded(value: Any) -> Any:
    """A summary or a design with every text in ASCII."""
    if isinstance(value, str):
        return in_ascii(value)
    if isinstance(value, Mapping):
        return {key: folded(one) for key, one in value.items()}
    return [folded(one) for one in value] if isinstance(value, list | tuple) else value


def clean(text: object) -> str:
    """Text of a brief in one line, without characters that could command a terminal."""
    return "".join(one if one.isprintable() else " " for one in str(text))


def bold(text: str, colour: bool) -> str:
    """The text in bold, where that is wanted."""
    return f"\033[1m{text}\033[0m" if colour and text else text


def wrapped(text: str, width: int, indent: str = "") -> list[str]:
    """The lines of a paragraph, each no longer than `width`; one empty line for an empty text."""
    return textwrap.wrap(text, width, initial_indent=indent, subsequent_indent=indent) or [indent.rstrip()]


def sentence(said: Sequence[str]) -> str:
    """Several things said in one sentence."""
    text = "; ".join(said)
    return f"{text[:1].upper()}{text[1:]}."
