"""The lowest: the least label that comes up."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Joins
from facewright.constraints.readings.folding import folded

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


class Lowest:
    """The least of all labels that come up.

    Example:
        >>> Lowest().distribution([(1, 2), (1, 3)]).ways
        {1: 3, 2: 1}
    """

    name = "lowest"
    ordered = False
    joins: Joins = "none"
    start: int | None = None

    def step(self, known: int | None, label: int) -> int:
        """The lesser of the lowest so far and the label."""
        return label if known is None else min(known, label)

    def end(self, known: int) -> int:
        """The lowest itself."""
        return known

    def result(self, labels: Sequence[int]) -> int:
        """The least label."""
        return min(labels)

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """Folded die by die."""
        return folded(self, dice)

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds that the counts of labels above each value multiply to the target's; see `constraints.model.ranks`."""
        from facewright.constraints.model.ranks import post_rank

        post_rank(model, target, 1)

    def takes(self, dice: int) -> str | None:
        """Any number of dice."""
        return None

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """Any whole number can be a result."""
        return None

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """A greater label than the greatest result would never be read."""
        return int(target.greatest)
