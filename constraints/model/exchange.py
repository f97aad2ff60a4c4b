"""The order between interchangeable dice in a model: each design is found once, in its canonical form."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from facewright.constraints.labels import interchangeable
from facewright.constraints.model.counts import CountModel

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


def post_exchange(model: CountModel) -> None:
    """Adds that interchangeable dice stand sorted by their labels, as `NumberingDesign.of` sorts them.

    Of two dice with equally many faces the sorted labels of the first come first exactly when, at the least
    label whose counts differ, the first die has the greater count.
    """
    for group in interchangeable(model.dice):
        for first, second in pairwise(group):
            _post_order(model, first, second)


def _post_order(model: CountModel, first: int, second: int) -> None:
    """Adds that the counts of the first die are lexicographically no less than those of the second.

    `alike` says whether the counts agree on all labels so far. Both of its directions are posted, so that the
    counts alone fix it and no solution is listed twice.
    """
    alike: cp_model.IntVar | None = None
    for label in sorted({*model.labels(first), *model.labels(second)}):
        one, other = model.count(first, label), model.count(second, label)
        if isinstance(one.value, int) and isinstance(other.value, int):
            continue
        still = model.cp.new_bool_var(f"alike{first},{second}[{label}]")
        here: list[cp_model.IntVar] = [] if alike is None else [alike]
        model.cp.add(one.value >= other.value).only_enforce_if(here)
        model.cp.add(one.value == other.value).only_enforce_if(still)
        model.cp.add(one.value > other.value).only_enforce_if([*here, ~still])
        if alike is not None:
            model.cp.add_implication(still, alike)
        alike = still
