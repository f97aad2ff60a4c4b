"""What a maker is told: sentences about flaws, draw, parting line, gate and edges say what was found."""

from __future__ import annotations

from facewright.constraints.draw import draw_plan, gate
from facewright.constraints.edges import rounding
from facewright.constraints.flaws import long_along_draw, off_centre
from facewright.constraints.layout import Draw, Roll
from facewright.constraints.readouts import Label
from facewright.constraints.solids import solid
from facewright.search.make.advice import draw_sentences, edge_sentences, flaw_sentences


def told(name: str, draw: Draw | None, labels: tuple[Label, ...], inradius_mm: float = 8.0) -> str:
    body = solid(name)
    plan = draw_plan(body, draw)
    place = gate(body, plan, dict(enumerate(labels)))
    return "\n".join(draw_sentences(body, plan, draw_plan(body), place, inradius_mm))


def test_a_cube_drawn_through_a_face() -> None:
    text = told("cube", "face", (1, 2, 3, 4, 5, 6))
    assert "through the middle of f1: the farthest labelled face lies 90.0° from it" in text
    assert "The best draw is through v1: no labelled face lies more than 54.7° from it" in text
    assert (
        "on two faces (f1, f6) they leave the mould freely; on four faces (f2, f3, f4, f5) they need a slide"
        in text
    )
    assert "f2, f3, f4 and f5 lie along the draw without draft" in text
    assert "runs across f2, f3, f4 and f5, 64 mm in all, and is flat. It crosses marked faces" in text
    assert "Projected area along the draw: 256 mm²" in text
    assert "Gate: on the parting line, at f3 (3); labels there are nearest to the mean" in text


def test_a_cube_drawn_along_its_diagonal() -> None:
    text = told("cube", None, (1, 2, 2, 3, 3, 4))
    assert text.startswith(
        "The mould opens through v1: no labelled face lies more than 54.7° from it, and no draw"
    )
    assert "every face has draft, 35.3° at least" in text
    assert "runs along six edges, 96 mm in all, and is stepped, over 9.2 mm along the draw" in text
    assert "labels there are repeated" in text
    assert "crosses" not in text


def test_a_direction_without_a_site_and_many_faces() -> None:
    text = told("rhombic triacontahedron", (1.0, 2.0, 4.0), tuple(range(1, 31)))
    assert "along (0.218, 0.436, 0.873)" in text
    assert "(f1" not in text.partition("Marks:")[2].partition("\n")[0]


def test_a_log_has_room_for_its_gate() -> None:
    assert "(no label); no label is marred there" in told("7-sided log", None, tuple(range(1, 8)))


def test_edges_of_one_kind() -> None:
    text = "\n".join(edge_sentences(rounding(solid("cube"), 8.0)))
    assert (
        "Twelve edges, 90.0° between the faces: radius 0.40 mm, all alike (0.40 mm from each face)." in text
    )
    assert "Eight corners: radius 0.50 mm" in text
    assert "All edges are equally sharp and wear alike." in text
    assert "to 0.20 mm enlarges 0.40 mm by only 12 %" in text
    assert "Caution" not in text


def test_edges_of_several_kinds_and_cautions() -> None:
    assert "those of 128.6° before those of 141.3°" in "\n".join(
        edge_sentences(rounding(solid("7-sided log"), 6.0))
    )
    assert "Caution: sharp tips" in "\n".join(edge_sentences(rounding(solid("tetrahedron"), 5.0)))
    small = "\n".join(edge_sentences(rounding(solid("cube"), 0.5)))
    assert "Caution: at this size" in small
    assert "all that the faces can spare" in small


def test_flaws() -> None:
    cube, labels = solid("cube"), (1, 2, 3, 4, 5, 6)
    shifts = [
        ("off-centre", off_centre(cube, labels)),
        ("long-along-draw", long_along_draw(cube, labels, Roll(), "face")),
    ]
    said = flaw_sentences(shifts, labels, Roll())
    assert said[0].startswith(
        "With the centre of mass 1 % of the inradius off, in the worst direction, 0.32 % of all rolls"
    )
    assert "1 % longer along the draw, 0.37 %" in said[1]
    assert said[2].startswith(
        "No label stands twice and the die is rolled alone, so each result moves equally far"
    )
    assert "a model" in said[3]


def test_flaws_of_repeated_labels_or_other_dice_or_words() -> None:
    cube = solid("cube")
    repeated: tuple[Label, ...] = (1, 2, 2, 3, 3, 4)
    roll = Roll("total", ((1, 2),))
    for labels, one in ((repeated, Roll()), ((1, 2, 3, 4, 5, 6), roll)):
        said = flaw_sentences([("off-centre", off_centre(cube, labels, one))], labels, one)
        assert not any(line.startswith("No label stands twice") for line in said)
    words: tuple[Label, ...] = ("a", "b", "b", "c", "c", "c")
    assert "higher of two" not in flaw_sentences([("off-centre", off_centre(cube, words))], words, Roll())[0]
    assert flaw_sentences([], words, Roll()) == ()
