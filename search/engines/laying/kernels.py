"""The annealing loop of the layout engine, compiled when first used.

It works on units (see `constraints.model.units`) given as flat arrays, and knows no clock and no stop: it runs for so
many steps and can then be called again to go on where it was.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit

Array = Any
"""An array of whole numbers or of floats; the compiler finds out which."""

Whole = Any
"""A whole number of the compiler's own."""


@njit(cache=True)
def below(state: Array, many: int) -> Whole:
    """A random number from 0 to `many` − 1: xorshift64* (S. Vigna, ACM TOMS 42 (2016), no. 30; from memory)."""
    x = state[0]
    x ^= x >> np.uint64(12)
    x ^= x << np.uint64(25)
    x ^= x >> np.uint64(27)
    state[0] = x
    return np.int64((x * np.uint64(2685821657736338717)) >> np.uint64(33)) % many


@njit(cache=True)
def copy(source: Array, to: Array) -> None:
    """Copies a row of whole numbers."""
    for at in range(source.size):
        to[at] = source[at]


@njit(cache=True)
def copy_square(source: Array, to: Array) -> None:
    """Copies a matrix."""
    for row in range(source.shape[0]):
        for column in range(source.shape[1]):
            to[row, column] = source[row, column]


@njit(cache=True)
def tell_clashes(x: Array, unit: int, but: int, near: Array, step: int, count: Array, sign: int) -> None:
    """Adds to `count` (or takes off it) the pairs of faces of a unit that clash: equal ones, consecutive ones.

    Pairs with the unit `but` are left out.
    """
    value = x[unit]
    for at in range(near.shape[1]):
        other = near[unit, at, 0]
        if other < 0:
            break
        if other == but:
            continue
        gap = abs(value - near[unit, at, 1] * x[other])
        edge = near[unit, at, 2]
        if gap == 0:
            count[1 - edge] += sign
        elif gap == step and edge == 1:
            count[2] += sign


@njit(cache=True)
def over(count: Array, limits: Array, weights: Array) -> float:
    """What clashing pairs weigh beyond their limits."""
    total = 0.0
    for kind in range(3):
        if count[kind] > limits[kind]:
            total += weights[kind] * (count[kind] - limits[kind])
    return total


@njit(cache=True)
def excess(value: int, limit: int) -> float:
    """The square of what a row is beyond its limit."""
    beyond = abs(value) - limit
    return float(beyond) * beyond if beyond > 0 else 0.0


@njit(cache=True)
def tell_pull(
    pull: Array,
    pulls: Array,
    effects: Array,
    columns: Array,
    unit: int,
    value: int,
    times: float,
    paired: bool,
) -> None:
    """Adds what a unit with a number makes of the flaw, by result and component."""
    middle = columns.size // 2
    for side in range(2 if paired else 1):
        column = columns[middle + (value if side == 0 else -value)]
        for result in range(pull.shape[0]):
            chance = times * effects[result, column]
            for part in range(pull.shape[1]):
                pull[result, part] += chance * pulls[unit, side, part]


@njit(cache=True)
def square(pull: Array) -> float:
    """The sum of the squares of a matrix."""
    total = 0.0
    for result in range(pull.shape[0]):
        for part in range(pull.shape[1]):
            total += pull[result, part] * pull[result, part]
    return total


@njit(cache=True)
def anneal(
    x: Array,
    best: Array,
    rows: Array,
    limits: Array,
    near: Array,
    pair_limits: Array,
    pair_weights: Array,
    step: int,
    paired: bool,
    pulls: Array,
    columns: Array,
    effects: Array,
    random: Array,
    start: int,
    steps: int,
    whole: int,
    hot: float,
    cold: float,
) -> tuple[float, float, int]:
    """Swaps the numbers of two units (or turns a sign) again and again, for the worse ever more seldom.

    Params:
        x: the number of each unit, shape (units,); changed.
        best: the best so far, likewise; changed.
        rows: shape (units, most rows of a unit, 2): row and coefficient; row −1 ends.
        limits: shape (rows,): how far each row may be from 0.
        near: shape (units, most neighbours, 3): unit, sign, 1 across an edge or 0 at a corner; −1 ends.
        pair_limits, pair_weights: shape (3,): equal across an edge, equal at a corner, consecutive.
        step: what a difference of one between labels is; 0 where labels are words.
        paired: whether signs may turn.
        pulls: shape (units, 2, components): how a flaw moves the unit's positive face, and its negative one.
        columns: shape (2 · largest number + 1,): the column of `effects` of each number.
        effects: shape (results, labels): the chance of each result given a label.
        random: shape (1,): the state of the random numbers; changed.
        start, steps, whole: the first step of this call, how many it makes, how many there are to the cold end.
        hot, cold: temperatures.
    Returns: the least excess over the limits, the least pull among layouts with that excess, and the steps made:
        fewer than asked where nothing is left to improve.
    """
    many, lines = x.size, limits.size
    sums, count = np.zeros(lines, np.int64), np.zeros(3, np.int64)
    pull = np.zeros((effects.shape[0], pulls.shape[2]))
    for unit in range(many):
        for at in range(rows.shape[1]):
            if rows[unit, at, 0] < 0:
                break
            sums[rows[unit, at, 0]] += rows[unit, at, 1] * x[unit]
        # in this order each pair of units is told once
        for at in range(near.shape[1]):
            other = near[unit, at, 0]
            if 0 <= other <= unit:
                gap = abs(x[unit] - near[unit, at, 1] * x[other])
                if gap == 0:
                    count[1 - near[unit, at, 2]] += 1
                elif gap == step and near[unit, at, 2] == 1:
                    count[2] += 1
        tell_pull(pull, pulls, effects, columns, unit, x[unit], 1.0, paired)
    energy = over(count, pair_limits, pair_weights)
    for line in range(lines):
        energy += excess(sums[line], limits[line])
    drawn = square(pull)
    least, least_drawn = energy, drawn
    copy(x, best)
    guarded = pulls.shape[2] > 0
    delta, mark = np.zeros(lines, np.int64), np.zeros(lines, np.int64)
    touched = np.zeros(2 * rows.shape[1], np.int64)
    trial, after = np.zeros(3, np.int64), np.zeros((effects.shape[0], pulls.shape[2]))
    for made in range(steps):
        if least <= 0 and not guarded:
            return least, least_drawn, made
        a, b = below(random, many), below(random, many)
        old_a, old_b = x[a], x[b]
        new_a, new_b = old_b, old_a
        if paired:
            turns = below(random, 4)
            if a == b or turns & 1:
                new_a = -new_a
            if a != b and turns & 2:
                new_b = -new_b
        if new_a == old_a and (a == b or new_b == old_b):
            continue
        hit = 0
        for side in range(1 if a == b else 2):
            unit = a if side == 0 else b
            more = new_a - old_a if side == 0 else new_b - old_b
            for at in range(rows.shape[1]):
                line = rows[unit, at, 0]
                if line < 0:
                    break
                if mark[line] != made + 1:
                    mark[line] = made + 1
                    delta[line] = 0
                    touched[hit] = line
                    hit += 1
                delta[line] += rows[unit, at, 1] * more
        change = 0.0
        for at in range(hit):
            line = touched[at]
            change += excess(sums[line] + delta[line], limits[line]) - excess(sums[line], limits[line])
        copy(count, trial)
        tell_clashes(x, a, -1, near, step, trial, -1)
        if a != b:
            tell_clashes(x, b, a, near, step, trial, -1)
        x[a] = new_a
        if a != b:
            x[b] = new_b
        tell_clashes(x, a, -1, near, step, trial, 1)
        if a != b:
            tell_clashes(x, b, a, near, step, trial, 1)
        change += over(trial, pair_limits, pair_weights) - over(count, pair_limits, pair_weights)
        more_drawn = 0.0
        if guarded:
            copy_square(pull, after)
            tell_pull(after, pulls, effects, columns, a, old_a, -1.0, paired)
            tell_pull(after, pulls, effects, columns, a, new_a, 1.0, paired)
            if a != b:
                tell_pull(after, pulls, effects, columns, b, old_b, -1.0, paired)
                tell_pull(after, pulls, effects, columns, b, new_b, 1.0, paired)
            more_drawn = square(after) - drawn
        rise = change + more_drawn
        if rise > 0:
            heat = hot * (cold / hot) ** ((start + made) / whole)
            if rise > 40 * heat or below(random, 1 << 30) >= np.exp(-rise / heat) * (1 << 30):
                x[a] = old_a
                x[b] = old_b
                continue
        for at in range(hit):
            sums[touched[at]] += delta[touched[at]]
        copy(trial, count)
        energy += change
        if guarded:
            copy_square(after, pull)
            drawn += more_drawn
        if energy < least - 1e-9 or (guarded and energy < least + 1e-9 and drawn < least_drawn - 1e-12):
            least, least_drawn = max(energy, 0.0), drawn
            copy(x, best)
    return least, least_drawn, steps
