"""The engine `classes`: readings that tell only classes of labels apart, such as remainders.

Only how many faces carry each class matters. These numbers are found first, and then every way to put labels of the
class on the faces is one design; they are counted without being listed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import chain, combinations_with_replacement, islice, product
from math import comb

from facewright.constraints.design import NumberingDesign
from facewright.constraints.labels import Die, LabelRules, interchangeable
from facewright.constraints.model.counts import CountModel
from facewright.constraints.model.exchange import post_exchange
from facewright.constraints.model.limits import too_large
from facewright.constraints.question import Numbering
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.exact.division import barred_by_division
from facewright.search.engines.solver_run import SolverRun
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped
from facewright.search.words import completed, conditions, stopped

Class = Callable[[int], int]
"""Label → its class, itself a label that stands for all of them."""


class Classes:
    """Complete for the total modulo a number and for how many dice show a label or more."""

    name = "classes"

    def accepts(self, question: Numbering) -> bool:
        """Plain questions of these two readings, as long as no number of ways overflows."""
        known = question.read in ("total-modulo", "how-many") and question.plain
        return known and too_large(_reduced(question)) is None

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams the designs, each once; see `Engine`."""
        return Answering(self.name, _stream(question, limit, stop, seed, report))


def class_of(question: Numbering) -> Class:
    """What the reading tells apart."""
    told = dict(question.how)
    if question.read == "total-modulo":
        modulo = int(told["modulo"])
        return lambda label: label % modulo
    least = int(told["at_least"])
    return lambda label: least if label >= least else least - 1


def _reduced(question: Numbering) -> tuple[Die, ...]:
    """The dice with one label a class; those that could not be exchanged before cannot be now."""
    group_of = {place: group[0] for group in interchangeable(question.dice) for place in group}
    stands_for = class_of(question)
    dice = []
    for place, die in enumerate(question.dice):
        name = str(group_of[place])
        if die.exactly is not None:
            fixed = tuple(sorted(map(stands_for, die.exactly)))
            dice.append(replace(die, exactly=fixed, rules=LabelRules(fixed[0], fixed[-1]), name=name))
            continue
        classes = tuple(sorted(set(map(stands_for, die.rules.allowed()))))
        bounds = (classes[0], classes[-1]) if classes else (0, -1)
        dice.append(replace(die, rules=LabelRules(*bounds, only=classes), name=name))
    return tuple(dice)


def _stream(question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Stream:
    barred = barred_by_division(question)
    if barred is not None:
        return barred
    dice = _reduced(question)
    model = CountModel(dice)
    members = [_members(die, class_of(question)) for die in question.dice]
    for place, die in enumerate(question.dice):
        for label, labels in members[place].items():
            if die.exactly is None and die.rules.repeats is not None:
                model.bound(place, label, len(labels) * die.rules.repeats)
    question.reading.post(model, question.target)
    post_exchange(model)
    count, listed, kinds = 0, 0, 0
    solutions = SolverRun(model, seed).solutions(stop)
    try:
        for numbers in solutions:
            kinds += 1
            filled = _Filled(question, dice, members, numbers)
            count += filled.count
            for design in islice(filled.designs(limit - listed), limit - listed):
                listed += 1
                yield design
            report("designs found", count, None)
    except Stopped as asked:
        return Closing("partial", count, count, "at least", stopped(count, str(asked)))
    finally:
        solutions.close()
    proof = (
        "The reading tells only classes of labels apart; how many faces of a die carry each class settles the chances.",
        f"CP-SAT listed all numbers of faces that give the target's: {kinds:,}.",
        "For each, every choice of labels of the classes within the rules is a design, equal dice in any order.",
    )
    if not count:
        reason = f"{conditions(question)} no numbering does it: every choice of labels was ruled out."
        return Closing("none", 0, 0, "all", reason, proof, cause="search")
    return Closing("complete", count, count, "all", completed(question, count, listed), proof)


def _members(die: Die, stands_for: Class) -> dict[int, list[int]]:
    """Class → the labels of it that the die may carry."""
    found: dict[int, list[int]] = {}
    for label in sorted(set(die.exactly)) if die.exactly is not None else die.rules.allowed():
        found.setdefault(stands_for(label), []).append(label)
    return found


class _Filled:
    """All designs whose dice have so many faces of each class."""

    def __init__(
        self,
        question: Numbering,
        dice: Sequence[Die],
        members: Sequence[dict[int, list[int]]],
        numbers: Sequence[Sequence[int]],
    ) -> None:
        self._question = question
        self._members = members
        self._numbers = [Counter(one) for one in numbers]
        # interchangeable dice with equal numbers make one group, whose labels form a multiset
        self._groups: list[list[int]] = []
        for group in interchangeable(tuple(dice)):
            alike: dict[tuple[int, ...], list[int]] = {}
            for place in group:
                alike.setdefault(tuple(numbers[place]), []).append(place)
            self._groups += alike.values()

    @property
    def count(self) -> int:
        """How many designs there are."""
        total = 1
        for group in self._groups:
            ways = 1
            for kind, faces in self._numbers[group[0]].items():
                ways *= self._ways(group[0], kind, faces)
            total *= comb(ways + len(group) - 1, len(group))
        return total

    def designs(self, most: int) -> Iterator[NumberingDesign]:
        """The designs; at least `most` of them, where there are so many."""
        choices = []
        for group in self._groups:
            labels = islice(self._labels(group[0]), most)
            choices.append(list(islice(combinations_with_replacement(labels, len(group)), most)))
        for chosen in product(*choices):
            labels_of: list[Sequence[int]] = [()] * len(self._numbers)
            for group, sorts in zip(self._groups, chosen, strict=True):
                for place, one in zip(group, sorts, strict=True):
                    labels_of[place] = one
            yield NumberingDesign.of(self._question.dice, labels_of)

    def _ways(self, place: int, kind: int, faces: int) -> int:
        """In how many ways labels of a class fill so many faces: the coefficient of x^faces in (1 + … + x^r)^labels."""
        die, labels = self._question.dice[place], len(self._members[place][kind])
        if die.exactly is not None:
            return 1
        repeats = faces if die.rules.repeats is None else die.rules.repeats
        if repeats >= faces:
            return comb(faces + labels - 1, faces)
        most = repeats + 1
        return sum(
            (-1) ** over * comb(labels, over) * comb(faces - over * most + labels - 1, labels - 1)
            for over in range(faces // most + 1)
        )

    def _labels(self, place: int) -> Iterator[tuple[int, ...]]:
        """Every numbering of a die with its numbers of faces."""
        die = self._question.dice[place]
        if die.exactly is not None:
            yield die.exactly
            return
        parts = [self._fillings(place, kind, faces) for kind, faces in sorted(self._numbers[place].items())]
        for chosen in _products(parts):
            yield tuple(sorted(chain.from_iterable(chosen)))

    def _fillings(self, place: int, kind: int, faces: int) -> Callable[[], Iterator[tuple[int, ...]]]:
        labels, repeats = self._members[place][kind], self._question.dice[place].rules.repeats

        def every() -> Iterator[tuple[int, ...]]:
            return _multisets(labels, faces, faces if repeats is None else repeats)

        return every


def _multisets(labels: Sequence[int], faces: int, repeats: int) -> Iterator[tuple[int, ...]]:
    """Multisets of so many labels, none more than `repeats` times."""
    if not faces:
        yield ()
    elif labels and len(labels) * repeats >= faces:
        for times in range(min(repeats, faces), -1, -1):
            for rest in _multisets(labels[1:], faces - times, repeats):
                yield (labels[0],) * times + rest


def _products(
    parts: Sequence[Callable[[], Iterator[tuple[int, ...]]]],
) -> Iterator[tuple[tuple[int, ...], ...]]:
    """The product of iterators that are made anew each time, so that none is held in memory."""
    if not parts:
        yield ()
        return
    for first in parts[0]():
        for rest in _products(parts[1:]):
            yield (first, *rest)
