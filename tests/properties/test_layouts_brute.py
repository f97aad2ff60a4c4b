"""The engine of layouts against trying every order of the labels, on small solids."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from itertools import combinations, permutations
from typing import Any

import numpy as np
from facewright.constraints.layout import Layout
from facewright.constraints.readouts import Label
from facewright.constraints.solids import solid
from facewright.search.recount_layouts import recount_layout
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.layouts_asked import answered, asked

SMALL = {
    "tetrahedron": 4,
    "cube": 6,
    "square bipyramid": 8,
    "triangular bipyramid": 6,
    "5-sided log": 5,
    "octahedron": 8,
}
GOALS = ("opposite-sums", "even-vertices", "apart", "no-neighbours")
Order = tuple[Label, ...]


@lru_cache
def incidence(name: str) -> tuple[list[tuple[int, int]], list[tuple[int, ...]], set[frozenset[int]]]:
    """Opposite faces, the faces at each vertex, faces that share an edge: from corners and faces, faces that carry."""
    body = solid(name)
    many = len(body.rests)
    middles = [body.vertices[list(face)].mean(axis=0) for face in body.faces[:many]]
    normals = [
        np.cross(
            body.vertices[face[1]] - body.vertices[face[0]], body.vertices[face[2]] - body.vertices[face[0]]
        )
        for face in body.faces[:many]
    ]
    units = [normal / np.linalg.norm(normal) for normal in normals]
    assert all(float(u @ m) > 0 for u, m in zip(units, middles, strict=True))
    opposite = [(a, b) for a, b in combinations(range(many), 2) if np.abs(units[a] + units[b]).max() < 1e-9]
    met = [
        tuple(f for f in range(many) if v in body.faces[f])
        for v in range(len(body.vertices))
        if sum(v in body.faces[f] for f in range(many)) > 1
    ]
    beside = {
        frozenset((a, b))
        for a, b in combinations(range(many), 2)
        if len(set(body.faces[a]) & set(body.faces[b])) == 2
    }
    return opposite, met, beside


def measure(question: Layout, order: Order) -> tuple[Fraction, ...]:
    """What the goals come to, in their order."""
    opposite, met, beside = incidence(question.solid)
    numbers: list[Any] = list(order)
    found: list[Fraction] = []
    for goal in question.goals:
        if goal == "opposite-sums":
            aim = Fraction(2 * sum(numbers), len(numbers))
            found.append(max((abs(numbers[a] + numbers[b] - aim) for a, b in opposite), default=Fraction(0)))
        elif goal == "even-vertices":
            mean = Fraction(sum(numbers), len(numbers))
            found.append(max(abs(sum(numbers[f] for f in one) - len(one) * mean) for one in met))
        elif goal == "apart":
            touching = {frozenset(pair) for one in met for pair in combinations(one, 2)} - beside
            found.append(Fraction(sum(len({order[f] for f in pair}) == 1 for pair in beside)))
            found.append(Fraction(sum(len({order[f] for f in pair}) == 1 for pair in touching)))
        else:
            gaps = [abs(numbers[a] - numbers[b]) for a, b in map(tuple, beside)]
            found.append(Fraction(gaps.count(1)))
    return tuple(found)


@st.composite
def questions(draw: st.DrawFn) -> Layout:
    name = draw(st.sampled_from(sorted(SMALL)))
    many = SMALL[name]
    goals = draw(st.lists(st.sampled_from(GOALS), min_size=1, max_size=3, unique=True))
    kinds = [st.permutations(range(1, many + 1)), st.lists(st.integers(-4, 9), min_size=many, max_size=many)]
    kinds.append(st.lists(st.integers(1, 3), min_size=many, max_size=many))
    if goals == ["apart"]:
        kinds.append(st.lists(st.sampled_from(["ash", "oak", 1, 2]), min_size=many, max_size=many))  # type: ignore[arg-type]
    labels = draw(st.one_of(kinds))
    return asked(name, labels, *goals, same_under=draw(st.sampled_from(["rotation", "reflection"])))


@settings(max_examples=25)
@given(questions())
def test_the_engine_finds_the_best_and_counts_all_that_are_as_good(question: Layout) -> None:
    every = {order: measure(question, order) for order in set(permutations(question.labels))}
    least = min(every.values())
    designs, closing = answered(question, 10_000)
    assert closing.verdict in ("best", "complete")
    assert closing.count_is == "all"
    assert closing.count == len(designs)
    best = {order for order, value in every.items() if value == least}
    body = solid(question.solid)
    sides = body.rotations if question.same_under == "rotation" else body.symmetry
    turns = {action.faces[: len(question.labels)] for action in sides}
    images: set[Order] = set()
    for design in designs:
        assert recount_layout(question, design).agrees
        own = {tuple(design.labels[turn.index(face)] for face in range(len(turn))) for turn in turns}
        assert not own & images
        images |= own
    assert images == best
