"""What can be tested of a roll: one view a thing that it shows, with the exact ways of each of its cells."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Protocol

Cells = dict[str, int]
"""View → the cell of it that a roll shows."""

Off = tuple[str, tuple[float, ...]]
"""A face, in words, and how each cell's chance moves when that face comes up more often: for a face off by the share
d of its own chance, the others evenly less often, chance k moves by d times the k-th number."""


@dataclass(frozen=True)
class View:
    """One thing that a roll shows, such as the result or a die: its cells, and the ways of each.

    `kind` is result, die, face, readout or together. `offs` works out how biased faces would move it; nothing where
    that is not known.
    """

    name: str
    kind: str
    cells: tuple[str, ...]
    ways: tuple[int, ...]
    offs: Callable[[], Sequence[Off]] = field(default=tuple, compare=False)

    @cached_property
    def places(self) -> Mapping[str, int]:
        """Cell → its position."""
        return {cell: place for place, cell in enumerate(self.cells)}

    @property
    def outcomes(self) -> int:
        """All ways together."""
        return sum(self.ways)

    @property
    def cell_word(self) -> str:
        """What one cell is called: "a face", "a label", …."""
        words = {"face": "face", "die": "label", "readout": "label", "together": "combination"}
        return words.get(self.kind, "result")


class Subject(Protocol):
    """A design as rolls see it."""

    @property
    def words(self) -> str:
        """The dice in words: "the cube", "the cube and the octahedron"."""
        ...

    def columns(self) -> dict[str, str]:
        """The columns that can hold what a roll shows: plain name → meaning, those most wanted first."""
        ...

    def misplaced(self) -> dict[str, str]:
        """Columns that make no sense for this design: plain name → why, and what instead."""
        ...

    def views(self, present: Sequence[str]) -> tuple[View, ...]:
        """What can be tested where these columns are there, the finest first."""
        ...

    def read(self, fields: Mapping[str, str]) -> Cells:
        """What a row shows; `fields` has its columns that are not blank. Raises Unreadable."""
        ...

    def untested(self, present: Sequence[str]) -> list[str]:
        """What cannot be tested with these columns, and why, a sentence each."""
        ...
