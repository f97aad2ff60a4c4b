"""The engine of layouts: verdicts, counts, words, stopping, and that a seed decides everything."""

from __future__ import annotations

from fractions import Fraction

import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.layout import Roll
from facewright.constraints.layout_design import ITSELF
from facewright.constraints.readouts import Label
from facewright.search.stop import Limits

from tests.layouts_asked import answered, asked


@pytest.mark.parametrize(
    ("labels", "rules", "many"),
    [
        ((1, 2, 3, 4, 5, 6), {}, 30),
        ((1, 2, 3, 4, 5, 6), {"same_under": "reflection"}, 15),
        (("a", "a", "b", "b", "c", "c"), {"rename": True}, 4),
        (("a", "a", "b", "b", "c", "c"), {"rename": True, "same_under": "reflection"}, 3),
        ((7, 7, 7, 7, 7, 7), {}, 1),
    ],
)
def test_every_layout_of_a_cube(labels: tuple[Label, ...], rules: dict[str, object], many: int) -> None:
    question = asked("cube", labels, **rules)
    designs, closing = answered(question, 100)
    assert (closing.verdict, closing.count, closing.count_is) == ("complete", many, "all")
    assert len({one.id for one in designs}) == len(designs) == many
    counted, told = answered(question, 0)
    assert (counted, told.count) == ([], many)


def test_sums_of_opposite_faces_are_kept_when_asked_first() -> None:
    designs, closing = answered(asked("cube", range(1, 7), "opposite-sums", "even-vertices"), 10)
    assert closing.verdict == "best"
    assert {one.balance.opposite for one in designs} == {(7, 7, 7)}
    assert {one.balance.deviation for one in designs} == {Fraction(9, 2)}
    assert {one.id for one in designs} == {one.mirror for one in designs}
    assert "Opposite faces all add up to 7" in closing.reason
    assert "Nothing better exists" in closing.reason


def test_the_order_of_the_goals_decides() -> None:
    [first], _ = answered(asked("cube", range(1, 7), "even-vertices", "opposite-sums"))
    assert first.balance.deviation == Fraction(3, 2)
    assert len(set(first.balance.opposite)) > 1


def test_labels_that_do_not_pair_up_come_as_near_as_they_can() -> None:
    [design], closing = answered(asked("cube", (1, 2, 3, 4, 5, 9), "opposite-sums"))
    assert closing.verdict == "best"
    assert max(abs(one - 8) for one in design.balance.opposite) == 2
    assert "do not pair up" in closing.reason


def test_a_solid_without_opposite_faces_says_so() -> None:
    [design], closing = answered(asked("tetrahedron", range(1, 5), "opposite-sums", "even-vertices"))
    assert design.balance.opposite == ()
    assert "no face lies opposite another" in closing.reason


def test_equal_labels_are_kept_apart() -> None:
    [design], closing = answered(asked("icosahedron", ["ash", "oak", "elm", "fir", "yew"] * 4, "apart"))
    assert closing.verdict == "best"
    assert design.balance.touching == (0, 0)


def test_equal_labels_that_must_touch_do_so_seldom() -> None:
    [design], closing = answered(asked("tetrahedron", (1, 1, 1, 2), "apart"))
    assert (closing.verdict, design.balance.touching) == ("best", (3, 0))


def test_neighbours_that_must_be_consecutive_are_few() -> None:
    [design], closing = answered(asked("octahedron", range(1, 9), "even-vertices", "no-neighbours"))
    assert (design.balance.deviation, design.balance.consecutive) == (0, 1)
    assert closing.verdict == "best"
    assert "one pair of faces that share an edge has consecutive labels" in closing.reason


def test_many_labels_far_apart_are_settled_too() -> None:
    [design], closing = answered(asked("octahedron", (2, 3, 5, 70, 110, 130, 170, 1900), "even-vertices"))
    assert closing.verdict == "best"
    assert design.balance.deviation is not None


def test_a_guard_judges_every_layout_where_they_are_few() -> None:
    roll = Roll("total", ((1, 2, 3, 4, 5, 6),))
    every, _ = answered(asked("cube", range(1, 7), roll=roll), 30)
    worst = {one.id: dict(one.balance.shifts)["out-of-round"].worst for one in every}
    best, closing = answered(asked("cube", range(1, 7), "out-of-round", roll=roll), 30)
    least = min(worst.values())
    assert closing.verdict == "best"
    assert {one.id for one in best} <= {one for one, shift in worst.items() if shift <= least * (1 + 1e-4)}
    assert "All 30 layouts" in closing.reason


def test_a_guard_without_a_proof_says_so_and_is_better_than_chance() -> None:
    question = asked("icosahedron", range(1, 21), "off-centre", roll=Roll("total", ((1, 2, 3, 4, 5, 6),)))
    [design], closing = answered(question)
    [plain], _ = answered(asked("icosahedron", range(1, 21), "no-neighbours", roll=question.roll))
    assert closing.verdict == "partial"
    assert closing.bound == "0"
    assert "a better one may exist" in closing.reason
    assert dict(design.balance.shifts)["off-centre"].worst < dict(plain.balance.shifts)["off-centre"].worst


def test_a_stop_leaves_a_layout_and_a_bound() -> None:
    question = asked("disdyakis triacontahedron", range(1, 121), "even-vertices")
    [design], closing = answered(question, stop=Limits(1.0))
    assert closing.verdict == "partial"
    assert closing.bound == "0"
    assert sorted(design.labels) == list(range(1, 121))  # type: ignore[type-var]
    assert "ended early" in closing.reason


def test_a_seed_decides_everything() -> None:
    question = asked("rhombic triacontahedron", range(1, 31), "even-vertices", "no-neighbours")
    one, other, third = (answered(question, seed=seed) for seed in (3, 3, 4))
    assert one == other
    assert third[0][0].balance.deviation == one[0][0].balance.deviation


def test_a_layout_can_be_its_own_mirror_image() -> None:
    designs, _ = answered(asked("cube", (1, 2, 2, 3, 3, 4)), 10)
    assert {one.mirror for one in designs} > {ITSELF}


@pytest.mark.parametrize(
    ("labels", "goals", "rules", "said"),
    [
        (range(1, 6), ("apart",), {}, "labels: found 5; the cube carries 6"),
        ("abcdef", ("even-vertices",), {}, "need whole numbers, found the label 'a'"),
        (range(1, 7), ("evenness",), {}, "layout: found evenness; opposite-sums, even-vertices"),
        (range(1, 7), ("apart", "apart"), {}, "more than once"),
        (range(1, 7), ("long-along-draw",), {}, "draw: none is given"),
        (range(1, 7), ("even-vertices",), {"rename": True}, "rename: labels cannot change places"),
    ],
)
def test_what_does_not_fit_together_is_refused(
    labels: range | str, goals: tuple[str, ...], rules: dict[str, object], said: str
) -> None:
    with pytest.raises(UsageError, match=said):
        answered(asked("cube", labels, *goals, **rules))
