"""Says in a few words what stands in a brief where something else was wanted."""

from __future__ import annotations

import re
from datetime import date, time

from facewright.constraints.texts import quoted

_PARTS_SHOWN = 4
_LONG_NUMBER = 40
_NUMBER = re.compile(r"[+-]?[0-9][0-9_.,]*")
_EMPTY = {str: "text", list: "list", dict: "table"}


def describe(value: object) -> str:
    """A value of a TOML file in words, short whatever its size.

    Example:
        >>> describe(True), describe(2.5), describe([1, "a"])
        ('true, a yes-or-no value', '2.5, a number with a decimal point', 'a list, [1, "a"]')
    """
    return _short(value) + _sort(value) if value not in ("", [], {}) else f"an empty {_EMPTY[type(value)]}"


def _sort(value: object) -> str:
    """What sort of value it is, where that may not be plain from the value itself."""
    match value:
        case bool():
            return ", a yes-or-no value"
        case float():
            return ", a number with a decimal point"
        case str() if _NUMBER.fullmatch(value.strip()):
            return ", a text (a number stands without quotation marks)"
        case str():
            return ", a text"
        case date() | time():
            return ", a date or a time"
    return ""


def _short(value: object) -> str:
    """The value much as TOML writes it, cut off where it is long; tables and lists inside are only named."""
    match value:
        case bool():
            return "true" if value else "false"
        case int():
            few = value.bit_length() < 4 * _LONG_NUMBER
            return str(value) if few else f"a whole number of about {value.bit_length() * 3 // 10:,} digits"
        case str():
            return quoted(value)
        case list():
            inside = [_inner(item) for item in value[:_PARTS_SHOWN]]
            return f"a list, [{', '.join([*inside, *_more(len(value))])}]"
        case dict():
            keys = [quoted(key)[1:-1] for key in list(value)[:_PARTS_SHOWN]]
            return f"a table with {', '.join([*keys, *_more(len(value))])}"
        case _:
            return str(value)


def _inner(value: object) -> str:
    if isinstance(value, list):
        return "[…]"
    return "{…}" if isinstance(value, dict) else _short(value)


def _more(length: int) -> list[str]:
    return ["…"] if length > _PARTS_SHOWN else []
