"""The dice of a design as they are made: each with its artwork, and where each label stands."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from facewright.constraints.errors import UsageError
from facewright.constraints.layout import Layout
from facewright.constraints.question import Numbering
from facewright.constraints.readouts import Label, Readouts
from facewright.constraints.smooth import Smooth
from facewright.search.artwork.lettering import USUAL, Lettering
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, never

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid
    from facewright.search.artwork.marks import Artwork, Mark

USUAL_GOALS = ("opposite-sums", "even-vertices", "apart")
"""How dice are laid out whose brief does not say what matters."""


@dataclass(frozen=True)
class Standing:
    """One label as it stands: its site, what is read, and which way up, in words."""

    site: str
    label: str
    way: str


@dataclass(frozen=True, eq=False)
class DieToMake:
    """One die: its name, its artwork, what each site carries, and what the brief says of size and draw.

    `positions` are the places in the design, from 1, of all dice that are made alike. `told` says how it was laid out.
    `faces` has the label of each face that carries marks: its own, or all that stand there.
    """

    title: str
    design: str
    artwork: Artwork
    standing: tuple[Standing, ...]
    faces: Mapping[int, Label]
    positions: tuple[int, ...] = (1,)
    told: str = ""
    question: Layout | None = None

    @property
    def folder(self) -> str:
        """The name of its folder."""
        return f"die-{self.positions[0]}"


def dice_of(
    answer: Any,
    one: Any,
    *,
    lettering: Lettering = USUAL,
    seed: int = 0,
    stop: Stop = never,
    report: Progress = silent,
) -> list[DieToMake]:
    """The dice of a ranked design, laid out; dice that are made alike stand once.

    Params:
        answer: an answer of any kind.
        one: a ranked design of it.
        lettering: how the labels are drawn.
        seed: of the search for layouts that are not there yet.
        stop: asked whether to stop that search early.
        report: told of its progress.
    Raises: UsageError for a smooth body, where a die cannot be laid out, or a font lacks a character.
    """
    question = answer.question
    if isinstance(question, Readouts):
        moved = [laid.found[0] for laid in answer.layouts if laid.of == one.design.id and laid.found]
        return [_marked(question, moved[0] if moved else one.design, one.design.id, lettering)]
    if isinstance(question, Smooth):
        raise UsageError(
            f"{question.title}: found a smooth body, which has no faces to label; accepted: dice with faces"
        )
    if isinstance(question, Layout):
        return [_laid(question, one.design, question.title, one.design.id, lettering)]
    return list(_numbered(answer, question, one, lettering, seed, stop, report))


def _numbered(
    answer: Any, question: Numbering, one: Any, lettering: Lettering, seed: int, stop: Stop, report: Progress
) -> Iterator[DieToMake]:
    from facewright.search.laying import lay_out

    dice = next(question.sets[found.set] for found in answer.found if found.design.id == one.id)
    design = one.scores.design
    whole = question if question.layout else replace(question, layout=USUAL_GOALS)
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
        made = _laid(first.question, first.found[0], title, one.id, lettering)
        yield replace(made, positions=numbers, told=first.outcome.closing.reason)


def _laid(question: Layout, design: Any, title: str, of: str, lettering: Lettering) -> DieToMake:
    from facewright.constraints.solids import solid
    from facewright.search.artwork.placing import artwork_of_layout

    body = solid(question.solid, question.shape)
    artwork = artwork_of_layout(body, dict(design.faces), lettering=lettering)
    own = body.read.startswith("face")
    faces = {int(site[1:]) - 1: label for site, label in design.faces} if own else _texts(artwork)
    return DieToMake(title, of, artwork, standing_of(artwork), faces, question=question)


def _marked(question: Readouts, design: Any, of: str, lettering: Lettering) -> DieToMake:
    from facewright.constraints.solids import solid
    from facewright.search.artwork.placing import artwork_of

    carried = [dict(held) for _, held in design.sites]
    several = len(carried) > 1
    artwork = artwork_of(solid(design.solid, question.shape), carried, several=several, lettering=lettering)
    names = {number if several else None: name for number, (name, _) in enumerate(design.sites)}
    told = f"Dependence of the readouts, by total variation distance from exact independence: {design.dependence}."
    standing = standing_of(artwork, names if several else {})
    return DieToMake(question.title, of, artwork, standing, _texts(artwork), told=told)


def by_face(die: DieToMake, lettering: Lettering = USUAL) -> DieToMake:
    """The same die as a prototype to roll: each face that it can rest on has its own number in place of its label.

    Rolls of it can be written down by face, where labels repeat too.
    """
    from facewright.search.artwork.placing import artwork_of_layout

    body = die.artwork.solid
    numbers = {f"f{rest.below + 1}": rest.below + 1 for rest in body.rests}
    artwork = artwork_of_layout(body, numbers, lettering=lettering)
    own = body.read.startswith("face")
    faces: Mapping[int, Label] = (
        {rest.below: rest.below + 1 for rest in body.rests} if own else _texts(artwork)
    )
    told = "A prototype: each face has its own number, not its label."
    return replace(
        die,
        title=f"{die.title}, faces",
        artwork=artwork,
        standing=standing_of(artwork),
        faces=faces,
        told=told,
    )


def standing_of(artwork: Artwork, readouts: Mapping[int | None, str] | None = None) -> tuple[Standing, ...]:
    """Where each label stands, site by site: a mark that is cut into several faces stands once.

    Params:
        artwork: the solid and its marks.
        readouts: the name of each readout, by its position.
    """
    body = artwork.solid
    found: dict[tuple[str, int | None], list[Mark]] = {}
    for mark in artwork.marks:
        found.setdefault((mark.site, mark.readout), []).append(mark)
    standing = []
    for (site, readout), marks in sorted(found.items(), key=lambda one: _order(one[0])):
        name = (readouts or {}).get(readout)
        label = f"{name} {marks[0].text}" if name else marks[0].text
        if site[0] == "f":
            way = f"foot to f{foot_of(body, marks[0]) + 1}"
        else:
            way = f"head to {site}, on {' '.join(f'f{mark.face + 1}' for mark in marks)}"
        standing.append(Standing(site, label, way))
    return tuple(standing)


def foot_of(body: Solid, mark: Mark) -> int:
    """The face beyond the edge at the foot of a mark, the one most nearly square to the way down."""
    from facewright.constraints.solids.boxes import sides_of
    from facewright.constraints.solids.frames import face_frame

    normals, _ = sides_of(face_frame(body, mark.face).polygon)
    down = normals @ [math.sin(mark.angle), -math.cos(mark.angle)]
    return body.neighbours[mark.face][int(down.argmax())]


def _order(key: tuple[str, int | None]) -> tuple[int, str, int]:
    site, readout = key
    return -1 if readout is None else readout, str("fve".index(site[0])), int(site[1:])


def _texts(artwork: Artwork) -> dict[int, Label]:
    """For each face with marks all that stands on it."""
    found: dict[int, list[str]] = {}
    for mark in artwork.marks:
        found.setdefault(mark.face, []).append(mark.text)
    return {face: " ".join(texts) for face, texts in found.items()}
