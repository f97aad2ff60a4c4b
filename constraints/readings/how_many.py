"""How many: the number of dice that show a label or more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Joins
from facewright.constraints.readings.folding import folded

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


@dataclass(frozen=True)
class HowMany:
    """How many of the labels that come up are at least `at_least`.

    Example:
        >>> HowMany(2).distribution([(1, 2), (1, 3)]).ways
        {0: 1, 1: 2, 2: 1}
    """

    at_least: int

    name: ClassVar[str] = "how-many"
    ordered: ClassVar[bool] = False
    joins: ClassVar[Joins] = "none"
    start: ClassVar[int] = 0

    def step(self, known: int, label: int) -> int:
        """One more where the label is high enough."""
        return known + (label >= self.at_least)

    def end(self, known: int) -> int:
        """The number itself."""
        return known

    def result(self, labels: Sequence[int]) -> int:
        """How many labels are high enough."""
        return sum(label >= self.at_least for label in labels)

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """Folded die by die."""
        return folded(self, dice)

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds the products of counts, number by number; see `constraints.model.folds`."""
        from facewright.constraints.model.folds import post_folded

        post_folded(model, self, target)

    def takes(self, dice: int) -> str | None:
        """Any number of dice."""
        return None

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """From none to all of the dice can show so much."""
        wrong = next((result for result in target.ways if not 0 <= result <= dice), None)
        if wrong is None:
            return None
        return f"the result {wrong:,}", f"how many of {dice} dice: results from 0 to {dice}"

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """Far enough for the ordinary labels of the die, and for one that is high enough."""
        return max(self.at_least, lowest[place] + faces[place] - 1)
