"""Exact totals against brute force over all numberings of small dice: no polynomial, no factor."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations_with_replacement, product

from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering
from facewright.search.engines.factors import Factors
from facewright.search.progress import silent
from facewright.search.stop import never
from hypothesis import given, settings
from hypothesis import strategies as st

NO_LIMIT = 1_000_000


@st.composite
def rules(draw: st.DrawFn) -> LabelRules:
    """Label rules that leave few labels."""
    lowest = draw(st.integers(-1, 2))
    highest = lowest + draw(st.integers(1, 5))
    pool = st.lists(st.integers(lowest, highest), unique=True, min_size=1, max_size=5)
    only = draw(st.none() | pool.map(lambda labels: tuple(sorted(labels))))
    avoid = draw(st.just(()) | st.lists(st.integers(lowest, highest), unique=True, max_size=1).map(tuple))
    return LabelRules(lowest, highest, draw(st.none() | st.integers(1, 3)), only, avoid)


@st.composite
def sets_of_dice(draw: st.DrawFn) -> tuple[Die, ...]:
    """One to three small dice: some alike, some fixed, some told apart by a name."""
    dice: list[Die] = []
    for _ in range(draw(st.integers(1, 3))):
        if dice and draw(st.booleans()):
            dice.append(dice[-1])
            continue
        faces = draw(st.sampled_from((2, 2, 3, 4, 4, 6) if not dice else (2, 3, 4)))
        name = draw(st.none() | st.just("tug"))
        exactly = None
        if draw(st.integers(0, 5)) == 0:
            labels = draw(st.lists(st.integers(0, 3), min_size=faces, max_size=faces))
            exactly = tuple(sorted(labels))
        dice.append(Die(faces, f"solid with {faces} faces", 1, draw(rules()), exactly, name))
    return tuple(dice)


@st.composite
def questions(draw: st.DrawFn) -> Numbering:
    """Questions whose target is that of some dice with the same outcomes, so that many have an answer."""
    dice = draw(sets_of_dice())
    faces = draw(st.permutations([die.faces for die in dice]))
    if draw(st.booleans()):
        labels = [draw(st.lists(st.integers(0, 4), min_size=n, max_size=n)) for n in faces]
        target = Distribution(((0, 1),))
        for one in labels:
            target += Distribution.of_labels(one)
    else:
        within = [die.exactly or die.rules.allowed() or (0,) for die in dice]
        target = Distribution(((0, 1),))
        for pool, die in zip(within, dice, strict=True):
            kept = die.exactly or draw(
                st.lists(st.sampled_from(pool), min_size=die.faces, max_size=die.faces).map(tuple)
            )
            target += Distribution.of_labels(kept)
    return Numbering("total", target.reduced(), (dice,))


def numberings(die: Die) -> Iterator[tuple[int, ...]]:
    """All numberings that keep the rules of a die."""
    if die.exactly is not None:
        yield die.exactly
        return
    for labels in combinations_with_replacement(die.rules.allowed(), die.faces):
        if die.keeps(labels):
            yield labels


def chances(dice: tuple[tuple[int, ...], ...]) -> dict[int, Fraction]:
    """The chances of every total, outcome by outcome."""
    outcomes = Counter(sum(labels) for labels in product(*dice))
    return {total: Fraction(count, outcomes.total()) for total, count in outcomes.items()}


def by_brute_force(question: Numbering) -> set[NumberingDesign]:
    """Every design, by trying all numberings of all dice."""
    dice = question.dice
    wanted = {result: question.target.chance(result) for result in question.target.ways}
    found = set()
    for labels in product(*(list(numberings(die)) for die in dice)):
        least, most = sum(map(min, labels)), sum(map(max, labels))
        if (least, most) == (question.target.least, question.target.greatest) and chances(labels) == wanted:
            found.add(NumberingDesign.of(dice, labels))
    return found


def small(question: Numbering) -> bool:
    """Whether brute force takes no more than a moment."""
    many = 1
    for die in question.dice:
        many *= sum(1 for _ in numberings(die))
    return many <= 20_000


@settings(max_examples=150)
@given(questions().filter(small))
def test_the_same_designs_and_counts(question: Numbering) -> None:
    expected = by_brute_force(question)
    answer = Factors().answer(question, NO_LIMIT, never, 0, silent)
    found = list(answer)
    assert len(found) == len(set(found))
    assert set(found) == expected
    closing = answer.closing
    shapes = {design.up_to_shift(question.dice) for design in expected}
    assert (closing.count, closing.count_up_to_shift) == (len(expected), len(shapes))
    assert closing.verdict == ("complete" if expected else "none")
    assert closing.reason


@settings(max_examples=100)
@given(questions().filter(small))
def test_the_same_counts_where_none_is_listed(question: Numbering) -> None:
    """With a limit of 0 designs the engine counts by convolution, not by listing."""
    expected = by_brute_force(question)
    answer = Factors().answer(question, 0, never, 0, silent)
    assert list(answer) == []
    shapes = {design.up_to_shift(question.dice) for design in expected}
    assert answer.closing.count == len(expected)
    assert answer.closing.count_up_to_shift == len(shapes)


def test_brute_force_finds_what_a_hand_can_find() -> None:
    """1 2 + 1 3 is four equally likely totals; by hand, so are 1 3 + 1 2 and nothing else from lowest 1."""
    dice = tuple(Die(2, "coin", 1, LabelRules(1, 4), name=name) for name in ("tug", None))
    question = Numbering("total", Distribution.of({2: 1, 3: 1, 4: 1, 5: 1}), (dice,))
    labels = {tuple(die.labels for die in design.dice) for design in by_brute_force(question)}
    assert labels == {((1, 2), (1, 3)), ((1, 3), (1, 2))}
