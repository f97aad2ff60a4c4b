"""Designs: one complete answer to a question, with an identity of its own."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from facewright.constraints.labels import Die, interchangeable

ID_LENGTH = 16
"""Hexadecimal digits of an id: among a million designs two share one with a chance below 1 in 10,000,000."""


@dataclass(frozen=True)
class DesignDie:
    """One die of a design: its face count (the number of its labels), its solid, its labels sorted."""

    faces: int
    solid: str
    labels: tuple[int, ...]


@dataclass(frozen=True)
class NumberingDesign:
    """The labels of every die, in the order of the question; interchangeable dice stand sorted by their labels.

    Example:
        >>> cube = DesignDie(6, "cube", (1, 2, 3, 4, 5, 6))
        >>> NumberingDesign((cube, cube)).ordinary
        True
    """

    dice: tuple[DesignDie, ...]

    @classmethod
    def of(
        cls,
        dice: tuple[Die, ...],
        labels: Sequence[Sequence[int]],
        groups: Sequence[Sequence[int]] | None = None,
    ) -> NumberingDesign:
        """The design in canonical form: labels sorted on each die, interchangeable dice sorted by their labels.

        Who makes many designs of the same dice may hand over which are `interchangeable`.
        """
        standing = [tuple(sorted(one)) for one in labels]
        for group in interchangeable(dice) if groups is None else groups:
            for position, one in zip(group, sorted(standing[p] for p in group), strict=True):
                standing[position] = one
        return cls(tuple(DesignDie(d.faces, d.solid, s) for d, s in zip(dice, standing, strict=True)))

    @cached_property
    def id(self) -> str:
        """The first digits of the SHA-256 of the canonical form: the same whatever found the design."""
        form = [[die.faces, die.solid, *die.labels] for die in self.dice]
        text = json.dumps(form, separators=(",", ":"))
        return hashlib.sha256(text.encode()).hexdigest()[:ID_LENGTH]

    @property
    def ordinary(self) -> bool:
        """Whether every die is 1..faces up to a shift."""
        return all(d.labels == tuple(range(d.labels[0], d.labels[0] + d.faces)) for d in self.dice)

    def up_to_shift(self, dice: tuple[Die, ...]) -> NumberingDesign:
        """The design with each die shifted to least label 0, in canonical form: equal where a shift joins designs."""
        return NumberingDesign.of(dice, [[x - d.labels[0] for x in d.labels] for d in self.dice])

    def as_json(self) -> dict[str, Any]:
        """The design as the contract writes it: id, dice, ordinary."""
        dice = [{"faces": d.faces, "solid": d.solid, "labels": list(d.labels)} for d in self.dice]
        return {"id": self.id, "dice": dice, "ordinary": self.ordinary}

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> NumberingDesign:
        """The design that `as_json` wrote; other keys are passed over."""
        dice = (DesignDie(d["faces"], d["solid"], tuple(d["labels"])) for d in data["dice"])
        return cls(tuple(dice))
