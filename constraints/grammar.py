"""Counts, articles, plurals and lists, as sentences need them."""

from __future__ import annotations

import re
from collections.abc import Iterable

_NUMBERS = "no one two three four five six seven eight nine ten eleven twelve"


def number(count: int) -> str:
    """A count in words up to twelve, in figures above.

    Example:
        >>> number(3), number(1538093)
        ('three', '1,538,093')
    """
    words = _NUMBERS.split()
    return words[count] if 0 <= count < len(words) else f"{count:,}"


def counted(count: int, noun: str) -> str:
    """A count with its noun.

    Example:
        >>> counted(1, "numbering"), counted(10, "numbering"), counted(3, "copy")
        ('one numbering', 'ten numberings', 'three copies')
    """
    if count == 1:
        return f"{number(count)} {noun}"
    return f"{number(count)} {noun[:-1]}ies" if noun.endswith("y") else f"{number(count)} {noun}s"


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def series(parts: Iterable[str], last: str = "and") -> str:
    """Parts joined as in a sentence.

    Example:
        >>> series(["a cube", "a coin", "a log"])
        'a cube, a coin and a log'
    """
    words = list(parts)
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def article(noun: str) -> str:
    """The noun with "a" or "an", as it is read aloud.

    Example:
        >>> article("8-face die"), article("cube"), article("11-gonal trapezohedron")
        ('an 8-face die', 'a cube', 'an 11-gonal trapezohedron')
    """
    vowel = noun[:1].lower() in "aeiou" or re.match(r"(8\d*|11|18)\D", noun) is not None
    return f"{'an' if vowel else 'a'} {noun}"


def plural(noun: str) -> str:
    """The plural of a solid's name.

    Example:
        >>> plural("rhombic dodecahedron"), plural("coin")
        ('rhombic dodecahedra', 'coins')
    """
    return noun[:-2] + "a" if noun.endswith("hedron") else noun + "s"
