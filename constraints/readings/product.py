"""The product: the labels that come up, multiplied."""

from __future__ import annotations

from collections.abc import Sequence
from math import prod
from typing import TYPE_CHECKING

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Joins
from facewright.constraints.readings.folding import folded

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


class Product:
    """All labels that come up, multiplied.

    Example:
        >>> Product().distribution([(1, 2), (0, 3)]).ways
        {0: 2, 3: 1, 6: 1}
    """

    name = "product"
    ordered = False
    joins: Joins = "none"
    start = 1

    def step(self, known: int, label: int) -> int:
        """The product so far times the label."""
        return known * label

    def end(self, known: int) -> int:
        """The product itself."""
        return known

    def result(self, labels: Sequence[int]) -> int:
        """The product of the labels."""
        return prod(labels)

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """Folded die by die."""
        return folded(self, dice)

    def post(self, model: CountModel, target: Distribution) -> None:
        """Takes out labels that divide no result, then adds the products of counts; see `constraints.model.folds`."""
        from facewright.constraints.model.folds import post_folded

        for die, labels in enumerate([model.labels(place) for place in range(len(model.dice))]):
            for label in labels:
                if not any(_divides(label, result) for result in target.ways):
                    model.bound(die, label, 0)
        post_folded(model, self, target)

    def takes(self, dice: int) -> str | None:
        """Any number of dice."""
        return None

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """Any whole number can be a result."""
        return None

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """The greatest result over the least labels of the others; with labels of 0 and below, the largest result.

        A label that is larger than every result, signs apart, could only meet zeros.
        """
        largest = max(abs(int(target.greatest)), abs(int(target.least)))
        others = [low for at, low in enumerate(lowest) if at != place]
        if min(lowest) >= 1:
            return largest // prod(others)
        return max(largest, lowest[place])


def _divides(label: int, result: int) -> bool:
    return result == 0 if label == 0 else result % label == 0
