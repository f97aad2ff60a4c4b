"""The recount of readouts: rests from geometry alone, and every planted fault found."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.constraints.solids import solid
from facewright.constraints.solids.catalogue import listed
from facewright.constraints.solids.solid import KINDS, LETTERS
from facewright.search.recount_readouts import recount_readouts, rests_shown

from tests.readouts_asked import answered, asked


@pytest.mark.parametrize("name", listed())
def test_the_rests_of_every_solid_are_found_again(name: str) -> None:
    body = solid(name)
    theirs = [
        frozenset(f"{LETTERS[kind]}{site + 1}" for kind in KINDS for site in rest.shows[kind])
        for rest in body.rests
    ]
    assert list(rests_shown(name)) == theirs


QUESTION = asked("rhombic dodecahedron", 2, 4, on=("vertices", "faces"))
[DESIGN] = answered(QUESTION)[0]


def test_a_right_design_agrees_and_comes_back_from_json() -> None:
    assert recount_readouts(QUESTION, DESIGN).faults == ()
    again = ReadoutsDesign.from_json(DESIGN.as_json())
    assert again == DESIGN
    assert again.id == DESIGN.id


def with_sites(design: ReadoutsDesign, at: int, pairs: list[tuple[str, object]]) -> ReadoutsDesign:
    sites = list(design.sites)
    sites[at] = (sites[at][0], tuple(pairs))  # type: ignore[assignment]
    return replace(design, sites=tuple(sites))


def planted() -> list[tuple[str, ReadoutsDesign, str]]:
    wind, rain = ([list(pair) for pair in pairs] for _, pairs in DESIGN.sites)
    swapped = [tuple(pair) for pair in rain]
    first = next(at for at, pair in enumerate(swapped) if pair[1] != swapped[0][1])
    swapped[0], swapped[first] = (swapped[0][0], swapped[first][1]), (swapped[first][0], swapped[0][1])
    moved = [tuple(pair) for pair in wind]
    free = next(f"v{n}" for n in range(1, 15) if f"v{n}" not in {site for site, _ in moved})
    (labels, count), *others = DESIGN.joint
    one = with_sites(DESIGN, 0, [(moved[0][0], 3 - int(moved[0][1])), *moved[1:]])
    return [
        ("a mark moved", with_sites(DESIGN, 0, [(free, moved[0][1]), *moved[1:]]), ""),
        ("a label changed", one, "wind shows"),
        ("an unknown label", with_sites(DESIGN, 0, [(moved[0][0], 7), *moved[1:]]), "has the label 7"),
        ("a mark missing", with_sites(DESIGN, 0, moved[1:]), "marks"),
        ("two on one site", with_sites(DESIGN, 0, [moved[0], *moved]), "two marks on one site"),
        ("no such site", with_sites(DESIGN, 0, [("v99", 1), *moved[1:]]), "v99"),
        ("a wrong joint count", replace(DESIGN, joint=((labels, count + 1), *others)), "other joint counts"),
        ("a wrong dependence", replace(DESIGN, dependence=Fraction(0)), "the dependence 1/6"),
        ("a wrong pair", replace(DESIGN, pairs=(Fraction(0),)), "distances of pairs"),
        ("wrong cuts", replace(DESIGN, cuts=1), "cuts"),
        ("another solid", replace(DESIGN, solid="cube"), "does not ask for"),
        ("no readout", replace(DESIGN, sites=DESIGN.sites[:1]), "has the readouts"),
    ]


@pytest.mark.parametrize(("what", "design", "words"), planted(), ids=[one[0] for one in planted()])
def test_every_planted_fault_is_found(what: str, design: ReadoutsDesign, words: str) -> None:
    finding = recount_readouts(QUESTION, design)
    assert not finding.agrees
    assert any(words in fault for fault in finding.faults)


def test_rules_of_the_question_are_checked() -> None:
    elsewhere = asked("rhombic dodecahedron", 2, 4, on=("edges", "faces"))
    assert not recount_readouts(elsewhere, DESIGN).agrees
    exact = replace(QUESTION, independent="exact")
    assert "is not exactly independent" in recount_readouts(exact, DESIGN).faults
    shared = answered(asked("octahedron", 2, 2, on=("faces", "faces"), share=2))[0][0]
    alone = asked("octahedron", 2, 2, on=("faces", "faces"))
    assert any("share a site" in fault for fault in recount_readouts(alone, shared).faults)
