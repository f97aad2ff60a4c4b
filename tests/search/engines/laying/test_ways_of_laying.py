"""Each way of laying on its own: the walk, annealing and the solver agree, and counts agree with lists."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations, product

import pytest
from facewright.constraints.face_map import face_map, map_of, moved
from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import canonical
from facewright.constraints.model.layout import LayoutModel
from facewright.constraints.model.units import (
    Limits,
    Scale,
    Units,
    on_units,
    opposite_pairing,
    pairings,
    units_of,
)
from facewright.constraints.readouts import Label
from facewright.constraints.solids import solid
from facewright.search.engines.laying.arrays import arrays_of
from facewright.search.engines.laying.attempts import Annealing, Ground, Variant
from facewright.search.engines.laying.counts import count_layouts
from facewright.search.engines.laying.listing import Tally, every_layout
from facewright.search.engines.laying.values import Value, values_of
from facewright.search.engines.laying.walk import Walk
from facewright.search.engines.readouts_solver import solved
from facewright.search.progress import silent
from facewright.search.stop import never

from tests.layouts_asked import asked

Labels = tuple[Label, ...]


def free(name: str, labels: Labels) -> Units:
    units = units_of(face_map(solid(name)), labels)
    assert units is not None
    return units


def walked(units: Units, limits: Limits, nodes: int = 1_000) -> list[tuple[int, ...]]:
    walk = Walk(units, arrays_of(units), limits)
    found = []
    while (ended := walk.on(nodes)) != Walk.OVER:
        if ended == Walk.FOUND:
            found.append(walk.found)
    return found


SMALL: list[tuple[str, Labels]] = [
    ("cube", (1, 2, 3, 4, 5, 6)),
    ("cube", (1, 2, 2, 3, 3, 4)),
    ("tetrahedron", (1, 1, 5, 9)),
    ("triangular bipyramid", (0, 1, 2, 3, 4, 10)),
    ("6-sided log", (1, 2, 3, 4, 5, 6)),
]


@pytest.mark.parametrize(("name", "labels"), SMALL)
def test_a_walk_meets_all_layouts_up_to_the_symmetries(name: str, labels: Labels) -> None:
    faces = face_map(solid(name))
    units = free(name, labels)
    sides = {*faces.turns, *faces.mirrors}
    met = [units.labels(one) for one in walked(units, Limits())]
    assert {moved(one, by) for one in met for by in sides} == set(permutations(labels))
    if len(set(labels)) == len(labels):
        assert len(met) * len(sides) == len(set(permutations(labels)))


@pytest.mark.parametrize(("name", "labels"), SMALL)
def test_walk_solver_and_trial_agree_on_what_limits_allow(name: str, labels: Labels) -> None:
    units = free(name, labels)
    every = [units.found([units.scale.number(one) for one in order]) for order in set(permutations(labels))]
    values = sorted({one.vertices for one in every})
    for vertices, consecutive, across in product((values[0] - 1, values[0], values[-1]), (0, 1, 99), (0, 2)):
        limits = Limits(vertices=vertices, consecutive=consecutive, across=across)
        there = any(limits.within(one) for one in every)
        met = walked(units, limits)
        assert bool(met) == there
        assert all(limits.within(units.found(one)) for one in met)
        model = LayoutModel(units, limits)
        result = solved(model.cp, model.wanted, seed=0, stop=never)
        assert result.status == ("best" if there else "none")
        if there:
            assert limits.within(units.found(model.decoded(result.values)))


@pytest.mark.parametrize(
    ("name", "labels"), [("octahedron", tuple(range(1, 9))), ("dodecahedron", tuple(range(12)))]
)
def test_paired_faces_agree_with_the_solver(name: str, labels: Labels) -> None:
    faces = face_map(solid(name))
    for pairing in pairings(faces):
        units = units_of(faces, labels, pairing)
        assert units is not None
        assert units.paired
        least = min(units.found(one).vertices for one in walked(units, Limits(), 10**6))
        for limit, status in ((least, "best"), (least - 1, "none")):
            model = LayoutModel(units, Limits(vertices=limit))
            result = solved(model.cp, model.wanted, seed=0, stop=never)
            assert result.status == status
        for one in walked(units, Limits(vertices=least)):
            on = units.on_faces(one)
            assert all(on[face] == -on[pairing[face]] for face in range(faces.faces))
            assert sorted(units.labels(one), key=int) == sorted(labels, key=int)


def test_the_walk_can_pause_anywhere() -> None:
    labels = tuple(range(1, 9))
    units = free("octahedron", labels)
    limits = Limits(vertices=Scale.of(labels).step * 3)
    runs = [walked(units, limits, nodes) for nodes in (1, 7, 10**6)]
    assert runs[0]
    assert runs[0] == runs[1] == runs[2]


@pytest.mark.parametrize(
    ("name", "labels", "limits"),
    [
        ("octahedron", tuple(range(1, 9)), Limits(vertices=0)),
        ("icosahedron", (1, 2, 3, 4, 5) * 4, Limits(across=0, corner=0)),
        ("rhombic dodecahedron", tuple(range(1, 13)), Limits(consecutive=0)),
        ("cube", ("a", "a", "b", "b", "c", "c"), Limits(across=0)),
    ],
)
def test_annealing_finds_what_it_says(name: str, labels: Labels, limits: Limits) -> None:
    units = free(name, labels)
    variant = Variant(units, arrays_of(units), whole=True)
    for seed in range(20):
        run = Annealing(variant, limits, seed, 40_000)
        while run.made < run.steps and run.excess > 0:
            run.on(5_000)
        assert (run.excess <= 0) == limits.within(units.found(run.best))
        if run.excess <= 0:
            return
    pytest.fail("nothing found from twenty seeds")


def test_a_run_of_annealing_in_pieces_forgets_nothing() -> None:
    units = free("dodecahedron", tuple(range(1, 13)))
    run = Annealing(Variant(units, arrays_of(units), whole=True), Limits(vertices=0), 1, 50_000)
    best = []
    while run.made < run.steps:
        run.on(5_000)
        best.append(run.excess)
    assert best == sorted(best, reverse=True)
    # 0 cannot be reached: three whole labels never add up to 39/2
    assert best[-1] > 0


@pytest.mark.parametrize(
    ("name", "labels", "constant"),
    [
        ("cube", (1, 2, 2, 3, 3, 4), False),
        ("cube", (1, 2, 2, 3, 3, 4), True),
        ("octahedron", (1, 1, 1, 2, 2, 2, 3, 3), False),
        ("octahedron", (1, 2, 2, 2, 2, 2, 2, 3), True),
        ("octahedron", (1, 2, 3, 4, 5, 6, 7, 8), True),
        ("tetrahedron", ("a", "a", "b", "b"), False),
        ("6-sided log", (1, 1, 2, 2, 3, 3), True),
    ],
)
@pytest.mark.parametrize("same_under", ["rotation", "reflection"])
def test_counts_by_symmetry_agree_with_lists(
    name: str, labels: Labels, constant: bool, same_under: str
) -> None:
    question = asked(name, labels, same_under=same_under)
    faces = map_of(question)
    limits = Limits(opposite=0) if constant else Limits()
    units = units_of(faces, labels, opposite_pairing(faces) if constant else None)
    assert units is not None
    group = {*faces.turns, *(faces.mirrors if same_under == "reflection" else ())}
    counted = count_layouts(units, [on_units(units.faces, one, units.many) for one in group])
    tally = Tally()
    listed = list(every_layout(question, Ground(faces, labels, 0), limits, tally, 10_000, never, silent))
    kept = {
        canonical(question, faces, one)
        for one in set(permutations(labels))
        if not constant or constant_sums(question, one)
    }
    assert counted == len(listed) == tally.designs == len(kept)
    assert set(listed) == kept


def constant_sums(question: Layout, order: Labels) -> bool:
    numbers = [int(one) for one in order]
    return len({numbers[a] + numbers[b] for a, b in map_of(question).opposite}) == 1


@pytest.mark.parametrize("size", [3, 4, 5])
@pytest.mark.parametrize(
    "labels", [tuple(range(1, 7)), (0, 3, 6, 9, 12, 15), (1, 5, 9, 13, 21, 41), (2, 4, 5, 7, 8, 20)]
)
def test_sums_take_only_the_values_that_divisibility_allows(size: int, labels: tuple[int, ...]) -> None:
    question = asked("cube", labels, "even-vertices")
    [(_, value)] = values_of(question, map_of(question))
    scale = Scale.of(labels)
    one = Value(value.part, (size,), value.remainder, value.jump)
    numbers = [scale.number(label) for label in labels]
    met = sorted({abs(sum(some)) for some in product(numbers, repeat=size)})
    assert met[0] >= one.least
    for low in range(met[-1]):
        assert next(value for value in met if value > low) >= one.after(low)
    allowed = {one.least}
    while max(allowed) < met[-1]:
        allowed.add(one.after(max(allowed)))
    assert set(met) <= allowed


def test_a_scale_turns_labels_into_numbers_about_their_mean_and_back() -> None:
    for labels in ((1, 2, 3, 4), (1, 2, 2, 9), (10, 20, 30), (5, 5, 5)):
        scale = Scale.of(labels)
        numbers = [scale.number(label) for label in labels]
        assert sum(numbers) == 0
        assert tuple(scale.label(number) for number in numbers) == labels
        mean = Fraction(sum(labels), len(labels))
        assert all(scale.deviation(scale.number(label)) == label - mean for label in labels)


def test_symmetries_that_pair_faces_are_their_own_inverse() -> None:
    cube = face_map(solid("cube"))
    assert opposite_pairing(cube) in pairings(cube)
    assert all(one[one[face]] == face != one[face] for one in pairings(cube) for face in range(6))
    assert opposite_pairing(face_map(solid("tetrahedron"))) is None
    assert units_of(cube, (1, 2, 3, 4, 5, 9), opposite_pairing(cube)) is None
