"""From a stored design to what its rolls can show."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from facewright.constraints.contest import Contest
from facewright.constraints.layout import Layout, Roll
from facewright.constraints.question import Numbering
from facewright.constraints.readings import READINGS
from facewright.constraints.readouts import Label, Readouts
from facewright.constraints.roll_chances import ITSELF
from facewright.constraints.smooth import Smooth
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES
from facewright.search.rolls.dice_subject import DiceSubject, RolledDie
from facewright.search.rolls.readouts_subject import ReadoutsSubject
from facewright.search.rolls.views import Subject

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid


def subject_of(answer: Any, one: Any) -> Subject:
    """What rolls of a design can show.

    Params:
        answer: a stored answer of any kind.
        one: a ranked design of it.
    """
    question = answer.question
    if isinstance(question, Smooth):
        return _smooth(question, one.design, answer.layouts)
    if isinstance(question, Readouts):
        moved = [laid.found[0] for laid in answer.layouts if laid.of == one.design.id and laid.found]
        return _marked(question, moved[0] if moved else one.design)
    if isinstance(question, Layout):
        design = one.design
        die = RolledDie(design.labels, design.solid, faces=_by_number(design))
        return DiceSubject((die,), None, None, alone=True)
    return _numbered(answer, question, one)


def _smooth(question: Smooth, design: Any, layouts: Sequence[Any]) -> Subject:
    """A smooth body: what stands at its rests, or the numbers of its tips."""
    body = SYMMETRIES[question.symmetry].solid
    laid = [each.found[0] for each in layouts if each.of == design.id and each.found]
    if isinstance(question.marks, Readouts) and laid:
        return _marked(question.marks, laid[0])
    if laid:
        die = RolledDie(laid[0].labels, body, faces=_by_number(laid[0]))
    else:
        ways = SYMMETRIES[question.symmetry].ways
        die = RolledDie(tuple(range(1, ways + 1)), body, faces={face: face + 1 for face in range(ways)})
    return DiceSubject((die,), None, None, alone=True)


def _numbered(answer: Any, question: Numbering | Contest, one: Any) -> DiceSubject:
    dice = next(question.sets[found.set] for found in answer.found if found.design.id == one.id)
    design = one.scores.design
    laid = {each.die: each.found[0] for each in answer.layouts if each.of == one.id and each.found}
    labels = [die.labels for die in design.dice]
    plain = isinstance(question, Numbering) and question.read in READINGS
    again = question.again if isinstance(question, Numbering) else ()
    rolled = tuple(
        RolledDie(
            own.labels,
            own.solid,
            asked.copies,
            again,
            # a label that is rolled again is not what the face that came to lie last shows alone
            _by_number(laid[place]) if place in laid else {},
            Roll.of(question, labels, place - 1) if plain else None,
        )
        for place, (asked, own) in enumerate(zip(dice, design.dice, strict=True), 1)
    )
    if not isinstance(question, Numbering):
        return DiceSubject(rolled, None, None, alone=False)
    alone = len(rolled) == 1 and question.read in ITSELF and not dict(question.how)
    if alone:
        return DiceSubject(rolled, None, None, alone=True)
    reading = question.reading
    return DiceSubject(rolled, reading, reading.distribution(labels), alone=False)


def _by_number(design: Any) -> dict[int, Label]:
    return {int(site[1:]) - 1: label for site, label in design.faces}


def _marked(question: Readouts, design: Any) -> ReadoutsSubject:
    from facewright.constraints.solids import solid

    body = solid(design.solid, question.shape)
    shows = [_sites(body, rest) for rest in _rest_of_face(body)]
    by_face = tuple(
        tuple(next(label for site, label in pairs if site in seen) for _, pairs in design.sites)
        for seen in shows
    )
    joint = tuple((labels, count) for labels, count in design.joint if count)
    return ReadoutsSubject(design.solid, question.readouts, joint, by_face)


def _rest_of_face(body: Solid) -> list[int]:
    """For each labelled face the rest in which it is read: above where a face is read there, else below."""
    if body.read == "face above":
        at = {rest.on_top: number for number, rest in enumerate(body.rests)}
    else:
        at = {rest.below: number for number, rest in enumerate(body.rests)}
    return [at[face] for face in range(len(body.rests))]


def _sites(body: Solid, rest: int) -> set[str]:
    from facewright.constraints.solids.solid import KINDS, LETTERS

    return {f"{LETTERS[kind]}{site + 1}" for kind in KINDS for site in body.rests[rest].shows[kind]}
