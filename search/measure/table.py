"""The table of calliper readings: rows that can be read, and those that cannot, with line and reason."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from facewright.search.measure.axes import Spanned
from facewright.search.tables.columns import header_of
from facewright.search.tables.lines import Unreadable, fields_of, lines_of, opened, repaired, shown_line
from facewright.search.tables.numbers import decimal

COLUMNS = {
    "die": "which die was measured, by any name",
    "cavity": "the cavity that it came from",
    "axis": "the two faces, such as f1-f6, or their labels",
    "mm": "what the callipers showed",
    "part": "its place in the design, from 1, where a set has different dice",
}
NEEDED = (("die",), ("axis",), ("mm",))
FAR = 0.2
"""A reading that is farther than this share from what the axis should measure is a slip of the pen."""


@dataclass(frozen=True)
class Reading:
    """One reading: the kind of die (a position among those of the design), the die, its cavity, the axis, in mm."""

    kind: int
    die: str
    cavity: str
    axis: int
    mm: float


@dataclass(frozen=True)
class Unread:
    """A row that was not read."""

    line: int
    text: str
    reason: str


@dataclass
class Readings:
    """All rows of a table."""

    read: list[Reading] = field(default_factory=list)
    unread: list[Unread] = field(default_factory=list)
    passed_over: tuple[str, ...] = ()


def readings_of(path: Path, kinds: Sequence[Spanned]) -> Readings:
    """The readings of a table; raises UsageError for a file that cannot be read, or a header that lacks columns."""
    found = Readings()
    with opened(path) as text:
        lines = lines_of(text)
        header = header_of(path, lines, COLUMNS, NEEDED)
        found.passed_over = header.passed_over
        for number, line in lines:
            if not line.strip(" \t\r\n;,"):
                continue
            try:
                fields = fields_of(line, header.separator)
                row = {name: fields[at] if at < len(fields) else "" for name, at in header.places.items()}
                found.read.append(_reading(row, kinds))
            except Unreadable as wrong:
                found.unread.append(Unread(number, shown_line(line), str(wrong)))
    return found


def _reading(row: dict[str, str], kinds: Sequence[Spanned]) -> Reading:
    die = repaired(row["die"])
    if not die:
        raise Unreadable("the die has no name")
    kind = _kind(row.get("part", ""), kinds)
    axes = kinds[kind].axes
    asked = repaired(row["axis"]).lower().replace(" ", "").replace("–", "-")
    places = [at for at, axis in enumerate(axes) if asked == axis.name or asked in axis.also]
    if len(places) != 1:
        names = ", ".join(axis.name for axis in axes[:10]) + (", …" if len(axes) > 10 else "")
        raise Unreadable(f"the axis is {row['axis']!r}; the axes are {names}")
    mm = float(decimal(row["mm"], "mm"))
    nominal = kinds[kind].nominal_mm
    if abs(mm - nominal) > FAR * nominal:
        raise Unreadable(f"mm is {row['mm']!r}, far from the {nominal:.2f} that this axis should measure")
    return Reading(kind, die, repaired(row.get("cavity", "")), places[0], mm)


def _kind(part: str, kinds: Sequence[Spanned]) -> int:
    if not part:
        if len(kinds) > 1:
            raise Unreadable("the set has different dice, and `part` does not say which this is")
        return 0
    for at, one in enumerate(kinds):
        if part in map(str, one.one.die.positions):
            return at
    known = ", ".join(str(place) for one in kinds for place in one.one.die.positions)
    raise Unreadable(f"part is {part!r}; the dice of the design are {known}")
