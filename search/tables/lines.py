"""The lines of a table: whatever its encoding, its ends of line and its separator, none is lost."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from facewright.constraints.errors import UsageError

LONGEST = 65_536
"""Characters of a line at most: what is longer is no row of a table."""

SEPARATORS = (";", ",", "\t")
"""What can stand between the fields."""

LOOKED_AT = 64
"""Bytes at the beginning of a file that tell how it is encoded."""


class Unreadable(Exception):
    """Why a row cannot be read, in words for the person who wrote it."""


@contextmanager
def opened(path: Path) -> Iterator[IO[str]]:
    """A table as text; bytes that are no UTF-8 are kept (see `repaired`), UTF-16 is recognised.

    Raises: UsageError where the file cannot be opened.
    """
    try:
        raw = path.open("rb")
    except (OSError, ValueError) as wrong:
        why = getattr(wrong, "strerror", None) or str(wrong)
        raise UsageError(
            f"{path}: cannot be read ({why}); accepted: a table of comma-separated values"
        ) from wrong
    with raw, io.TextIOWrapper(raw, _encoding(raw.peek(LOOKED_AT)[:LOOKED_AT]), "surrogateescape") as text:
        yield text


def _encoding(begins: bytes) -> str:
    if begins.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "utf-16"
    if b"\x00" in begins:
        return "utf-16-le" if begins[1:2] == b"\x00" else "utf-16-be"
    return "utf-8-sig"


def lines_of(text: IO[str]) -> Iterator[tuple[int, str]]:
    """Number, from 1, and text of each line; an overlong one is cut to one character more than `LONGEST`.

    Raises: UsageError where reading fails midway.
    """
    number = 0
    try:
        while line := text.readline(LONGEST + 1):
            number += 1
            rest = line
            while len(rest) > LONGEST and not rest.endswith("\n"):
                rest = text.readline(LONGEST + 1)
            yield number, line
    except (OSError, UnicodeError) as wrong:
        raise UsageError(
            f"line {number + 1}: cannot be read ({wrong}); accepted: a table in UTF-8"
        ) from wrong


def repaired(field: str) -> str:
    """A field whose bytes are no UTF-8, read as the encoding of older spreadsheets (Windows-1252).

    Example:
        >>> repaired(b"W\\xe4chter".decode("utf-8", "surrogateescape"))
        'Wächter'
    """
    if field.isascii() or not any("\udc80" <= one <= "\udcff" for one in field):
        return field
    return field.encode("utf-8", "surrogateescape").decode("cp1252", "replace")


def separator_of(header: str) -> str:
    """What separates the fields of a header: the one of `SEPARATORS` that stands there most often, outside quotes."""
    bare = "".join(header.split('"')[::2])
    return max(SEPARATORS, key=lambda one: (bare.count(one), one == ","))


def fields_of(line: str, separator: str) -> list[str]:
    """The fields of a line, without space about them.

    Raises: Unreadable where a quotation mark is out of place, or the line too long.

    Example:
        >>> fields_of('"3";  4;"5,5"', ";")
        ['3', '4', '5,5']
    """
    if len(line) > LONGEST:
        raise Unreadable(f"longer than {LONGEST:,} characters")
    if '"' not in line:
        return [field.strip() for field in line.split(separator)]
    try:
        found = next(csv.reader([line], delimiter=separator, skipinitialspace=True, strict=True), [])
    except csv.Error as wrong:
        raise Unreadable("a quotation mark is opened and not closed, or stands within a field") from wrong
    return [field.strip() for field in found]


def shown_line(line: str) -> str:
    """A line as a report quotes it: without its end, in one piece, not endless."""
    text = repaired(line.strip("\r\n"))
    return text if len(text) <= 200 else f"{text[:200]}…"
