"""How far a design is from ordinary dice, and whether it stands in our small table of designs known in print."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

TABLE = Path(__file__).with_name("published.toml")

NOT_IN_TABLE = "not in our table of published designs, which is no freedom to sell it"

Dice = Sequence[Sequence[int]]


@dataclass(frozen=True)
class Published:
    """A design known in print: how it is read, its labels, what it does, and where the mathematics was published."""

    read: str
    dice: tuple[tuple[int, ...], ...]
    says: str
    source: str


@cache
def published() -> tuple[Published, ...]:
    """The table."""
    rows = tomllib.loads(TABLE.read_text(encoding="utf-8"))["design"]
    return tuple(
        Published(row["read"], tuple(tuple(die) for die in row["dice"]), row["says"], row["source"])
        for row in rows
    )


def known_in_print(read: str, dice: Dice) -> Published | None:
    """The entry of the table that a design is; None where there is none.

    Totals: labels moved by a constant from die to die make no other design. Dice that beat each other: only the order
    of all labels counts.

    Example:
        >>> known_in_print("total", [(0, 2, 3, 4, 5, 7), (2, 3, 3, 4, 4, 5)]).says
        'two cubes with the totals of two ordinary ones'
    """
    form = _form(read, dice)
    return next((one for one in published() if one.read == read and _form(read, one.dice) == form), None)


def _form(read: str, dice: Dice) -> tuple[tuple[int, ...], ...]:
    """What is the same for designs that do the same: labels sorted, without shifts or names, dice sorted."""
    if read == "total":
        return tuple(sorted(tuple(sorted(label - min(die) for label in die)) for die in dice))
    order = {label: at for at, label in enumerate(sorted({label for die in dice for label in die}))}
    return tuple(sorted(tuple(sorted(order[label] for label in die)) for die in dice))


def strange_faces(labels: Sequence[int]) -> int:
    """How many labels of a die would have to change to make it an ordinary one, 1 to its faces up to a shift.

    Example:
        >>> strange_faces([1, 2, 3, 4, 5, 6]), strange_faces([0, 1, 2, 3]), strange_faces([1, 2, 2, 3, 3, 4])
        (0, 0, 2)
    """
    faces, distinct = len(labels), set(Counter(labels))
    shifts = range(min(labels) - faces, max(labels) + 1)
    return faces - max(sum(shift < label <= shift + faces for label in distinct) for shift in shifts)
