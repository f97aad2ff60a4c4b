"""The kinds of question a brief can ask, in one table: which key decides, which keys belong to it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Kind:
    """One kind of question.

    `keys` decide for it, one of them in a brief; `own` are its other keys, apart from those of every brief;
    `answered` says whether this version answers it. The keys of those that are
    answered are the fields of their models.
    """

    name: str
    keys: tuple[str, ...]
    own: tuple[str, ...] = ()
    answered: bool = False


TABLE = (
    Kind("numbering", ("read",), answered=True),
    Kind(
        "readouts",
        ("readouts",),
        ("solid", "shape", "independent", "measure", "on", "share", "same_under", "rename", "layout"),
        answered=True,
    ),
    Kind(
        "layout",
        ("place", "from"),
        ("solid", "shape", "layout", "size_mm", "size_is", "draw", "same_under", "rename"),
        answered=True,
    ),
    Kind("smooth", ("smooth",), answered=True),
    Kind("product", ("product",), ("make", "rates")),
)
"""Every kind of the contract, in its order."""

NUMBERING, READOUTS, LAYOUT, SMOOTH = TABLE[:4]

ANSWERED = tuple(kind.name for kind in TABLE if kind.answered)
"""The kinds that this version answers."""


def kinds_with(key: str) -> tuple[str, ...]:
    """The names of the kinds, numbering apart, that a key decides for or belongs to."""
    return tuple(kind.name for kind in TABLE if key in kind.keys or key in kind.own)
