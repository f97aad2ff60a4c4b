"""Log sheets to print: a box a roll, in the columns that the table wants, in the order of rolling."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.search.rolls.tally import GROUPS

if TYPE_CHECKING:
    from facewright.search.make.pages import Page

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Millimetres."""

MARGIN, ROW, NUMBER, LEAST_BOX, MOST_BOX = 14.0, 7.0, 9.0, 12.0, 20.0
"""Millimetres: the margin, the height of a row, the width of its number, the least and greatest width of a box."""

HEAD, FOOT = 46.0, 12.0
"""Millimetres that the head and the foot of a sheet take."""

MOST_SHEETS = 60
"""Sheets in one file at most."""


def sheet_pages(
    title: str, design: str, columns: Sequence[str], rolls: int, paper: str = "a4", hint: str = ""
) -> list[Page]:
    """Sheets for so many rolls.

    Params:
        title: what is rolled.
        design: its id.
        columns: the columns to fill in for each roll.
        rolls: how many, 1 or more; sheets are filled up, `MOST_SHEETS` at most.
        paper: a key of `PAPERS`.
        hint: a sentence on what to write.
    """
    wide, high = PAPERS[paper]
    room = wide - 2 * MARGIN
    box = min(MOST_BOX, max(LEAST_BOX, (room - NUMBER) / len(columns)))
    blocks = max(1, int((room + 3) // (NUMBER + box * len(columns) + 3)))
    box = min(box, (room - 3 * (blocks - 1)) / blocks / len(columns) - NUMBER / len(columns))
    rows = int((high - 2 * MARGIN - HEAD - FOOT) // ROW) - 1
    sheets = min(MOST_SHEETS, -(-rolls // (rows * blocks)))
    return [
        _sheet(title, design, columns, paper, hint, box, blocks, rows, number, sheets)
        for number in range(sheets)
    ]


def _sheet(
    title: str,
    design: str,
    columns: Sequence[str],
    paper: str,
    hint: str,
    box: float,
    blocks: int,
    rows: int,
    number: int,
    sheets: int,
) -> Page:
    from facewright.search.make.pages import GREY, INK, PALE, Page, wrapped

    wide, high = PAPERS[paper]
    page = Page(wide, high)
    top = high - MARGIN
    page.fitted(MARGIN, top - 5, title, size_mm=5.5, wide_mm=wide - 2 * MARGIN, bold=True)
    page.text(
        MARGIN,
        top - 10.5,
        f"Rolls of design {design}, sheet {number + 1} of {sheets}",
        size_mm=3.2,
        colour=GREY,
    )
    x = MARGIN
    for name in ("date", "thrown by", "on", *GROUPS):
        told = page.text(x, top - 19, name, size_mm=3, colour=GREY)
        space = 15 if name in GROUPS else 21
        page.lines([[(x + told + 1.5, top - 19.5), (x + told + space, top - 19.5)]], colour=INK)
        x += told + space + 3
    words = (
        f"{hint} Write every roll, in the order in which it comes, also a cocked die (as ?). A table of them: first "
        f"line {', '.join(columns)}, then a line a roll; cavity, batch and die as further columns where they differ."
    )
    for at, line in enumerate(wrapped(words.strip(), 3, wide - 2 * MARGIN)):
        page.text(MARGIN, top - 26 - 4.2 * at, line, size_mm=3)
    block = NUMBER + box * len(columns)
    start = top - HEAD
    for place in range(blocks):
        left = MARGIN + place * (block + 3)
        for at, name in enumerate(columns):
            page.fitted(
                left + NUMBER + at * box + 1,
                start - ROW + 2,
                name,
                size_mm=2.8,
                wide_mm=box - 1.5,
                colour=GREY,
            )
        for row in range(rows):
            low = start - ROW * (row + 2)
            told = number * rows * blocks + place * rows + row + 1
            page.text(left + NUMBER - 1.5, low + 2.2, str(told), size_mm=2.6, colour=GREY, align="right")
        bottom, head = start - ROW * (rows + 1), start - ROW
        across = [
            [(left + NUMBER, head - ROW * row), (left + block, head - ROW * row)] for row in range(rows + 1)
        ]
        down = [
            [(left + NUMBER + box * at, bottom), (left + NUMBER + box * at, head)]
            for at in range(len(columns) + 1)
        ]
        page.lines(across + down, colour=PALE)
        page.lines([line for row, line in enumerate(across) if row % 5 == 0], colour=INK, wide_mm=0.15)
    page.text(
        MARGIN,
        MARGIN - 4,
        "Rolls bound a bias, they never show that there is none. Small parts: keep dice from children under three.",
        size_mm=2.6,
        colour=GREY,
    )
    return page
