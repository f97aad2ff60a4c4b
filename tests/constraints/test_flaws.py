"""Guards: shifts of rolls under small flaws, against flawed bodies recomputed, by symmetry, by closed forms."""

from __future__ import annotations

import math
from collections import Counter
from fractions import Fraction
from itertools import product

import numpy as np
import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.flaws import (
    FLAW,
    long_along_draw,
    moved,
    off_centre,
    out_of_round,
    rest_sensitivities,
    results_of,
    rolled,
)
from facewright.constraints.guards import GUARDS, Shift, flaws
from facewright.constraints.layout import Roll
from facewright.constraints.solids import Solid, solid
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from tests.shares import shares

STEP = 1e-5
"""Inradii: the size of a flaw in a difference quotient."""

SOLIDS = (
    "cube",
    "tetrahedron",
    "octahedron",
    "square trapezohedron",
    "5-sided log",
    "rhombic triacontahedron",
)


def chances_of_faces(body: Solid, vertices: NDArray[np.float64], eye: NDArray[np.float64]) -> list[float]:
    """The chance that each labelled face comes up. The ends of a log fall to the side that they share an edge with."""
    found = [float(share) for share in shares(vertices, body.faces, eye)]
    labelled = len(body.rests)
    for face in range(labelled, len(body.faces)):
        side = next(other for other in body.neighbours[face] if other < labelled)
        found[side] += found[face]
    if body.read != "face above":
        return found[:labelled]
    return [found[body.opposite[face] or 0] for face in range(labelled)]


def roll_twice(chances: list[float], labels: list[int], read: str, other: tuple[int, ...]) -> Counter[int]:
    """The distribution of this die's label with another die's, by going through all rolls."""
    pick = {"total": sum, "highest": max, "lowest": min}[read]
    found: Counter[int] = Counter()
    for (chance, label), more in product(zip(chances, labels, strict=True), other):
        found[pick((label, more))] += chance / len(other)
    return found


def distance(one: Counter[int], other: Counter[int]) -> float:
    return sum(abs(one[result] - other[result]) for result in {*one, *other}) / 2


def numbered(body: Solid) -> list[int]:
    return list(range(1, len(body.rests) + 1))


def opposite_sums(body: Solid) -> list[int]:
    """1 to n with a constant sum on opposite faces."""
    labels = [0] * len(body.rests)
    for face, other in enumerate(body.opposite[: len(labels)]):
        if other is not None and face < other:
            labels[face] = 1 + sum(label > 0 for label in labels) // 2
            labels[other] = len(labels) + 1 - labels[face]
    return labels


@pytest.mark.parametrize("name", SOLIDS)
def test_chances_are_equal_and_stay_chances(name: str) -> None:
    found = rest_sensitivities(solid(name))
    assert found.chances == pytest.approx([1 / len(solid(name).rests)] * len(solid(name).rests), abs=1e-12)
    assert np.abs(found.centre.sum(axis=0)).max() < 1e-12
    assert np.abs(found.stretch.sum(axis=0)).max() < 1e-12
    assert np.abs(found.planes.sum(axis=0)).max() < 1e-12


@settings(max_examples=25, deadline=None)
@given(
    name=st.sampled_from(SOLIDS),
    read=st.sampled_from(["total", "highest", "lowest"]),
    other=st.lists(st.integers(0, 9), min_size=1, max_size=4).map(tuple),
    seed=st.integers(0, 99),
    flaw=st.sampled_from(["off-centre", "long-along-draw"]),
)
def test_a_flawed_body_rolled(name: str, read: str, other: tuple[int, ...], seed: int, flaw: str) -> None:
    """The worst shift is that of the flawed body in the direction named, and no other direction does worse."""
    body, rng = solid(name), np.random.default_rng(seed)
    labels = [int(label) for label in rng.integers(1, 5, size=len(body.rests))]
    towards = rng.normal(size=3)
    towards /= np.linalg.norm(towards)
    roll = Roll(read, (other,))
    if flaw == "off-centre":
        found = off_centre(body, labels, roll)
    else:
        found = long_along_draw(body, labels, roll, tuple(towards))

    def moves(direction: NDArray[np.float64]) -> float:
        both = []
        for step in (STEP, -STEP):
            eye = step * direction if flaw == "off-centre" else np.zeros(3)
            stretch = np.eye(3) + (step * np.outer(direction, direction) if flaw != "off-centre" else 0)
            both.append(roll_twice(chances_of_faces(body, body.vertices @ stretch, eye), labels, read, other))
        return distance(*both) / (2 * STEP) * FLAW

    assert moves(np.array(found.parts["direction"])) == pytest.approx(found.worst, abs=1e-7)
    assert moves(towards) <= found.worst + 1e-7


@pytest.mark.parametrize("name", ["cube", "octahedron", "icosahedron", "pentagonal bipyramid"])
def test_no_axis_is_worse_than_the_worst(name: str) -> None:
    body = solid(name)
    labels = [label % 4 for label in numbered(body)]
    found = out_of_round(body, labels)
    rng = np.random.default_rng(4)
    tried = [long_along_draw(body, labels, Roll(), tuple(rng.normal(size=3))).worst for _ in range(200)]
    assert max(tried) <= found.parts["bound"] + 1e-12
    named = long_along_draw(body, labels, Roll(), tuple(found.parts["direction"])).worst
    assert named == pytest.approx(found.worst, abs=1e-8)


def test_the_exponent_of_a_cube() -> None:
    """How the chance of the two square faces follows the length of a cuboid, the other edges fixed: −2√3/π, by
    hand.

    The share of a square of half-edge 1 at height c is (2/π) asin(1/(1 + c²)) for the pair; its logarithm's
    derivative by log c at c = 1 is −(1/ (π/6)) · (2c²/(1 + c²)) / √((1 + c²)² − 1) = −(6/π)/√3.
    """
    body = solid("cube")
    up = np.array([0.0, 0.0, 1.0])
    pair = [rest for rest in range(6) if abs(body.vertices[list(body.faces[rest])].mean(axis=0) @ up) > 0.5]
    found = rest_sensitivities(body)
    along = up @ found.stretch @ up
    exponent = along[pair].sum() / found.chances[pair].sum()
    assert exponent == pytest.approx(-2 * math.sqrt(3) / math.pi, abs=1e-12)
    # at constant volume the other two axes shrink by half as much
    across = found.stretch[:, 0, 0] + found.stretch[:, 1, 1]
    constant = (along - across / 2)[pair].sum() / found.chances[pair].sum()
    assert constant == pytest.approx(-3 * math.sqrt(3) / math.pi, abs=1e-12)


def test_a_numbered_cube_by_hand() -> None:
    """Long along an axis, the two faces on it lose p and four others share it: the distance is what the pair loses."""
    found = long_along_draw(solid("cube"), [1, 2, 3, 4, 5, 6], Roll(), "face")
    assert found.worst == pytest.approx(FLAW * 2 / (math.sqrt(3) * math.pi), abs=1e-12)
    assert found.parts["single"] == pytest.approx(found.worst / 2, abs=1e-12)
    # one face of a cube gains 1/(√3 π) of the displacement towards it: the worst is along a diagonal, three faces gain
    off = off_centre(solid("cube"), [1, 2, 3, 4, 5, 6])
    assert off.worst == pytest.approx(math.sqrt(3) * off.parts["single"], abs=1e-11)
    assert np.abs(off.parts["direction"]) == pytest.approx([1 / math.sqrt(3)] * 3, abs=1e-6)


@pytest.mark.parametrize(
    "name", ["cube", "octahedron", "dodecahedron", "rhombic triacontahedron", "6-sided log"]
)
def test_constant_opposite_sums_keep_the_mean_under_a_stretch(name: str) -> None:
    body = solid(name)
    labels = opposite_sums(body)
    assert sorted(labels) == numbered(body)
    assert out_of_round(body, labels).parts["mean"] == 0
    assert long_along_draw(body, labels, Roll(), (1.0, 2.0, 3.0)).parts["mean"] == 0
    # but they do not keep it when the centre of mass is off, nor does an unordered die keep it at all
    assert off_centre(body, labels).parts["mean"] > 0
    assert out_of_round(body, numbered(body)).parts["mean"] > 0


@pytest.mark.parametrize("name", ["cube", "octahedron", "rhombic triacontahedron"])
def test_equal_labels_on_opposite_faces_keep_every_chance_off_centre(name: str) -> None:
    body = solid(name)
    labels = [
        label if label <= len(body.rests) // 2 else len(body.rests) + 1 - label
        for label in opposite_sums(body)
    ]
    found = off_centre(body, labels)
    assert (found.worst, found.parts["single"], found.parts["mean"]) == (0, 0, 0)


def test_one_label_never_moves() -> None:
    for goal in (off_centre, out_of_round):
        found = goal(solid("icosahedron"), [7] * 20)
        assert (found.worst, found.parts["single"], found.parts["highest_of_two"]) == (0, 0, 0)


def test_single_results_of_different_labels_do_not_know_the_layout() -> None:
    body = solid("dodecahedron")
    rng = np.random.default_rng(8)
    for goal in (off_centre, out_of_round):
        one, other = (goal(body, [int(x) for x in rng.permutation(numbered(body))]) for _ in range(2))
        assert one.worst == pytest.approx(other.worst, rel=1e-4)
        assert one.parts["single"] == pytest.approx(other.parts["single"], abs=1e-11)
        assert one.parts["mean"] != pytest.approx(other.parts["mean"], rel=1e-3)


def test_the_higher_of_two_by_all_rolls() -> None:
    body, labels = solid("octahedron"), [1, 5, 2, 2, 8, 3, 5, 1]
    found = long_along_draw(body, labels, Roll(), (0.3, 0.4, 1.0))
    d = np.array(found.parts["direction"])
    both: list[Counter[int]] = []
    for step in (STEP, -STEP):
        chances = chances_of_faces(body, body.vertices @ (np.eye(3) + step * np.outer(d, d)), np.zeros(3))
        counted: Counter[int] = Counter()
        for (p, a), (q, b) in product(zip(chances, labels, strict=True), repeat=2):
            counted[max(a, b)] += p * q
        both.append(counted)
    assert distance(*both) / (2 * STEP) * FLAW == pytest.approx(found.parts["highest_of_two"], abs=1e-7)


def test_moments_by_hand() -> None:
    body, labels = solid("octahedron"), [1, 5, 2, 2, 8, 3, 5, 1]
    found = long_along_draw(body, labels, Roll(), "vertex")
    gains = moved("long-along-draw", body, "vertex")[:, 0] * FLAW
    mean = sum(labels) / 8
    assert found.parts["mean"] == pytest.approx(abs(float(gains @ labels)), abs=1e-11)
    squares = [(label - mean) ** 2 for label in labels]
    assert found.parts["square"] == pytest.approx(abs(float(gains @ squares)), abs=1e-11)


@pytest.mark.parametrize("goal", GUARDS)
def test_rows_give_shifts_and_bound_them(goal: str) -> None:
    """What an annealer works with: rows added up by result. Half their lengths bound the shift, and are not far off."""
    body = solid("rhombic dodecahedron")
    labels, roll = tuple(label % 5 for label in numbered(body)), Roll("total", ((1, 2, 2),))
    rows, results = moved(goal, body, "edge"), rolled(labels, roll)
    different = list(dict.fromkeys(labels))
    sums = np.stack(
        [rows[[at for at, one in enumerate(labels) if one == label]].sum(axis=0) for label in different]
    )
    bound = float(np.linalg.norm(results @ sums, axis=1).sum()) / 2 * FLAW
    found = flaws().shift(goal, body, labels, roll, "edge")
    assert bound / 4 <= found.worst <= bound + 1e-12
    assert results.shape == (len(results_of(labels, roll)), len(different))
    assert results.sum(axis=0) == pytest.approx([1] * len(different), abs=1e-15)


def test_columns_of_a_stretch() -> None:
    rows = moved("out-of-round", solid("tetartoid"), None)
    d = np.array([2.0, -1.0, 2.0]) / 3
    x, y, z = d
    components = [x * x, y * y, z * z, math.sqrt(2) * y * z, math.sqrt(2) * x * z, math.sqrt(2) * x * y]
    assert math.hypot(*components) == pytest.approx(1)
    along = moved("long-along-draw", solid("tetartoid"), tuple(d))
    assert rows @ components == pytest.approx(along[:, 0], abs=1e-14)


def test_a_shift_survives_being_stored() -> None:
    found = off_centre(solid("cube"), [1, 2, 2, 3, 3, 4], Roll("total", ((1, 3, 4, 5, 6, 8),)))
    assert Shift.from_json(found.as_json()) == found
    assert found.parts["results"].keys() == {str(total) for total in range(2, 13)}


def test_words_have_no_mean() -> None:
    found = out_of_round(solid("tetrahedron"), ["ebb", "flow", "ebb", "slack"])
    assert found.worst > 0
    assert [found.parts[key] for key in ("mean", "square", "highest_of_two")] == [None] * 3


def test_results_stand_in_order() -> None:
    assert results_of((10, 9, "b", "a"), Roll()) == (9, 10, "a", "b")
    assert rolled((3, 1), Roll("highest", ((2, 2, 3),))) == pytest.approx(np.array([[0, 2 / 3], [1, 1 / 3]]))
    assert Fraction(1, 3) == Fraction(rolled((3, 1), Roll("highest", ((2, 2, 3),)))[1, 1]).limit_denominator(
        9
    )


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (
            lambda: off_centre(solid("cube"), [1, 2, 3]),
            "labels: found 3; accepted: 6, one for each rest of the cube",
        ),
        (lambda: moved("long-along-draw", solid("cube"), None), "draw: found none"),
        (lambda: moved("long-along-draw", solid("cube"), (0.0, 0.0, 0.0)), "draw: found"),
        (lambda: moved("too-light", solid("cube"), None), "goal: found 'too-light'; accepted: off-centre"),
    ],
)
def test_refusals(call: object, words: str) -> None:
    with pytest.raises(UsageError, match=words):
        call()  # type: ignore[operator]
