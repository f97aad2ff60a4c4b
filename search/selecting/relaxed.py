"""How much dice can add at most while their vectors add up to the whole: a bound from a linear programme's prices.

For prices y on the digits of the vectors, and z ≥ 0 on what is limited besides, no set of dice adds more than
y·whole + z·limits + the greatest of Σ (value − y·digits − z·limited), digits and limits left aside (weak duality).
Whatever the prices, that holds; a linear programme finds good ones. Vectors and limits may be missed there at a high
price, so that where no set exists, the bound falls below all that is asked, which shows it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

PRICED = 3
"""Fewer dice are combined as fast without prices."""

MISSED = 1e4
"""The price of a vector that is missed by one."""


class Kind(NamedTuple):
    """The choices of a kind of die, shape (n, digits); how many dice; how many of these differ, None: as they like."""

    digits: Floats
    dice: int
    different: int | None


class Limited(NamedTuple):
    """What the dice of all kinds add to a sum that lies between two bounds: an array a kind."""

    each: tuple[Floats, ...]
    least: float
    most: float


class Relaxed(NamedTuple):
    """No set adds more than `most`. `reduced` are the values less the prices, an array a kind; `constant` completes
    them: what a set adds is at most its reduced values and the constant together. `caps`: no set with that choice
    adds more.
    """

    most: float
    constant: float
    reduced: tuple[Floats, ...]
    caps: tuple[Floats, ...]


def relaxed(
    values: Sequence[Floats], kinds: Sequence[Kind], whole: Floats, limits: Sequence[Limited]
) -> Relaxed | None:
    """The bound on what sets of dice add; None where no set can be."""
    if any(len(kind.digits) < (kind.different or 1) for kind in kinds):
        return None
    prices = _prices(values, kinds, whole, limits) if sum(kind.dice for kind in kinds) >= PRICED else ()
    return _bounded(values, kinds, whole, limits, prices)


def best_of(reduced: Floats, dice: int, different: int | None) -> float:
    """The most that so many dice of a kind add, so many of them different, the others as they like."""
    import numpy as np

    if not dice:
        return 0.0
    many = min(different or 1, len(reduced))
    most = np.partition(reduced, len(reduced) - many)[len(reduced) - many :]
    return float(most.sum() + (dice - many) * most.max())


def _bounded(
    values: Sequence[Floats],
    kinds: Sequence[Kind],
    whole: Floats,
    limits: Sequence[Limited],
    prices: Sequence[float],
) -> Relaxed:
    import numpy as np

    constant, reduced = 0.0, list(values)
    if len(prices):
        on_digits, on_limits = np.array(prices[: len(whole)]), prices[len(whole) :]
        constant = float(on_digits @ whole)
        reduced = [one - kind.digits @ on_digits for one, kind in zip(reduced, kinds, strict=True)]
        for limit, above, below in zip(limits, on_limits[::2], on_limits[1::2], strict=True):
            constant += above * limit.most - below * limit.least
            reduced = [one - (above - below) * part for one, part in zip(reduced, limit.each, strict=True)]
    each = [best_of(one, kind.dice, kind.different) for one, kind in zip(reduced, kinds, strict=True)]
    most = constant + sum(each)
    caps = tuple(
        most - best + _with_each(one, kind, best)
        for one, kind, best in zip(reduced, kinds, each, strict=True)
    )
    return Relaxed(most, constant, tuple(reduced), caps)


def _with_each(reduced: Floats, kind: Kind, best: float) -> Floats:
    """The most that the dice of a kind add where one of them is this choice."""
    import numpy as np

    if kind.different == 1:
        alike: Floats = kind.dice * reduced
        return alike
    if kind.different is None:
        free: Floats = best - reduced.max() + reduced
        return free
    last = np.partition(reduced, len(reduced) - kind.different)[len(reduced) - kind.different]
    with_it: Floats = best + np.minimum(reduced - last, 0)
    return with_it


def _prices(
    values: Sequence[Floats], kinds: Sequence[Kind], whole: Floats, limits: Sequence[Limited]
) -> Sequence[float]:
    """Good prices; none where the programme was not solved.

    Dice of a kind of which so many differ are its different ones, each choice once at most, and repeats.
    """
    import numpy as np
    from scipy.optimize import linprog

    blocks, columns, most, rows, sums = [], [], [], [], []
    rest = [list(limit.each) for limit in limits]
    extra: list[list[Floats]] = [[] for _ in limits]
    for number, (value, kind) in enumerate(zip(values, kinds, strict=True)):
        groups = [(kind.dice, kind.dice)] if kind.different is None else [(kind.different, 1)]
        if kind.different is not None and kind.dice > kind.different:
            groups.append((kind.dice - kind.different, kind.dice - kind.different))
        for dice, each in groups:
            blocks.append(kind.digits.T)
            columns.append(value)
            most.append(np.full(len(value), float(each)))
            rows.append(len(value))
            sums.append(float(dice))
            for place, parts in enumerate(rest):
                extra[place].append(parts[number])
    columns_in_all = sum(rows)
    counting = np.zeros((len(rows), columns_in_all))
    start = 0
    for row, size in enumerate(rows):
        counting[row, start : start + size] = 1
        start += size
    limited = [sign * np.concatenate(parts) for parts in extra for sign in (1, -1)]
    bounds = [end for limit in limits for end in (limit.most, -limit.least)]
    off, over = np.eye(len(whole)), np.eye(len(limited))
    kept = np.zeros((len(rows), 2 * len(off) + len(over)))
    solved = linprog(
        np.concatenate([*(-column for column in columns), np.full(kept.shape[1], MISSED)]),
        A_ub=np.hstack([np.array(limited), np.zeros((len(over), 2 * len(off))), -over]) if limited else None,
        b_ub=bounds or None,
        A_eq=np.vstack(
            [np.hstack([*blocks, off, -off, np.zeros((len(off), len(over)))]), np.hstack([counting, kept])]
        ),
        b_eq=np.concatenate([whole, sums]),
        bounds=[(0.0, float(one)) for one in np.concatenate(most)] + [(0.0, None)] * kept.shape[1],
        method="highs",
    )
    if solved.status != 0:
        return ()
    on_limits = np.maximum(-solved.ineqlin.marginals, 0) if limited else np.zeros(0)
    return [*(-solved.eqlin.marginals[: len(whole)]).tolist(), *on_limits.tolist()]
