"""Models of label counts: label rules, totals, the order between dice, scores; each against brute force."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import pytest
from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.errors import UsageError
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.model.counts import LARGEST_SUM, CountModel, Term
from facewright.constraints.model.exchange import post_exchange
from facewright.constraints.model.limits import too_large
from facewright.constraints.model.score import post_score
from facewright.constraints.model.totals import out_of_reach, post_totals
from facewright.constraints.question import Numbering
from ortools.sat.python import cp_model

from tests import brute

TWO_D6 = Distribution.of_labels(range(1, 7)) + Distribution.of_labels(range(1, 7))


def die(
    faces: int, lowest: int, highest: int, exactly: tuple[int, ...] | None = None, **rules: object
) -> Die:
    """A die on a solid named for its faces."""
    return Die(faces, f"solid with {faces} faces", 1, LabelRules(lowest, highest, **rules), exactly)  # type: ignore[arg-type]


def solutions(model: CountModel) -> list[tuple[tuple[int, ...], ...]]:
    """The labels of the dice in every solution, a repeated one repeated, found with the solver's own defaults."""
    listed: list[tuple[tuple[int, ...], ...]] = []

    class Lister(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            dice = []
            for position in range(len(model.dice)):
                labels: list[int] = []
                for label, count in model.counts(position).items():
                    times = count.value if isinstance(count.value, int) else self.value(count.value)
                    labels += [label] * times
                dice.append(tuple(labels))
            listed.append(tuple(dice))

    solver = cp_model.CpSolver()
    solver.parameters.enumerate_all_solutions = True
    solver.parameters.num_workers = 1
    assert solver.solve(model.cp, Lister()) in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return listed


def optimum(model: CountModel) -> float:
    """The greatest score."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model.cp) == cp_model.OPTIMAL
    return solver.objective_value


@pytest.mark.parametrize(
    "one",
    [
        die(3, 1, 4),
        die(3, -2, 1, repeats=1),
        die(4, 0, 3, repeats=2),
        die(3, 0, 9, only=(0, 4, 5, 9), avoid=(4,)),
        die(2, 1, 3, exactly=(1, 7)),
        die(4, 1, 1),
        die(3, 1, 2, repeats=1),
        die(2, 1, 2, avoid=(1, 2)),
    ],
    ids=str,
)
def test_label_rules_leave_exactly_the_numberings_that_keep_them(one: Die) -> None:
    found = solutions(CountModel([one]))
    assert len(found) == len(set(found))
    assert {labels for (labels,) in found} == set(brute.numberings(one))


def test_a_bound_takes_labels_out() -> None:
    model = CountModel([die(3, 1, 3), die(2, 1, 3, exactly=(1, 3))])
    model.bound(0, 2, 0)
    model.bound(0, 3, 1)
    model.bound(1, 3, 1)
    assert model.labels(0) == (1, 3)
    assert model.count(0, 2) == Term.constant(0)
    assert {labels for labels, _ in solutions(model)} == {(1, 1, 1), (1, 1, 3)}
    model.bound(1, 3, 0)
    assert solutions(model) == []


@pytest.mark.parametrize(
    ("least", "most"), [((0, 3), (0, 2)), ((2, 2), (0, 3)), ((0, 2), (3, 3)), ((2, 2), (3, 3))]
)
@pytest.mark.parametrize("bound", [0, 3, 6, 99])
def test_products_are_products_within_their_bound(
    least: tuple[int, int], most: tuple[int, int], bound: int
) -> None:
    model = CountModel([die(2, 1, 1)])
    one, other = model.whole(*least, "one"), model.whole(*most, "other")
    result = model.product(one, other, bound, "product")
    listed = set()

    class Lister(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            values = [one.value, other.value, result.value]
            listed.add(tuple(v if isinstance(v, int) else self.value(v) for v in values))

    solver = cp_model.CpSolver()
    solver.parameters.enumerate_all_solutions = True
    solver.parameters.num_workers = 1
    solver.solve(model.cp, Lister())
    pairs = product(range(least[0], least[1] + 1), range(most[0], most[1] + 1))
    assert listed == {(a, b, a * b) for a, b in pairs if a * b <= bound}


TWO_D4 = Numbering(
    "total",
    Distribution.of_labels(range(1, 5)) + Distribution.of_labels(range(1, 5)),
    ((die(2, 1, 6), die(8, 1, 6)),),
)

TOTALS = {
    "two dice": TWO_D4,
    "a fixed die": Numbering("total", TWO_D6, ((die(6, 1, 8), die(6, 1, 8, exactly=(1, 3, 4, 5, 6, 8))),)),
    "a fixed die that fits nothing": Numbering(
        "total", TWO_D6, ((die(6, 1, 8), die(6, 1, 8, exactly=(1, 1, 4, 5, 6, 8))),)
    ),
    "all fixed": Numbering(
        "total", Distribution.of({2: 1, 3: 2, 4: 1}), ((die(2, 1, 2, exactly=(1, 2)),) * 2,)
    ),
    "three dice": Numbering(
        "total", Distribution.of({0: 1, 1: 3, 2: 3, 3: 1}), ((die(2, -1, 2), die(2, 0, 3), die(4, -1, 2)),)
    ),
    "one die": Numbering("total", Distribution.of({-1: 1, 2: 2, 5: 1}), ((die(4, -3, 6),),)),
    "a gap": Numbering("total", Distribution.of({0: 1, 1: 1, 5: 1, 6: 1}), ((die(2, 0, 6), die(4, 0, 6)),)),
    "more outcomes than the target": Numbering(
        "total", Distribution.of({3: 1, 4: 1}), ((die(2, 0, 4), die(3, 0, 4)),)
    ),
    "a division that fails": Numbering(
        "total", Distribution.of({0: 1, 1: 2, 2: 2}), ((die(2, 0, 2), die(3, 0, 2)),)
    ),
    "no label": Numbering(
        "total", Distribution.of({0: 1, 1: 1}), ((die(2, 0, 2), die(2, 0, 0, avoid=(0,))),)
    ),
}


@pytest.mark.parametrize("question", TOTALS.values(), ids=TOTALS)
def test_totals_are_those_of_brute_force(question: Numbering) -> None:
    model = CountModel(question.dice)
    post_totals(model, question.target)
    found = solutions(model)
    assert len(found) == len(set(found))
    assert {NumberingDesign.of(question.dice, labels) for labels in found} == brute.designs(question)


@pytest.mark.parametrize("copies", [2, 3, 4])
@pytest.mark.parametrize("rules", [{}, {"repeats": 1}, {"only": (-1, 0, 2)}])
def test_the_order_leaves_each_set_of_equal_dice_once_and_sorted(
    copies: int, rules: dict[str, object]
) -> None:
    dice = (die(2, -1, 2, **rules),) * copies
    model = CountModel(dice)
    post_exchange(model)
    found = solutions(model)
    assert len(found) == len(set(found))
    every = {
        NumberingDesign.of(dice, labels) for labels in product(*(list(brute.numberings(one)) for one in dice))
    }
    assert {tuple(one.labels for one in design.dice) for design in every} == set(found)


def test_the_order_leaves_unequal_dice_alone() -> None:
    dice = (die(2, 0, 2), die(2, 0, 1), die(2, 0, 2))
    model = CountModel(dice)
    post_exchange(model)
    found = solutions(model)
    assert len(found) == len(set(found))
    assert set(found) == {
        (a, b, c) for a, b, c in product(*(list(brute.numberings(one)) for one in dice)) if a <= c
    }


@pytest.mark.parametrize(
    "weight", [lambda die, label: label * label, lambda die, label: -abs(label - 3) * (die + 1)]
)
def test_scores_are_maximised(weight: Callable[[int, int], int]) -> None:
    model = CountModel(TWO_D4.dice)
    post_totals(model, TWO_D4.target)
    post_score(model, weight)
    scores = [
        sum(weight(place, label) for place, one in enumerate(design.dice) for label in one.labels)
        for design in brute.designs(TWO_D4)
    ]
    assert len(set(scores)) > 1
    assert optimum(model) == max(scores)


def test_scores_beyond_what_the_solver_counts_are_refused() -> None:
    model = CountModel([die(2, 0, 1)])
    with pytest.raises(UsageError, match="can be compared"):
        post_score(model, lambda _die, _label: LARGEST_SUM)


def test_dice_with_too_many_outcomes_are_too_large() -> None:
    assert too_large([die(6, 1, 6)] * 2) is None
    assert too_large([die(20, 1, 20)] * 12) is None
    reason = too_large([die(20, 1, 20)] * 14)
    assert reason is not None
    assert f"{20**14:,} ways" in reason


def test_the_largest_dice_that_are_not_too_large_still_count_right() -> None:
    """Twelve fixed-order d20 but one: 20^11 ways weigh on each count, and only the ordinary die is left."""
    target = Distribution.of_labels(range(1, 21))
    dice = [die(20, 1, 20, exactly=tuple(range(1, 21)))] * 11 + [die(20, 1, 20)]
    assert too_large(dice) is None
    for _ in range(11):
        target += Distribution.of_labels(range(1, 21))
    model = CountModel(dice)
    post_totals(model, target)
    assert [labels[-1] for labels in solutions(model)] == [tuple(range(1, 21))]


def test_totals_out_of_reach_are_named() -> None:
    dice = (die(6, 1, 6), die(6, 2, 6))
    assert out_of_reach(dice, TWO_D6) == "the least labels add up to 3, but the total 2 is wanted"
    low = (die(6, 1, 6), die(6, 1, 5))
    assert out_of_reach(low, TWO_D6) == "the greatest labels add up to 11, but the total 12 is wanted"
    assert out_of_reach((die(6, 1, 6), die(6, 1, 6)), TWO_D6) is None
    assert "no label left" in str(out_of_reach((die(6, 1, 1, avoid=(1,)),), TWO_D6))
