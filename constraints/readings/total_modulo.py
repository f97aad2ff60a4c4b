"""The total modulo a number: what is left of it when as many whole times that number are taken away as can be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Joins
from facewright.constraints.readings.folding import folded

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


@dataclass(frozen=True)
class TotalModulo:
    """The remainder of the total by `modulo`, a whole number from 0 to modulo − 1.

    Example:
        >>> TotalModulo(3).distribution([(1, 2), (1, 3)]).ways
        {0: 1, 1: 1, 2: 2}
    """

    modulo: int

    name = "total-modulo"
    ordered = False
    joins: Joins = "none"
    start = 0

    def step(self, known: int, label: int) -> int:
        """The remainder so far with the label added."""
        return (known + label) % self.modulo

    def end(self, known: int) -> int:
        """The remainder itself."""
        return known

    def result(self, labels: Sequence[int]) -> int:
        """The remainder of the sum of the labels."""
        return sum(labels) % self.modulo

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """Folded die by die."""
        return folded(self, dice)

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds the products of counts, remainder by remainder; see `constraints.model.folds`."""
        from facewright.constraints.model.folds import post_folded

        post_folded(model, self, target)

    def takes(self, dice: int) -> str | None:
        """Any number of dice."""
        return None

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """A remainder lies from 0 to modulo − 1."""
        wrong = next((result for result in target.ways if not 0 <= result < self.modulo), None)
        if wrong is None:
            return None
        accepted = (
            f'remainders from 0 to {self.modulo - 1:,}; like = "d{self.modulo} - 1" makes all equally likely'
        )
        return f"the result {wrong:,}", accepted

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """Far enough for the ordinary labels of the die, and for one label of each remainder."""
        return lowest[place] + max(self.modulo, faces[place]) - 1
