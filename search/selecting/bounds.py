"""What each way to label a die adds to the scores of a set, and how high a set that holds it can score at most.

Every score grows with the shares of single dice, so that bounds on the shares bound the score, rounding included:
the characters, the heights and the marks of a set add up; a share of `familiar` is part mean, part the least of the
dice; the points of `cost` add up apart from characters and dice that differ, of which there are never fewer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple, Protocol

from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.search.rank import RANK_NAMES, overall_of
from facewright.search.report.cost import Cost
from facewright.search.report.readability import Familiar, Legible, Readability, drawn, known
from facewright.search.report.scores import Settings

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

SLACK = 1e-6
"""Added before a bound is rounded: more than sums of floats lose, less than any step of a score."""

GLYPHS = "0123456789-"


class Adds(NamedTuple):
    """What dice add: heights and marks in points of `legible`, characters, the mean of `familiar` in points, cost.

    Characters and cost are negative, so that more is better in every place.
    """

    read: float
    characters: float
    mean: float
    cost: float


@dataclass(frozen=True)
class Marked:
    """One way to label a die: what it adds, its shares of `familiar` in points, the characters on it as bits."""

    adds: Adds
    shares: tuple[float, ...]
    glyphs: int


class Marker:
    """Works out what labels add, in a set of so many faces on so many dice."""

    def __init__(self, settings: Settings, dice: int, faces: int) -> None:
        self._settings, self._dice, self._faces = settings, dice, faces
        self._legible, self._familiar, self._cost = Legible(settings), Familiar(settings), Cost(settings)
        self._heights: dict[tuple[str, int, int, int], float] = {}
        weights = settings.legible
        every = weights.long_labels + weights.numeral_size + weights.character_height + weights.upside_down
        self._upside_down = 100 * weights.upside_down / every
        known_weights = settings.familiar
        told = (
            known_weights.gaps,
            known_weights.repeats,
            known_weights.range,
            known_weights.below_one,
            known_weights.expected,
        )
        self._weights = tuple(100 * one / sum(told) for one in told)
        self.long = 100 * weights.long_labels / every

    def of(self, solid: str, copies: int, labels: tuple[int, ...]) -> Marked:
        """What these labels add on such a die."""
        characters, cost = self._settings.characters, self._settings.cost
        one, near = drawn(labels, characters), known(labels, self._settings.shape)
        share = one.faces / self._faces
        upright = self._upside_down * (1 - one.marked / one.faces)
        points = one.characters * cost.character + one.marked * cost.mark + one.faces * cost.face
        shares = tuple(weight * each for weight, each in zip(self._weights, near.shares, strict=True))
        mean = (1 - self._settings.shape.hardest_die) / self._dice * sum(shares)
        adds = Adds(
            share * (self._height(solid, copies, labels, one.widest) + upright),
            -one.characters,
            mean,
            -points * copies,
        )
        return Marked(adds, shares, sum(1 << GLYPHS.index(glyph) for glyph in one.glyphs))

    def _height(self, solid: str, copies: int, labels: tuple[int, ...], widest: int) -> float:
        """Points for the height of the characters, which their number on the widest face settles."""
        key = (solid, copies, len(labels), widest)
        if key not in self._heights:
            alone = NumberingDesign((DesignDie(len(labels), solid, labels),))
            parts = self._legible.parts(alone, (copies,))
            self._heights[key] = parts[1].counts + parts[2].counts
        return self._heights[key]


class Goal(Protocol):
    """What is to be as great as possible.

    Before it is rounded, a score is at most legible·(points of `legible`) + familiar·(points of `familiar`) +
    economy(cost), economy convex and falling from `least_cost` on, below which no design costs before it is rounded;
    `slack` is what all rounding adds at most.
    """

    legible: float
    familiar: float
    slack: float
    least_cost: float

    def economy(self, cost: float) -> float:
        """What a cost, before it is rounded, adds at most."""

    def value(self, scores: dict[str, int | float]) -> int:
        """What a design scores."""

    def most(self, legible: Floats, familiar: Floats, cost: Floats) -> Floats:
        """The most that sets can score whose scores are at most, whose cost is at least, so much."""


class Aim:
    """What is to be as great as possible: the overall score by the weights, in whole numbers."""

    def __init__(self, settings: Settings, weights: Sequence[tuple[str, int]], cheapest: float) -> None:
        self.weights, self.cheapest = dict(weights), cheapest
        self._joined = one, other = Readability(settings).joined
        whole = sum(self.weights.values())
        share = {name: self.weights.get(name, 0) / whole for name in RANK_NAMES}
        self.legible = share["legible"] + share["readability"] * one / 100
        self.familiar = share["familiar"] + share["readability"] * other / 100
        self.slack = 0.5 + 0.5 * (share["legible"] + share["familiar"]) + share["readability"]
        self._cost = 100 * share["cost"]
        self.least_cost = cheapest - 0.05 if cheapest > 1 else 0.0

    def economy(self, cost: float) -> float:
        """What a cost, before it is rounded, adds at most."""
        return self._cost * self.cheapest / (cost - 0.05) if self.least_cost else self._cost

    def value(self, scores: dict[str, int | float]) -> int:
        """What a design scores."""
        return overall_of(scores, self.weights, self.cheapest)

    def most(self, legible: Floats, familiar: Floats, cost: Floats) -> Floats:
        """The most that sets can score whose scores are at most, whose cost is at least, so much."""
        import numpy as np

        legible, familiar = _up(np.minimum(legible, 100)), _up(np.minimum(familiar, 100))
        one, other = self._joined
        values: dict[str, Any] = {
            "legible": legible,
            "familiar": familiar,
            "readability": _up((legible * one + familiar * other) / 100),
            "cost": 100.0,
        }
        if self.weights.get("cost") and self.cheapest:
            values["cost"] = (
                100 * self.cheapest / np.maximum(np.floor(cost * 10 + 0.5 - SLACK) / 10, self.cheapest)
            )
        whole = sum(values[name] * weight for name, weight in self.weights.items())
        most: Floats = _up(np.zeros_like(legible) + whole / sum(self.weights.values()))
        return most


class Cheapest:
    """What is to be as great as possible: the cost in tenths of a point, taken negative."""

    legible = familiar = least_cost = 0.0
    slack = 0.5

    def economy(self, cost: float) -> float:
        """What a cost, before it is rounded, adds."""
        return -10 * cost

    def value(self, scores: dict[str, int | float]) -> int:
        """What a design scores."""
        return -round(scores["cost"] * 10)

    def most(self, legible: Floats, familiar: Floats, cost: Floats) -> Floats:
        """The most that sets can score whose cost is at least so much."""
        import numpy as np

        most: Floats = -np.floor(cost * 10 + 0.5 - SLACK)
        return most


def _up(value: Floats) -> Floats:
    """Rounded as scores are, halves and what floats lose up."""
    import numpy as np

    up: Floats = np.floor(value + 0.5 + SLACK)
    return up
