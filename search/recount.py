"""Recounting: each design judged again from the definitions; shares no code with engine, model or reading."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.errors import UsageError
from facewright.constraints.labels import Die
from facewright.constraints.question import Numbering
from facewright.search.recount_further import broken_further_rules
from facewright.search.recount_readings import DEFINITIONS, recounted_reading

PLAIN_OUTCOMES = 10_000
"""Up to so many outcomes plain Python is used: 0.4 ms for two 100-face dice, far less than loading numpy."""

ENUMERATED_OUTCOMES = 2_000_000
"""Up to so many outcomes each is visited; beyond, the dice are added one by one (a convolution)."""

ENUMERATED_SPREAD = 4_000_000
"""Up to this spread of results (greatest less least) numpy keeps one counter a result."""

CHUNK = 65_536
"""How many outcomes numpy holds at a time: 512 kB of int64."""

Exchange = Callable[[Sequence[Die], Sequence[DesignDie]], Iterator[str]]
"""What is wrong with the order of a design's dice, given those asked for."""


@dataclass(frozen=True)
class Finding:
    """What recounting found: whether the design answers the question, its distribution, its distance.

    `distribution` is result → ways, sorted by result. `distance` is the total variation distance from the
    target, exact. `faults` says in words what is wrong; where there are none, `agrees`. A design of a
    question that accepts the nearest may be at any distance.
    """

    agrees: bool
    distribution: dict[Any, int]
    distance: Fraction
    faults: tuple[str, ...]


def finds_readings() -> tuple[str, ...]:
    """The readings that recounting knows."""
    return tuple(DEFINITIONS)


def recount(question: Numbering, design: NumberingDesign) -> Finding:
    """Judges a design from the definitions: its chances, its label rules, its solids, its canonical order.

    Raises UsageError for a reading that recounting does not know. A design that is wrong raises nothing: its
    faults are in the finding.
    """
    _known(question.read)
    faults = tuple(malformed(design))
    if faults:
        return Finding(False, {}, Fraction(1), faults)
    ways = recount_distribution([die.labels for die in design.dice], question.read, question.how)
    wanted = dict(question.target.pairs)
    distance = _distance(ways, wanted)
    faults = misfits(question.sets, design)
    if question.anchored and not faults:
        faults = tuple(_not_anchored(question.sets, design))
    if not faults and question.also:
        faults = tuple(broken_further_rules(question, [die.labels for die in design.dice]))
    if question.accept == "exact" and distance:
        faults += tuple(_wrong_chances(ways, wanted))
    return Finding(not faults, ways, distance, faults)


def recount_distribution(
    dice: Sequence[Sequence[int]], read: str = "total", how: Sequence[tuple[str, Any]] = ()
) -> dict[Any, int]:
    """Result → ways, sorted by result, for dice given by their labels.

    Every outcome of a total is visited, in plain Python while they are few and else with numpy in chunks; beyond
    `ENUMERATED_OUTCOMES` the dice are added one by one with Python's integers, which cannot overflow. Other readings:
    see `recount_readings`. `how` is what the reading must be told.
    Raises UsageError for an unknown reading, or where there is no die or a die without labels.

    Example:
        >>> recount_distribution([(1, 2), (1, 3)])
        {2: 1, 3: 1, 4: 1, 5: 1}
    """
    _known(read)
    if not dice or not all(dice):
        raise UsageError(
            "labels: found no die, or a die without labels; accepted: a label or more on each die"
        )
    if read != "total" or how:
        return recounted_reading(dice, read, dict(how))
    outcomes = 1
    for labels in dice:
        outcomes *= len(labels)
    if outcomes <= PLAIN_OUTCOMES:
        return _visited_plainly(dice)
    spread = sum(max(labels) - min(labels) for labels in dice)
    if outcomes <= ENUMERATED_OUTCOMES and spread <= ENUMERATED_SPREAD:
        return _visited_in_chunks(dice, spread)
    return _added_one_by_one(dice)


def _known(read: str) -> None:
    if read not in finds_readings():
        raise UsageError(f"read: found {read!r}; recounting knows: {', '.join(finds_readings())}")


def _visited_plainly(dice: Sequence[Sequence[int]]) -> dict[int, int]:
    totals = [0]
    for labels in dice:
        totals = [total + label for total in totals for label in labels]
    return dict(sorted(Counter(totals).items()))


def _visited_in_chunks(dice: Sequence[Sequence[int]], spread: int) -> dict[int, int]:
    import numpy as np

    base = sum(min(labels) for labels in dice)
    # Counted from its least label each die lies within 0..spread: int64 cannot overflow, whatever the labels.
    steps = [np.array(_from_least(labels), dtype=np.int64) for labels in sorted(dice, key=len)]
    totals = np.zeros(1, dtype=np.int64)
    for labels in steps[:-1]:
        totals = np.add.outer(totals, labels).ravel()
    counts = np.zeros(spread + 1, dtype=np.int64)
    rows = max(1, CHUNK // len(steps[-1]))
    for at in range(0, len(totals), rows):
        chunk = np.add.outer(totals[at : at + rows], steps[-1]).ravel()
        counts += np.bincount(chunk, minlength=spread + 1)
    found = np.flatnonzero(counts)
    return {base + at: ways for at, ways in zip(found.tolist(), counts[found].tolist(), strict=True)}


def _from_least(labels: Sequence[int]) -> list[int]:
    least = min(labels)
    return [label - least for label in labels]


def _added_one_by_one(dice: Sequence[Sequence[int]]) -> dict[int, int]:
    ways = {0: 1}
    for labels in dice:
        longer: dict[int, int] = {}
        for label, times in Counter(labels).items():
            for total, count in ways.items():
                longer[total + label] = longer.get(total + label, 0) + count * times
        ways = longer
    return dict(sorted(ways.items()))


def _distance(ways: dict[Any, int], wanted: dict[Any, int]) -> Fraction:
    """Half of Σ |w/N − t/M| with one division: Σ |w·M − t·N| over 2·N·M."""
    if ways == wanted:
        return Fraction(0)
    found_all, wanted_all = sum(ways.values()), sum(wanted.values())
    apart = sum(abs(count * wanted_all - wanted.get(result, 0) * found_all) for result, count in ways.items())
    apart += sum(count * found_all for result, count in wanted.items() if result not in ways)
    return Fraction(apart, 2 * found_all * wanted_all)


def _wrong_chances(ways: dict[Any, int], wanted: dict[Any, int]) -> Iterator[str]:
    found_all, wanted_all = sum(ways.values()), sum(wanted.values())
    for result in sorted(ways.keys() | wanted.keys()):
        found, asked = ways.get(result, 0), wanted.get(result, 0)
        if found * wanted_all != asked * found_all:
            yield f"{_told(result)}: found {found} in {found_all}, wanted {asked} in {wanted_all}"


def _told(result: Any) -> str:
    shown = " ".join(map(str, result)) if isinstance(result, tuple) else result
    return f"result {shown}"


def _not_anchored(sets: Sequence[Sequence[Die]], design: NumberingDesign) -> Iterator[str]:
    """Whether no die carries the least label that its rules allow, for that set of dice which the design answers."""
    for dice in sets:
        if len(dice) != len(design.dice) or not all(map(_same_body, dice, design.dice)):
            continue
        if any(_broken_rules(dice, design.dice)):
            continue
        pairs = zip(dice, design.dice, strict=True)
        if any(die.exactly is not None or made.labels[0] == min(_may_carry(die)) for die, made in pairs):
            return
    yield "no die carries its lowest label, and all labels could be shifted together"


def _may_carry(die: Die) -> list[int]:
    rules = die.rules
    pool = range(rules.lowest, rules.highest + 1) if rules.only is None else rules.only
    return [label for label in pool if rules.lowest <= label <= rules.highest and label not in rules.avoid]


def malformed(design: NumberingDesign) -> Iterator[str]:
    """What makes a design no set of dice at all; nothing else can be asked of it then."""
    if not design.dice:
        yield "dice: found none"
    for at, die in enumerate(design.dice, 1):
        if not die.labels:
            yield f"die {at}: found no labels"
        elif not set(map(type, die.labels)) <= {int}:
            strange = next(label for label in die.labels if type(label) is not int)
            yield f"die {at}: found the label {strange!r}; a label is a whole number"


def misfits(
    sets: Sequence[Sequence[Die]], design: NumberingDesign, exchange: Exchange | None = None
) -> tuple[str, ...]:
    """What is wrong with a design as an answer for that set of the question which fits it best.

    `exchange` says what is wrong with the order of the dice; without it, dice that may be exchanged must stand sorted.
    """
    first: tuple[str, ...] | None = None
    for dice in sets:
        if len(dice) == len(design.dice) and all(map(_same_body, dice, design.dice)):
            ordered = (exchange or _out_of_order)(dice, design.dice)
            faults = (*_broken_rules(dice, design.dice), *ordered)
            if not faults:
                return ()
            first = first or faults
    if first is not None:
        return first
    found = " + ".join(f"{die.faces} on {die.solid}" for die in design.dice)
    asked = [" + ".join(f"{die.faces} on {die.solid}" for die in dice) for dice in sets]
    more = f" or one of {len(asked) - 3} more" if len(asked) > 3 else ""
    return (f"dice: found {found}; the question asks for {' or '.join(asked[:3])}{more}",)


def _same_body(asked: Die, found: DesignDie) -> bool:
    return asked.faces == found.faces and asked.solid == found.solid


def _broken_rules(asked: Sequence[Die], found: Sequence[DesignDie]) -> Iterator[str]:
    for at, (die, made) in enumerate(zip(asked, found, strict=True), 1):
        labels = made.labels
        if len(labels) != die.faces:
            yield f"die {at}: found {len(labels)} labels, asked for {die.faces}"
        if list(labels) != sorted(labels):
            yield f"die {at}: its labels do not stand in rising order"
        if die.exactly is not None:
            if sorted(labels) != sorted(die.exactly):
                yield f"die {at}: its labels are not exactly {' '.join(map(str, die.exactly))}"
            continue
        for broken in _broken_label_rules(die, labels):
            yield f"die {at}: {broken}"


def _out_of_order(asked: Sequence[Die], found: Sequence[DesignDie]) -> Iterator[str]:
    for left in range(len(asked)):
        for right in range(left + 1, len(asked)):
            if asked[left] == asked[right] and tuple(found[left].labels) > tuple(found[right].labels):
                yield f"dice {left + 1} and {right + 1} may be exchanged, and do not stand in order"


def _broken_label_rules(die: Die, labels: Sequence[int]) -> Iterator[str]:
    rules = die.rules
    if min(labels) < rules.lowest:
        yield f"found the label {min(labels)}, the lowest allowed is {rules.lowest}"
    if max(labels) > rules.highest:
        yield f"found the label {max(labels)}, the highest allowed is {rules.highest}"
    distinct = set(labels)
    barred = distinct.intersection(rules.avoid)
    if barred:
        yield f"found the label {min(barred)}, which is to be avoided"
    strangers = distinct.difference(rules.only) if rules.only is not None else set()
    if strangers:
        yield f"found the label {min(strangers)}, which is not among those allowed"
    if rules.repeats is not None and len(labels) > len(distinct):
        often = max(Counter(labels).items(), key=lambda pair: pair[1])
        if often[1] > rules.repeats:
            yield f"found the label {often[0]} {often[1]} times, at most {rules.repeats} are allowed"
