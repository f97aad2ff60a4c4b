"""Every solid of the catalogue, rebuilt: counts, symmetry, fairness, what is on top; the reference table."""

from __future__ import annotations

import csv
import itertools
import time
from pathlib import Path

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.catalogue import MOST_RESTS, build, listed, proportions_of
from facewright.constraints.solids.groups import point_group
from facewright.constraints.solids.names import entry_of, family_member, other_names, solid_named
from facewright.constraints.solids.solid import KINDS, Solid, orbits
from facewright.constraints.texts import TextError

REFERENCE = Path(__file__).resolve().parent.parent / "reference" / "solids.csv"
ALL = listed()
TABLE = list(csv.DictReader(REFERENCE.read_text(encoding="utf-8").splitlines()))


def isohedra() -> list[str]:
    """The names of all solids whose faces are all rests."""
    return [name for name in ALL if name != "coin" and not name.endswith(" log")]


def test_the_catalogue_holds_the_regular_the_catalan_and_the_families() -> None:
    own = [name for name in ALL if family_member(name) is None]
    assert len(own) == 1 + 5 + 13 + 5 + 3
    families = [family_member(name) for name in ALL if family_member(name)]
    for family in ("bipyramid", "trapezohedron", "log"):
        assert [one[1] for one in families if one and one[0] == family] == list(range(3, 13))
    assert [one[1] for one in families if one and one[0] == "scalenohedron"] == [4, 6, 8, 10, 12]


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row["solid"])
def test_the_reference_table(row: dict[str, str]) -> None:
    found = solid(row["solid"])
    assert [
        len(found.rests),
        len(found.vertices),
        len(found.edges),
        len(found.symmetry),
        len(found.rotations),
    ] == [int(row[key]) for key in ("rests", "vertices", "edges", "symmetry", "rotations")]
    assert found.read == row["read"]
    assert [one is not None for one in found.opposite] == [row["opposite"] == "yes"] * len(found.faces)


@pytest.mark.parametrize("n", [3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 20, 37, 60])
def test_bipyramids_and_trapezohedra(n: int) -> None:
    bipyramid, trapezohedron = solid(f"{n}-gonal bipyramid"), solid(f"{n}-gonal trapezohedron")
    for found, vertices, edges in ((bipyramid, n + 2, 3 * n), (trapezohedron, 2 * n + 2, 4 * n)):
        assert (len(found.rests), len(found.vertices), len(found.edges)) == (2 * n, vertices, edges)
        assert (len(found.symmetry), len(found.rotations)) == (4 * n, 2 * n)
    assert (bipyramid.opposite[0] is not None) == (n % 2 == 0)
    assert bipyramid.read == ("face below" if n % 2 else "face above")
    assert (trapezohedron.opposite[0] is not None) == (n % 2 == 1)
    assert trapezohedron.read == ("face above" if n % 2 else "vertex above")


@pytest.mark.parametrize("name", ALL)
def test_each_solid_is_a_fair_convex_solid(name: str) -> None:
    found = solid(name)
    assert found.name == name
    assert len(found.vertices) - len(found.edges) + len(found.faces) == 2
    assert len(found.rests) == solid_named(name)[1]
    assert found.fair
    assert [rest.below for rest in found.rests] == list(range(len(found.rests)))
    assert all(rest.margin > 1e-3 and rest.settle > 1e-5 for rest in found.rests)
    assert len({round(rest.margin, 9) for rest in found.rests}) == 1
    # convex: every corner lies under every face's plane, by more than rounding unless it is the face's own
    for face in found.faces:
        a, b, c = found.vertices[list(face[:3])]
        normal = np.cross(b - a, c - a)
        heights = (found.vertices - a) @ normal / np.linalg.norm(normal)
        on_it = set(np.flatnonzero(np.abs(heights) < 1e-9).tolist())
        assert on_it == set(face)
        assert heights.max() < 1e-9
    distances = [float(np.linalg.norm(volume_moment(found)))]
    assert distances[0] < 1e-9, "the centre of mass is not at the origin"
    assert all(
        found.neighbours[other].count(one) == 1
        for one in range(len(found.faces))
        for other in found.neighbours[one]
    )


def volume_moment(found: Solid) -> np.ndarray:
    """The integral of position over a solid, from its tetrahedra on the origin."""
    total = np.zeros(3)
    for face in found.faces:
        first = found.vertices[face[0]]
        for i, j in itertools.pairwise(face[1:]):
            corners = np.stack([first, found.vertices[i], found.vertices[j]])
            total += np.linalg.det(corners) / 6 * corners.sum(axis=0) / 4
    return total


@pytest.mark.parametrize("name", isohedra())
def test_the_faces_of_an_isohedron_all_touch_one_sphere(name: str) -> None:
    found = solid(name)
    for face in found.faces:
        a, b, c = found.vertices[list(face[:3])]
        normal = np.cross(b - a, c - a)
        assert a @ normal / np.linalg.norm(normal) == pytest.approx(1, abs=1e-12, rel=0)


@pytest.mark.parametrize("name", ALL)
def test_orbits_and_stabilisers(name: str) -> None:
    """The size of an orbit times the order of a stabiliser is the order of the group, for every site."""
    found = solid(name)
    for actions in (found.rotations, found.symmetry):
        for kind in KINDS:
            for orbit in orbits(action.on(kind) for action in actions):
                for site in (orbit[0], orbit[-1]):
                    fixing = sum(action.on(kind)[site] == site for action in actions)
                    assert len(orbit) * fixing == len(actions)


@pytest.mark.parametrize(
    "name", ["cube", "tetartoid", "diploid", "5-sided log", "pentagonal icositetrahedron"]
)
def test_symmetries_form_a_group_and_their_matrices_agree_with_their_permutations(name: str) -> None:
    found = solid(name)
    as_permutations = {action.vertices for action in found.symmetry}
    assert len(as_permutations) == len(found.symmetry)
    for one, other in itertools.product(found.symmetry, found.symmetry):
        assert tuple(one.vertices[image] for image in other.vertices) in as_permutations
    for action in found.symmetry:
        assert np.allclose(action.matrix @ action.matrix.T, np.eye(3), rtol=0, atol=1e-12)
        moved = found.vertices @ action.matrix.T
        assert np.abs(moved - found.vertices[list(action.vertices)]).max() < 1e-12
        for number, face in enumerate(found.faces):
            assert set(found.faces[action.faces[number]]) == {action.vertices[corner] for corner in face}
        for number, (a, b) in enumerate(found.edges):
            assert set(found.edges[action.edges[number]]) == {action.vertices[a], action.vertices[b]}
    assert found.symmetry[0].faces == tuple(range(len(found.faces)))
    assert found.rotations == tuple(a for a in found.symmetry if np.linalg.det(a.matrix) > 0)


@pytest.mark.parametrize("name", isohedra())
def test_the_group_of_the_catalogue_is_the_whole_symmetry(name: str) -> None:
    """Each solid keeps its own name: its free proportions make it no solid of more symmetry."""
    entry, member = entry_of(name), family_member(name)
    sides = member[1] if member else 0
    group = entry["group"].format(n=sides, h=sides // 2)
    found = solid(name)
    assert found.point_group == group
    assert len(found.symmetry) == len(point_group(group))


@pytest.mark.parametrize(
    ("name", "shape", "regular"),
    [
        ("square bipyramid", 3**0.5, "octahedron"),
        ("triangular trapezohedron", 3**0.5, "cube"),
        ("tetragonal disphenoid", 3**0.5, "tetrahedron"),
        ("pyritohedral dodecahedron", (1 + 5**0.5) / 2, "dodecahedron"),
    ],
)
def test_more_symmetry_than_the_construction_is_found(name: str, shape: float, regular: str) -> None:
    found, known = solid(name, shape), solid(regular)
    assert found.point_group == known.point_group
    assert (len(found.symmetry), len(found.rotations)) == (len(known.symmetry), len(known.rotations))


@pytest.mark.parametrize("name", ALL)
def test_synonyms_name_the_same_solid(name: str) -> None:
    for other in other_names(name):
        assert solid(other) is solid(name)


def test_a_solid_is_built_once() -> None:
    assert solid("cube") is solid("Hexahedron", "largest-numeral")


@pytest.mark.parametrize(
    ("name", "shape", "words"),
    [
        ("icosahedorn", "largest-numeral", "nearest: icosahedron"),
        ("61-gonal bipyramid", "largest-numeral", f"at most {MOST_RESTS}"),
        ("121-sided log", "largest-numeral", f"at most {MOST_RESTS}"),
        ("5-gonal scalenohedron", "largest-numeral", "the name of a solid"),
        ("cube", 2.0, "no free proportion"),
        ("pentagonal bipyramid", 0.5, "from 1.1 to 30"),
        ("pentagonal bipyramid", float("nan"), "from 1.1 to 30"),
        ("pentagonal bipyramid", (2.0, 2.0), "at most 1 number"),
        ("pentagonal bipyramid", "tallest", "settles-best"),
    ],
)
def test_what_cannot_be_built_is_refused(name: str, shape: str | float, words: str) -> None:
    with pytest.raises(TextError, match=words):
        solid(name, shape)


def test_shapes_by_number_fill_up_from_the_default() -> None:
    both = solid("hexakis tetrahedron", (0.5, 0.5))
    assert dict(both.shape) == {"wide": 0.5, "turn": 0.5}
    first = solid("hexakis tetrahedron", 0.5)
    assert first.shape["turn"] == solid("hexakis tetrahedron").shape["turn"]
    assert [one.name for one in proportions_of("hexakis tetrahedron")] == ["wide", "turn"]


def test_all_are_built_in_a_second() -> None:
    """A generous bound: all take half a second on one slow core."""
    from facewright.constraints.solids.catalogue import _built

    build("cube")
    _built.cache_clear()
    start = time.process_time()
    for name in ALL:
        build(name)
    assert time.process_time() - start < 2
