"""A table of rolls counted: row by row, in little memory, every row either counted or listed with its reason."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from facewright.constraints.errors import UsageError
from facewright.search.progress import Progress, silent
from facewright.search.rolls.evidence import Evidence
from facewright.search.rolls.views import Subject, View
from facewright.search.tables.columns import Header, header_of
from facewright.search.tables.lines import Unreadable, fields_of, lines_of, opened, repaired, shown_line
from facewright.search.tables.numbers import whole

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

GROUPS = {
    "cavity": "the cavity of the mould",
    "batch": "the batch",
    "die": "which die it was, of several made alike",
}
"""Columns by which rolls are also tested apart."""

AT_ONCE = 65_536
"""Rows that are counted together."""

REMEMBERED = 100_000
"""Different lines that are remembered, so that each is read only once."""

MOST_GROUPS = 400
"""Different entries of a column by which rolls are tested apart."""

MOST_UNREAD = 100_000
"""Unread rows that are kept with their text; any more are counted."""

COCKED = "?"
"""What stands for a die that came to lie on no face."""

MOST_TIMES = 10**12
"""Rolls that one row may stand for."""


@dataclass(frozen=True)
class Unread:
    """A row that was not counted: its line from 1, its text, the reason."""

    line: int
    text: str
    reason: str


@dataclass
class Tally:
    """Rolls counted.

    `evidence` holds the counts and the e-value of each view; `groups` the counts by column, entry and view; `crowded`
    names columns with too many entries to test by. `uncounted` are unread rows past those that are kept.
    """

    header: Header
    views: tuple[View, ...]
    evidence: dict[str, Evidence]
    groups: dict[str, dict[str, dict[str, NDArray[np.int64]]]] = field(default_factory=dict)
    crowded: list[str] = field(default_factory=list)
    rolls: int = 0
    rows: int = 0
    unread: list[Unread] = field(default_factory=list)
    uncounted: int = 0

    @property
    def ordered(self) -> bool:
        """Whether the rows can stand in the order of rolling."""
        return all(one.ordered for one in self.evidence.values())

    @property
    def present(self) -> tuple[str, ...]:
        """The columns that mean something, in their order."""
        return tuple(self.header.places)


Entry = tuple[int, ...] | str | None
"""A row as numbers (a cell a view, or −1; the times; a group a column, or −1), the reason it is not read, or blank."""


def tallied(path: Path, subject: Subject, report: Progress = silent) -> Tally:
    """Counts the rolls in a table.

    Params:
        path: the table.
        subject: the design that was rolled.
        report: told of the progress.
    Raises: UsageError where the file or its header cannot be used.
    """
    with opened(path) as text:
        lines = lines_of(text)
        shows = subject.columns()
        known = {**shows, "count": "how many rolls the row stands for", **GROUPS}
        needed = [tuple(shows)]
        header = _header(path, lines, subject, known, needed)
        views = subject.views(tuple(header.places))
        tally = Tally(header, views, {view.name: Evidence(view.ways) for view in views})
        tally.groups = {column: {} for column in GROUPS if column in header.places}
        _Counter(tally, subject).run(lines, report)
    return tally


def _header(
    path: Path,
    lines: Iterator[tuple[int, str]],
    subject: Subject,
    known: dict[str, str],
    needed: Sequence[Sequence[str]],
) -> Header:
    wrong = subject.misplaced()
    header = header_of(path, lines, {**known, **wrong}, [[*needed[0], *wrong]])
    faults = [
        f"line {header.line}, column {place + 1}: found {name!r}; accepted: {wrong[name]}"
        for name, place in header.places.items()
        if name in wrong
    ]
    if faults:
        told = "\n".join(f"  {fault}" for fault in faults)
        raise UsageError(f"{path}: {len(faults)} fault{'s' * (len(faults) > 1)}\n{told}")
    return header


class _Counter:
    """Reads lines into numbers and adds them up."""

    def __init__(self, tally: Tally, subject: Subject) -> None:
        self.tally, self.subject = tally, subject
        self._remembered: dict[str, Entry] = {}
        self._numbers: dict[str, dict[str, int]] = {column: {} for column in tally.groups}
        self._shows = [name for name in tally.present if name in subject.columns()]

    def run(self, lines: Iterator[tuple[int, str]], report: Progress) -> None:
        """Counts all lines."""
        remembered, waiting = self._remembered, []
        for number, line in lines:
            entry = remembered[line] if line in remembered else self._remember(line)
            if isinstance(entry, tuple):
                waiting.append(entry)
                if len(waiting) == AT_ONCE:
                    self._add(waiting)
                    waiting.clear()
                    report("rolls counted", self.tally.rolls, None)
            elif entry is not None:
                self._unread(number, line, entry)
        if waiting:
            self._add(waiting)

    def _remember(self, line: str) -> Entry:
        entry = self._read(line)
        if len(self._remembered) < REMEMBERED:
            self._remembered[line] = entry
        return entry

    def _read(self, line: str) -> Entry:
        header = self.tally.header
        if not line.strip(" \t\r\n\x1a" + header.separator):
            return None
        try:
            fields = fields_of(line, header.separator)
            if any(fields[len(header.places) + len(header.passed_over) :]) and header.separator == ",":
                raise Unreadable(
                    "it has more fields than the first line (a decimal comma must stand in quotes)"
                )
            told = {
                name: repaired(fields[place])
                for name, place in header.places.items()
                if place < len(fields) and fields[place]
            }
            if COCKED in told.values():
                raise Unreadable("noted as cocked (?)")
            times = self._times(told)
            cells = self.subject.read({name: told[name] for name in self._shows if name in told})
            if not cells:
                raise Unreadable("nothing that a roll shows is noted in it")
        except Unreadable as wrong:
            return str(wrong)
        shown = (cells.get(view.name, -1) for view in self.tally.views)
        return (*shown, times, *(self._group(column, told.get(column)) for column in self.tally.groups))

    def _times(self, told: dict[str, str]) -> int:
        text = told.get("count")
        if text is None:
            if "count" in self.tally.header.places:
                raise Unreadable("the count is missing")
            return 1
        times = whole(text, "the count")
        if not 0 <= times <= MOST_TIMES:
            raise Unreadable(f"the count is {text!r}; accepted: whole numbers from 0 up")
        return times

    def _group(self, column: str, entry: str | None) -> int:
        numbers = self._numbers[column]
        if entry is None or (entry not in numbers and len(numbers) > MOST_GROUPS):
            return -1
        return numbers.setdefault(entry, len(numbers))

    def _unread(self, number: int, line: str, reason: str) -> None:
        if len(self.tally.unread) < MOST_UNREAD:
            self.tally.unread.append(Unread(number, shown_line(line), reason))
        else:
            self.tally.uncounted += 1

    def _add(self, waiting: list[tuple[int, ...]]) -> None:
        import numpy as np

        tally, rows = self.tally, np.array(waiting, dtype=np.int64)
        tally.rows += len(rows)
        at = len(tally.views)
        rows = rows[rows[:, at] > 0]
        times = rows[:, at]
        tally.rolls += int(times.sum())
        for place, view in enumerate(tally.views):
            known = rows[:, place] >= 0
            tally.evidence[view.name].add(rows[known, place], times[known])
        for place, column in enumerate(list(tally.groups), at + 1):
            self._add_groups(column, rows, times, place)

    def _add_groups(self, column: str, rows: NDArray[np.int64], times: NDArray[np.int64], place: int) -> None:
        import numpy as np

        numbers, groups = self._numbers[column], self.tally.groups[column]
        if len(numbers) > MOST_GROUPS:
            self.tally.crowded += [column] * (column not in self.tally.crowded)
            groups.clear()
            return
        for entry in list(numbers)[len(groups) :]:
            groups[entry] = {
                view.name: np.zeros(len(view.cells), dtype=np.int64) for view in self.tally.views
            }
        for at, view in enumerate(self.tally.views):
            known = (rows[:, at] >= 0) & (rows[:, place] >= 0)
            joined = rows[known, place] * len(view.cells) + rows[known, at]
            sums = np.bincount(joined, times[known], len(groups) * len(view.cells)).astype(np.int64)
            for number, counts in enumerate(groups.values()):
                counts[view.name] += sums[number * len(view.cells) : (number + 1) * len(view.cells)]
