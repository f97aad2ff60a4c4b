"""Side by side: the labels that come up, in the order of the dice."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Joins
from facewright.constraints.readings.folding import folded

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


class SideBySide:
    """The labels themselves, one a die.

    Example:
        >>> SideBySide().distribution([(1, 2), (3, 3)]).ways
        {(1, 3): 2, (2, 3): 2}
    """

    name = "side-by-side"
    ordered = True
    joins: Joins = "none"
    start: tuple[int, ...] = ()

    def step(self, known: tuple[int, ...], label: int) -> tuple[int, ...]:
        """The labels so far and the next."""
        return (*known, label)

    def end(self, known: tuple[int, ...]) -> tuple[int, ...]:
        """The labels themselves."""
        return known

    def result(self, labels: Sequence[int]) -> tuple[int, ...]:
        """The labels, in the order of the dice."""
        return tuple(labels)

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """Folded die by die."""
        return folded(self, dice)

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds the products of counts, combination by combination; see `constraints.model.folds`."""
        from facewright.constraints.model.folds import post_folded

        post_folded(model, self, target)

    def takes(self, dice: int) -> str | None:
        """Any number of dice."""
        return None

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """Every result has one label a die."""
        wrong = next((result for result in target.ways if len(result) != dice), None)
        if wrong is None:
            return None
        found = f'"{" ".join(map(str, wrong))}", {len(wrong)} {"label" if len(wrong) == 1 else "labels"}'
        return (
            f"{found} for {dice} {'die' if dice == 1 else 'dice'}",
            "one label a die, in the order of the dice",
        )

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """The greatest label that a result has in that place."""
        return max(int(result[place]) for result in target.ways)
