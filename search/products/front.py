"""The Pareto front: the designs that no other is at least as good as in everything and better in something."""

from __future__ import annotations

from collections.abc import Callable, Sequence

Better = Callable[[int, int], bool]
"""Whether the first of two positions is really better than the second, in one criterion."""


def dominates(one: int, other: int, criteria: Sequence[Better]) -> bool:
    """Whether one design is nowhere worse than another, and somewhere better."""
    some = False
    for better in criteria:
        if better(other, one):
            return False
        some = some or better(one, other)
    return some


def bettered_by(many: int, criteria: Sequence[Better]) -> list[tuple[int, ...]]:
    """For each of so many designs the positions of all that dominate it; the front has none.

    Params:
        many: how many designs there are; criteria speak of them by their positions.
        criteria: one function a criterion. Values that do not really differ are better neither way.
    """
    return [
        tuple(one for one in range(many) if one != other and dominates(one, other, criteria))
        for other in range(many)
    ]


def front_of(values: Sequence[Sequence[float]]) -> list[bool]:
    """Whether each row, in which more is better everywhere, is on the front; of equal rows all or none are.

    Example:
        >>> front_of([(1, 2), (2, 1), (1, 1), (2, 1)])
        [True, True, False, True]
    """
    import numpy as np

    table = np.asarray(values, dtype=np.float64)
    rows, back = np.unique(table, axis=0, return_inverse=True)
    # later rows are greater in an early column: only they can dominate, so the front is built from the end
    kept: list[int] = []
    for at in range(len(rows) - 1, -1, -1):
        if not kept or not (rows[kept] >= rows[at]).all(axis=1).any():
            kept.append(at)
    on_front = np.zeros(len(rows), dtype=bool)
    on_front[kept] = True
    return [bool(one) for one in on_front[back.reshape(-1)]]
