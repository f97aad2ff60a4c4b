"""The product sheet as a PDF of one page, and the player's card as a PDF of its two sides in true size."""

from __future__ import annotations

from typing import TYPE_CHECKING

from facewright.search.make.pages import GREY, PALE, Page, pdf_of, wrapped
from facewright.search.make.paper import PAPERS
from facewright.search.sheets.chances import rows
from facewright.search.sheets.figures import draw_chances, draw_scale, draw_step, scale_for, scale_words
from facewright.search.sheets.pictures import together

if TYPE_CHECKING:
    from facewright.search.sheets.facts import Sheet

MARGIN_MM = 16.0
HERO_MM = 40.0
"""The picture of the dice is no higher than this; where there are no chances to show, twice as high."""

CARD_MM = (85.6, 53.98)
"""ISO/IEC 7810 ID-1, the size of a bank card (from memory)."""

CARD_MARGIN_MM = 4.5
CARD_TEXT_MM = (2.6, 2.4, 2.2, 2.0, 1.8)
"""Sizes of the words on a card: the first at which they fit."""

MOST_ROWS = 14
"""So many chances are told in words on a card."""


def sheet_pdf(sheet: Sheet, paper: str = "a4") -> bytes:
    """The sheet; the same bytes for the same sheet."""
    size = PAPERS[paper]
    page = Page(size.width_mm, size.height_mm)
    wide = size.width_mm - 2 * MARGIN_MM
    y = size.height_mm - MARGIN_MM - 8
    page.fitted(MARGIN_MM, y, sheet.title, size_mm=9, wide_mm=wide, bold=True)
    y -= 9
    y = _paragraph(page, sheet.why, MARGIN_MM, y, wide, 4.6, 6.2)
    if sheet.note:
        y = _paragraph(page, sheet.note, MARGIN_MM, y - 1, wide, 3.1, 4.4, GREY)
    room = HERO_MM if sheet.chances else 2 * HERO_MM
    scale = scale_for(sheet.dice, wide, room)
    high = scale * together(sheet.dice)[1]
    y -= high + 6
    draw_scale(page, sheet.dice, (MARGIN_MM, y, wide, high))
    page.text(
        MARGIN_MM + wide / 2,
        y - 4.5,
        scale_words(scale),
        size_mm=2.6,
        colour=GREY,
        align="center",
    )
    y = _steps(page, sheet, MARGIN_MM, y - 12, wide)
    if sheet.chances:
        y = _head(page, "What to expect", MARGIN_MM, y - 4)
        told = " ".join(one.words for one in sheet.chances if one.words and not one.name)
        if told:
            y = _paragraph(
                page, told + " The line over each column is theirs.", MARGIN_MM, y, wide, 3.0, 4.2, GREY
            )
        room = 42.0
        y -= room
        draw_chances(page, sheet.chances, (MARGIN_MM, y, wide, room))
        page.text(MARGIN_MM, y - 3.2, "Chances in per cent.", size_mm=2.4, colour=GREY)
    y = _head(page, "In the box", MARGIN_MM, y - 11)
    for line in (sheet.contents, *sheet.sizes, sheet.age, f"{sheet.proof} Design {sheet.design[:8]}."):
        y = _paragraph(page, line, MARGIN_MM, y, wide, 3.0, 4.2)
    foot = MARGIN_MM + 3.6 * sum(len(wrapped(line, 2.5, wide)) for line in sheet.cautions) - 2
    page.lines([[(MARGIN_MM, foot + 4), (MARGIN_MM + wide, foot + 4)]], wide_mm=0.15, colour=PALE)
    for line in sheet.cautions:
        foot = _paragraph(page, line, MARGIN_MM, foot, wide, 2.5, 3.6, GREY)
    return pdf_of([page], sheet.title)


def card_pdf(sheet: Sheet) -> bytes:
    """The player's card: how to read the dice on one side, what to expect on the other."""
    return pdf_of([_front(sheet), _back(sheet)], f"{sheet.title}, card")


def _front(sheet: Sheet) -> Page:
    page = Page(*CARD_MM)
    width, height = CARD_MM
    inner = width - 2 * CARD_MARGIN_MM
    page.fitted(CARD_MARGIN_MM, height - 9, sheet.title, size_mm=4.6, wide_mm=inner, bold=True)
    room = inner / 3
    for place, step in enumerate(sheet.steps):
        left = CARD_MARGIN_MM + room * place
        draw_step(page, step, (left + 1, height - 31, room - 2, 19))
        said = f"{place + 1}  {step.words}"
        size = next((one for one in CARD_TEXT_MM if len(wrapped(said, one, room - 2)) * 1.3 * one < 15), 1.6)
        for number, line in enumerate(wrapped(said, size, room - 2)):
            page.text(left + 1, height - 35 - 1.3 * size * number, line, size_mm=size)
    return page


def _back(sheet: Sheet) -> Page:
    page = Page(*CARD_MM)
    width, height = CARD_MM
    inner = width - 2 * CARD_MARGIN_MM
    y = height - 8.0
    y = _paragraph(page, sheet.why, CARD_MARGIN_MM, y, inner, 2.5, 3.3)
    told = [(f"{one.name} {label}".strip(), words) for one in sheet.chances for label, words in rows(one)]
    if told and len(told) <= MOST_ROWS:
        half = -(-len(told) // 2)
        for place, (label, words) in enumerate(told):
            x = CARD_MARGIN_MM + inner / 2 * (place // half)
            page.fitted(
                x, y - 1.5 - 3.6 * (place % half), f"{label}:  {words}", size_mm=2.2, wide_mm=inner / 2 - 2
            )
    elif told:
        draw_chances(page, sheet.chances, (CARD_MARGIN_MM, 10.5, inner, y - 10.0))
    page.fitted(
        CARD_MARGIN_MM,
        CARD_MARGIN_MM + 1,
        f"{sheet.age.split('.')[0]}. Not for licensed gaming. Design {sheet.design[:8]}.",
        size_mm=1.9,
        wide_mm=inner,
        colour=GREY,
    )
    return page


def _steps(page: Page, sheet: Sheet, left: float, y: float, wide: float) -> float:
    """The three steps side by side; returns how far down they reach."""
    room = wide / len(sheet.steps)
    lowest = y
    for place, step in enumerate(sheet.steps):
        x = left + room * place
        draw_step(page, step, (x + 2, y - 30, room - 8, 28))
        foot = _paragraph(page, f"{place + 1}  {step.words}", x + 2, y - 36, room - 8, 3.0, 4.1)
        lowest = min(lowest, foot)
    return lowest


def _head(page: Page, words: str, x: float, y: float) -> float:
    page.text(x, y, words, size_mm=4.0, bold=True)
    return y - 6.0


def _paragraph(
    page: Page, words: str, x: float, y: float, wide: float, size: float, line: float, colour: str = "#1c2430"
) -> float:
    """Words in lines; returns the baseline of what would follow."""
    for part in wrapped(words, size, wide):
        page.text(x, y, part, size_mm=size, colour=colour)
        y -= line
    return y
