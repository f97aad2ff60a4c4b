"""A folder of files for whoever makes a smooth die: meshes, drawing and notes."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from facewright.constraints.errors import UsageError
from facewright.search.make.maker import Made, make_files
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, Stopped, never

if TYPE_CHECKING:
    from pathlib import Path

    from facewright.constraints.smooth import Smooth
    from facewright.constraints.smooth_design import SmoothDesign
    from facewright.search.make.sizing import Wishes
    from facewright.search.make.smooth_mesh import SmoothMesh

SMOOTH_FILES = ("die.stl", "die.3mf", "die.step", "drawing.pdf", "notes.txt")
"""All files of a smooth die, in the order in which they are made."""

WIDE = 96
"""Characters of a line of the notes."""

RESIN = ("cast", "print")


def width_wanted(question: Smooth, wishes: Wishes) -> float:
    """The width in millimetres; raises UsageError where nobody says it, and for wishes that no smooth body has."""
    if wishes.raised:
        raise UsageError("--raised: found a smooth body, which must roll; accepted: numerals cut into it")
    if wishes.size_is is not None:
        raise UsageError("--size-is: found a smooth body, as wide in every direction; accepted: --size alone")
    width = wishes.size_mm or question.width_mm
    if width is None:
        raise UsageError("size: found none in the brief; accepted: --size MM, or width_mm in the brief")
    return width


def make_smooth(
    question: Smooth,
    design: SmoothDesign,
    wishes: Wishes,
    folder: Path,
    stop: Stop = never,
    report: Progress = silent,
    laid: Sequence[Any] = (),
) -> Made:
    """Makes all files of a smooth die and puts them into a folder once all are there.

    Params:
        question: which it answers.
        design: the body.
        wishes: size, paper and route.
        folder: where its files go.
        stop: asked before each file whether to stop.
        report: told which file is being made.
        laid: the `layouts` of the answer: what stands at the rests.
    Raises: RunError where a file cannot be written; MeshFault where a mesh is not sound; UsageError for a width that
        does not suit; Stopped.
    """
    width = width_wanted(question, wishes)

    def drafted(draft: Path) -> Made:
        return _drafted(question, design, wishes, width, draft, stop, report, laid)

    return make_files(folder, SMOOTH_FILES, drafted)


def _drafted(
    question: Smooth,
    design: SmoothDesign,
    wishes: Wishes,
    width_mm: float,
    folder: Path,
    stop: Stop,
    report: Progress,
    laid: Sequence[Any],
) -> Made:
    from facewright.search.artwork.sizes import load_making
    from facewright.search.make.files import write_whole
    from facewright.search.make.paper import PAPERS
    from facewright.search.make.smooth_drawing import smooth_drawing
    from facewright.search.make.smooth_mesh import smooth_mesh
    from facewright.search.make.smooth_numerals import carried_by, names_of, numerals, readings
    from facewright.search.make.smooth_step import write_smooth_step
    from facewright.search.make.step import NO_CAD, cad_available
    from facewright.search.make.stl import write_stl
    from facewright.search.make.threemf import write_3mf

    files: list[str] = []

    def begin(name: str) -> Path:
        if reason := stop():
            raise Stopped(reason)
        report(name, len(files), len(SMOOTH_FILES))
        files.append(name)
        return folder / name

    title, way = f"{question.title} ({design.id[:8]})", load_making().route(wishes.route)
    at = begin(SMOOTH_FILES[0])
    carried = carried_by(laid, design.id)
    if question.marks is not None and not carried:
        raise UsageError(
            f"{design.id}: found no labels at its rests, since that search was stopped; "
            "accepted: find it again, then make"
        )
    placed = numerals(design.body, carried)
    mesh = smooth_mesh(design.body, width_mm, way.recess, way.stroke, f"{design.symmetry} body", placed)
    write_stl(mesh, at, title)
    write_3mf(mesh, begin("die.3mf"), title)
    said = cautions(width_mm, wishes.route)
    if cad_available():
        write_smooth_step(design.body, width_mm, begin("die.step"), title)
        told_of_step = STEP_WITHOUT_NUMERALS
    else:
        told_of_step = f"die.step was left out: {NO_CAD}."
    write_whole(
        begin("drawing.pdf"),
        smooth_drawing(design, mesh, width_mm, PAPERS[wishes.paper], title, said, placed),
    )
    told = [one.text for one in readings(design.symmetry, carried, names_of(question))]
    write_whole(begin("notes.txt"), notes(question, design, mesh, width_mm, said, told, len(placed)).encode())
    return Made(tuple(files), (told_of_step,))


STEP_WITHOUT_NUMERALS = (
    "die.step holds the smooth surface without its numerals; the meshes and the drawing have them."
)


def cautions(width_mm: float, route: str) -> list[str]:
    """The cautions that such a die calls for; flagged, not decided."""
    from facewright.search.report.smooth_words import rolling

    said = [
        *rolling(width_mm),
        "Treat it as a small part, not for children under three, unless a test house has measured otherwise; warn of "
        "small parts for ages three to five where local rules ask for it.",
        "Measure its width in many directions and roll it before you claim anything of it. Not for licensed gaming.",
    ]
    if route in RESIN:
        said.append(
            "Resin that is not fully cured irritates skin and lungs: gloves, eye protection and fresh air; cure it "
            "fully; keep it from mouths. The resin's data sheet comes first."
        )
    return said


def notes(
    question: Smooth,
    design: SmoothDesign,
    mesh: SmoothMesh,
    width_mm: float,
    said: list[str],
    reads: list[str],
    many: int,
) -> str:
    """The notes as a text; `reads` says what each rest reads, `many` how many numerals there are."""
    from facewright.search.make.smooth_drawing import sizes
    from facewright.search.report.smooth_words import READ

    head = [
        question.title,
        f"Design {design.id}; a body of constant width, {design.symmetry}, degree {design.degree}",
    ]
    parts = [
        "\n".join(head),
        _listed("Sizes", sizes(design, mesh, width_mm, many)),
        _listed("Labels", [READ[design.body.group.cubic], f"Its rests read: {'; '.join(reads)}."]),
        _listed("Cautions", said),
    ]
    return "\n\n".join(parts) + "\n"


def _listed(head: str, lines: list[str]) -> str:
    wrapped = (
        textwrap.fill(line, WIDE, initial_indent="- ", subsequent_indent="  ", break_long_words=False)
        for line in lines
    )
    return "\n".join([head, *wrapped])
