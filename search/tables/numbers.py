"""Numbers as people write them in tables: with a decimal point or a decimal comma."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from facewright.search.tables.lines import Unreadable

_DECIMAL = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)")


def decimal(text: str, what: str) -> Fraction:
    """A number, exactly as it is written.

    Params:
        text: what stands in the field.
        what: what is meant, for the reason.
    Raises: Unreadable.

    Example:
        >>> decimal("15,98", "mm"), decimal("16.", "mm")
        (Fraction(799, 50), Fraction(16, 1))
    """
    written = text.replace("\u2212", "-").replace("\u00a0", "").strip()
    if not _DECIMAL.fullmatch(written) or len(written) > 40:
        raise Unreadable(f"{what} is {text!r}, which is no number")
    return Fraction(written.replace(",", "."))


def whole(text: str, what: str) -> int:
    """A whole number; "3.0" and "3,0" are 3, "1.000" could be one or a thousand and is refused.

    Raises: Unreadable.
    """
    written = text.strip()
    if written.isascii() and written.isdigit() and len(written) < 16:
        return int(written)
    found = decimal(text, what)
    if found.denominator != 1:
        raise Unreadable(f"{what} is {text!r}, which is no whole number")
    if re.search(r"[.,]\d{3}$", written):
        raise Unreadable(f"{what} is {text!r}, which could be {int(found)} or {int(found) * 1000:,}")
    return math.floor(found)
