"""Marks moved apart: against every marking of small solids, and never a chance changed."""

from __future__ import annotations

from itertools import product

import pytest
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import ReadoutsDesign, joint_counts
from facewright.constraints.site_neighbours import beside, touching
from facewright.constraints.solids import solid
from facewright.constraints.views import Views, views_of
from facewright.search.answer import Closing
from facewright.search.engines.readouts_apart import Apart
from facewright.search.progress import silent
from facewright.search.recount_readouts import recount_readouts
from facewright.search.stop import Stop, never

from tests.readouts_asked import answered, asked


def moved(question: Readouts, design: ReadoutsDesign, stop: Stop = never) -> tuple[ReadoutsDesign, Closing]:
    answering = Apart().answer(question, design, stop, 0, silent)
    [found] = list(answering)
    return found, answering.closing


def touch(design: ReadoutsDesign) -> tuple[int, int]:
    return touching(beside(solid(design.solid)), (pairs for _, pairs in design.sites))


def least_by_hand(question: Readouts, design: ReadoutsDesign) -> tuple[int, int]:
    """The fewest equal labels that touch, over every marking with the same joint counts on the same kinds of site."""
    views: Views = views_of(solid(design.solid))
    where = beside(solid(design.solid))
    wanted = {
        tuple(one.labels.index(label) for one, label in zip(question.readouts, labels, strict=True)): count
        for labels, count in design.joint
        if count
    }
    choices = []
    for readout, (_, pairs) in zip(question.readouts, design.sites, strict=True):
        kind = views.kind_of[views.number[pairs[0][0]]]
        blank = len(readout.labels)
        choices.append(
            [
                tuple((site, at) for site, at in zip(kind.sites, standing, strict=True) if at != blank)
                for standing in product(range(blank + 1), repeat=len(kind.sites))
            ]
        )
    best = (10**6, 10**6)
    for marks in product(*choices):
        try:
            counts = joint_counts(views, marks)
        except ValueError:
            continue
        if counts == wanted:
            named = [[(views.names[site], at) for site, at in pairs] for pairs in marks]
            best = min(best, touching(where, named))
    return best


@pytest.mark.parametrize(
    ("name", "sizes", "on"),
    [
        ("cube", (2,), ("faces",)),
        ("cube", (3,), ("faces",)),
        ("octahedron", (2,), ("faces",)),
        ("tetrahedron", (4,), ("vertices",)),
        ("tetrahedron", (2, 2), ("vertices", "vertices")),
        ("square trapezohedron", (2,), ("vertices",)),
    ],
)
def test_nothing_better_among_all_markings(name: str, sizes: tuple[int, ...], on: tuple[str, ...]) -> None:
    question = asked(name, *sizes, on=on, share=2)
    [design], _ = answered(question)
    found, closing = moved(question, design)
    assert closing.verdict == "best"
    assert touch(found) == least_by_hand(question, design)


def test_no_chance_changes_and_fewer_touch() -> None:
    question = asked("rhombic dodecahedron", 4, 2)
    [design], _ = answered(question)
    found, closing = moved(question, design)
    assert (found.joint, found.dependence) == (design.joint, design.dependence)
    assert recount_readouts(question, found).agrees
    assert touch(found) == (0, 0) < touch(design)
    assert closing.reason.startswith("With the same chances, no equal labels of a readout touch")


def test_a_stop_leaves_the_design_as_it_is() -> None:
    question = asked("icosahedron", 4, 5)
    [design], _ = answered(question)
    found, closing = moved(question, design, lambda: "interrupted")
    assert found == design
    assert closing.verdict == "partial"
    assert "ended early (interrupted)" in closing.reason
    assert closing.bound == "0 + 0"


def test_marks_do_not_crowd_a_site() -> None:
    question = asked("octahedron", 2, 2, on=("faces", "faces"), share=2)
    [design], _ = answered(question)
    found, _ = moved(question, design)
    load: dict[str, int] = {}
    for _, pairs in found.sites:
        for site, _ in pairs:
            load[site] = load.get(site, 0) + 1
    assert max(load.values()) <= 2
    assert recount_readouts(question, found).agrees
