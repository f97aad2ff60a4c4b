"""What the groups of the solids count: numberings, opposite sums, exact hitting sets, all fair solids."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from fractions import Fraction

import numpy as np
import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.assembly import assemble
from facewright.constraints.solids.groups import point_group, schoenflies
from facewright.constraints.solids.orbit import orbit, polar_dual
from facewright.constraints.solids.solid import Action, Kind, Solid


def cycles(permutation: tuple[int, ...]) -> int:
    """How many cycles a permutation has."""
    left, found = set(range(len(permutation))), 0
    while left:
        found += 1
        at = left.pop()
        while (at := permutation[at]) in left:
            left.remove(at)
    return found


def colourings(found: Solid, values: int, kind: Kind = "faces") -> int:
    """Burnside: the ways to colour the sites with at most so many values, up to rotation."""
    total = Fraction(sum(values ** cycles(one.on(kind)) for one in found.rotations), len(found.rotations))
    assert total.denominator == 1
    return int(total)


def numberings(found: Solid) -> int:
    """Burnside: the ways to put 1..n on the faces, up to rotation; only the identity fixes any."""
    n = len(found.faces)
    fixed = sum(math.factorial(n) for one in found.rotations if one.faces == tuple(range(n)))
    assert fixed % len(found.rotations) == 0
    return fixed // len(found.rotations)


@pytest.mark.parametrize(
    ("name", "count"),
    [
        # OEIS A198861
        ("tetrahedron", 2),
        ("cube", 30),
        ("octahedron", 1680),
        # computed once by a separate program: the solid matters, not only its number of faces
        ("tetragonal disphenoid", 6),
        ("rhombic disphenoid", 6),
        ("triangular bipyramid", 120),
        ("triangular trapezohedron", 120),
        ("square bipyramid", 5040),
        ("pentagonal trapezohedron", 362880),
    ],
)
def test_numberings_up_to_rotation(name: str, count: int) -> None:
    assert numberings(solid(name)) == count


@pytest.mark.parametrize(("name", "counts"), [("tetrahedron", 2), ("cube", 30), ("octahedron", 1680)])
def test_numberings_by_plain_listing(name: str, counts: int) -> None:
    """The same counts without Burnside: every numbering, the least of its images kept."""
    found = solid(name)
    turns = np.array([one.faces for one in found.rotations])
    n = len(found.faces)
    listed = np.array(list(itertools.permutations(range(n))), dtype=np.int64)
    keys = np.array([n**place for place in range(n)])
    least = np.min(np.stack([listed[:, turn] @ keys for turn in turns]), axis=0)
    assert len(np.unique(least)) == counts


@pytest.mark.parametrize(
    ("name", "counts"),
    [
        ("cube", (1, 10, 57, 240, 800, 2226)),  # OEIS A047780
        ("dodecahedron", (1, 96, 9099, 280832, 4073375)),  # OEIS A000545
        ("tetrahedron", (1, 5, 15, 36)),  # OEIS A006008
    ],
)
def test_colourings_of_faces_up_to_rotation(name: str, counts: tuple[int, ...]) -> None:
    assert tuple(colourings(solid(name), values) for values in range(1, len(counts) + 1)) == counts


@pytest.mark.parametrize(("one", "other"), [("cube", "octahedron"), ("dodecahedron", "icosahedron")])
def test_the_vertices_of_a_solid_count_as_the_faces_of_its_dual(one: str, other: str) -> None:
    for values in (2, 3):
        assert colourings(solid(one), values, "vertices") == colourings(solid(other), values)
        assert colourings(solid(one), values, "edges") == colourings(solid(other), values, "edges")


@pytest.mark.parametrize(("name", "count"), [("cube", 2), ("octahedron", 16), ("dodecahedron", 768)])
def test_opposite_faces_with_a_constant_sum(name: str, count: int) -> None:
    found = solid(name)
    n = len(found.faces)
    pairs = [(a, b) for a, b in enumerate(found.opposite) if b is not None and a < b]
    assert len(pairs) == n // 2
    labels = []
    for order in itertools.permutations(range(n // 2)):
        for flips in itertools.product((False, True), repeat=n // 2):
            label = [0] * n
            for (a, b), low, flip in zip(pairs, order, flips, strict=True):
                label[a], label[b] = (n - 1 - low, low) if flip else (low, n - 1 - low)
            labels.append(label)
    standing = np.array(labels)
    keys = np.array([n**place for place in range(n)])
    least = np.min(np.stack([standing[:, one.faces] @ keys for one in found.rotations]), axis=0)
    assert len(np.unique(least)) == count


def hitting_sets(found: Solid, kind: Kind) -> Iterator[frozenset[int]]:
    """The sets of sites of which every rest shows exactly one, by trying the sites of the first rest not yet met."""
    rests = [frozenset(rest.shows[kind]) for rest in found.rests]
    showing: dict[int, set[int]] = {}
    for number, rest in enumerate(rests):
        for site in rest:
            showing.setdefault(site, set()).add(number)

    def extend(chosen: frozenset[int], met: set[int]) -> Iterator[frozenset[int]]:
        if len(met) == len(rests):
            yield chosen
            return
        first = min(set(range(len(rests))) - met)
        for site in rests[first]:
            if not showing[site] & met:
                yield from extend(chosen | {site}, met | showing[site])

    return extend(frozenset(), set())


@pytest.mark.parametrize(
    ("name", "vertices", "edges"), [("cube", 4, 8), ("octahedron", 3, 9), ("dodecahedron", 10, 125)]
)
def test_exact_hitting_sets(name: str, vertices: int, edges: int) -> None:
    """Computed once by a separate program."""
    found = solid(name)
    for kind, count in (("vertices", vertices), ("edges", edges)):
        sets = list(hitting_sets(found, kind))
        assert len(sets) == len(set(sets)) == count
        assert all(len(one & set(rest.shows[kind])) == 1 for one in sets for rest in found.rests)


def face_type(found: Solid) -> tuple[int, int, tuple[int, ...]]:
    """An isohedron's combinatorial type: its faces, its edges, and the degrees met round a face."""
    degrees = [len(found.vertex_faces[corner]) for corner in found.faces[0]]
    turned = [degrees[start:] + degrees[:start] for start in range(len(degrees))]
    return len(found.faces), len(found.edges), min(tuple(one) for way in turned for one in (way, way[::-1]))


def types_under(group: str, seeds: np.ndarray) -> set[tuple[str, tuple[int, int, tuple[int, ...]]]]:
    """The types of the solids of a group's orbits whose whole symmetry is that group."""
    matrices = point_group(group)
    found = set()
    for seed in seeds:
        # three copies or fewer of a plane bound nothing; too close to a solid of more symmetry is not a new type
        try:
            one = assemble(group, *polar_dual(orbit(matrices, seed)))
        except ValueError:
            continue
        if one.point_group == group:
            found.add((group, face_type(one)))
    return found


def polyhedral_seeds() -> np.ndarray:
    """Directions on all axes and mirrors of the polyhedral groups, and general ones."""
    random = np.random.default_rng(5)
    general = random.normal(size=(6, 3))
    phi = (1 + math.sqrt(5)) / 2
    axes = np.array([(0, 0, 1), (1, 1, 1), (-1, -1, -1), (0, 1, 1), (0, 1, phi)], dtype=float)
    arcs = [
        a * share + b * (1 - share)
        for a, b in itertools.combinations([*axes, np.array([1.0, -1, 1]), np.array([0, phi, 1 / phi])], 2)
        for share in (0.35, 0.8)
    ]
    arcs += [np.array([0, x, 1.0]) for x in (0.3, 1.7)]
    return np.concatenate([general, axes, [arc for arc in arcs if np.linalg.norm(arc) > 0.1]])


def test_fair_solids_of_the_polyhedral_groups() -> None:
    """23 geometric types, 18 combinatorial (computed once by a separate program)."""
    seeds = polyhedral_seeds()
    found = set().union(*(types_under(group, seeds) for group in ("T", "Td", "Th", "O", "Oh", "I", "Ih")))
    assert len(found) == 23
    assert len({kind for _, kind in found}) == 18
    own = [one for one in map(solid, SINGLE) if one.point_group in {"T", "Td", "Th", "O", "Oh", "I", "Ih"}]
    assert {(one.point_group, face_type(one)) for one in own} == found


SINGLE = [
    "tetrahedron",
    "cube",
    "octahedron",
    "dodecahedron",
    "icosahedron",
    "triakis tetrahedron",
    "rhombic dodecahedron",
    "triakis octahedron",
    "tetrakis hexahedron",
    "deltoidal icositetrahedron",
    "pentagonal icositetrahedron",
    "rhombic triacontahedron",
    "disdyakis dodecahedron",
    "triakis icosahedron",
    "pentakis dodecahedron",
    "deltoidal hexecontahedron",
    "pentagonal hexecontahedron",
    "disdyakis triacontahedron",
    "pyritohedral dodecahedron",
    "tetartoid",
    "deltoidal dodecahedron",
    "hexakis tetrahedron",
    "diploid",
]


def test_all_fair_solids_up_to_120_faces() -> None:
    """257 geometric types, 132 combinatorial, 234 of them dihedral (computed once by a separate program)."""
    found = set()
    for n in range(2, 61):
        shares = np.array([0.0, 0.31])
        height = 0.6
        for kind, step in (("", math.pi / n), ("h", math.pi / n), ("d", math.pi / n)):
            seeds = np.array([(math.cos(a * step), math.sin(a * step), height) for a in shares])
            fitting = seeds if 2 * n * (2 if kind else 1) <= 120 else seeds[:1]
            found |= types_under(f"D{n}{kind}", fitting)
    assert all(kind[0] <= 120 for _, kind in found)
    assert len(found) == 234
    polyhedral = {(one.point_group, face_type(one)) for one in map(solid, SINGLE)}
    assert len(found | polyhedral) == 257
    assert len({kind for _, kind in found | polyhedral}) == 132


@pytest.mark.parametrize(
    "group",
    [
        "T",
        "Td",
        "Th",
        "O",
        "Oh",
        "I",
        "Ih",
        "D2",
        "D2h",
        "D2d",
        "D3",
        "D3h",
        "D3d",
        "D4d",
        "D5h",
        "D6",
        "D6d",
        "D60h",
    ],
)
def test_point_groups_are_groups_and_know_their_names(group: str) -> None:
    matrices = point_group(group)
    order = len(matrices)
    assert np.allclose(matrices @ matrices.transpose(0, 2, 1), np.eye(3), rtol=0, atol=1e-12)
    assert np.allclose(matrices[0], np.eye(3), rtol=0, atol=1e-15)
    products = (
        (matrices[:, None] @ matrices[None, :]).reshape(-1, 1, 9) if order <= 48 else np.empty((0, 1, 9))
    )
    for start in range(0, len(products), 500):
        apart = np.abs(products[start : start + 500] - matrices.reshape(1, order, 9)).max(axis=2)
        assert np.all((apart < 1e-9).sum(axis=1) == 1)
    assert schoenflies(matrices) == group


def test_unknown_groups_are_refused() -> None:
    for name in ("D1", "C4", "Xh", ""):
        with pytest.raises(ValueError, match="group: found"):
            point_group(name)


def test_an_action_gives_each_kind() -> None:
    one = solid("cube").rotations[1]
    assert isinstance(one, Action)
    assert [len(one.on(kind)) for kind in ("faces", "vertices", "edges")] == [6, 8, 12]
