"""Scores together and the rank that weights give; the ten sets of a cube and sixteen faces in a sensible order."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.errors import UsageError
from facewright.search.rank import RANK_NAMES, Scores, load_scores, rank, score, scores_of
from hypothesis import given, settings
from hypothesis import strategies as st

SETTINGS = load_scores()
DEFAULT = {"readability": 2, "cost": 1}
ODD_ONE = (1, 5, 5, 9, 9, 13)
NEAR_ORDINARY = (1, 2, 3, 4, 5, 6)
TEN = [
    ((1, 2, 2, 3, 3, 4), (1, 3, 4, 5, 6, 7, 7, 8, 9, 10, 10, 11, 12, 13, 14, 16)),
    ((1, 2, 3, 3, 4, 5), (1, 2, 4, 5, 5, 6, 7, 8, 8, 9, 10, 11, 11, 12, 14, 15)),
    (NEAR_ORDINARY, (1, 2, 3, 4, 5, 6, 7, 7, 8, 8, 9, 10, 11, 12, 13, 14)),
    ((1, 2, 3, 5, 6, 7), (1, 2, 3, 4, 4, 5, 6, 7, 7, 8, 9, 10, 10, 11, 12, 13)),
    ((1, 3, 3, 5, 5, 7), (1, 2, 2, 3, 5, 6, 6, 7, 7, 8, 8, 9, 11, 12, 12, 13)),
    ((1, 3, 5, 5, 7, 9), (1, 2, 2, 3, 3, 4, 4, 5, 7, 8, 8, 9, 9, 10, 10, 11)),
    ((1, 2, 3, 7, 8, 9), (1, 2, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9, 10, 11)),
    ((1, 2, 5, 6, 9, 10), (1, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9, 10)),
    ((1, 3, 5, 7, 9, 11), (1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9)),
    (ODD_ONE, (1, 2, 2, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 6, 6, 7)),
]
"""The ten sets on a cube and sixteen faces with the totals of an ordinary eight-face and twelve-face die."""


def design(*dice: tuple[int, ...]) -> NumberingDesign:
    return NumberingDesign(tuple(DesignDie(len(labels), f"{len(labels)} faces", labels) for labels in dice))


def scored(dice: list[tuple[tuple[int, ...], ...]]) -> list[Scores]:
    return [score(design(*labels), [1] * len(labels), SETTINGS) for labels in dice]


def cubes_in_order(weights: dict[str, int]) -> list[tuple[int, ...]]:
    return [one.scores.design.dice[0].labels for one in rank(scored(TEN), weights)]


@pytest.mark.parametrize("weights", [DEFAULT, {"readability": 1}, {"familiar": 1}])
def test_the_near_ordinary_set_comes_out_on_top_and_the_odd_one_does_not(weights: dict[str, int]) -> None:
    order = cubes_in_order(weights)
    assert order[0] == NEAR_ORDINARY
    assert order.index(ODD_ONE) >= 5


def test_the_odd_one_is_last_by_readability_though_it_is_the_most_legible() -> None:
    assert cubes_in_order({"readability": 1})[-1] == ODD_ONE
    assert cubes_in_order({"legible": 1})[0] == ODD_ONE
    assert cubes_in_order({"cost": 1})[0] == ODD_ONE


def test_symmetric_small_changes_rank_above_wild_ones() -> None:
    order = cubes_in_order(DEFAULT)
    assert set(order[1:3]) == {(1, 2, 3, 3, 4, 5), (1, 2, 3, 5, 6, 7)}


def test_the_scores_and_their_parts_have_the_shape_that_is_stored() -> None:
    one = scored(TEN)[2]
    assert set(one.scores) == {"legible", "familiar", "readability", "cost"}
    assert all(type(one.scores[name]) is int for name in ("legible", "familiar", "readability"))
    assert type(one.scores["cost"]) is float
    assert set(one.parts) == set(one.scores)
    for parts in one.parts.values():
        assert parts
        for part in parts:
            assert set(part) == {"name", "share", "words", "counts"}
            assert 0 <= part["share"] <= 1
    assert one.parts["legible"][0]["words"] == "5 of 22 faces have more than one character"
    assert one.id == design(*TEN[2]).id


def test_overall_is_the_weighted_mean_with_cost_as_economy() -> None:
    ranked = rank(scored(TEN), DEFAULT)
    cheapest = min(one.scores.scores["cost"] for one in ranked)
    for one in ranked:
        mean = (2 * one.scores.scores["readability"] + 100 * cheapest / one.scores.scores["cost"]) / 3
        assert abs(one.overall - mean) <= 0.5 + 1e-6
    alone = rank(scored(TEN[:1]), {"cost": 1})
    assert [(one.position, one.tied, one.overall) for one in alone] == [(1, False, 100)]


def test_ties_share_a_rank_and_stand_by_id() -> None:
    shifted = [((1, 2, 3, 4, 5, 6), (0, 1, 2, 3, 4, 5)), ((0, 1, 2, 3, 4, 5), (1, 2, 3, 4, 5, 6))]
    ranked = rank(scored([*TEN, *shifted]), DEFAULT)
    assert [one.overall for one in ranked] == sorted((one.overall for one in ranked), reverse=True)
    for one in ranked:
        equal = [other for other in ranked if other.overall == one.overall]
        assert one.tied == (len(equal) > 1)
        assert one.position == 1 + sum(other.overall > one.overall for other in ranked)
        assert [other.id for other in equal] == sorted(other.id for other in equal)
    assert sum(one.tied for one in ranked) >= 2


@given(st.permutations(TEN))
@settings(max_examples=20, deadline=None)
def test_the_order_in_which_designs_are_found_changes_nothing(
    found: list[tuple[tuple[int, ...], ...]],
) -> None:
    placed = [(one.position, one.tied, one.overall, one.id) for one in rank(scored(found), DEFAULT)]
    assert placed == [(one.position, one.tied, one.overall, one.id) for one in rank(scored(TEN), DEFAULT)]


@given(st.lists(st.lists(st.integers(-20, 60), min_size=1, max_size=10), min_size=2, max_size=4))
@settings(max_examples=60, deadline=None)
def test_exchanging_dice_changes_no_score(dice: list[list[int]]) -> None:
    labels = [tuple(sorted(one)) for one in dice]
    copies = [1 + at % 2 for at in range(len(labels))]
    there = score(design(*labels), copies, SETTINGS)
    back = score(design(*labels[::-1]), copies[::-1], SETTINGS)
    assert there.scores == back.scores
    assert all(0 <= there.scores[name] <= 100 for name in ("legible", "familiar", "readability"))


def test_weights_come_as_a_table_or_as_pairs() -> None:
    by_table, by_pairs = rank(scored(TEN), DEFAULT), rank(scored(TEN), tuple(DEFAULT.items()))
    assert [one.id for one in by_table] == [one.id for one in by_pairs]
    assert rank([], DEFAULT) == []


@pytest.mark.parametrize(
    ("weights", "said"),
    [
        ({"beauty": 1}, "rank: found 'beauty'; accepted: readability, legible, familiar, cost"),
        ({"cost": -1}, "rank.cost: found -1; accepted: a number of at least 0"),
        ({"cost": 0}, "rank: found no weight above 0"),
        ({}, "rank: found no weight above 0"),
    ],
)
def test_weights_that_cannot_be_used_are_refused(weights: dict[str, int], said: str) -> None:
    with pytest.raises(UsageError, match=said):
        rank(scored(TEN), weights)


@pytest.mark.parametrize("copies", [[], [1], [1, 0], [1, 1, 1]])
def test_copies_that_do_not_fit_are_refused(copies: list[int]) -> None:
    with pytest.raises(UsageError, match="accepted: 2 numbers of at least 1, one a die"):
        score(design(*TEN[0]), copies, SETTINGS)


def test_every_score_may_be_weighed() -> None:
    assert set(RANK_NAMES) == {one.name for one in scores_of(SETTINGS)}


def test_free_settings_do_not_break_the_economy(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(
        "[cost]\n"
        + "".join(f"{name} = 0\n" for name in ("different_die", "glyph", "character", "mark", "face"))
    )
    free = [score(design(*labels), [1, 1], load_scores(path)) for labels in TEN]
    assert {one.overall for one in rank(free, {"cost": 1})} == {100}


def test_ranking_loads_neither_numpy_nor_pandas() -> None:
    program = (
        "import sys, facewright.search.rank, facewright.search.report.text\n"
        "print(sorted({'numpy', 'pandas', 'rich', 'matplotlib'} & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.stdout.strip() == "[]", done.stderr


def test_ten_thousand_designs_are_scored_and_ranked_in_about_a_second() -> None:
    """With every die different from all others; the bound leaves room for a busy machine."""
    source = random.Random(1)
    found = [
        design(*(tuple(sorted(source.choices(range(1, 30), k=20))) for _ in range(2))) for _ in range(10_000)
    ]
    started = time.process_time()
    ranked = rank([score(one, (1, 1), SETTINGS) for one in found], DEFAULT)
    assert len(ranked) == 10_000
    assert time.process_time() - started < 4
