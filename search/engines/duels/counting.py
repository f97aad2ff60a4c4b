"""Counting designs of duels without listing them: wins so far, cut off at what is wanted, label by label."""

from __future__ import annotations

from math import comb, prod
from typing import TYPE_CHECKING, Any

from facewright.search.engines.duels.frame import Frame, Used
from facewright.search.engines.duels.problem import Problem
from facewright.search.engines.duels.sweep import MOST_PACKED, Needs
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, Stopped, never

if TYPE_CHECKING:
    import numpy as np

    Numbers = np.ndarray[Any, np.dtype[Any]]

MOST_STATES = 3_000_000
"""How many states (faces used, wins so far) a count may hold at a time."""


class TooMany(Exception):
    """A count that would take more memory than is given to it."""


def counted(needs: Needs, stop: Stop = never, report: Progress = silent) -> int:
    """The number of designs, before any exchange of dice.

    Two beginnings with equal faces used and equal wins, where wins beyond what is wanted are forgotten, have the same
    continuations; so a number a state is enough. Beginnings that nothing can complete are dropped.

    Raises:
        TooMany: there are too many states.
        Stopped: `stop` asked for it.
    """
    import numpy as np

    if not needs.possible:
        return 0
    frame, wanted = needs.frame, np.array(needs.wanted, dtype=np.int64)
    weights = _weights(needs)
    start = np.zeros((1, len(wanted)), dtype=np.int64)
    # counts beyond 64 bits are kept as Python's integers, which are slower
    exact = np.int64 if _at_most(frame.problem) < MOST_PACKED else object
    states: dict[Used, tuple[Numbers, Numbers]] = {
        tuple(0 for _ in frame.faces): (start, np.ones(1, dtype=exact))
    }
    for at in range(len(frame.labels)):
        report("labels counted", at, len(frame.labels))
        grown: dict[Used, list[tuple[Numbers, Numbers]]] = {}
        for used, (won, ways) in states.items():
            if (asked := stop()) is not None:
                raise Stopped(asked)
            for choice in frame.choices(at, used):
                then = tuple(map(sum, zip(used, choice, strict=True)))
                left = needs.layers[at + 1].get(then)
                if left is None:
                    continue
                more = np.minimum(won + np.array(frame.gains(used, choice), dtype=np.int64), wanted)
                fit = (more >= left.min(axis=0)).all(axis=1)
                if fit.any():
                    grown.setdefault(then, []).append((more[fit], ways[fit]))
        states = {then: _merged(parts, weights) for then, parts in grown.items()}
        if sum(len(ways) for _, ways in states.values()) > MOST_STATES:
            raise TooMany
    return sum(int(ways.sum()) for _, ways in states.values())


def counted_up_to_exchange(needs: Needs, stop: Stop = never, report: Progress = silent) -> int:
    """The number of designs where those that an exchange of equal dice joins count once.

    By Burnside's lemma: the mean, over the exchanges that keep the pattern, of the number of designs that each leaves
    as they are.

    Raises:
        TooMany: there are too many states.
        Stopped: `stop` asked for it.
    """
    problem = needs.frame.problem
    turns = problem.symmetries
    total = counted(needs, stop, report)
    known: dict[Problem, int] = {}
    for turn in turns:
        if turn == tuple(range(len(turn))) or (folded := problem.folded(turn)) is None:
            continue
        smaller, places = folded
        if smaller not in known:
            wanted = [0] * len(smaller.arcs)
            for need, place in zip(needs.wanted, places, strict=True):
                wanted[place] = max(wanted[place], need)
            known[smaller] = counted(Needs(Frame(smaller), wanted, stop), stop)
        total += known[smaller]
    return total // len(turns)


def _at_most(problem: Problem) -> int:
    """A number that the count cannot pass: the ways to label each die."""
    return prod(
        1 if die.exactly is not None else comb(len(die.rules.allowed()) + die.faces - 1, die.faces)
        for die in problem.dice
    )


def _weights(needs: Needs) -> Numbers:
    import numpy as np

    weights = [1]
    for bound in needs.wanted:
        weights.append(weights[-1] * (bound + 1))
    if weights[-1] >= MOST_PACKED:
        raise TooMany
    return np.array(weights[:-1], dtype=np.int64)


def _merged(parts: list[tuple[Numbers, Numbers]], weights: Numbers) -> tuple[Numbers, Numbers]:
    """States, each once, with their numbers added up."""
    import numpy as np

    won = np.concatenate([one for one, _ in parts])
    ways = np.concatenate([one for _, one in parts])
    keys = won @ weights
    order = np.argsort(keys, kind="stable")
    keys, won, ways = keys[order], won[order], ways[order]
    first = np.flatnonzero(np.concatenate([[True], keys[1:] != keys[:-1]]))
    return won[first], np.add.reduceat(ways, first)
