"""The signed difference: the first die less the second."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Joins
from facewright.constraints.readings.folding import folded

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


class SignedDifference:
    """The label of the first die less that of the second.

    Example:
        >>> SignedDifference().distribution([(1, 2), (1, 3)]).ways
        {-2: 1, -1: 1, 0: 1, 1: 1}
    """

    name = "signed-difference"
    ordered = True
    joins: Joins = "none"
    start: int | None = None

    def step(self, known: int | None, label: int) -> int:
        """The first label, then that less the second."""
        return label if known is None else known - label

    def end(self, known: int) -> int:
        """The difference itself."""
        return known

    def result(self, labels: Sequence[int]) -> int:
        """The first label less the second."""
        first, second = labels
        return first - second

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """Folded die by die."""
        return folded(self, dice)

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds the products of counts, difference by difference; see `constraints.model.folds`."""
        from facewright.constraints.model.folds import post_folded

        post_folded(model, self, target)

    def takes(self, dice: int) -> str | None:
        """Two dice."""
        return None if dice == 2 else "two dice"

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """Any whole number can be a result."""
        return None

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """Where some die's least label is its lowest: as high as that leaves either die.

        With A and B the dice, G and L the greatest and the least result, max A − min B = G and min A − max B = L. If
        min B is B's lowest, max A is G above it and max B at most G − L above it; if min A is A's lowest, max B is −L
        above it and max A at most G − L above it.
        """
        greatest, least = int(target.greatest), int(target.least)
        own = greatest if place == 0 else -least
        return max(lowest[1 - place] + own, lowest[place] + greatest - least)
