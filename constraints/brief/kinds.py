"""The kinds of question a brief can ask, in one table: which key decides, which keys belong to it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Kind:
    """One kind of question.

    `keys` decide for it, one of them in a brief; `own` are its other keys, apart from those of every brief. All of them
    are the fields of its model.
    """

    name: str
    keys: tuple[str, ...]
    own: tuple[str, ...] = ()


TABLE = (
    Kind("numbering", ("read",)),
    Kind(
        "readouts",
        ("readouts",),
        ("solid", "shape", "independent", "measure", "on", "share", "same_under", "rename", "layout"),
    ),
    Kind(
        "layout",
        ("place", "from"),
        ("solid", "shape", "layout", "size_mm", "size_is", "draw", "same_under", "rename"),
    ),
    Kind("smooth", ("smooth",), ("layout",)),
    Kind("product", ("product",), ("make", "rates", "owned")),
)
"""Every kind of the contract, in its order."""

NUMBERING, READOUTS, LAYOUT, SMOOTH, PRODUCT = TABLE


def kinds_with(key: str) -> tuple[str, ...]:
    """The names of the kinds, numbering apart, that a key decides for or belongs to."""
    return tuple(kind.name for kind in TABLE if key in kind.keys or key in kind.own)
