"""The engine of readouts: proved optima, designs counted under each symmetry, verdicts in words."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import ReadoutsDesign, as_marks, canonical
from facewright.constraints.solids import solid
from facewright.constraints.views import views_of
from facewright.search.recount_readouts import recount_readouts
from facewright.search.stop import Limits

from tests.readouts_asked import answered, asked

RHOMBIC = "rhombic dodecahedron"


def only(question: Readouts) -> ReadoutsDesign:
    [design], closing = answered(question)
    assert closing.verdict == "best"
    finding = recount_readouts(question, design)
    assert finding.faults == ()
    assert finding.distance == design.dependence
    return design


def test_common_practice_three_rings_and_two_halves() -> None:
    # common practice, no source: faces for a three-way, the eight three-edged vertices for a two-way and a four-way
    question = asked(RHOMBIC, 3, 2, 4, on=("faces", "vertices", "vertices"), measure="pairs")
    design = only(question)
    assert design.pairs == (0, 0, Fraction(1, 6))
    halves = [{site for site, _ in pairs} for _, pairs in design.sites[1:]]
    assert [len(half) for half in halves] == [4, 4]
    assert not halves[0] & halves[1]
    joint = {labels[1:]: 0 for labels, _ in design.joint}
    for labels, count in design.joint:
        joint[labels[1:]] += count
    splits = [sorted((joint[1, four], joint[2, four])) for four in (1, 2, 3, 4)]
    assert [1, 2] in splits


def test_three_rings_of_four_faces_carry_a_three_way_independent_of_both_halves() -> None:
    # common practice, no source: a ring is the four faces around an axis through two opposite four-edged vertices
    views = views_of(solid(RHOMBIC))
    body = solid(RHOMBIC)
    axis = {f: max(range(3), key=lambda k: 0) for f in range(12)}
    normals = [body.vertices[list(face)].mean(axis=0) for face in body.faces]
    for f, normal in enumerate(normals):
        axis[f] = min(range(3), key=lambda k: abs(normal[k]))
    assert Counter(axis.values()) == {0: 4, 1: 4, 2: 4}
    [eight] = [kind for kind in views.kinds if kind.place == "vertices" and kind.cuts == 3]
    first, second = ({views.names[site] for site in half} for half in eight.choices())
    question = asked(RHOMBIC, 3, 2, 4, on=("faces", "vertices", "vertices"), measure="pairs")
    sites = {
        "wind": {f"f{f + 1}": ring + 1 for f, ring in axis.items()},
        "rain": dict(zip(sorted(first), (1, 1, 2, 2), strict=True)),
        "harvest": dict(zip(sorted(second), (1, 2, 3, 4), strict=True)),
    }
    design = ReadoutsDesign.of(question, views, as_marks(question, views, sites))
    assert recount_readouts(question, design).faults == ()
    # each ring shows each half's vertices equally often, whichever labels stand there
    assert design.pairs[:2] == (0, 0)
    assert design.pairs[2] == Fraction(1, 6)


def test_the_sentence_of_a_two_way_and_a_four_way_answer() -> None:
    _, closing = answered(asked(RHOMBIC, 2, 4), alone=True)
    assert closing.reason.startswith(
        "8 does not divide 12, so a two-way and a four-way answer cannot be independent on this solid; the least "
        "dependence is 1/6, and this marking reaches it: when "
    )
    assert "twice as often as" in closing.reason
    assert "Marks that are exactly independent exist on" in closing.reason
    assert closing.reason.endswith("(8 rests).")


@pytest.mark.parametrize(
    ("rules", "designs"),
    [({}, 2_880), ({"same_under": "reflection"}, 1_440), ({"rename": True}, None)],
)
def test_designs_counted_under_each_symmetry(rules: dict[str, object], designs: int | None) -> None:
    # source: own computation, by a separate program; 69,120 labelled, half of them for either choice of the halves
    question = asked(RHOMBIC, 3, 2, 4, on=("faces", "vertices", "vertices"), measure="pairs", **rules)
    _, closing = answered(question, limit=0)
    assert "69,120 when every position counts" in closing.reason
    assert closing.count_is == "all"
    if designs is not None:
        assert closing.count == designs


def test_renaming_and_moving_join_designs() -> None:
    question = asked("octahedron", 2, 2, rename=True)
    views = views_of(solid("octahedron"))
    design = only(question)
    marks = as_marks(question, views, {name: dict(pairs) for name, pairs in design.sites})
    least, _ = canonical(question, views, marks)
    for turn in views.rotations:
        moved = tuple(tuple(sorted((turn[site], 1 - at) for site, at in pairs)) for pairs in marks)
        assert canonical(question, views, moved)[0] == least


def test_more_designs_are_listed_when_asked_for() -> None:
    question = asked("octahedron", 2, 2)
    designs, closing = answered(question, limit=1_000)
    assert closing.verdict == "complete"
    assert len(designs) == len({design.id for design in designs}) == closing.count
    assert all(recount_readouts(question, design).agrees for design in designs)
    few, closing = answered(question, limit=3)
    assert len(few) == 3
    assert (closing.verdict, closing.count_is) == ("best", "at least")


@pytest.mark.parametrize(
    ("question", "words"),
    [
        (asked(RHOMBIC, 2, 4, independent="exact"), "8 does not divide 12"),
        (asked("rhombic triacontahedron", 2, 2), "not all of them together"),
        (asked("cube", 4, 2), "needs a number of rests that 4 divides"),
        (asked(RHOMBIC, 4, on=("edges",)), "finds no place on the edges"),
        (asked("triakis octahedron", 2, 3, 4, on=("vertices", "vertices", "faces")), ""),
    ],
)
def test_no_design(question: Readouts, words: str) -> None:
    designs, closing = answered(question)
    assert designs == []
    assert (closing.verdict, closing.count, closing.count_is) == ("none", 0, "all")
    assert words in closing.reason


def test_one_readout_alone() -> None:
    design = only(asked("octahedron", 4))
    assert design.dependence == 0
    assert design.pairs == ()


def test_two_readouts_share_their_sites_where_they_may() -> None:
    question = asked("rhombic triacontahedron", 2, 3, share=2, on=("faces", "faces"))
    design = only(question)
    assert design.dependence == 0
    assert {site for site, _ in design.sites[0][1]} == {site for site, _ in design.sites[1][1]}


def test_weights_are_kept() -> None:
    design = only(asked("tetrakis hexahedron", [1, 2], 4))
    assert design.dependence == 0
    assert sum(count for labels, count in design.joint if labels[0] == 1) == 8


def test_a_stop_leaves_a_bound_and_the_same_seed_gives_the_same_design() -> None:
    limits = Limits(interrupted=True)
    designs, closing = answered(asked(RHOMBIC, 2, 4), stop=limits)
    assert designs == []
    assert (closing.verdict, closing.bound) == ("partial", "1/6")
    assert only(asked(RHOMBIC, 2, 4)) == only(asked(RHOMBIC, 2, 4))
