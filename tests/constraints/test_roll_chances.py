"""Chances of results given one die's label, by hand and by going through all rolls."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import product
from math import prod

import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.layout import Roll
from facewright.constraints.roll_chances import chances_given
from hypothesis import given
from hypothesis import strategies as st

dice = st.lists(st.integers(-3, 6), min_size=1, max_size=4).map(tuple)
RESULT = {"total": sum, "highest": max, "lowest": min}


@given(read=st.sampled_from(sorted(RESULT)), labels=dice, others=st.lists(dice, max_size=3).map(tuple))
def test_all_rolls(read: str, labels: tuple[int, ...], others: tuple[tuple[int, ...], ...]) -> None:
    found = chances_given(labels, Roll(read, others))
    assert set(found) == set(labels)
    for label, chances in found.items():
        counted = Counter(RESULT[read]((label, *rest)) for rest in product(*others))
        outcomes = prod(map(len, others))
        assert chances == {result: Fraction(ways, outcomes) for result, ways in counted.items()}


@pytest.mark.parametrize(("again", "others"), [((1,), ()), ((1, 3), ((1, 2, 2), (0, 3)))])
def test_labels_rolled_again_follow_small_changes(
    again: tuple[int, ...], others: tuple[tuple[int, ...], ...]
) -> None:
    """Against the change of the chances themselves when a little chance goes from one face to another."""
    labels, little = (1, 1, 2, 3, 5), Fraction(1, 10**9)
    roll = Roll("total", others, (("reroll", again),))
    given = chances_given(labels, roll)

    def chances(faces: list[Fraction]) -> Counter[int]:
        """What the roll comes to, for chances of each face; the other dice are even."""
        found: Counter[int] = Counter()
        for two in product(range(len(labels)), repeat=2):
            mine = labels[two[1]] if labels[two[0]] in again else labels[two[0]]
            for pairs in product(*(product(one, one) for one in others)):
                shown = [second if first in again else first for first, second in pairs]
                even = prod((Fraction(1, len(one) ** 2) for one in others), start=Fraction(1))
                found[mine + sum(shown)] += faces[two[0]] * faces[two[1]] * even  # type: ignore[assignment]
        return found

    even = [Fraction(1, 5)] * 5
    for result, chance in chances(even).items():
        assert sum(given[label].get(result, 0) for label in labels) / 5 == chance
    for source, goal in ((0, 2), (3, 1), (4, 3)):
        moved = [one + little * ((at == goal) - (at == source)) for at, one in enumerate(even)]
        before, after = chances(even), chances(moved)
        for result in before:
            slope = given[labels[goal]].get(result, 0) - given[labels[source]].get(result, 0)
            assert abs((after[result] - before[result]) / little - slope) < 10 * little


def test_a_die_alone_may_carry_words() -> None:
    assert chances_given(["ebb", "flow", "ebb"], Roll()) == {"ebb": {"ebb": 1}, "flow": {"flow": 1}}


def test_words_are_not_added() -> None:
    with pytest.raises(UsageError, match=r"found 'ebb' on a die rolled with others; accepted: whole numbers"):
        chances_given([1, "ebb"], Roll("total", ((1, 2),)))


def test_a_reading_that_is_not_known() -> None:
    with pytest.raises(UsageError, match=r"found 'loudest'; .*highest, .*total-of-lowest"):
        chances_given([1, 2], Roll("loudest", ((1, 2),)))
