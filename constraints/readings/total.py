"""The total: the labels that come up, added."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Joins

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


class Total:
    """The sum of all labels that come up.

    Example:
        >>> Total().distribution([(1, 2), (1, 3)]).ways
        {2: 1, 3: 1, 4: 1, 5: 1}
    """

    name = "total"
    ordered = False
    joins: Joins = "sum zero"
    start = 0

    def step(self, known: int, label: int) -> int:
        """The sum so far and the label."""
        return known + label

    def end(self, known: int) -> int:
        """The sum itself."""
        return known

    def result(self, labels: Sequence[int]) -> int:
        """The sum of the labels."""
        return sum(labels)

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """The convolution of the dice."""
        total = Distribution.of({0: 1})
        for labels in dice:
            total += Distribution.of_labels(labels)
        return total

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds the totals rule; see `constraints.model.totals`."""
        from facewright.constraints.model.totals import post_totals

        post_totals(model, target)

    def takes(self, dice: int) -> str | None:
        """Any number of dice."""
        return None

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """Any whole number can be a result."""
        return None

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """The greatest result less the least labels of the other dice."""
        return int(target.greatest) - (sum(lowest) - lowest[place])
