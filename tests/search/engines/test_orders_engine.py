"""The engine of finishing orders against brute force; insertion against paths; words from both ends; samples."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import pytest
from facewright.constraints.contest import ORDERS, Contest
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.orders import EVERY, FIRST, PLACES, is_fair, labels_of, order_ways
from facewright.search.answer import Answering
from facewright.search.engines.orders import engine as orders_engine
from facewright.search.engines.orders import sums as sums_module
from facewright.search.engines.orders.engine import Orders, fair_words_of
from facewright.search.engines.orders.insertion import inserted, insertions
from facewright.search.engines.orders.mirror import fair_words
from facewright.search.engines.orders.paths import WordLayer, additive, layers_of
from facewright.search.engines.orders.sums import Drawn, Edge, Sums, TooMany
from facewright.search.progress import silent
from facewright.search.recount_contests import recount_contest
from facewright.search.stop import Limits, Stopped, never
from hypothesis import given, settings
from hypothesis import strategies as st


def contest(faces: tuple[int, ...], fair: str = EVERY, alike: bool = True) -> Contest:
    rules = LabelRules(1, sum(faces))
    dice = tuple(
        Die(count, f"solid {count}", 1, rules, name=None if alike else f"die {at}")
        for at, count in enumerate(faces)
    )
    return Contest(ORDERS, (dice,), fair=fair)


def words(faces: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Every word with so many letters of each die."""
    left = Counter(dict(enumerate(faces)))

    def grow(word: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        if len(word) == sum(faces):
            yield word
            return
        for die in range(len(faces)):
            if left[die]:
                left[die] -= 1
                yield from grow((*word, die))
                left[die] += 1

    return grow(())


def brute(question: Contest) -> set[str]:
    dice = question.dice
    size = len(dice)
    return {
        question.design(dice, labels_of(word, size)).id
        for word in words(tuple(die.faces for die in dice))
        if is_fair(order_ways(word, size), size, question.fair)
    }


def answered(question: Contest, limit: int = 10_000) -> tuple[Answering, list[str]]:
    answering = Orders().answer(question, limit, never, 0, silent)
    ids = []
    for design in answering:
        assert recount_contest(question, design).agrees
        ids.append(design.id)
    assert len(ids) == len(set(ids))
    return answering, ids


@settings(max_examples=40, deadline=None)
@given(st.data(), st.sampled_from([EVERY, PLACES, FIRST]), st.booleans())
def test_tiny_questions_agree_with_brute_force(data: st.DataObject, fair: str, alike: bool) -> None:
    size = data.draw(st.integers(2, 4))
    most = {2: 6, 3: 3, 4: 2}[size]
    faces = tuple(data.draw(st.lists(st.integers(1 if size > 2 else 2, most), min_size=size, max_size=size)))
    question = contest(faces, fair, alike)
    answering, found = answered(question)
    expected = brute(question)
    assert set(found) == expected
    assert answering.closing.verdict == ("complete" if expected else "none")
    assert (answering.closing.count, answering.closing.count_is) == (len(expected), "all")


@pytest.mark.parametrize("faces", [(2, 3, 4), (2, 4, 6), (1, 2, 3, 4)])
@pytest.mark.parametrize("fair", [PLACES, FIRST])
def test_larger_ones_too(faces: tuple[int, ...], fair: str) -> None:
    question = contest(faces, fair)
    assert set(answered(question)[1]) == brute(question)


def test_inserting_the_last_die_finds_what_paths_find() -> None:
    # every fair set of three from all fair sets of two
    faces = (4, 4, 6)
    pairs = Sums(*_ends(faces[:2]), *_wanted(faces[:2])).paths()
    found = set()
    for pair in pairs:
        layers, wanted = insertions(pair, faces)
        for choices in Sums(layers, 0, faces[-1], wanted).paths():
            found.add(inserted(pair, choices, 2))
    layers, wanted = layers_of("aab", faces, EVERY)
    assert found == set(Sums(layers, (0, 0, 0), faces, wanted).paths())
    assert found


def _ends(faces: tuple[int, ...]) -> tuple[list[object], object, object]:
    layers, _ = layers_of("a" * len(faces), faces, EVERY)
    return layers, (0,) * len(faces), faces  # type: ignore[return-value]


def _wanted(faces: tuple[int, ...]) -> tuple[tuple[int, ...]]:
    return (layers_of("a" * len(faces), faces, EVERY)[1],)


def test_paths_of_a_small_graph_by_hand() -> None:
    layers = [Drawn({0: [Edge(0, 0, (0,)), Edge(0, 1, (1,)), Edge(0, 2, (2,))]})] * 3
    sums = Sums(layers, 0, 0, (2,))
    listed = sorted(sums.paths())
    assert listed == [(0, 0, 2), (0, 1, 1), (0, 2, 0), (1, 0, 1), (1, 1, 0), (2, 0, 0)]
    assert sums.count() == 6


def test_only_every_order_of_four_dice_does_not_add_up() -> None:
    assert [additive(dice, fair) for dice in (3, 4) for fair in (EVERY, PLACES, FIRST)] == [
        True, True, True, False, True, True,
    ]  # fmt: skip


def test_words_from_both_ends_are_fair_and_read_the_same() -> None:
    some = [word for word, _ in zip(fair_words("aaaa", (12,) * 4, 0), range(3), strict=False)]
    assert len(some) == 3
    for word in some:
        assert word == word[::-1]
        assert is_fair(order_ways(word, 4), 4, EVERY)


def test_dice_with_an_odd_face_count_have_no_such_words() -> None:
    assert list(fair_words("aab", (4, 4, 5), 0)) == []


def test_more_words_than_can_be_followed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sums_module, "MOST_STATES", 500)
    layers, wanted = layers_of("aaa", (6, 6, 6), FIRST)
    with pytest.raises(TooMany):
        Sums(layers, (0,) * 3, (6,) * 3, wanted)
    sample = Sums(layers, (0,) * 3, (6,) * 3, wanted, seed=1)
    assert not sample.whole
    answering, found = answered(contest((6, 6, 6), FIRST), 5)
    assert answering.closing.verdict == "partial"
    assert len(found) == 5


def test_four_dice_with_too_many_bases_are_searched_from_both_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(orders_engine, "MOST_BASES", 3)
    answering, found = answered(contest((6, 6, 6, 6)), 2)
    assert (answering.closing.verdict, found) == ("partial", [])
    assert "too many numberings" in answering.closing.reason


def test_a_division_rules_dice_out() -> None:
    answering, found = answered(contest((4, 4, 4)))
    assert (answering.closing.verdict, found) == ("none", [])
    assert "cannot be shared equally among six orders" in answering.closing.reason


@pytest.mark.parametrize("limit", [0, 1, 4])
def test_designs_beyond_the_limit_are_counted(limit: int) -> None:
    answering, found = answered(contest((6, 6)), limit)
    assert (answering.closing.count, len(found)) == (len(brute(contest((6, 6)))), limit)


def test_a_stop_is_heeded() -> None:
    stopped = Limits(interrupted=True)
    answering = Orders().answer(contest((6, 6, 6)), 10, stopped, 0, silent)
    assert list(answering) == []
    assert answering.closing.verdict == "partial"
    with pytest.raises(Stopped):
        next(fair_words("aaaa", (12,) * 4, 0, stopped))


def test_what_fair_means_in_words() -> None:
    assert fair_words_of(EVERY, 3) == "every order in which three dice can come in is equally likely"
    assert fair_words_of(PLACES, 3) != fair_words_of(FIRST, 3)


def test_many_dice_of_many_faces_are_given_up_as_soon_as_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    # 121⁵ points in all: they are worked out only where a search comes by
    worked_out, asked = 0, 0
    whole = WordLayer.leaving

    def leaving(layer: WordLayer, point: object) -> list[Edge]:
        nonlocal worked_out
        worked_out += 1
        return whole(layer, point)

    def stop() -> str | None:
        nonlocal asked
        asked += 1
        return "interrupted" if asked > 200 else None

    monkeypatch.setattr(WordLayer, "leaving", leaving)
    answering = Orders().answer(contest((120,) * 5), 1, stop, 0, silent)
    assert list(answering) == []
    assert answering.closing.verdict == "partial"
    assert 0 < worked_out < 1000
