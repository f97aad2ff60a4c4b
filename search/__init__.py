"""Finds designs: engines, recount, store, ranking, reports and the command. `find` answers a question in one call."""

from __future__ import annotations

from typing import Any


def __getattr__(name: str) -> Any:
    # loaded when asked for: the command's help must not wait for it
    if name == "find":
        from facewright.search.finding import find

        return find
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
