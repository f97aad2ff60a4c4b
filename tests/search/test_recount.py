"""Recounting against a naive enumeration written here, and against designs spoilt on purpose."""

from __future__ import annotations

import ast
import itertools
import subprocess
import sys
import time
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from types import ModuleType

import pytest
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.errors import UsageError
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering
from facewright.constraints.readings import READINGS
from facewright.search import recount as module
from facewright.search import recount_further, recount_readings
from facewright.search.recount import finds_readings, recount, recount_distribution
from hypothesis import given, settings
from hypothesis import strategies as st

RULES = LabelRules(lowest=1, highest=20)
CUBE = Die(6, "cube", 1, RULES)
SIXTEEN = Die(16, "octagonal bipyramid", 1, RULES)
EIGHT_AND_TWELVE = Distribution.of_labels(range(1, 9)) + Distribution.of_labels(range(1, 13))
TWO_CUBES = Distribution.of_labels(range(1, 7)) + Distribution.of_labels(range(1, 7))
GOOD = ((1, 2, 2, 3, 3, 4), (1, 3, 4, 5, 6, 7, 7, 8, 9, 10, 10, 11, 12, 13, 14, 16))


def asking(dice: tuple[Die, ...], target: Distribution, accept: str = "exact") -> Numbering:
    return Numbering("total", target, (dice,), accept)


def naive(dice: list[list[int]]) -> dict[int, Fraction]:
    chances: dict[int, Fraction] = {}
    one = Fraction(1)
    for labels in dice:
        one /= len(labels)
    for outcome in itertools.product(*dice):
        chances[sum(outcome)] = chances.get(sum(outcome), Fraction(0)) + one
    return chances


dice_lists = st.lists(st.lists(st.integers(-30, 30), min_size=1, max_size=8), min_size=1, max_size=4)


@given(dice_lists)
@settings(max_examples=60, deadline=None)
def test_every_way_of_counting_equals_a_naive_enumeration(dice: list[list[int]]) -> None:
    wanted = naive(dice)
    spread = sum(max(labels) - min(labels) for labels in dice)
    for ways in (
        recount_distribution(dice),
        module._visited_plainly(dice),
        module._visited_in_chunks(dice, spread),
        module._added_one_by_one(dice),
    ):
        outcomes = sum(ways.values())
        assert {r: Fraction(w, outcomes) for r, w in ways.items()} == wanted
        assert list(ways) == sorted(ways)
        assert all(type(r) is int and type(w) is int for r, w in ways.items())


@given(dice_lists, dice_lists)
@settings(max_examples=60, deadline=None)
def test_the_distance_equals_its_definition_in_fractions(
    dice: list[list[int]], other: list[list[int]]
) -> None:
    left, right = naive(dice), naive(other)
    wanted = (
        sum((abs(left.get(r, Fraction(0)) - right.get(r, Fraction(0))) for r in left | right), Fraction(0))
        / 2
    )
    assert module._distance(recount_distribution(dice), recount_distribution(other)) == wanted


def test_a_right_design_agrees() -> None:
    finding = recount(asking((CUBE, SIXTEEN), EIGHT_AND_TWELVE), NumberingDesign.of((CUBE, SIXTEEN), GOOD))
    assert finding.agrees
    assert finding.faults == ()
    assert finding.distance == 0
    assert finding.distribution == EIGHT_AND_TWELVE.ways


def test_chances_are_compared_and_not_ways() -> None:
    """Six faces instead of three: the same chances, in 36 outcomes instead of 9."""
    three = Distribution.of_labels((1, 2, 3)) + Distribution.of_labels((1, 2, 3))
    design = NumberingDesign.of((CUBE, CUBE), [(1, 1, 2, 2, 3, 3)] * 2)
    assert recount(asking((CUBE, CUBE), three), design).agrees


def test_a_wrong_chance_is_named_with_both_numbers_of_ways() -> None:
    design = NumberingDesign.of((CUBE, CUBE), [(1, 2, 3, 4, 5, 6), (1, 2, 3, 4, 5, 5)])
    finding = recount(asking((CUBE, CUBE), TWO_CUBES), design)
    assert not finding.agrees
    assert "result 12: found 0 in 36, wanted 1 in 36" in finding.faults
    assert finding.distance == Fraction(1, 36)


def test_the_nearest_may_be_away_but_must_keep_the_rules() -> None:
    design = NumberingDesign.of((CUBE, CUBE), [(1, 2, 3, 4, 5, 6), (1, 2, 3, 4, 5, 5)])
    finding = recount(asking((CUBE, CUBE), TWO_CUBES, "nearest"), design)
    assert finding.agrees
    assert finding.distance == Fraction(1, 36)
    low = replace(CUBE, rules=LabelRules(lowest=2, highest=20))
    assert not recount(asking((low, low), TWO_CUBES, "nearest"), design).agrees


@pytest.mark.parametrize(
    ("rules", "said"),
    [
        (LabelRules(2, 20), "die 1: found the label 1, the lowest allowed is 2"),
        (LabelRules(1, 15), "die 2: found the label 16, the highest allowed is 15"),
        (LabelRules(1, 20, repeats=1), "die 1: found the label 2 2 times, at most 1 are allowed"),
        (LabelRules(1, 20, avoid=(4,)), "die 1: found the label 4, which is to be avoided"),
        (
            LabelRules(1, 20, only=tuple(range(1, 16))),
            "die 2: found the label 16, which is not among those allowed",
        ),
    ],
)
def test_each_label_rule_is_checked(rules: LabelRules, said: str) -> None:
    dice = (replace(CUBE, rules=rules), replace(SIXTEEN, rules=rules))
    finding = recount(asking(dice, EIGHT_AND_TWELVE), NumberingDesign.of(dice, GOOD))
    assert not finding.agrees
    assert said in finding.faults


def test_a_fixed_die_must_be_exactly_that() -> None:
    fixed = replace(CUBE, exactly=(1, 2, 3, 4, 5, 6))
    finding = recount(asking((fixed, SIXTEEN), EIGHT_AND_TWELVE), NumberingDesign.of((CUBE, SIXTEEN), GOOD))
    assert finding.faults == ("die 1: its labels are not exactly 1 2 3 4 5 6",)


def test_the_solid_the_face_count_and_the_number_of_labels_are_checked() -> None:
    question = asking((CUBE, SIXTEEN), EIGHT_AND_TWELVE)
    other_solid = NumberingDesign(
        (DesignDie(6, "trigonal trapezohedron", GOOD[0]), DesignDie(16, SIXTEEN.solid, GOOD[1]))
    )
    assert (
        "the question asks for 6 on cube + 16 on octagonal bipyramid"
        in recount(question, other_solid).faults[0]
    )
    swapped = NumberingDesign((DesignDie(16, SIXTEEN.solid, GOOD[1]), DesignDie(6, "cube", GOOD[0])))
    assert not recount(question, swapped).agrees
    short = NumberingDesign((DesignDie(6, "cube", GOOD[0][:-1]), DesignDie(16, SIXTEEN.solid, GOOD[1])))
    assert "die 1: found 5 labels, asked for 6" in recount(question, short).faults


def test_the_canonical_order_is_checked() -> None:
    question = asking((CUBE, CUBE), TWO_CUBES)
    low, high = (1, 2, 2, 3, 3, 4), (1, 3, 4, 5, 6, 8)
    assert recount(question, NumberingDesign((DesignDie(6, "cube", low), DesignDie(6, "cube", high)))).agrees
    swapped = NumberingDesign((DesignDie(6, "cube", high), DesignDie(6, "cube", low)))
    assert recount(question, swapped).faults == ("dice 1 and 2 may be exchanged, and do not stand in order",)
    told_apart = asking((CUBE, replace(CUBE, name="tug")), TWO_CUBES)
    assert recount(told_apart, swapped).agrees
    loose = NumberingDesign((DesignDie(6, "cube", low[::-1]), DesignDie(6, "cube", high)))
    assert "die 1: its labels do not stand in rising order" in recount(question, loose).faults


def test_a_design_may_answer_any_set_of_a_choice() -> None:
    question = Numbering("total", EIGHT_AND_TWELVE, ((SIXTEEN, SIXTEEN), (CUBE, SIXTEEN)))
    assert recount(question, NumberingDesign.of((CUBE, SIXTEEN), GOOD)).agrees


@pytest.mark.parametrize("labels", [(1, 2, "3", 4, 5, 6), (1, 2, 3.0, 4, 5, 6), (True, 2, 3, 4, 5, 6), ()])
def test_what_is_no_label_is_a_fault_and_no_traceback(labels: tuple[object, ...]) -> None:
    design = NumberingDesign((DesignDie(6, "cube", labels), DesignDie(6, "cube", (1, 2, 3, 4, 5, 6))))  # type: ignore[arg-type]
    finding = recount(asking((CUBE, CUBE), TWO_CUBES), design)
    assert not finding.agrees
    assert finding.faults[0].startswith("die 1: found ")


def test_an_unknown_reading_is_refused() -> None:
    assert set(finds_readings()) == set(READINGS)
    design = NumberingDesign.of((CUBE, SIXTEEN), GOOD)
    with pytest.raises(UsageError, match=r"recounting knows: .*total"):
        recount(replace(asking((CUBE, SIXTEEN), EIGHT_AND_TWELVE), read="loudest"), design)
    with pytest.raises(UsageError, match="found 'loudest'"):
        recount_distribution([(1, 2)], "loudest")
    with pytest.raises(UsageError, match="a label or more"):
        recount_distribution([(1, 2), ()])


def test_labels_beyond_64_bits_are_counted_exactly() -> None:
    big = 10**30
    dice = [[x + big for x in range(120)], [x - big for x in range(120)]]
    assert recount_distribution(dice) == recount_distribution([range(120), range(120)])
    far = [[0, big], [0, 1] * 60, list(range(120))]
    assert recount_distribution(far)[big + 120] == 60
    assert sum(recount_distribution(far).values()) == 2 * 120 * 120


def test_six_big_dice_are_added_with_whole_numbers_that_cannot_overflow() -> None:
    ways = recount_distribution([range(1, 121)] * 6)
    assert sum(ways.values()) == 120**6
    assert ways[6] == ways[720] == 1
    assert ways[7] == 6
    huge = recount_distribution([[1, 2, 3, 4]] * 40)
    assert sum(huge.values()) == 4**40 > 2**63


def imported_by(one: ModuleType) -> set[str]:
    """What a module imports of ours."""
    tree = ast.parse(Path(str(one.__file__)).read_text(encoding="utf-8"))
    imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    return {name for name in imported if name and name.startswith("facewright")}


def test_it_imports_no_engine_no_model_and_no_reading() -> None:
    inner = imported_by(module) | imported_by(recount_readings) | imported_by(recount_further)
    assert inner == {
        "facewright.constraints.design",
        "facewright.constraints.errors",
        "facewright.constraints.labels",
        "facewright.constraints.question",
        "facewright.search.recount_further",
        "facewright.search.recount_readings",
    }
    text = Path(module.__file__).read_text(encoding="utf-8")
    assert ".distance(" not in text and "same_chances" not in text and ".keep" not in text


def test_two_cubes_never_load_numpy() -> None:
    program = (
        "import sys\n"
        "from facewright.search.recount import recount_distribution\n"
        "assert recount_distribution([range(1, 7)] * 2)[7] == 6\n"
        "assert 'numpy' not in sys.modules\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_many_designs_of_two_120_face_dice_are_recounted_at_once() -> None:
    """956 designs in well under 0.3 s on a quiet machine; the bound here leaves room for a busy one."""
    die = Die(120, "disdyakis triacontahedron", 1, LabelRules(1, 240))
    labels = tuple(range(1, 121))
    target = Distribution.of_labels(labels) + Distribution.of_labels(labels)
    design = NumberingDesign.of((die, die), (labels, labels))
    question = asking((die, die), target)
    recount(question, design)
    started = time.process_time()
    assert all(recount(question, design).agrees for _ in range(956))
    assert time.process_time() - started < 1.0
