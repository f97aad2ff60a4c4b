"""Text that a person typed and that cannot be read: what was found, what would be accepted."""

from __future__ import annotations

SHOWN = 60
"""How many characters of a person's text an error repeats."""


class TextError(ValueError):
    """Raised by the small parsers of targets, labels, names and choices; a fault uses its two halves.

    Example:
        >>> str(TextError('"2x6"', "terms such as 2d6"))
        'found "2x6"; accepted: terms such as 2d6'
    """

    def __init__(self, found: str, accepted: str) -> None:
        self.found = found
        self.accepted = accepted
        super().__init__(f"found {found}; accepted: {accepted}")


def quoted(text: str) -> str:
    """The text between quotation marks, shortened, with nothing that a terminal would obey.

    Example:
        >>> quoted("a\\tb")
        '"a\\\\tb"'
    """
    short = text if len(text) <= SHOWN else text[: SHOWN - 1] + "…"
    shown = (c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in short)
    return '"' + "".join(shown) + '"'
