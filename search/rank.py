"""Scores and rank: what each score says of a design, and the order that the weights of a brief give."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from facewright.constraints.design import NumberingDesign
from facewright.constraints.errors import UsageError
from facewright.search.report.cost import Cost
from facewright.search.report.readability import Familiar, Legible, Readability
from facewright.search.report.scores import Part, Score, Settings, load_scores, rounded

RANK_NAMES = ("readability", "legible", "familiar", "cost")
"""What a brief's `rank` may weigh."""


@lru_cache(maxsize=8)
def scores_of(settings: Settings) -> tuple[Legible, Familiar, Readability, Cost]:
    """The scores under these settings, in the order in which they are shown: one line a score."""
    return (Legible(settings), Familiar(settings), Readability(settings), Cost(settings))


@dataclass(frozen=True)
class Scores:
    """What the scores say of a design: their values at once, their parts when asked for."""

    design: NumberingDesign
    copies: tuple[int, ...]
    settings: Settings
    scores: dict[str, int | float]

    @property
    def id(self) -> str:
        """The id of the design."""
        return self.design.id

    @property
    def parts(self) -> dict[str, list[dict[str, Any]]]:
        """Score name → its parts, each with name, share (0 to 1, the best), words, and what it counts."""
        return {
            one.name: [
                {"name": p.name, "share": round(p.share, 4), "words": p.words, "counts": round(p.counts, 2)}
                for p in one.parts(self.design, self.copies)
            ]
            for one in scores_of(self.settings)
        }


@dataclass(frozen=True)
class Ranked:
    """A design's place: `position` counts from 1, and designs with equal `overall` share it as a tie."""

    position: int
    tied: bool
    overall: int
    scores: Scores

    @property
    def id(self) -> str:
        """The id of the design."""
        return self.scores.id


def score(design: NumberingDesign, copies: Sequence[int], settings: Settings) -> Scores:
    """Every score of a design: whole numbers from 0 to 100, higher better; cost in points, lower better.

    `copies` says, a die of the design, how many faces of its solid carry each label. Raises UsageError unless
    there is one number of at least 1 a die.
    """
    if len(copies) != len(design.dice) or any(times < 1 for times in copies):
        raise UsageError(
            f"copies: found {list(copies)}; accepted: {len(design.dice)} numbers of at least 1, one a die"
        )
    legible, familiar, readability, cost = scores_of(settings)
    apart = legible.value(design, copies), familiar.value(design, copies)
    values = {
        legible.name: apart[0],
        familiar.name: apart[1],
        readability.name: readability.joined_of(*apart),
        cost.name: cost.value(design, copies),
    }
    return Scores(design, tuple(copies), settings, values)


def rank(
    scored: Sequence[Scores],
    weights: Mapping[str, int] | Iterable[tuple[str, int]],
    cheapest: float | None = None,
) -> list[Ranked]:
    """The designs in order, best first; within a tie by id.

    `overall` is the weighted mean of the weighed scores as a whole number, halves rounded up. Cost enters as
    economy: 100 × the least cost / the design's cost, so that the cheapest has 100: the least cost among `scored`,
    or `cheapest`, where they are some of many designs and the least cost of all is known.
    Raises UsageError for unknown names, negative weights, or weights that are all 0.
    """
    shares = _checked(dict(weights))
    costs = [one.scores["cost"] for one in scored] + ([] if cheapest is None else [cheapest])
    cheapest = min(costs, default=0)
    placed = sorted((-overall_of(one.scores, shares, cheapest), one.id, at) for at, one in enumerate(scored))
    ranked: list[Ranked] = []
    for place, (less, _, at) in enumerate(placed):
        above = place > 0 and placed[place - 1][0] == less
        below = place + 1 < len(placed) and placed[place + 1][0] == less
        position = ranked[-1].position if above else place + 1
        ranked.append(Ranked(position, above or below, -less, scored[at]))
    return ranked


def overall_of(scores: Mapping[str, float], shares: Mapping[str, int], cheapest: float) -> int:
    """The weighted mean of a design's scores, cost entering as economy against the cheapest design."""
    economy = 100 * cheapest / scores["cost"] if scores["cost"] else 100.0
    values = {**scores, "cost": economy}
    mean = sum(values[name] * weight for name, weight in shares.items()) / sum(shares.values())
    return int(rounded(mean))


def _checked(weights: dict[str, int]) -> dict[str, int]:
    for name, weight in weights.items():
        if name not in RANK_NAMES:
            raise UsageError(f"rank: found {name!r}; accepted: {', '.join(RANK_NAMES)}")
        if weight < 0:
            raise UsageError(f"rank.{name}: found {weight}; accepted: a number of at least 0")
    if not any(weights.values()):
        raise UsageError("rank: found no weight above 0; accepted: at least one")
    return weights


__all__ = ["RANK_NAMES", "Part", "Ranked", "Score", "Scores", "load_scores", "rank", "score", "scores_of"]
