"""The walk through all layouts, unit by unit, compiled when first used.

It knows no clock and no stop: it makes so many nodes and can then be called again to go on where it was.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit

Array = Any
"""An array of whole numbers; the compiler finds out which."""

OVER, FOUND, PAUSED = 0, 1, 2
"""How a call of `walk` ended: nothing is left; a layout was found; the nodes were used up."""


@njit(cache=True)
def extremes(values: Array, left: Array, top: Array, bottom: Array) -> None:
    """The greatest and the least sums of 0, 1, 2, … of the numbers that are left."""
    many = 0
    for at in range(values.size - 1, -1, -1):
        for _ in range(left[at]):
            if many + 1 < top.size:
                top[many + 1] = top[many] + values[at]
                many += 1
    many = 0
    for at in range(values.size):
        for _ in range(left[at]):
            if many + 1 < bottom.size:
                bottom[many + 1] = bottom[many] + values[at]
                many += 1


@njit(cache=True)
def ceiling(a: int, b: int) -> int:
    """a over b, rounded up; b is positive."""
    return -((-a) // b)


@njit(cache=True)
def walk(
    order: Array,
    rank: Array,
    rows: Array,
    behind: Array,
    limits: Array,
    near: Array,
    pair_limits: Array,
    step: int,
    values: Array,
    candidates: Array,
    value_of: Array,
    only_first: int,
    ranks: Array,
    paired: bool,
    x: Array,
    left: Array,
    sums: Array,
    count: Array,
    place: Array,
    last: Array,
    state: Array,
    nodes: int,
) -> int:
    """Goes on through the tree of layouts until one is found, nothing is left, or the nodes are used up.

    Params:
        order, rank: shape (units,): the unit at each depth, and the depth of each unit.
        rows: shape (units, most rows of a unit, 2): row and coefficient; row −1 ends.
        behind: shape (units, most rows of a unit, 2): for each the number of units of the row that come later, and
            their greatest coefficient.
        limits: shape (rows,): how far each row may be from 0.
        near, pair_limits, step: as for annealing.
        values: the distinct numbers, rising; where `paired`, those not below 0.
        candidates, value_of: shape (candidates,): the numbers that a unit can carry, rising, and which of the
            `values` each uses up.
        only_first: the one candidate of the first unit; −1: all.
        ranks: shape (units, most, 4): orders between numbers that break symmetry, kept at the later of two units: the
            other unit, this one's sign, the other's sign, and 1 where this one is to be the less, else 0; unit −1 ends.
        x, left, sums, count, place, last: the state between calls: numbers of units, how many of each value are left,
            sums of the rows, clashing pairs, the next and the last candidate at each depth.
        state: shape (3,): the depth, 1 where that depth is entered anew, and the nodes made so far.
        nodes: how many to make at most.
    """
    many = order.size
    top, bottom = np.zeros(many + 2, np.int64), np.zeros(many + 2, np.int64)
    depth, entering = state[0], state[1]
    made = 0
    while made < nodes:
        if entering == 1:
            entering = 0
            if depth == many:
                depth -= 1
                state[0], state[1], state[2] = depth, 2, state[2] + made
                return FOUND
            unit = order[depth]
            extremes(values, left, top, bottom)
            low, high = candidates[0], candidates[candidates.size - 1]
            for at in range(rows.shape[1]):
                line = rows[unit, at, 0]
                if line < 0:
                    break
                later = behind[unit, at, 0]
                if paired:
                    most = behind[unit, at, 1] * top[later]
                    least = -most
                else:
                    most, least = top[later], bottom[later]
                start = -limits[line] - sums[line] - most
                end = limits[line] - sums[line] - least
                times = rows[unit, at, 1]
                if times < 0:
                    start, end = -end, -start
                    times = -times
                low, high = max(low, ceiling(start, times)), min(high, end // times)
            first = 0
            while first < candidates.size and candidates[first] < low:
                first += 1
            after = first
            while after < candidates.size and candidates[after] <= high:
                after += 1
            place[depth], last[depth] = first, after
            if depth == 0 and only_first >= 0:
                place[0] = max(first, only_first)
                last[0] = min(after, only_first + 1)
        elif entering == 2:
            # a layout was handed over: take its last number off again
            entering = 0
            take(
                order[depth], x, left, sums, count, rows, near, step, rank, depth, candidates, value_of, place
            )
        if place[depth] >= last[depth]:
            depth -= 1
            if depth < 0:
                state[0], state[1], state[2] = 0, 0, state[2] + made
                return OVER
            take(
                order[depth], x, left, sums, count, rows, near, step, rank, depth, candidates, value_of, place
            )
            continue
        at = place[depth]
        place[depth] += 1
        if left[value_of[at]] == 0:
            continue
        unit, value = order[depth], candidates[at]
        ranked = True
        for entry in range(ranks.shape[1]):
            other = ranks[unit, entry, 0]
            if other < 0:
                break
            here = ranks[unit, entry, 1] * value
            there = ranks[unit, entry, 2] * (value if other == unit else x[other])
            if (here > there) if ranks[unit, entry, 3] == 1 else (here < there):
                ranked = False
                break
        if not ranked:
            continue
        made += 1
        x[unit] = value
        left[value_of[at]] -= 1
        for row in range(rows.shape[1]):
            line = rows[unit, row, 0]
            if line < 0:
                break
            sums[line] += rows[unit, row, 1] * value
        clash(unit, x, near, step, rank, depth, count, 1)
        if count[0] > pair_limits[0] or count[1] > pair_limits[1] or count[2] > pair_limits[2]:
            take(unit, x, left, sums, count, rows, near, step, rank, depth, candidates, value_of, place)
            continue
        depth += 1
        entering = 1
    state[0], state[1], state[2] = depth, entering, state[2] + made
    return PAUSED


@njit(cache=True)
def clash(
    unit: int, x: Array, near: Array, step: int, rank: Array, depth: int, count: Array, sign: int
) -> None:
    """Tells the pairs of faces of a unit that clash with those laid before."""
    for at in range(near.shape[1]):
        other = near[unit, at, 0]
        if other < 0:
            break
        if rank[other] > depth:
            continue
        gap = abs(x[unit] - near[unit, at, 1] * x[other])
        edge = near[unit, at, 2]
        if gap == 0:
            count[1 - edge] += sign
        elif gap == step and edge == 1:
            count[2] += sign


@njit(cache=True)
def take(
    unit: int,
    x: Array,
    left: Array,
    sums: Array,
    count: Array,
    rows: Array,
    near: Array,
    step: int,
    rank: Array,
    depth: int,
    candidates: Array,
    value_of: Array,
    place: Array,
) -> None:
    """Takes off the number that a unit got last."""
    clash(unit, x, near, step, rank, depth, count, -1)
    for row in range(rows.shape[1]):
        line = rows[unit, row, 0]
        if line < 0:
            break
        sums[line] -= rows[unit, row, 1] * x[unit]
    left[value_of[place[depth] - 1]] += 1
