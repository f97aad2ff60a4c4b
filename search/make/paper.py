"""Sheets of paper: their sizes, and the part of them that a net may use."""

from __future__ import annotations

from dataclasses import dataclass

MARGIN_MM = 10.0
"""Household printers leave a border of a few millimetres blank; this much is kept free (our choice)."""

HEAD_MM = 12.0
"""For the title."""

FOOT_MM = 18.0
"""For the ruler and what is said beside it."""


@dataclass(frozen=True)
class Paper:
    """A sheet, upright; lengths in millimetres."""

    name: str
    width_mm: float
    height_mm: float

    @property
    def room_mm(self) -> tuple[float, float]:
        """Width and height of the part between the margins, below the title and above the ruler."""
        return self.width_mm - 2 * MARGIN_MM, self.height_mm - 2 * MARGIN_MM - HEAD_MM - FOOT_MM

    @property
    def corner_mm(self) -> tuple[float, float]:
        """The lower left corner of that part."""
        return MARGIN_MM, MARGIN_MM + FOOT_MM


PAPERS = {"a4": Paper("A4", 210.0, 297.0), "letter": Paper("Letter", 215.9, 279.4)}
"""The sheets that can be asked for. Sizes: ISO 216 for A4; Letter is 8½ by 11 inches."""
