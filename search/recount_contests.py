"""Recounting contests: who beats whom, and who comes in when, outcome by outcome; shares no code with an engine."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import permutations, product

from facewright.constraints.contest import Contest
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.labels import Die
from facewright.search.recount import malformed, misfits

VISITED = 300_000
"""Up to so many outcomes of all dice together each is visited; beyond, they are counted die by die from the top."""


@dataclass(frozen=True)
class ContestFinding:
    """What recounting found: whether the design answers the question, the least chance of its duels, its faults.

    `chance` is None where nobody is to beat anybody. There is no target, so `distance` is always 0.
    """

    agrees: bool
    chance: Fraction | None
    faults: tuple[str, ...]
    distance: Fraction = Fraction(0)


def recount_contest(question: Contest, design: NumberingDesign) -> ContestFinding:
    """Judges a design from the definitions: its duels or its orders, its label rules, its solids, its canonical order.

    A design that is wrong raises nothing: its faults are in the finding.
    """
    faults = tuple(malformed(design))
    if faults:
        return ContestFinding(False, None, faults)
    dice = [die.labels for die in design.dice]
    if question.read == "every-order":
        faults = misfits(question.sets, design) + tuple(_unfair(dice, question.fair))
        return ContestFinding(not faults, None, faults)
    arcs = question.beats or tuple((at, (at + 1) % len(dice)) for at in range(len(dice)))
    if any(not 0 <= die < len(dice) for arc in arcs for die in arc):
        return ContestFinding(False, None, ("dice: fewer than those that are to beat one another",))
    faults = misfits(question.sets, design, lambda asked, found: _not_least(asked, found, arcs))
    chances = [_chance(dice[one], dice[other]) for one, other in arcs]
    faults += tuple(_too_seldom(question, arcs, chances))
    if question.ties == "none":
        faults += tuple(_shared_labels(dice))
    return ContestFinding(not faults, min(chances), faults)


def orders_of(dice: Sequence[Sequence[int]]) -> dict[tuple[int, ...], int]:
    """How many outcomes put the dice into each order, the greatest label first; outcomes with a tie are left out.

    Example:
        >>> orders_of([(1, 4), (2, 3)])
        {(0, 1): 2, (1, 0): 2}
    """
    outcomes = 1
    for labels in dice:
        outcomes *= len(labels)
    every = permutations(range(len(dice)))
    if outcomes > VISITED:
        return {order: _falling(dice, order) for order in every}
    ways = dict.fromkeys(every, 0)
    for shown in product(*dice):
        if len(set(shown)) == len(shown):
            ways[tuple(sorted(range(len(shown)), key=lambda die: -shown[die]))] += 1
    return ways


def _falling(dice: Sequence[Sequence[int]], order: Sequence[int]) -> int:
    """How many outcomes show falling labels when the dice are read in an order."""
    ways = dict.fromkeys(dice[order[0]], 1)
    for die in order[1:]:
        ways = {label: sum(count for above, count in ways.items() if above > label) for label in dice[die]}
    return sum(ways.values())


def _chance(one: Sequence[int], other: Sequence[int]) -> Fraction:
    return Fraction(sum(mine > theirs for mine in one for theirs in other), len(one) * len(other))


def _too_seldom(
    question: Contest, arcs: Sequence[tuple[int, int]], chances: Sequence[Fraction]
) -> Iterator[str]:
    wanted = question.chance_at_least
    for (one, other), chance in zip(arcs, chances, strict=True):
        if wanted is None:
            short, told = chance <= Fraction(1, 2), "more than 1/2"
        elif question.strictly:
            short, told = chance <= wanted, f"more than {wanted}"
        else:
            short, told = chance < wanted, f"at least {wanted}"
        if short:
            yield f"die {one + 1} beats die {other + 1} with a chance of {chance}, wanted {told}"


def _shared_labels(dice: Sequence[Sequence[int]]) -> Iterator[str]:
    owners: dict[int, int] = {}
    for at, labels in enumerate(dice, 1):
        for label in sorted(set(labels)):
            if label in owners:
                yield f"the label {label} stands on die {owners[label]} and on die {at}, so that they can tie"
            owners.setdefault(label, at)


def _unfair(dice: Sequence[Sequence[int]], fair: str) -> Iterator[str]:
    every = sorted(label for labels in dice for label in labels)
    if every != list(range(1, len(every) + 1)):
        yield f"the labels are not 1 to {len(every)}, once each"
        return
    ways = orders_of(dice)
    if fair == "every-order":
        if min(ways.values()) < max(ways.values()):
            yield f"the orders come up in {min(ways.values()):,} to {max(ways.values()):,} outcomes, not equally often"
        return
    for place in range(len(dice) if fair == "places" else 1):
        there = [
            sum(count for order, count in ways.items() if order[place] == die) for die in range(len(dice))
        ]
        if min(there) < max(there):
            told = ", ".join(f"{count:,}" for count in there)
            yield f"place {place + 1}: the dice come in there in {told} outcomes, not equally often"


def _not_least(
    asked: Sequence[Die], found: Sequence[DesignDie], arcs: Sequence[tuple[int, int]]
) -> Iterator[str]:
    """Whether an exchange that makes no new design would list lesser labels first."""
    labels = [die.labels for die in found]
    beats = set(arcs)
    images: list[list[int]] = [[]]
    for at in range(len(asked)):
        grown = []
        for image in images:
            for to in range(len(asked)):
                tried = [*image, to]
                if to not in image and asked[to] == asked[at] and _keeps(beats, tried):
                    grown.append(tried)
        images = grown
    if any([labels[to] for to in image] < labels for image in images):
        yield "the dice may be exchanged, and do not stand in order"


def _keeps(beats: set[tuple[int, int]], image: list[int]) -> bool:
    """Whether the last die of an exchange beats, and is beaten by, those that it should."""
    last = len(image) - 1
    return all(
        ((last, at) in beats) == ((image[last], image[at]) in beats)
        and ((at, last) in beats) == ((image[at], image[last]) in beats)
        for at in range(len(image))
    )
