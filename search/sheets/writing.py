"""Writes the sheet and the card of a design into a folder."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from facewright.search.sheets.facts import Sheet

FILES = ("sheet.html", "sheet.pdf", "card.pdf")
"""All files of a sheet."""


def write_sheet(
    sheet: Sheet, folder: Path, *, paper: str = "a4", report: Path | None = None
) -> tuple[Path, ...]:
    """Writes the files of a sheet.

    Params:
        sheet: what it says.
        folder: where the files go; it is made where it is not there.
        paper: the sheet's paper.
        report: the report of the run, which the page links to.
    Raises: RunError where a file cannot be written.
    """
    from facewright.search.make.files import write_whole
    from facewright.search.sheets.sheet_page import sheet_page
    from facewright.search.sheets.sheet_pdf import card_pdf, sheet_pdf

    link = "" if report is None else Path(os.path.relpath(report.resolve(), folder.resolve())).as_posix()
    contents = (sheet_page(sheet, link).encode(), sheet_pdf(sheet, paper), card_pdf(sheet))
    paths = tuple(folder / name for name in FILES)
    for path, content in zip(paths, contents, strict=True):
        write_whole(path, content)
    return paths
