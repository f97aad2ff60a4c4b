"""What a maker needs, die by die: a design's dice with their artwork and size, and a folder of files for each."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from facewright.constraints.errors import UsageError
from facewright.constraints.layout import Draw, Layout
from facewright.constraints.question import Numbering
from facewright.constraints.readouts import Readouts
from facewright.constraints.solids.sizes import both_units, inradius_mm, size_mm
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, never

if TYPE_CHECKING:
    from facewright.constraints.guards import Shift
    from facewright.search.artwork.marks import Artwork
    from facewright.search.artwork.sizes import Smallest

USUAL_GOALS = ("opposite-sums", "even-vertices", "apart")
"""How dice are laid out whose brief does not say what matters."""

USUAL_MM = 16.0
"""Nobody wants dice smaller than this across flats, though they could be made (common practice, no source)."""

STEP_MM = 0.5
"""A size that nobody gave is rounded up to a multiple of this."""


@dataclass(frozen=True)
class Wishes:
    """What whoever makes it has said: size and what it measures (None: the brief's, or the smallest), paper, route.

    `route` is mould, cast, laser or print; `raised` asks for raised numerals, for mock-ups only.
    """

    size_mm: float | None = None
    size_is: str | None = None
    paper: str = "a4"
    route: str = "mould"
    raised: bool = False
    font: Path | None = None


@dataclass(frozen=True, eq=False)
class DieToMake:
    """One die: its name, its artwork, what each place carries, and what the brief says of size and draw.

    `positions` are the places in the design, from 1, of all dice that are made alike. `told` says how it was laid out.
    """

    title: str
    design: str
    artwork: Artwork
    places: tuple[tuple[str, str], ...]
    positions: tuple[int, ...]
    told: str
    labels: tuple[Any, ...] = ()
    shifts: tuple[tuple[str, Shift], ...] = ()
    question: Layout | None = None

    @property
    def folder(self) -> str:
        """The name of its folder."""
        return f"die-{self.positions[0]}"


@dataclass(frozen=True)
class Material:
    """What a route uses: its name, density in g/cm³, least and greatest shrinkage in per cent."""

    material: str
    density: float
    shrinkage: tuple[float, float]


@cache
def materials() -> dict[str, Material]:
    """The material of each route."""
    tables = tomllib.loads(Path(__file__).with_name("materials.toml").read_text(encoding="utf-8"))
    return {
        route: Material(one["material"], one["density"], tuple(one["shrinkage"]))
        for route, one in tables.items()
    }


def dice_of(
    answer: Any, one: Any, *, seed: int = 0, stop: Stop = never, report: Progress = silent
) -> list[DieToMake]:
    """The dice of a ranked design, laid out; dice that are made alike stand once.

    Params:
        answer: an answer of any kind.
        one: a ranked design of it.
        seed: of the search for layouts that are not there yet.
        stop: asked whether to stop that search early.
        report: told of its progress.
    Raises: UsageError where a die cannot be laid out.
    """
    question = answer.question
    if isinstance(question, Readouts):
        return [_marked(question, one.design)]
    if isinstance(question, Layout):
        return [_laid(question, one.design, (1,), f"{question.title}", one.design.id)]
    return list(_numbered(answer, question, one, seed, stop, report))


def _numbered(
    answer: Any, question: Numbering, one: Any, seed: int, stop: Stop, report: Progress
) -> Iterator[DieToMake]:
    from facewright.search.laying import lay_out

    dice = next(question.sets[found.set] for found in answer.found if found.design.id == one.id)
    design = one.scores.design
    whole = question
    if not question.layout:
        whole = replace(question, layout=USUAL_GOALS)
    known = [laid for laid in answer.layouts if laid.of == one.id]
    laid = lay_out(whole, dice, design, seed=seed, stop=stop, report=report, known=known)
    alike: dict[str, list[int]] = {}
    for place, die in enumerate(laid):
        if not die.found:
            raise UsageError(
                f"die {place + 1}: found no layout ({die.outcome.closing.reason}); accepted: a brief that lays it out"
            )
        alike.setdefault(die.found[0].id, []).append(place)
    if len(laid) < len(dice):
        raise UsageError(
            f"die {len(laid) + 1}: found no layout, since the search was stopped; accepted: make again, without a stop"
        )
    for places in alike.values():
        first = laid[places[0]]
        assert isinstance(first.question, Layout)
        numbers = tuple(place + 1 for place in places)
        title = f"{question.title}, {'dice' if len(numbers) > 1 else 'die'} {', '.join(map(str, numbers))}"
        made = _laid(first.question, first.found[0], numbers, title, one.id)
        yield replace(made, told=first.outcome.closing.reason)


def _laid(question: Layout, design: Any, positions: tuple[int, ...], title: str, of: str) -> DieToMake:
    from facewright.constraints.solids import solid
    from facewright.search.artwork.placing import artwork_of_layout

    body = solid(question.solid, question.shape)
    faces = dict(design.faces)
    return DieToMake(
        title,
        of,
        artwork_of_layout(body, faces),
        tuple((site, str(label)) for site, label in faces.items()),
        positions,
        "",
        tuple(design.labels),
        question=question,
    )


def _marked(question: Readouts, design: Any) -> DieToMake:
    from facewright.constraints.solids import solid
    from facewright.search.artwork.placing import artwork_of

    carried = [dict(held) for _, held in design.sites]
    body = solid(design.solid, question.shape)
    places = tuple((site, f"{name} {label}") for name, held in design.sites for site, label in held)
    return DieToMake(
        question.title,
        design.id,
        artwork_of(body, carried, several=len(carried) > 1),
        places,
        (1,),
        f"Dependence of the readouts: {design.dependence}.",
    )


@dataclass(frozen=True, eq=False)
class Sized:
    """A die with its size: `inradius_mm`, what was asked for in words, and what is smallest by its route."""

    die: DieToMake
    wishes: Wishes
    inradius_mm: float
    size_is: str
    least: Smallest

    @property
    def across(self) -> str:
        """The size, as it is measured."""
        return (
            f"{both_units(size_mm(self.die.artwork.solid, self.inradius_mm, self.size_is))} {self.measured}"
        )

    @property
    def measured(self) -> str:
        """What the size measures, in words."""
        return {"edge": "along an edge", "height": "high"}.get(self.size_is, self.size_is.replace("-", " "))

    @property
    def draw(self) -> Draw | None:
        """The draw that the brief asks for."""
        return None if self.die.question is None else self.die.question.draw


def sized(die: DieToMake, wishes: Wishes) -> Sized:
    """A die in the size that is wished for, else the brief's, else the smallest that can be made and read.

    Raises: UsageError for a size at which its numerals cannot be made by that route, with the size that works.
    """
    from facewright.search.artwork.sizes import smallest

    body = die.artwork.solid
    least = smallest(die.artwork, wishes.route)
    question = die.question
    size_is = wishes.size_is or (question.size_is if question is not None else "across-flats")
    size = wishes.size_mm
    if size is None and question is not None:
        size = question.size_mm
    if size is None:
        usual = max(least.inradius_mm, USUAL_MM / 2)
        size = math.ceil(round(size_mm(body, usual, size_is) / STEP_MM, 6)) * STEP_MM
    lacking = [limit for limit in least.too_small(size, size_is) if limit.need != "eye"]
    if lacking:
        works = size_mm(body, max(limit.inradius_mm for limit in lacking), size_is)
        raise UsageError(
            f"size: found {size:g} mm {size_is.replace('-', ' ')} for die {die.positions[0]}, {least.route.name}; "
            f"accepted: {math.ceil(works / STEP_MM) * STEP_MM:g} mm or more ({lacking[0].words}), or another route"
        )
    return Sized(die, wishes, inradius_mm(body, size, size_is), size_is, least)


def make_die(
    one: Sized, folder: Path, stop: Stop = never, report: Progress = silent
) -> tuple[list[str], list[str]]:
    """Writes all files of one die.

    Params:
        one: the die in its size.
        folder: where its files go.
        stop: asked now and then whether to stop.
        report: told which file is being written.
    Returns: the names of the files, and sentences about what was left out or should be looked at.
    Raises: RunError where a file cannot be written; MeshFault where a mesh is not sound.
    """
    from facewright.search.make.artwork_svg import artwork_svg
    from facewright.search.make.body import most_radius, usual_radius_mm
    from facewright.search.make.die_mesh import die_mesh
    from facewright.search.make.drawing import drawing_pdf
    from facewright.search.make.files import write_whole
    from facewright.search.make.net_pdf import net_pdf
    from facewright.search.make.nets import net_of
    from facewright.search.make.notes import notes_text
    from facewright.search.make.paper import PAPERS
    from facewright.search.make.step import NO_CAD, cad_available, write_step
    from facewright.search.make.stl import write_stl
    from facewright.search.make.threemf import write_3mf

    die, wishes, mm = one.die, one.wishes, one.inradius_mm
    body, title = die.artwork.solid, f"{die.title} ({die.design[:8]})"
    files, told = [], []
    report("artwork.svg", 0, 6)
    svg = artwork_svg(die.artwork, mm, title, f"Size: {one.across}.", wishes.font)
    write_whole(folder / "artwork.svg", svg.encode("utf-8"))
    files.append("artwork.svg")
    report("net.pdf", 1, 6)
    try:
        net = net_of(body, mm, PAPERS[wishes.paper])
        write_whole(folder / "net.pdf", net_pdf(net, die.artwork, title, [f"{one.across}"], wishes.font))
        files.append("net.pdf")
    except UsageError as too_large:
        told.append(f"net.pdf was left out: {too_large}.")
    report("die.stl", 2, 6)
    radius = min(usual_radius_mm(body, mm), most_radius(body) * mm)
    recess = one.least.route.recess
    mesh = die_mesh(die.artwork, mm, recess, radius, raised=wishes.raised, font=wishes.font)
    told += mesh.notes
    write_stl(mesh, folder / "die.stl", title)
    report("die.3mf", 3, 6)
    write_3mf(mesh, folder / "die.3mf", title)
    files += ["die.stl", "die.3mf"]
    if cad_available():
        report("die.step", 4, 6)
        write_step(mesh, die.artwork, folder / "die.step", title, font=wishes.font, stop=stop, report=report)
        files.append("die.step")
    else:
        told.append(f"die.step was left out: {NO_CAD}.")
    report("drawing.pdf", 5, 6)
    write_whole(folder / "drawing.pdf", drawing_pdf(one, mesh))
    write_whole(folder / "notes.txt", notes_text(one, mesh, told).encode("utf-8"))
    files += ["drawing.pdf", "notes.txt"]
    return files, told


def draw_and_edges(one: Sized) -> tuple[Sequence[str], Sequence[str]]:
    """What draw, parting line and gate mean for a die, and what radii suit, a sentence a line."""
    from facewright.constraints.draw import draw_plan, gate
    from facewright.constraints.edges import rounding
    from facewright.search.make.advice import draw_sentences, edge_sentences

    body = one.die.artwork.solid
    marked = sorted({mark.face for mark in one.die.artwork.marks})
    best = draw_plan(body, None, marked)
    plan = best if one.draw is None else draw_plan(body, one.draw, marked)
    labels = dict(enumerate(one.die.labels)) if one.die.labels else {}
    place = gate(body, plan, labels)
    return draw_sentences(body, plan, best, place, one.inradius_mm), edge_sentences(
        rounding(body, one.inradius_mm)
    )
