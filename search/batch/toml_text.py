"""Values written as TOML, so that each question of a plan is a brief like any other."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

_BARE = re.compile(r"[A-Za-z0-9_-]+")


def toml_text(values: Mapping[str, Any]) -> str:
    """A table as TOML, a line a key; tables inside it in one line.

    Example:
        >>> print(toml_text({"dice": [6, 16], "labels": {"highest": 20}, "title": 'The "dues"'}), end="")
        dice = [6, 16]
        labels = { highest = 20 }
        title = "The \\"dues\\""
    """
    return "".join(f"{_key(name)} = {_value(value)}\n" for name, value in values.items())


def _key(name: str) -> str:
    return name if _BARE.fullmatch(name) else _text(name)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, Mapping):
        inside = ", ".join(f"{_key(name)} = {_value(one)}" for name, one in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    return "[" + ", ".join(_value(one) for one in value) + "]"


def _text(value: str) -> str:
    """A text in quotation marks: TOML escapes what JSON does, and the delete character too."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
