"""Layout designs: their identity under the symmetries of a solid, and what they come to, by hand."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from itertools import permutations

import pytest
from facewright.constraints.face_map import face_map, map_of, moved
from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import ITSELF, LayoutDesign, canonical, labelled
from facewright.constraints.readouts import Label
from facewright.constraints.solids import solid


def asked(name: str, labels: tuple[Label, ...], *goals: str, **rules: object) -> Layout:
    return Layout(name, labels, goals or ("even-vertices",), **rules)  # type: ignore[arg-type]


CUBE = asked("cube", (1, 2, 3, 4, 5, 6))


@pytest.mark.parametrize(
    ("name", "opposite", "edges", "corners", "turns", "mirrors", "degrees"),
    [
        ("tetrahedron", 0, 6, 0, 12, 12, (3,)),
        ("octahedron", 4, 12, 12, 24, 24, (4,)),
        ("icosahedron", 10, 30, 60, 60, 60, (5,)),
        ("pentagonal icositetrahedron", 0, 60, 12, 24, 0, (3, 4)),
        ("5-sided log", 0, 5, 0, 10, 10, (2,)),
        ("6-sided log", 3, 6, 0, 12, 12, (2,)),
        ("coin", 1, 0, 0, 2, 2, ()),
    ],
)
def test_how_faces_lie(
    name: str, opposite: int, edges: int, corners: int, turns: int, mirrors: int, degrees: tuple[int, ...]
) -> None:
    faces = face_map(solid(name))
    found = (len(faces.opposite), len(faces.edges), len(faces.corners), len(faces.turns), len(faces.mirrors))
    assert (*found, faces.degrees) == (opposite, edges, corners, turns, mirrors, degrees)


def test_all_turns_of_a_layout_are_one_design() -> None:
    faces = map_of(CUBE)
    designs = {LayoutDesign.of(CUBE, moved((3, 1, 4, 6, 5, 2), turn)) for turn in faces.turns}
    assert len(designs) == 1
    assert labelled(CUBE, faces, (3, 1, 4, 6, 5, 2)) == 24


@pytest.mark.parametrize(
    ("labels", "rules", "many"),
    [
        ((1, 2, 3, 4, 5, 6), {}, 30),
        ((1, 2, 3, 4, 5, 6), {"same_under": "reflection"}, 15),
        (("a", "b", "c", "d", "e", "f"), {"rename": True}, 1),
        # three opposite pairs, one, or none (a left and a right form)
        (("a", "a", "b", "b", "c", "c"), {"rename": True}, 4),
        (("a", "a", "b", "b", "c", "c"), {"rename": True, "same_under": "reflection"}, 3),
    ],
)
def test_each_layout_of_a_cube_counts_once(
    labels: tuple[Label, ...], rules: dict[str, object], many: int
) -> None:
    question = asked("cube", labels, "apart", **rules)
    faces = map_of(question)
    every = {one: canonical(question, faces, one) for one in set(permutations(labels))}
    assert len(set(every.values())) == many
    for form in set(every.values()):
        assert labelled(question, faces, form) == sum(one == form for one in every.values())


def test_the_ordinary_cube() -> None:
    faces = map_of(CUBE)
    labels = [0] * 6
    for number, (one, other) in enumerate(faces.opposite, 1):
        labels[one], labels[other] = number, 7 - number
    design = LayoutDesign.of(CUBE, labels)
    assert design.balance.opposite == (7, 7, 7)
    assert design.balance.by_degree == ((3, 6, 15),)
    assert design.balance.deviation == Fraction(9, 2)
    # 1 2, 2 3, 3 4 excepted since opposite, 4 5, 5 6
    assert design.balance.consecutive == 4
    assert design.balance.touching == (0, 0)
    other = LayoutDesign.of(CUBE, moved(tuple(labels), faces.mirrors[0]))
    assert design.mirror == other.id != design.id
    assert other.mirror == design.id


def test_a_layout_that_is_its_own_mirror_image() -> None:
    question = asked("cube", (1, 2, 2, 3, 3, 4))
    mirrors = [LayoutDesign.of(question, one) for one in set(permutations(question.labels))]
    own = {one.id for one in mirrors if one.mirror == ITSELF}
    pairs = {(one.id, one.mirror) for one in mirrors if one.mirror != ITSELF}
    assert len(own) + len(pairs) == len({one.id for one in mirrors})
    assert pairs == {(mirror, one) for one, mirror in pairs}
    assert own
    assert pairs


def test_a_left_handed_solid_has_no_mirror_image_of_its_own() -> None:
    question = asked("pentagonal icositetrahedron", tuple(range(1, 25)))
    assert LayoutDesign.of(question, question.labels).mirror is None


def test_words_have_no_sums_but_neighbours() -> None:
    question = asked("octahedron", ("ash", "ash", "oak", "oak", 1, 2, 3, 4), "apart")
    design = LayoutDesign.of(question, question.labels)
    assert design.balance.deviation is None
    assert design.as_json()["balance"]["vertices"] is None
    assert sum(design.balance.touching) >= 1


@pytest.mark.parametrize("labels", [(1, 2, 3, 4, 5, 6), ("a", "b", "c", "d", 1, 1)])
def test_a_design_survives_json(labels: tuple[Label, ...]) -> None:
    design = LayoutDesign.of(asked("cube", labels), labels)
    again = LayoutDesign.from_json(json.loads(json.dumps(design.as_json())))
    assert again == design
    assert again.id == design.id


def test_the_wrong_number_of_labels_is_refused() -> None:
    with pytest.raises(ValueError, match="6 are needed on the cube, found 5"):
        LayoutDesign.of(CUBE, (1, 2, 3, 4, 5))


def test_a_draw_keeps_only_the_turns_that_keep_its_line() -> None:
    along = replace(CUBE, goals=("long-along-draw",), draw="face")
    assert len(map_of(along).turns) == 8
    assert len(map_of(replace(along, draw="vertex")).turns) == 6
    assert len(map_of(replace(along, draw=(1.0, 2.0, 3.0))).turns) == 1
