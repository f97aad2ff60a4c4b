"""What a reading is: how the labels that come up become one result."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Literal, Protocol

from facewright.constraints.distribution import Distribution

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel

Joins = Literal["sum zero", "one for all", "none"]
"""Which constants may be added to the labels without changing any result: one a die, together zero; the same one to
every die; none."""


class Reading(Protocol):
    """One way to read dice rolled together.

    A reading takes up the dice one by one: from `start`, `step` adds the label of the next die to what is known so far,
    and `end` makes the result of it. `ordered` says whether the order of the dice matters, so that equal dice cannot be
    exchanged; `joins` which shifts no result can see.
    """

    @property
    def name(self) -> str:
        """The name that briefs use."""
        ...

    @property
    def ordered(self) -> bool:
        """Whether the order of the dice matters."""
        ...

    @property
    def joins(self) -> Joins:
        """Which shifts of the labels leave every result as it is."""
        ...

    @property
    def start(self) -> Any:
        """What is known before any die is taken up."""
        ...

    def step(self, known: Any, label: int) -> Any:
        """What is known once the next die shows this label."""
        ...

    def end(self, known: Any) -> Any:
        """The result, once all dice are taken up."""
        ...

    def result(self, labels: Sequence[int]) -> Any:
        """The result when these labels come up, one a die, in the order of the dice."""
        ...

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """The exact distribution of the result, for dice given by their labels."""
        ...

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds to a CP-SAT model of label counts that the dice, so read, have the target's chances exactly."""
        ...

    def takes(self, dice: int) -> str | None:
        """None where so many dice can be read so, else how many can."""
        ...

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """A result of the target that so many dice, so read, can never give, and which they can; None without one."""
        ...

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """The greatest label worth trying on the die at a place, where the brief sets no highest.

        Params:
            place: the position of the die, from 0.
            lowest: the least label of every die.
            faces: the face count of every die.
            target: the distribution wanted.
        """
        ...
