"""The recount of layouts: it agrees with sound designs and finds whatever is changed in them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from facewright.constraints.layout_design import Balance, LayoutDesign
from facewright.constraints.readouts import Label
from facewright.search.recount_layouts import recount_layout

from tests.layouts_asked import answered, asked

QUESTION = asked("octahedron", range(1, 9), "even-vertices")


def sound() -> LayoutDesign:
    [design], _ = answered(QUESTION)
    return design


@pytest.mark.parametrize(
    ("name", "labels", "goals"),
    [
        ("cube", (1, 2, 2, 3, 3, 4), ("opposite-sums", "apart")),
        ("hexahedron", (1, 2, 3, 4, 5, 6), ("even-vertices",)),
        ("tetrahedron", ("a", "b", "c", 7), ("apart",)),
        ("5-sided log", (1, 2, 3, 4, 5), ("no-neighbours",)),
        ("6-sided log", (1, 2, 3, 4, 5, 6), ("opposite-sums", "even-vertices")),
        ("coin", (0, 1), ("opposite-sums",)),
        ("pentagonal trapezohedron", range(10), ("even-vertices", "no-neighbours")),
        ("pentagonal icositetrahedron", range(1, 25), ("no-neighbours",)),
        ("triakis tetrahedron", range(1, 13), ("even-vertices",)),
    ],
)
def test_sound_designs_agree(name: str, labels: tuple[Label, ...], goals: tuple[str, ...]) -> None:
    question = asked(name, labels, *goals)
    [design], _ = answered(question)
    finding = recount_layout(question, design)
    assert finding.faults == ()
    assert finding.agrees
    assert finding.deviation == design.balance.deviation


def test_it_works_out_deviations_of_its_own() -> None:
    finding = recount_layout(QUESTION, sound())
    assert finding.deviation == 0
    assert finding.opposite is not None
    assert finding.opposite > 0


def balance(**changed: object) -> Callable[[LayoutDesign], LayoutDesign]:
    return lambda design: replace(design, balance=replace(design.balance, **changed))  # type: ignore[arg-type]


def swapped(design: LayoutDesign) -> LayoutDesign:
    """Two labels change places, and nothing else is told anew."""
    (one, a), (other, b), *rest = design.faces
    return replace(design, faces=((one, b), (other, a), *rest))


def turned(design: LayoutDesign) -> LayoutDesign:
    """The same layout after a half turn of the octahedron about an axis through vertices: not the first form."""
    from facewright.constraints.face_map import map_of, moved

    turn = map_of(QUESTION).turns[-1]
    labels = moved(design.labels, turn)
    faces = tuple((site, label) for (site, _), label in zip(design.faces, labels, strict=True))
    return replace(design, faces=faces, balance=Balance.of(QUESTION, map_of(QUESTION), labels))


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (lambda design: replace(design, solid="cube"), "not on the 8 asked for"),
        (lambda design: replace(design, faces=design.faces[:-1]), "has labels on 7 sites"),
        (lambda design: replace(design, faces=(*design.faces[:-1], ("f8", 1))), "each as often"),
        (swapped, "has vertices up to"),
        (turned, "is not the first"),
        (balance(deviation=Fraction(1)), "has vertices up to 0 off"),
        (balance(opposite=(9, 9, 9, 9)), "has opposite faces with the sums"),
        (balance(by_degree=((4, 17, 18),)), "has sums about vertices"),
        (balance(touching=(1, 0)), "pairs of equal labels"),
        (balance(consecutive=0), "pairs of neighbours with consecutive labels, not 0"),
    ],
)
def test_what_is_wrong_is_found(wrong: Callable[[LayoutDesign], LayoutDesign], said: str) -> None:
    finding = recount_layout(QUESTION, wrong(sound()))
    assert not finding.agrees
    assert any(said in fault for fault in finding.faults), finding.faults


def test_a_false_id_is_found() -> None:
    design = sound()
    object.__setattr__(design, "id", "0" * 16)
    assert any("an id" in fault for fault in recount_layout(QUESTION, design).faults)


def test_sums_that_could_be_constant_must_be_where_asked_first() -> None:
    finding = recount_layout(replace(QUESTION, goals=("opposite-sums", "even-vertices")), sound())
    assert any("do not add up to the same" in fault for fault in finding.faults)
