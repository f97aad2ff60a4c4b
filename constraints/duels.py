"""Duels: how often one die beats another, exactly; patterns of who beats whom, and what doubled dice do."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Hashable, Sequence
from fractions import Fraction

from facewright.constraints.distribution import Distribution

Arc = tuple[int, int]
"""The position of a die and the position of the die that it is to beat, counted from 0."""


def wins(one: Sequence[int], other: Sequence[int]) -> int:
    """In how many of the outcomes the first die shows the greater label; labels sorted.

    Example:
        >>> wins((2, 4, 9), (3, 5, 7))
        4
    """
    return sum(bisect_left(other, label) for label in one)


def ties(one: Sequence[int], other: Sequence[int]) -> int:
    """In how many of the outcomes both dice show the same label; labels sorted."""
    return sum(bisect_right(other, label) - bisect_left(other, label) for label in one)


def chance(one: Sequence[int], other: Sequence[int]) -> Fraction:
    """The chance that the first die shows the greater label: a tie is no win.

    Example:
        >>> chance((2, 4, 9), (1, 6, 8))
        Fraction(5, 9)
    """
    return Fraction(wins(one, other), len(one) * len(other))


def ring(dice: int) -> tuple[Arc, ...]:
    """The pattern in which each die beats the next and the last beats the first.

    Example:
        >>> ring(3)
        ((0, 1), (1, 2), (2, 0))
    """
    return tuple((at, (at + 1) % dice) for at in range(dice))


def least_chance(dice: Sequence[Sequence[int]], arcs: Sequence[Arc]) -> Fraction:
    """The least chance among the duels of a pattern."""
    return min(chance(dice[one], dice[other]) for one, other in arcs)


def doubled_chance(one: Sequence[int], other: Sequence[int]) -> Fraction:
    """The chance that two of the first die have a greater total than two of the other.

    Example:
        >>> chance((3, 3), (1, 4)), doubled_chance((3, 3), (1, 4))
        (Fraction(1, 2), Fraction(3, 4))
    """
    mine, theirs = (
        Distribution.of_labels(labels) + Distribution.of_labels(labels) for labels in (one, other)
    )
    won = sum(
        mine.ways[result] * ways for result in mine.ways for lower, ways in theirs.pairs if lower < result
    )
    return Fraction(won, mine.outcomes * theirs.outcomes)


def two_beaten_by_one(dice: int) -> tuple[Arc, ...] | None:
    """A pattern in which any two dice are beaten by a third; None for a number of dice for which none is known here.

    A die beats those that follow it, counted round, by a square (the quadratic residue or Paley tournament of a prime
    that leaves 3 when divided by 4). Fewer than seven dice never suffice.

    Source: P. Erdős, "On a problem in graph theory", Math. Gazette 47 (1963) 220-223, from memory; the property is
    checked here, not taken on trust.

    Example:
        >>> two_beaten_by_one(7)[:3], two_beaten_by_one(6)
        (((0, 1), (0, 2), (0, 4)), None)
    """
    squares = sorted({at * at % dice for at in range(1, dice)} - {0})
    arcs = tuple((at, (at + step) % dice) for at in range(dice) for step in squares)
    one_way = all((other, one) not in arcs for one, other in arcs)
    return arcs if one_way and beaten_pairs(dice, arcs) else None


def beaten_pairs(dice: int, arcs: Sequence[Arc]) -> bool:
    """Whether for any two of the dice there is one that is to beat both."""
    beats = [{other for one, other in arcs if one == at} for at in range(dice)]
    return all(any({one, other} <= beaten for beaten in beats) for one in range(dice) for other in range(one))


def symmetries(dice: Sequence[Hashable], arcs: Sequence[Arc]) -> list[tuple[int, ...]]:
    """The exchanges of equal dice that keep a pattern: each as the position that comes to stand at each place.

    Of a ring of equal dice these are its rotations.

    Example:
        >>> symmetries("aaa", ring(3))
        [(0, 1, 2), (1, 2, 0), (2, 0, 1)]
    """
    size = len(dice)
    if tuple(arcs) == ring(size):
        turns = [tuple((at + by) % size for at in range(size)) for by in range(size)]
        return [turn for turn in turns if all(dice[at] == dice[to] for at, to in enumerate(turn))]
    known = frozenset(arcs)
    found: list[tuple[int, ...]] = []

    def extend(image: tuple[int, ...]) -> None:
        at = len(image)
        if at == size:
            found.append(image)
            return
        for to in range(size):
            if to not in image and dice[to] == dice[at] and _agrees(known, (*image, to)):
                extend((*image, to))

    extend(())
    return found


def _agrees(arcs: frozenset[Arc], image: tuple[int, ...]) -> bool:
    """Whether the last die of a partial exchange stands to all before it as it should."""
    last = len(image) - 1
    return all(
        ((at, last) in arcs) == ((image[at], image[last]) in arcs)
        and ((last, at) in arcs) == ((image[last], image[at]) in arcs)
        for at in range(last)
    )
