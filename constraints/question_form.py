"""Questions written down as plain values (for stores and JSON) and read back."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from facewright.constraints.contest import CONTESTS, Contest
from facewright.constraints.die_form import die_from_form, die_to_form
from facewright.constraints.distribution import Distribution
from facewright.constraints.errors import UsageError
from facewright.constraints.further import further_from_form, further_to_form
from facewright.constraints.layout import Layout
from facewright.constraints.question import DroppedSet, Numbering, StopRule
from facewright.constraints.readings import how_from_form, how_to_form
from facewright.constraints.readouts import Readouts
from facewright.constraints.smooth import Smooth

Question = Numbering | Contest | Readouts | Layout | Smooth
"""A question of any kind."""


def any_to_form(question: Question) -> dict[str, Any]:
    """A question of any kind as dictionaries, lists, numbers and text."""
    return to_form(question) if isinstance(question, Numbering) else question.to_form()


def any_from_form(form: dict[str, Any]) -> Question:
    """The question that `any_to_form` wrote; raises UsageError for another form."""
    kind = form.get("kind") if isinstance(form, dict) else None
    if kind == Readouts.kind:
        return Readouts.from_form(form)
    if kind == Layout.kind:
        return Layout.from_form(form)
    if kind == Smooth.kind:
        return Smooth.from_form(form)
    if kind == Numbering.kind:
        return Contest.from_form(form) if form.get("read") in CONTESTS else from_form(form)
    accepted = f"{Numbering.kind}, {Readouts.kind}, {Layout.kind} or {Smooth.kind}"
    raise UsageError(f"question: found the kind {kind!r}; accepted: {accepted}")


def to_form(question: Numbering) -> dict[str, Any]:
    """The question as dictionaries, lists, numbers and text, from which `from_form` makes an equal one."""
    return {
        "kind": question.kind,
        "title": question.title,
        "note": question.note,
        "read": question.read,
        "accept": question.accept,
        "nearest": question.nearest,
        "like": question.like,
        "choice": question.choice,
        "target": question.target.plain_pairs,
        "how": how_to_form(question.how),
        "anchored": question.anchored,
        "also": [further_to_form(rule) for rule in question.also],
        "sets": [[die_to_form(die) for die in dice] for dice in question.sets],
        "dropped": [{"faces": list(one.faces), "reason": one.reason} for one in question.dropped],
        "stop": asdict(question.stop),
        "rank": dict(question.rank),
        "layout": list(question.layout),
    }


def from_form(form: dict[str, Any]) -> Numbering:
    """The question that `to_form` wrote.

    Raises:
        UsageError: the form is not one that `to_form` writes.
    """
    try:
        return Numbering(
            read=form["read"],
            target=Distribution.of_plain(form["target"]),
            sets=tuple(tuple(die_from_form(die) for die in dice) for dice in form["sets"]),
            accept=form["accept"],
            nearest=form.get("nearest", "total-variation"),
            how=how_from_form(form.get("how", {})),
            anchored=bool(form.get("anchored", False)),
            also=tuple(map(further_from_form, form.get("also", ()))),
            title=form["title"],
            note=form["note"],
            like=form["like"],
            choice=form["choice"],
            dropped=tuple(DroppedSet(tuple(one["faces"]), one["reason"]) for one in form["dropped"]),
            stop=StopRule(**form["stop"]),
            rank=tuple(form["rank"].items()),
            layout=tuple(form.get("layout", ())),
        )
    except (KeyError, TypeError, ValueError, AttributeError) as wrong:
        raise UsageError(f"question: found {wrong!r} where a stored question was expected") from wrong
