"""The total of the highest, or of the lowest: only some of the labels that come up are added."""

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
class TotalOfHighest:
    """The sum of the `keep` greatest of the labels that come up.

    Example:
        >>> TotalOfHighest(2).distribution([(1, 2), (1, 2), (1, 3)]).ways
        {2: 1, 3: 2, 4: 2, 5: 3}
    """

    keep: int

    name: ClassVar[str] = "total-of-highest"
    ordered: ClassVar[bool] = False
    joins: ClassVar[Joins] = "none"
    start: ClassVar[tuple[int, ...]] = ()

    def step(self, known: tuple[int, ...], label: int) -> tuple[int, ...]:
        """The greatest labels so far, as many as are kept, in order."""
        return tuple(sorted((*known, label)))[-self.keep :]

    def end(self, known: tuple[int, ...]) -> int:
        """Their sum."""
        return sum(known)

    def result(self, labels: Sequence[int]) -> int:
        """The sum of the greatest labels."""
        return sum(sorted(labels, reverse=True)[: self.keep])

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """Folded die by die."""
        return folded(self, dice)

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds the products of counts, state by state; see `constraints.model.folds`."""
        from facewright.constraints.model.folds import post_folded

        post_folded(model, self, target)

    def takes(self, dice: int) -> str | None:
        """At least as many dice as are kept."""
        return None if dice >= self.keep else f"at least {self.keep} dice, as many as are kept"

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """Any whole number can be a result."""
        return None

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """The greatest result less the least labels kept beside it: of the others, those with the highest lowest."""
        beside = sorted(low for at, low in enumerate(lowest) if at != place)
        return int(target.greatest) - sum(beside[len(beside) - self.keep + 1 :])


@dataclass(frozen=True)
class TotalOfLowest:
    """The sum of the `keep` least of the labels that come up.

    Example:
        >>> TotalOfLowest(2).distribution([(1, 2), (1, 2), (1, 3)]).ways
        {2: 4, 3: 3, 4: 1}
    """

    keep: int

    name: ClassVar[str] = "total-of-lowest"
    ordered: ClassVar[bool] = False
    joins: ClassVar[Joins] = "none"
    start: ClassVar[tuple[int, ...]] = ()

    def step(self, known: tuple[int, ...], label: int) -> tuple[int, ...]:
        """The least labels so far, as many as are kept, in order."""
        return tuple(sorted((*known, label)))[: self.keep]

    def end(self, known: tuple[int, ...]) -> int:
        """Their sum."""
        return sum(known)

    def result(self, labels: Sequence[int]) -> int:
        """The sum of the least labels."""
        return sum(sorted(labels)[: self.keep])

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """Folded die by die."""
        return folded(self, dice)

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds the products of counts, state by state; see `constraints.model.folds`."""
        from facewright.constraints.model.folds import post_folded

        post_folded(model, self, target)

    def takes(self, dice: int) -> str | None:
        """At least as many dice as are kept."""
        return None if dice >= self.keep else f"at least {self.keep} dice, as many as are kept"

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """Any whole number can be a result."""
        return None

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """The greatest result less the least labels that can be kept beside it; a greater one would never be kept."""
        beside = sorted(low for at, low in enumerate(lowest) if at != place)
        return int(target.greatest) - sum(beside[: self.keep - 1])
