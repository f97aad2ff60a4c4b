"""Measures a design: lays its dice out where that was not done, sizes them for the routes, and takes down the facts."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from facewright.constraints.contest import DiceQuestion
from facewright.constraints.errors import RecountError
from facewright.constraints.layout import Layout
from facewright.constraints.product import Candidate
from facewright.constraints.readouts import Readouts
from facewright.search.kinds import kind_of
from facewright.search.laying import LaidOut, lay_out
from facewright.search.make.dice import USUAL_GOALS, DieToMake, dice_of
from facewright.search.products.facts import DieFacts, ProductDesign
from facewright.search.progress import Progress, silent
from facewright.search.report.scores import load_scores
from facewright.search.stop import Stop, never

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid
    from facewright.search.artwork.marks import Artwork

MAKING = {"marked-blanks": "laser", "cast": "cast", "mould": "mould"}
"""The way of making, as sizes and materials know it, of each route."""


def measured(
    candidate: Candidate,
    by: Sequence[str],
    *,
    seed: int = 0,
    stop: Stop = never,
    report: Progress = silent,
) -> ProductDesign:
    """Everything that is measured of a design.

    Params:
        candidate: the design with its question.
        by: the routes: dice are so large that each of them can make their numerals, and that they can be read.
        seed: of the search for layouts that are not there yet.
        stop: asked whether to stop that search early.
        report: told of its progress.
    Raises:
        UsageError: it cannot be laid out or drawn, or the search was stopped.
        RecountError: the recount disagrees with the run.
    """
    finding = kind_of(candidate.question).recounted(candidate.question, candidate.design)
    if not finding.agrees:
        raise RecountError(
            f"{candidate.name}: the recount disagrees with the run: {'; '.join(finding.faults)}"
        )
    inexact = Fraction(getattr(finding, "distance", None) or 0)
    laid = _laid_out(candidate, seed, stop, report)
    dice = _dice(candidate, laid, seed, stop, report)
    shifts = dict(_guards(candidate, laid))
    facts = tuple(_facts(die, by, candidate.question, shifts.get(die.positions[0], ())) for die in dice)
    return ProductDesign(candidate.id, candidate.run, facts, inexact)


def dice_to_make(
    candidate: Candidate, *, seed: int = 0, stop: Stop = never, report: Progress = silent
) -> list[DieToMake]:
    """The dice of a design with their artwork, laid out where need be; arguments as for `measured`."""
    return _dice(candidate, _laid_out(candidate, seed, stop, report), seed, stop, report)


def _laid_out(candidate: Candidate, seed: int, stop: Stop, report: Progress) -> tuple[LaidOut, ...]:
    """The dice of a design laid out: as the run has it, else by the usual goals."""
    question = candidate.question
    known = tuple(LaidOut.from_form(form) for form in json.loads(candidate.laid))
    if not isinstance(question, DiceQuestion):
        return known
    whole = question if question.layout else replace(question, layout=USUAL_GOALS)
    dice = question.sets[candidate.position]
    return lay_out(whole, dice, candidate.design, seed=seed, stop=stop, report=report, known=known)


def _dice(
    candidate: Candidate, laid: tuple[LaidOut, ...], seed: int, stop: Stop, report: Progress
) -> list[DieToMake]:
    """The dice of a design: from an answer that holds nothing else."""
    question, kind = candidate.question, kind_of(candidate.question)
    found = kind.found(question, candidate.position, kind.form(candidate.design), Fraction(0))
    answer = replace(kind.answer(question, (), (found,), seed), layouts=laid)
    return dice_of(answer, _ranked(answer), seed=seed, stop=stop, report=report)


def _ranked(answer: Any) -> Any:
    """The one design of an answer, as makers take it."""
    if not isinstance(answer.question, DiceQuestion):
        return answer.ranked[0]
    from facewright.search.report.contents import ranked_designs

    return ranked_designs(answer, load_scores(None))[0]


def _guards(
    candidate: Candidate, laid: Sequence[LaidOut]
) -> Iterator[tuple[int, tuple[tuple[str, float], ...]]]:
    """For each die, by its place from 1, how far flaws move the results."""
    if isinstance(candidate.question, Layout):
        yield 1, tuple((goal, shift.worst) for goal, shift in candidate.design.balance.shifts)
    elif not isinstance(candidate.question, Readouts):
        for one in laid:
            if one.found:
                yield one.die, tuple((goal, shift.worst) for goal, shift in one.found[0].balance.shifts)


def _facts(
    die: DieToMake, by: Sequence[str], question: Any, guards: tuple[tuple[str, float], ...]
) -> DieFacts:
    from facewright.constraints.draw import draw_plan
    from facewright.constraints.solids.sizes import size_mm
    from facewright.search.artwork.badges import shape_of
    from facewright.search.artwork.strokes import fineness

    artwork = die.artwork
    body, marks = artwork.solid, artwork.marks
    inradius, size_is = _inradius(die, by)
    plan = draw_plan(
        body, None if die.question is None else die.question.draw, sorted({m.face for m in marks})
    )
    sliding = set(plan.released("slide"))
    groups = _labels(question, die)
    labels = tuple(label for group in groups for label in group)
    upside = [pair for group in groups for pair in _upside(group)]
    return DieFacts(
        positions=die.positions,
        solid=body.name,
        read=body.read,
        faces=len(body.faces),
        marked=len({mark.face for mark in marks}),
        marks=len(marks),
        characters=sum(len(mark.text) for mark in marks),
        labels=labels,
        readouts=len(groups),
        size_mm=size_mm(body, inradius, size_is),
        size_is=size_is,
        inradius_mm=inradius,
        tip_to_tip_mm=size_mm(body, inradius, "tip-to-tip"),
        volume_mm3=volume(body) * inradius**3,
        area_mm2=plan.parting.area * inradius**2,
        slides=sum(mark.face in sliding for mark in marks),
        height_mm=min(mark.height for mark in marks) * inradius,
        single_mm=_single(artwork) * inradius,
        stroke_mm=min(mark.height * fineness(shape_of(mark)).stroke for mark in marks) * inradius,
        upside=tuple(dict.fromkeys(_sorted(*pair) for pair in upside)),
        turned=sum(str(label) in {low for low, _ in _upside(group)} for group in groups for label in group),
        settle=min(rest.settle for rest in body.rests),
        guards=guards,
    )


def _sorted(one: str, other: str) -> tuple[str, str]:
    """Two labels, the shorter or lower first."""
    return (one, other) if (len(one), one) <= (len(other), other) else (other, one)


def _labels(question: Any, die: DieToMake) -> list[tuple[int | str, ...]]:
    """What is read on a die, readout by readout: each label as often as the question has it."""
    if isinstance(question, Readouts):
        return [one.labels for one in question.readouts]
    if isinstance(question, Layout):
        return [question.labels]
    assert die.question is not None
    return [die.question.labels]


def _upside(labels: Sequence[int | str]) -> list[tuple[str, str]]:
    """The labels that read as another upside down, each with what it reads as."""
    from facewright.search.artwork.turning import mistaken

    found = mistaken(labels, flag_on_one=load_scores(None).characters.flag_on_one)
    return [(str(label), str(image)) for label, image in found.items()]


def _single(artwork: Artwork) -> float:
    """How high single figures could be where the lowest label stands, in inradii."""
    from facewright.search.artwork.placing import read_at
    from facewright.search.artwork.shares import spots
    from facewright.search.artwork.wishes import Size

    drawing = load_scores(None).characters
    body = artwork.solid
    lowest = min(mark.height for mark in artwork.marks)
    if any(mark.readout is not None for mark in artwork.marks):
        return lowest
    size = Size(drawing.width / 2, -0.5, 0.5)
    found = spots(body, [dict.fromkeys(read_at(body).values(), size)])
    return max(lowest, min(spot.height for spot in found))


def _inradius(die: DieToMake, by: Sequence[str]) -> tuple[float, str]:
    """The inradius in mm at which every route can make the die, and what its size measures.

    The size of its brief, or the smallest that can be made, read and held; more where a route needs it.
    """
    from facewright.constraints.solids.sizes import inradius_mm
    from facewright.search.make.sizing import Wishes, sized

    asked = die.question
    free = die if asked is None else replace(die, question=replace(asked, size_mm=None))
    ways = [sized(free, Wishes(route=MAKING[route])) for route in by]
    if asked is None or asked.size_mm is None:
        return max(one.inradius_mm for one in ways), ways[0].size_is
    needed = (limit.inradius_mm for one in ways for limit in one.least.limits if limit.need != "eye")
    wanted = inradius_mm(die.artwork.solid, asked.size_mm, asked.size_is)
    return max(wanted, *needed), asked.size_is


def volume(body: Solid) -> float:
    """The volume of a solid, in cubic inradii: pyramids from its centre, a third of face area × 1 each."""
    import numpy as np
    from facewright.search.make.mass import volume_of

    fans = [(face[0], a, b) for face in body.faces for a, b in pairwise(face[1:])]
    return volume_of(body.vertices, np.array(fans))
