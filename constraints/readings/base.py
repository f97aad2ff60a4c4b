"""What a reading is: how the labels that come up become one result."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Protocol

from facewright.constraints.distribution import Distribution

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


class Reading(Protocol):
    """One way to read dice rolled together."""

    name: str

    def result(self, labels: Sequence[int]) -> int:
        """The result when these labels come up, one a die, in the order of the dice."""
        ...

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """The exact distribution of the result, for dice given by their labels."""
        ...

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds to a CP-SAT model of label counts that the dice, so read, have the target's chances exactly."""
        ...
