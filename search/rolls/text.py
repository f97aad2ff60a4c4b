"""Tested rolls for the terminal: the plain sentences, a table of tests, what was not tested or read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from facewright.search.report.terminal import NARROWEST, clean, wrapped
from facewright.search.rolls.judging import Judged, Test
from facewright.search.rolls.tally import Tally, Unread
from facewright.search.rolls.views import Subject
from facewright.search.rolls.words import (
    CAUTIONS,
    looked_sentence,
    number,
    p_source,
    p_words,
    seen_sentence,
    sentence,
    stands_out,
    together_sentence,
)

SHOWN_TESTS, SHOWN_ROWS = 24, 20
"""Tests and unread rows that are shown; all are in the JSON."""


def rolls_text(judged: Judged, tally: Tally, subject: Subject, width: int = 100) -> str:
    """All that is said of tested rolls; sentences are broken at a width, tables are not."""

    def broken(text: str) -> str:
        return "\n".join(wrapped(text, max(width, NARROWEST)))

    said = (sentence(judged, tally, subject), seen_sentence(judged), looked_sentence(judged))
    parts = [broken(one) for one in said if one]
    if judged.whole:
        parts.append("\n".join(_table([*judged.whole, *judged.parts])))
        parts.append(broken(together_sentence(judged)))
    if judged.untested:
        parts.append("\n".join(["Not tested:", *(f"  {clean(one)}" for one in judged.untested)]))
    if tally.unread:
        parts.append("\n".join(unread_lines(tally.unread, tally.uncounted)))
    if tally.header.passed_over:
        parts.append(f"Columns passed over: {clean(', '.join(tally.header.passed_over))}.")
    return "\n\n".join([*parts, "\n".join(broken(one) for one in CAUTIONS)])


def unread_lines(unread: Sequence[Unread], more: int) -> Iterator[str]:
    """Rows that were not counted, those with the same reason together."""
    many = len(unread) + more
    yield f"{many:,} {'row' if many == 1 else 'rows'} not read, and not counted:"
    shown = 0
    for reason, rows in groupby(unread[:SHOWN_ROWS], key=lambda one: one.reason):
        for row in rows:
            shown += 1
            yield f"  line {row.line}: {clean(row.text)[:60]!r}: {clean(reason)}"
    if shown < many:
        yield f"  and {many - shown:,} more; --json lists them all"


def _table(tests: Sequence[Test]) -> list[str]:
    rows = [
        (
            "test of",
            "rolls",
            "chi-square",
            "degrees",
            "p",
            "adjusted",
            "e-value",
            "highest",
            "stands out most",
        )
    ]
    rows += [
        (
            clean(one.of),
            f"{one.rolls:,}",
            f"{one.chi.statistic:.2f}",
            str(one.chi.degrees),
            p_words(one.chi.p) + p_source(one),
            f"as {one.same_as}" if one.same_as else p_words(one.p_adjusted),
            number(one.log_e),
            number(one.log_highest),
            stands_out(one),
        )
        for one in tests[:SHOWN_TESTS]
    ]
    wide = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = []
    for row in rows:
        cells = [
            f"{text:<{size}}" if at in (0, 8) else f"{text:>{size}}"
            for at, (text, size) in enumerate(zip(row, wide, strict=True))
        ]
        lines.append("  ".join(cells).rstrip())
    if len(tests) > SHOWN_TESTS:
        lines.append(f"and {len(tests) - SHOWN_TESTS:,} more tests; --json and the page list them all")
    return lines
