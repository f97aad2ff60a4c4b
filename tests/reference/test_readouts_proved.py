"""The exact sets of readouts and the least dependences, proved again and recounted from geometry.

Source of every value: own computation, by a separate program.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from facewright.constraints.solids import solid
from facewright.search.recount_readouts import recount_readouts

from tests.readouts_asked import answered, asked

EXACT = {
    "rhombic dodecahedron": [(2, 3), (3, 4), (2, 6), (2, 2, 3)],
    "tetrakis hexahedron": [(2, 3, 4), (4, 6), (3, 8), (2, 2, 2, 3), (2, 2, 6)],
    "deltoidal icositetrahedron": [(2, 3, 4), (3, 8)],
    "triakis octahedron": [(3, 8)],
    "rhombic triacontahedron": [(2, 3, 5), (3, 10), (5, 6), (2, 15)],
    "disdyakis dodecahedron": [(2, 3, 4), (2, 4, 6), (2, 2, 3, 4), (2, 2, 2, 6)],
    "deltoidal hexecontahedron": [(3, 4, 5), (2, 3, 10), (2, 5, 6), (6, 10)],
    "disdyakis triacontahedron": [(2, 3, 4, 5), (4, 5, 6), (2, 6, 10)],
}
WITHOUT_EDGES = {
    "tetrakis hexahedron": [(2, 3, 4), (4, 6), (3, 8), (2, 2, 2, 3), (2, 2, 6)],
    "deltoidal icositetrahedron": [(2, 3, 4), (3, 8)],
    "triakis octahedron": [(3, 8)],
}


@pytest.mark.parametrize(("name", "sizes"), [(name, one) for name, sets in EXACT.items() for one in sets])
def test_exact_sets(name: str, sizes: tuple[int, ...]) -> None:
    question = asked(name, *sizes, independent="exact")
    [design], closing = answered(question)
    assert closing.verdict == "best"
    finding = recount_readouts(question, design)
    assert finding.faults == ()
    assert finding.distance == 0


@pytest.mark.parametrize(
    ("name", "sizes"), [(name, one) for name, sets in WITHOUT_EDGES.items() for one in sets]
)
def test_exact_sets_without_edges(name: str, sizes: tuple[int, ...]) -> None:
    assert any(
        answered(asked(name, *sizes, on=on, independent="exact"))[1].verdict == "best"
        for on in _places(len(sizes))
    )


def _places(readouts: int) -> list[tuple[str, ...]]:
    """At most one readout on the faces, the others at vertices."""
    ones = [
        tuple("faces" if at == face else "vertices" for at in range(readouts)) for face in range(readouts)
    ]
    return [*ones, ("vertices",) * readouts]


def test_the_triakis_octahedron_needs_edges() -> None:
    for on in _places(3):
        assert answered(asked("triakis octahedron", 2, 3, 4, on=on, independent="exact"))[1].verdict == "none"
    assert answered(asked("triakis octahedron", 2, 3, 4, independent="exact"))[1].verdict == "best"


@pytest.mark.parametrize(
    ("sizes", "least"), [((2, 4), Fraction(1, 6)), ((2, 3, 4), Fraction(1, 2)), ((4, 6), Fraction(1, 2))]
)
def test_least_dependence_on_twelve_faces(sizes: tuple[int, ...], least: Fraction) -> None:
    question = asked("rhombic dodecahedron", *sizes)
    [design], closing = answered(question)
    assert closing.verdict == "best"
    assert design.dependence == least
    assert recount_readouts(question, design).agrees


def test_two_even_readouts_find_no_place_on_the_rhombic_triacontahedron() -> None:
    assert answered(asked("rhombic triacontahedron", 2, 2))[1].verdict == "none"
    assert answered(asked("rhombic triacontahedron", 2, 6))[1].verdict == "none"


def test_half_of_the_labelled_designs_have_the_two_way_answer_on_either_half() -> None:
    """69,120 labelled designs, 34,560 with the two halves fixed; every image of every design is counted."""
    places = ("faces", "vertices", "vertices")
    question = asked("rhombic dodecahedron", 3, 2, 4, on=places, measure="pairs")
    designs, closing = answered(question, limit=5_000)
    assert closing.count_is == "all"
    body = solid("rhombic dodecahedron")
    turns = [
        {site: f"v{to + 1}" for site, to in zip(body.sites("vertices"), turn.vertices, strict=True)}
        for turn in body.rotations
    ]
    halves: Counter[frozenset[str]] = Counter()
    for design in designs:
        _, (_, rain), _ = design.sites
        halves.update(frozenset(turn[site] for site, _ in rain) for turn in turns)
    assert sorted(halves.values()) == [34_560, 34_560]
    assert not frozenset.intersection(*halves)
