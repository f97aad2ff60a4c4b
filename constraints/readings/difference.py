"""The difference of two dice, never negative."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Joins
from facewright.constraints.readings.folding import folded

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


class Difference:
    """The greater of two labels less the other.

    Example:
        >>> Difference().distribution([(1, 2), (1, 3)]).ways
        {0: 1, 1: 2, 2: 1}
    """

    name = "difference"
    ordered = False
    joins: Joins = "one for all"
    start: int | None = None

    def step(self, known: int | None, label: int) -> int:
        """The first label, then how far the second is from it."""
        return label if known is None else abs(known - label)

    def end(self, known: int) -> int:
        """The difference itself."""
        return known

    def result(self, labels: Sequence[int]) -> int:
        """The greater label less the other."""
        return max(labels) - min(labels)

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
        """No difference is negative."""
        if target.least >= 0:
            return None
        return f"the result {target.least:,}", "results of 0 and above: a difference is never negative"

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """Where some die's least label is its lowest, no label can be further up than two differences.

        If the other die's is, no label is more than one greatest difference above it. Else this die's is, the other's
        least label stands at most one difference above that, and this die's labels at most one above the other's.
        """
        span = int(target.greatest)
        return max(lowest[1 - place] + span, lowest[place] + 2 * span)
