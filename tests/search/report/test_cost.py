"""Cost in points: what is counted, copies, equal dice, marks."""

from __future__ import annotations

from pathlib import Path

import pytest
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.search.report.cost import Cost
from facewright.search.report.scores import Part, load_scores
from hypothesis import given, settings
from hypothesis import strategies as st

COST = Cost(load_scores())
SIX = [1, 2, 3, 4, 5, 6]


def design(*dice: list[int], solid: str = "solid") -> NumberingDesign:
    return NumberingDesign(tuple(DesignDie(len(labels), solid, tuple(sorted(labels))) for labels in dice))


def parts(made: NumberingDesign, copies: list[int]) -> dict[str, Part]:
    return {part.name: part for part in COST.parts(made, copies)}


def test_an_ordinary_cube_costs_one_point() -> None:
    assert COST.value(design(SIX), [1]) == 1.0


def test_what_is_counted() -> None:
    found = parts(design([1, 2, 3, 6, 9, 10], [-1, 1, 2]), [1, 2])
    assert {name: part.words.partition(",")[0] for name, part in found.items()} == {
        "different dice": "2",
        "characters to draw": "7",  # 0 1 2 3 6 9 and the minus sign
        "characters to cut": "15",  # 7 on the first die, twice 4 on the second
        "marks to cut": "2",
        "faces to turn to": "12",
    }
    assert found["different dice"].words == "2, 0.8 points"
    assert found["faces to turn to"].share == pytest.approx(9 / 12)


def test_each_label_is_cut_as_often_as_its_solid_repeats_it() -> None:
    once, twice = parts(design([6, 8, 9]), [1]), parts(design([6, 8, 9]), [2])
    for name in ("characters to cut", "marks to cut", "faces to turn to"):
        assert twice[name].counts == pytest.approx(2 * once[name].counts)
    for name in ("different dice", "characters to draw"):
        assert twice[name] == once[name]


def test_equal_dice_share_their_artwork() -> None:
    equal, different = (
        COST.value(design(SIX, SIX), [1, 1]),
        COST.value(design(SIX, [1, 2, 3, 4, 5, 5]), [1, 1]),
    )
    assert equal < different
    on_two_solids = NumberingDesign((DesignDie(6, "cube", tuple(SIX)), DesignDie(6, "log", tuple(SIX))))
    assert parts(on_two_solids, [1, 1])["different dice"].words.startswith("2")


@given(
    st.lists(
        st.tuples(st.lists(st.integers(-20, 130), min_size=1, max_size=12), st.integers(1, 3)),
        min_size=1,
        max_size=4,
    )
)
@settings(max_examples=100, deadline=None)
def test_points_add_up_and_do_not_depend_on_the_order_of_the_dice(dice: list[tuple[list[int], int]]) -> None:
    made, copies = design(*(labels for labels, _ in dice)), [times for _, times in dice]
    found = COST.parts(made, copies)
    points = COST.value(made, copies)
    assert points == round(points, 1) > 0
    assert abs(sum(part.counts for part in found) - points) <= 0.05 + 1e-6
    assert all(0 <= part.share <= 1 for part in found)
    turned = dice[::-1]
    assert COST.value(design(*(labels for labels, _ in turned)), [times for _, times in turned]) == points


def test_points_are_a_setting(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(
        "[cost]\ndifferent_die = 0\nglyph = 0\ncharacter = 1\nmark = 0\nface = 0\n", encoding="utf-8"
    )
    assert Cost(load_scores(path)).value(design([1, 2, 10]), [2]) == 8.0
