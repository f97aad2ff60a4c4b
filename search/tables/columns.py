"""The header of a table: which columns it has, which are meant by their names, all faults of it at once."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from facewright.constraints.errors import UsageError
from facewright.search.tables.lines import Unreadable, fields_of, repaired, separator_of

NEAR = 0.72
"""How alike (from 0 to 1) a name must be to one that is known, to be taken for a slip of the pen."""


@dataclass(frozen=True)
class Header:
    """Where each known column stands, from 0; `passed_over` names those that mean nothing here."""

    separator: str
    places: Mapping[str, int]
    passed_over: tuple[str, ...]
    line: int = 1


def plain(name: str) -> str:
    """A column's name as it is compared: small letters, one underscore for space and hyphens.

    Example:
        >>> plain(" Die 1 "), plain("DIE-1")
        ('die_1', 'die_1')
    """
    return re.sub(r"[\s_\-]+", "_", repaired(name).strip().lower())


def header_of(
    path: Path, lines: Iterator[tuple[int, str]], known: Mapping[str, str], needed: Sequence[Sequence[str]]
) -> Header:
    """The header of a table, its first line that is not blank.

    Params:
        path: for messages.
        lines: numbers and texts; what follows the header is left in it.
        known: the plain name of each column that means something → what it means.
        needed: groups of names; of each group one column at least must be there.
    Raises: UsageError with every fault at once: columns missing, given twice, nearly named.
    """
    separator = ""
    for number, line in lines:
        told = re.fullmatch(r"sep=(.)\s*", line.lstrip("\ufeff"), re.IGNORECASE)
        if told and not separator:
            separator = told.group(1)
        elif line.strip(" \t\r\n\ufeff;,"):
            return _header(path, number, line, separator, known, needed)
    raise UsageError(
        f"{path}: found no line in it; accepted: a first line with {_names(known)}, then the rows"
    )


def _header(
    path: Path,
    number: int,
    line: str,
    separator: str,
    known: Mapping[str, str],
    needed: Sequence[Sequence[str]],
) -> Header:
    separator = separator or separator_of(line)
    try:
        written = fields_of(line, separator)
    except Unreadable as wrong:
        raise UsageError(
            f"{path}: line {number}: {wrong}; accepted: a first line with column names"
        ) from wrong
    names = [plain(one) for one in written]
    places: dict[str, int] = {}
    faults, passed_over = [], []
    for place, (name, text) in enumerate(zip(names, written, strict=True)):
        if name in places:
            faults.append(f"column {place + 1}: found a second {name!r}; accepted: each column once")
        elif name in known:
            places[name] = place
        elif near := difflib.get_close_matches(name, [one for one in known if one not in names], 1, NEAR):
            faults.append(
                f"column {place + 1}: found {repaired(text)!r}; accepted: {near[0]!r}, if that is meant, or a name "
                "less like it"
            )
        elif name:
            passed_over.append(repaired(text))
    for group in needed:
        if not any(one in places for one in group):
            one_of = "one of " if len(group) > 1 else ""
            shown = ", ".join(group[:12]) + (", …" if len(group) > 12 else "")
            faults.append(f"found no column {' or '.join(group[:3])}; accepted: {one_of}{shown}")
    if faults:
        many = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
        told = "\n".join(f"  line {number}, {fault}" for fault in faults)
        looked = ", ".join(repr(repaired(one)[:30]) for one in written[:8])
        meant = f"  columns that mean something: {_names(known)}"
        raise UsageError(f"{path}: {many}; its first line was read as {looked}\n{told}\n{meant}")
    return Header(separator, places, tuple(passed_over), number)


def _names(known: Mapping[str, str]) -> str:
    return ", ".join(known)
