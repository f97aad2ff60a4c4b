"""The proof: every design nearer than a bound, total by total from the least up.

With the labels of all dice up to low + k chosen, the ways of the total least + k are settled, whatever follows. So the
search chooses label counts level by level, adds up the deviations of the totals that are settled, and leaves a
branch as soon as these, with a bound for the rest, reach what is to be beaten. Near the optimum the ways of each total
are all but fixed, as in the division of power series, and few branches are left.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

if TYPE_CHECKING:
    from facewright.search.engines.nearest.problem import Problem, Whole

NODES = 2_000_000
"""Branches between two questions whether to stop: some tenths of a second."""

BUFFER = 256
"""Designs kept before they are fetched."""


class Chain:
    """A search for designs that deviate less than `below`; it can be left and entered again.

    Args:
        given: the problem.
        table: its `bounds`.
        low: its `floors`.
        below: only designs that deviate less are looked for.
        improve: whether each design found lowers `below` (to find the best), or not (to list all).
    """

    def __init__(self, given: Problem, table: Whole, low: Whole, below: int, *, improve: bool) -> None:
        dice, levels = given.most.shape
        self._given, self._table, self._low = given, table, low
        self._improve = improve
        self._state = np.array([0, below, 0, 0], dtype=np.int64)
        self._value = np.full((levels + 1, dice), -1, dtype=np.int64)
        self._left = np.zeros((levels + 1, dice), dtype=np.int64)
        self._left[0] = given.faces
        self._tied = np.zeros((levels + 1, dice), dtype=np.int64)
        self._tied[0] = given.alike
        self._cost = np.zeros(levels + 1, dtype=np.int64)
        self._cost[0] = given.outside
        self._used = np.zeros(levels + 1, dtype=np.int64)
        self._prefix = np.zeros((dice, levels + 1), dtype=np.int64)
        self._found = np.zeros((BUFFER, dice, levels), dtype=np.int64)
        capacity = np.zeros((dice, levels + 1), dtype=np.int64)
        capacity[:, :levels] = given.most[:, ::-1].cumsum(axis=1)[:, ::-1]
        self._capacity = capacity
        self.nodes = 0

    @property
    def below(self) -> int:
        """What is to be beaten now."""
        return int(self._state[1])

    def go_on(self) -> tuple[list[Whole], bool]:
        """Goes on for some branches: the designs found meanwhile, as counts, and whether the search has ended."""
        given = self._given
        self._state[2] = 0
        visited = _search(
            given.m,
            given.n,
            given.largest,
            given.wanted,
            given.most,
            given.alike,
            given.fixed,
            self._table,
            self._low,
            self._capacity,
            self._state,
            self._value,
            self._left,
            self._tied,
            self._cost,
            self._used,
            self._prefix,
            self._found,
            self._improve,
            NODES,
        )
        self.nodes += int(visited)
        found = [self._found[at].copy() for at in range(int(self._state[2]))]
        return found, int(self._state[0]) < 0


@njit(cache=True)
def _join(largest, cost, more):  # type: ignore[no-untyped-def]
    return max(cost, more) if largest else cost + more


@njit(cache=True)
def _total_cost(m, largest, wanted, fixed, counts, deep, outside):  # type: ignore[no-untyped-def]
    """The deviation of a whole design whose labels reach up to level `deep`."""
    dice = counts.shape[0]
    ways = fixed.copy()
    for die in range(dice):
        grown = np.zeros(len(ways) + deep, dtype=np.int64)
        for i in range(deep + 1):
            times = counts[die, i]
            if times:
                for t in range(len(ways)):
                    grown[t + i] += times * ways[t]
        ways = grown
    cost = outside
    for t in range(len(wanted)):
        here = m * ways[t] if t < len(ways) else 0
        cost = _join(largest, cost, abs(here - wanted[t]))
    return cost


@njit(cache=True)
def _rest_bound(m, largest, wanted, fixed, low, value, k, cost, below):  # type: ignore[no-untyped-def]
    """A bound on the whole deviation: totals not yet settled have at least the ways that are known."""
    dice = value.shape[1]
    ways = fixed.copy()
    for die in range(dice):
        grown = np.zeros(len(ways) + k, dtype=np.int64)
        for i in range(k + 1):
            times = value[i, die]
            if times:
                for t in range(len(ways)):
                    grown[t + i] += times * ways[t]
        ways = grown
    for t in range(k + 1, len(wanted)):
        over = m * ways[t] - wanted[t] if t < len(ways) else -1
        cost = _join(largest, cost, max(over, low[t]))
        if cost >= below:
            break
    return cost


@njit(cache=True)
def _search(  # type: ignore[no-untyped-def]  # noqa: PLR0912, PLR0915 - one loop: the compiler wants it so
    m, n, largest, wanted, most, alike, fixed, table, low, capacity,
    state, value, left, tied, cost, used, prefix, found, improve, nodes,
):  # fmt: skip
    dice, levels = most.shape
    tabled = table.shape[1] > 1
    sums = np.zeros(dice + 1, dtype=np.int64)
    weights = np.zeros(dice, dtype=np.int64)
    visited = 0
    k = state[0]
    counts = np.zeros((dice, levels), dtype=np.int64)
    while k >= 0:
        if visited >= nodes or state[2] >= found.shape[0]:
            break
        visited += 1
        below = state[1]
        # the ways of total k, linear in the counts of this level: base + Σ weights·counts
        bare = np.int64(0)
        for die in range(dice):
            mixed = np.int64(0)
            if die > 0:
                for u in range(1, k):
                    mixed += prefix[die - 1, u] * value[k - u, die]
                bare = bare * (value[0, die] if k > 0 else 0) + mixed
        base = fixed[0] * bare
        for s in range(1, min(len(fixed) - 1, k) + 1):
            base += fixed[s] * prefix[dice - 1, k - s]
        for die in range(dice):
            weight = fixed[0]
            for other in range(dice):
                if other != die:
                    weight *= value[0, other] if k > 0 else 1
            weights[die] = weight
        # the next choice of this level: an odometer, the last die turning fastest
        fresh = value[k, 0] < 0
        if fresh:
            for die in range(dice):
                value[k, die] = 0
            value[k, dice - 1] = -1
        die = dice - 1
        ways = np.int64(0)
        chosen = False
        sums[0] = base
        for one in range(dice):
            sums[one + 1] = sums[one] + weights[one] * max(0, value[k, one])
        while die >= 0:
            value[k, die] += 1
            top = min(most[die, k], left[k, die])
            if tied[k, die] and die > 0:
                top = min(top, value[k, die - 1])
            if value[k, die] > top:
                die -= 1
                continue
            sums[die + 1] = sums[die] + weights[die] * value[k, die]
            if k > 0 and weights[die] > 0:
                over = m * sums[die + 1] - wanted[k]
                if over > 0 and _join(largest, cost[k], over) >= below:
                    die -= 1
                    continue
            if left[k, die] - value[k, die] > capacity[die, k + 1]:
                continue
            if die < dice - 1:
                die += 1
                value[k, die] = -1
                continue
            if k > 0:
                ways = sums[dice]
            else:
                ways = fixed[0]
                for one in range(dice):
                    ways *= value[0, one]
            spent = _join(largest, cost[k], abs(m * ways - wanted[k]))
            room = n - used[k] - ways
            if room < 0 or spent >= below:
                continue
            rest = table[k + 1, room if tabled else 0]
            if _join(largest, spent, rest) >= below:
                continue
            chosen = True
            break
        if not chosen:
            for one in range(dice):
                value[k, one] = -1
            k -= 1
            continue
        spent = _join(largest, cost[k], abs(m * ways - wanted[k]))
        done = True
        for one in range(dice):
            if left[k, one] != value[k, one]:
                done = False
        if done:
            for one in range(dice):
                for i in range(levels):
                    counts[one, i] = value[i, one] if i <= k else 0
            whole = _total_cost(m, largest, wanted, fixed, counts, k, cost[0])
            if whole < below:
                found[state[2]] = counts
                state[2] += 1
                if improve:
                    state[1] = whole
            continue
        if k + 1 >= levels:
            continue
        if _rest_bound(m, largest, wanted, fixed, low, value, k, spent, below) >= below:
            continue
        for one in range(dice):
            if one == 0:
                prefix[0, k] = value[k, 0]
            else:
                mixed = np.int64(0)
                for u in range(k + 1):
                    mixed += prefix[one - 1, u] * value[k - u, one]
                prefix[one, k] = mixed
            left[k + 1, one] = left[k, one] - value[k, one]
            alike_so_far = tied[k, one] == 1 and one > 0 and value[k, one] == value[k, one - 1]
            tied[k + 1, one] = 1 if alike_so_far else 0
            value[k + 1, one] = -1
        cost[k + 1] = spent
        used[k + 1] = used[k] + ways
        k += 1
    state[0] = k
    return visited
