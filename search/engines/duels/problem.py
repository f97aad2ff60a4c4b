"""The mathematical problem behind a question of duels: dice, a pattern of who beats whom, how ties count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from facewright.constraints.duels import Arc, ring, symmetries
from facewright.constraints.labels import Die, LabelRules

Labels = tuple[tuple[int, ...], ...]
"""The labels of every die, sorted."""

Wins = tuple[int, ...]
"""How many outcomes of each duel must be won."""


@dataclass(frozen=True)
class Problem:
    """Labels on these dice so that each arc of the pattern is won often enough.

    `owned`: no label may stand on two dice, so that no tie comes up. `once`: every label within the rules stands on
    one face of one die.
    """

    dice: tuple[Die, ...]
    arcs: tuple[Arc, ...]
    owned: bool = False
    once: bool = False

    @cached_property
    def cyclic(self) -> bool:
        """Whether each die is to beat the next and the last the first, and nothing else."""
        return self.arcs == ring(len(self.dice))

    @cached_property
    def symmetries(self) -> list[tuple[int, ...]]:
        """The exchanges of equal dice that keep the pattern."""
        return symmetries(self.dice, self.arcs)

    @cached_property
    def outcomes(self) -> tuple[int, ...]:
        """The number of outcomes of each duel."""
        return tuple(self.dice[one].faces * self.dice[other].faces for one, other in self.arcs)

    @cached_property
    def candidates(self) -> tuple[Fraction, ...]:
        """Every chance above 0 that a duel may have, rising: the least chance of a design is 0 or one of them."""
        sizes = set(self.outcomes)
        return tuple(sorted({Fraction(won, size) for size in sizes for won in range(1, size + 1)}))

    def needs(self, chance: Fraction) -> Wins:
        """How many outcomes of each duel must be won for the chance."""
        return tuple(-(-chance.numerator * size // chance.denominator) for size in self.outcomes)

    def canonical(self, labels: Sequence[Sequence[int]]) -> Labels:
        """The least of the lists of labels to which exchanges that make no new design lead."""
        return min(tuple(tuple(labels[at]) for at in turn) for turn in self.symmetries)

    def folded(self, turn: tuple[int, ...]) -> tuple[Problem, tuple[int, ...]] | None:
        """The problem whose answers are those that an exchange leaves as they are, and the new arc of each arc.

        Dice that the exchange takes into one another carry equal labels and become one. None where that cannot be:
        a label would stand on two dice.
        """
        place = list(range(len(self.dice)))
        for start in range(len(self.dice)):
            at = turn[start]
            while at != start:
                place[at] = place[start] = min(place[at], place[start])
                at = turn[at]
        kept = sorted(set(place))
        if len(kept) < len(self.dice) and (self.owned or self.once):
            return None
        arcs = [(kept.index(place[one]), kept.index(place[other])) for one, other in self.arcs]
        distinct = tuple(dict.fromkeys(arcs))
        smaller = replace(self, dice=tuple(self.dice[at] for at in kept), arcs=distinct)
        return smaller, tuple(distinct.index(arc) for arc in arcs)

    def fillable(self) -> bool:
        """Whether every die has labels enough for its faces, as far as its own rules go."""
        return all(
            die.exactly is not None
            or len(die.rules.allowed()) * min(die.rules.repeats or die.faces, die.faces) >= die.faces
            for die in self.dice
        )


def spread_out(problem: Problem) -> Problem | None:
    """The problem with each label on one face alone, where that loses nothing; None where it might.

    Where all dice may carry the same run of labels, at least as long as they have faces together, a design's labels can
    be moved apart without a win being lost: equal labels of one die in any way, equal labels of two dice in favour of
    either. So the best chance is reached with every label of as long a run on one face.
    """
    rules = problem.dice[0].rules
    allowed = rules.allowed()
    faces = sum(die.faces for die in problem.dice)
    if len(allowed) < faces or any(die.exactly is not None or die.rules != rules for die in problem.dice):
        return None
    short = replace(rules, lowest=allowed[0], highest=allowed[faces - 1])
    dice = tuple(replace(die, rules=short) for die in problem.dice)
    return replace(problem, dice=dice, owned=True, once=True)


def freed(problem: Problem) -> Problem:
    """The problem without its label rules: any labels, apart from one another. No design has a greater least chance.

    Any design's labels can be moved apart without a win being lost, as in `spread_out`.
    """
    rules = LabelRules(1, sum(die.faces for die in problem.dice))
    dice = tuple(replace(die, rules=rules, exactly=None) for die in problem.dice)
    return replace(problem, dice=dice, owned=True, once=True)


def cycles_of(arcs: Sequence[Arc], longest: int = 3) -> list[tuple[int, ...]]:
    """The cycles of a pattern up to a length, each once, from its least die on.

    Example:
        >>> cycles_of([(0, 1), (1, 2), (2, 0), (0, 3)])
        [(0, 1, 2)]
    """
    beats: dict[int, list[int]] = {}
    for one, other in arcs:
        beats.setdefault(one, []).append(other)
    found: list[tuple[int, ...]] = []

    def follow(walk: tuple[int, ...]) -> None:
        for other in beats.get(walk[-1], ()):
            if other == walk[0] and len(walk) > 1:
                found.append(walk)
            elif other > walk[0] and other not in walk and len(walk) < longest:
                follow((*walk, other))

    for start in sorted(beats):
        follow((start,))
    return found
