"""Rolling again: a die that shows one of some labels is rolled once more, and what it shows then counts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings.base import Joins, Reading
from facewright.constraints.readings.folding import folded_counts

if TYPE_CHECKING:
    from facewright.constraints.model.counts import CountModel


def shown(labels: Sequence[int], again: Sequence[int]) -> dict[int, int]:
    """Label → in how many of its n² ways a die with n faces shows it, each die rolled twice in thought.

    The second roll counts where the first shows one of the labels `again`.

    Example:
        >>> shown((1, 2, 2), (1,))
        {1: 1, 2: 8}
    """
    counts = Counter(labels)
    faces = len(labels)
    rolled = sum(counts[label] for label in again)
    ways = {x: count * (rolled + (0 if x in again else faces)) for x, count in sorted(counts.items())}
    return {label: count for label, count in ways.items() if count}


@dataclass(frozen=True)
class Rerolled:
    """A reading of dice of which those that show one of the labels `again` have been rolled once more."""

    of: Reading
    again: tuple[int, ...]

    joins: Joins = "none"

    @property
    def name(self) -> str:
        """The name of the reading."""
        return self.of.name

    @property
    def ordered(self) -> bool:
        """Whether the order of the dice matters."""
        return self.of.ordered

    @property
    def start(self) -> Any:
        """As in the reading."""
        return self.of.start

    def step(self, known: Any, label: int) -> Any:
        """As in the reading, the label being what counts."""
        return self.of.step(known, label)

    def end(self, known: Any) -> Any:
        """As in the reading."""
        return self.of.end(known)

    def result(self, labels: Sequence[int]) -> Any:
        """As in the reading, for the labels that count."""
        return self.of.result(labels)

    def distribution(self, dice: Sequence[Sequence[int]]) -> Distribution:
        """Folded over what the dice show in the end; n² equally likely ways a die with n faces."""
        return folded_counts(self.of, [shown(labels, self.again) for labels in dice])

    def post(self, model: CountModel, target: Distribution) -> None:
        """Adds the reading's rule to a model that was made for these labels rolled again."""
        from facewright.constraints.model.folds import post_folded

        if self.of.name == "total":
            post_folded(model, self.of, target)
        else:
            self.of.post(model, target)

    def takes(self, dice: int) -> str | None:
        """As many as the reading."""
        return self.of.takes(dice)

    def strange(self, target: Distribution, dice: int) -> tuple[str, str] | None:
        """What is strange to the reading."""
        return self.of.strange(target, dice)

    def highest_label(
        self, place: int, lowest: Sequence[int], faces: Sequence[int], target: Distribution
    ) -> int:
        """As in the reading: every label can be what counts."""
        return self.of.highest_label(place, lowest, faces, target)
