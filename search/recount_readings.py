"""Recounting of readings other than the total: what a result is, said once more, and every outcome visited.

Nothing here is shared with `constraints.readings`: a slip there must not be repeated here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from itertools import product
from math import prod
from typing import Any

from facewright.constraints.errors import UsageError

VISITED = 200_000
"""Up to so many combinations of different labels each is visited, in a fifth of a second."""

Definition = Callable[[Sequence[int], Mapping[str, Any]], Any]
"""From the labels that come up, in the order of the dice, and what the reading is told, to the result."""


def _highest(labels: Sequence[int], told: Mapping[str, Any]) -> int:
    return sorted(labels)[-1]


def _lowest(labels: Sequence[int], told: Mapping[str, Any]) -> int:
    return sorted(labels)[0]


def _difference(labels: Sequence[int], told: Mapping[str, Any]) -> int:
    one, other = labels
    return one - other if one > other else other - one


def _signed_difference(labels: Sequence[int], told: Mapping[str, Any]) -> int:
    first, second = labels
    return first - second


def _product(labels: Sequence[int], told: Mapping[str, Any]) -> int:
    result = 1
    for label in labels:
        result *= label
    return result


def _side_by_side(labels: Sequence[int], told: Mapping[str, Any]) -> tuple[int, ...]:
    return tuple(labels)


def _middle(labels: Sequence[int], told: Mapping[str, Any]) -> int:
    left = list(labels)
    while len(left) > 2:
        left.remove(max(left))
        left.remove(min(left))
    return left[0]


def _total_of_highest(labels: Sequence[int], told: Mapping[str, Any]) -> int:
    left = list(labels)
    while len(left) > told["keep"]:
        left.remove(min(left))
    return sum(left)


def _total_of_lowest(labels: Sequence[int], told: Mapping[str, Any]) -> int:
    left = list(labels)
    while len(left) > told["keep"]:
        left.remove(max(left))
    return sum(left)


def _how_many(labels: Sequence[int], told: Mapping[str, Any]) -> int:
    return len([label for label in labels if not label < told["at_least"]])


def _total_modulo(labels: Sequence[int], told: Mapping[str, Any]) -> int:
    return divmod(sum(labels), int(told["modulo"]))[1]


DEFINITIONS: dict[str, Definition] = {
    "highest": _highest,
    "lowest": _lowest,
    "difference": _difference,
    "signed-difference": _signed_difference,
    "product": _product,
    "side-by-side": _side_by_side,
    "total-modulo": _total_modulo,
    "middle": _middle,
    "total-of-highest": _total_of_highest,
    "total-of-lowest": _total_of_lowest,
    "how-many": _how_many,
    "total": lambda labels, told: sum(labels),
}
"""The readings that are known here."""

PAIRWISE = {"highest", "lowest", "product", "total-modulo", "total"}
"""Readings whose result over some dice can stand for these dice: two may be merged into one die of their results."""


def recounted_reading(dice: Sequence[Sequence[int]], read: str, told: Mapping[str, Any]) -> dict[Any, int]:
    """Result → ways, sorted by result: every combination of different labels visited, with its number of outcomes.

    With more than `VISITED` combinations the first two dice are merged into one that carries their results, where the
    reading allows that. Raises UsageError where so many dice cannot be read so.
    """
    if read in ("difference", "signed-difference") and len(dice) != 2:
        raise UsageError(f"dice: found {len(dice)} read as the {read}; accepted: two")
    if read == "middle" and len(dice) % 2 == 0:
        raise UsageError(f"dice: found {len(dice)} of which the middle one is read; accepted: an odd number")
    if len(dice) < told.get("keep", 1):
        raise UsageError(
            f"dice: found {len(dice)} of which {told['keep']} are kept; accepted: so many at least"
        )
    counts = [_shown(labels, told.get("reroll", ())) for labels in dice]
    if read == "how-many":
        # labels on one side of the bound cannot be told apart by it: of each die only two sorts are left
        counts = [_sorts(one, int(told["at_least"])) for one in counts]
    while len(counts) > 2 and read in PAIRWISE and prod(map(len, counts)) > VISITED:
        counts = [_visited(counts[:2], read, told), *counts[2:]]
    return dict(sorted(_visited(counts, read, told).items()))


def _shown(labels: Sequence[int], again: Sequence[int]) -> Counter[Any]:
    """What a die shows in the end: each first roll with each second one, which counts after some labels only."""
    if not again:
        return Counter(labels)
    return Counter(second if first in again else first for first in labels for second in labels)


def _sorts(counts: Counter[Any], bound: int) -> Counter[Any]:
    enough = sum(times for label, times in counts.items() if not label < bound)
    return +Counter({bound: enough, bound - 1: sum(counts.values()) - enough})


def _visited(dice: Sequence[Counter[Any]], read: str, told: Mapping[str, Any]) -> Counter[Any]:
    define = DEFINITIONS[read]
    ways: Counter[Any] = Counter()
    for shown in product(*(counts.items() for counts in dice)):
        ways[define([label for label, _ in shown], told)] += prod(times for _, times in shown)
    return ways
