"""The middle: of an odd number of labels the one with as many above as below."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Joins
from facewright.constraints.readings.folding import folded

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


class Middle:
    """The middle one of the labels that come up, once they are put in order.

    Example:
        >>> Middle().distribution([(1, 2), (1, 2), (1, 3)]).ways
        {1: 4, 2: 4}
    """

    name = "middle"
    ordered = False
    joins: Joins = "none"
    start: tuple[int, ...] = ()

    def step(self, known: tuple[int, ...], label: int) -> tuple[int, ...]:
        """All labels so far, in order."""
        return tuple(sorted((*known, label)))

    def end(self, known: tuple[int, ...]) -> int:
        """The middle one."""
        return known[len(known) // 2]

    def result(self, labels: Sequence[int]) -> int:
        """The label with as many above as below."""
        return sorted(labels)[len(labels) // 2]

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """Folded die by die."""
        return folded(self, dice)

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds the rule on counts of labels up to each value; see `constraints.model.ranks`."""
        from facewright.constraints.model.ranks import post_rank

        post_rank(model, target, (len(model.dice) + 1) // 2)

    def takes(self, dice: int) -> str | None:
        """An odd number of dice."""
        return None if dice % 2 else "an odd number of dice, such as three"

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """Any whole number can be a result."""
        return None

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """A greater label than the greatest result would never be read."""
        return int(target.greatest)
