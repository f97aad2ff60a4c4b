"""The finding: annealing on labels until every duel of a pattern is won often enough."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from facewright.search.engines.duels.problem import Labels, Problem
from numba import njit

MOVES = 300_000
"""Moves of one cooling."""

SHARED = 3
"""What a label costs that stands on two dice where none may, in outcomes."""


def cooled(problem: Problem, needs: Sequence[int], seed: int) -> tuple[Labels, int] | None:
    """One cooling from random labels.

    Returns: the labels with the least shortfall met, and that shortfall: outcomes that are missing in duels, and for
    each pair of faces with a common label, where labels have owners, `SHARED` more. None where a die cannot be filled.
    """
    start = _start(problem, seed)
    if start is None:
        return None
    allowed = [die.exactly or die.rules.allowed() for die in problem.dice]
    pool = np.zeros((len(allowed), max(map(len, allowed))), dtype=np.int64)
    labels = np.zeros((len(allowed), max(map(len, start))), dtype=np.int64)
    for die, (may, has) in enumerate(zip(allowed, start, strict=True)):
        pool[die, : len(may)] = may
        labels[die, : len(has)] = has
    short = _cool(
        labels,
        np.array([die.faces for die in problem.dice]),
        np.array([die.exactly is not None for die in problem.dice]),
        np.array([die.rules.repeats or die.faces for die in problem.dice]),
        pool,
        np.array([len(one) for one in allowed]),
        np.array(problem.arcs),
        np.array(needs),
        problem.once,
        problem.owned,
        seed,
        MOVES,
    )
    found = [sorted(row[: die.faces].tolist()) for row, die in zip(labels, problem.dice, strict=True)]
    return tuple(map(tuple, found)), int(short)


def _start(problem: Problem, seed: int) -> list[tuple[int, ...]] | None:
    """Labels within the rules, taken at random; every label once where the problem wants it so."""
    random = np.random.default_rng(seed)
    found: list[tuple[int, ...]] = []
    if problem.once:
        dealt = random.permutation(problem.dice[0].rules.allowed()).tolist()
        for die in problem.dice:
            found.append(tuple(dealt[: die.faces]))
            dealt = dealt[die.faces :]
        return found
    for die in problem.dice:
        if die.exactly is not None:
            found.append(die.exactly)
            continue
        pool = list(die.rules.allowed()) * min(die.faces, die.rules.repeats or die.faces)
        if len(pool) < die.faces:
            return None
        found.append(tuple(random.permutation(pool)[: die.faces].tolist()))
    return found


@njit(cache=True)
def _change(labels, faces, arcs, won, die, old, new):  # type: ignore[no-untyped-def]
    """Follows the wins when one face of a die changes its label."""
    for arc in range(len(arcs)):
        one, other = arcs[arc, 0], arcs[arc, 1]
        if one == die:
            for at in range(faces[other]):
                won[arc] += (new > labels[other, at]) - (old > labels[other, at])
        elif other == die:
            for at in range(faces[one]):
                won[arc] += (labels[one, at] > new) - (labels[one, at] > old)


@njit(cache=True)
def _missing(won, needs):  # type: ignore[no-untyped-def]
    short = 0
    for arc in range(len(needs)):
        short += max(0, needs[arc] - won[arc])
    return short


@njit(cache=True)
def _cool(  # type: ignore[no-untyped-def]  # noqa: PLR0912, PLR0915 - one loop: the compiler wants it so
    labels, faces, fixed, repeats, pool, sizes, arcs, needs, once, owned, seed, moves
):
    np.random.seed(seed)
    dice = len(faces)
    won = np.zeros(len(arcs), dtype=np.int64)
    for arc in range(len(arcs)):
        for one in range(faces[arcs[arc, 0]]):
            for other in range(faces[arcs[arc, 1]]):
                won[arc] += labels[arcs[arc, 0], one] > labels[arcs[arc, 1], other]
    shared = 0
    for die in range(dice if owned else 0):
        for before in range(die):
            for one in range(faces[die]):
                for other in range(faces[before]):
                    shared += labels[die, one] == labels[before, other]
    best = labels.copy()
    now = SHARED * shared + _missing(won, needs)
    least = now
    then_won = won.copy()
    heat = 2.0
    cool = (0.15 / heat) ** (1.0 / moves)
    for _ in range(moves):
        if least == 0:
            break
        heat *= cool
        die = np.random.randint(dice)
        face = np.random.randint(faces[die])
        if fixed[die]:
            continue
        old = labels[die, face]
        mate = die
        mate_face = face
        if once:
            # two dice exchange a label, so that every label stays in use
            mate = np.random.randint(dice)
            mate_face = np.random.randint(faces[mate])
            new = labels[mate, mate_face]
            if mate == die:
                continue
        else:
            new = pool[die, np.random.randint(sizes[die])]
            often = 0
            for other in range(faces[die]):
                often += labels[die, other] == new
            if new == old or often >= repeats[die]:
                continue
        then_shared = shared
        for other in range(dice if owned and not once else 0):
            if other != die:
                for at in range(faces[other]):
                    then_shared += (labels[other, at] == new) - (labels[other, at] == old)
        then_won[:] = won
        _change(labels, faces, arcs, then_won, die, old, new)
        labels[die, face] = new
        if mate != die:
            _change(labels, faces, arcs, then_won, mate, new, old)
            labels[mate, mate_face] = old
        then = SHARED * then_shared + _missing(then_won, needs)
        if then <= now or np.random.random() < np.exp((now - then) / heat):
            now = then
            shared = then_shared
            won[:] = then_won
            if now < least:
                least = now
                best[:] = labels
        else:
            labels[die, face] = old
            if mate != die:
                labels[mate, mate_face] = new
    labels[:] = best
    return least
