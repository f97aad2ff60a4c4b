"""A question of nearest totals as whole numbers: how often each die may carry each label, what each total wants."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import prod
from typing import TYPE_CHECKING

from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die
from facewright.constraints.question import Numbering

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Whole = NDArray[np.int64]

MOST = 2**61
"""No deviation may reach this: the search counts in 64 bits."""

MOST_CELLS = 20_000_000
"""Up to so many cells the bound by sums is tabled; past them each total is bounded on its own."""


@dataclass(frozen=True, eq=False)
class Problem:
    """Totals of the dice that are free, the fixed ones rolled along, against a target.

    The ways J_t of the total `least + t` deviate from the target by |M·J_t − N·T_t|, where N are the outcomes of the
    dice and M those of the target. `most[d, i]` says how often free die d may carry the label `lows[d] + i`;
    `fixed[s]` are the ways of the fixed dice; `wanted[t]` is N·T_t, `outside` what lies below all totals. `alike[d]` is
    1 where free die d may be exchanged with the one before. `order` are the positions of the free dice.
    """

    dice: tuple[Die, ...]
    order: tuple[int, ...]
    lows: tuple[int, ...]
    faces: Whole
    most: Whole
    alike: Whole
    fixed: Whole
    wanted: Whole
    outside: int
    m: int
    n: int
    largest: bool

    @property
    def unit(self) -> int:
        """A deviation over this is a chance: of the largest M·N, of the total variation distance 2·M·N."""
        return self.m * self.n * (1 if self.largest else 2)

    def share(self, cost: int) -> Fraction:
        """A deviation as a chance."""
        return Fraction(cost, self.unit)

    def design(self, counts: Whole) -> NumberingDesign:
        """The design that these counts, shape (free dice, labels), make together with the fixed dice."""
        labels: list[Sequence[int]] = [die.exactly or () for die in self.dice]
        for row, (position, low) in enumerate(zip(self.order, self.lows, strict=True)):
            labels[position] = [low + i for i, times in enumerate(counts[row].tolist()) for _ in range(times)]
        return NumberingDesign.of(self.dice, labels)


def refusal(question: Numbering) -> str | None:
    """Why the search cannot answer, in words; None where it can."""
    if (
        question.again
        or question.also
        or question.read != "total"
        or question.accept != "nearest"
        or question.nearest == "moments-first"
    ):
        return "it answers for the nearest totals alone"
    if all(die.exactly is not None for die in question.dice):
        return "every die is fixed"
    outcomes = prod(die.faces for die in question.dice)
    spread = sum(die_span(die)[1] - die_span(die)[0] for die in question.dice) + 2
    if outcomes * question.target.outcomes * spread >= MOST:
        return "the dice come up in more ways than can be counted in 64 bits"
    return None


def die_span(die: Die) -> tuple[int, int]:
    """The least and the greatest label that a die may carry."""
    labels = die.exactly or die.rules.allowed() or (die.rules.lowest,)
    return min(labels), max(labels)


def problem(question: Numbering) -> Problem:
    """The whole numbers of a question about one set of dice."""
    import numpy as np

    dice, target = question.dice, question.target
    order = sorted(
        (at for at, die in enumerate(dice) if die.exactly is None), key=lambda at: (_form(dice[at]), at)
    )
    free = [dice[at] for at in order]
    spans = [die_span(die) for die in free]
    long = max(high - low for low, high in spans) + 1
    most = np.zeros((len(free), long), dtype=np.int64)
    for row, die in enumerate(free):
        for label in die.rules.allowed():
            times = die.faces if die.rules.repeats is None else min(die.faces, die.rules.repeats)
            most[row, label - spans[row][0]] = times
    rolled = Distribution.of({0: 1})
    for die in dice:
        if die.exactly is not None:
            rolled += Distribution.of_labels(die.exactly)
    fixed = np.zeros(rolled.greatest - rolled.least + 1, dtype=np.int64)
    for result, ways in rolled.pairs:
        fixed[result - rolled.least] = ways
    least = rolled.least + sum(low for low, _ in spans)
    greatest = max(target.greatest, rolled.greatest + sum(low + long - 1 for low, _ in spans))
    n, m = prod(die.faces for die in dice), target.outcomes
    wanted = np.array([n * target.ways.get(t, 0) for t in range(least, greatest + 1)], dtype=np.int64)
    below = [n * ways for result, ways in target.pairs if result < least]
    largest = question.nearest == "largest"
    return Problem(
        dice,
        tuple(order),
        tuple(low for low, _ in spans),
        np.array([die.faces for die in free], dtype=np.int64),
        most,
        np.array([row > 0 and free[row] == free[row - 1] for row in range(len(free))], dtype=np.int64),
        fixed,
        wanted,
        (max(below, default=0) if largest else sum(below)),
        m,
        n,
        largest,
    )


def _form(die: Die) -> tuple[int, str]:
    """What puts interchangeable dice side by side: fewest faces first."""
    return die.faces, repr(die)


def floors(given: Problem) -> Whole:
    """For each total the least deviation that whole ways can have."""
    import numpy as np

    over = given.wanted % given.m
    return np.minimum(over, given.m - over)


def bounds(given: Problem) -> Whole:
    """For each total t and each sum s the least deviation of the totals from t up whose ways add up to s.

    Shape (totals + 2, N + 1), or (totals + 2, 1) where only the totals' own floors count. The sum of convex functions
    of whole numbers under a fixed sum is least by always taking the cheapest next step; where the largest deviation
    counts, the floors' maximum is used.
    """
    import numpy as np

    low, totals = floors(given), len(given.wanted)
    if given.largest or (totals + 2) * (given.n + 1) > MOST_CELLS:
        table = np.zeros((totals + 2, 1), dtype=np.int64)
        for t in range(totals - 1, -1, -1):
            table[t, 0] = max(table[t + 1, 0], low[t]) if given.largest else table[t + 1, 0] + low[t]
        return table
    table = np.full((totals + 2, given.n + 1), MOST, dtype=np.int64)
    table[totals:, 0] = 0
    steps = np.zeros(0, dtype=np.int64)
    base = 0
    for t in range(totals - 1, -1, -1):
        want = int(given.wanted[t])
        down, over = divmod(want, given.m)
        base += want
        own = np.full(min(down, given.n) + 1, -given.m, dtype=np.int64)
        if down <= given.n:
            own[-1] = given.m - 2 * over
        steps = np.sort(np.concatenate([steps, own]))[: given.n]
        climbs = np.full(given.n, given.m, dtype=np.int64)
        climbs[: len(steps)] = steps
        table[t, 0] = base
        table[t, 1:] = base + np.cumsum(climbs)
    return table


def arithmetic_bound(given: Problem, table: Whole) -> int:
    """No design deviates less: the least over whole ways of all totals that add up to the outcomes."""
    whole = int(table[0, given.n if table.shape[1] > 1 else 0])
    return max(whole, given.outside) if given.largest else whole + given.outside
