"""Dice and designs of stored runs, for briefs that name them."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from facewright.constraints.brief.earlier import EarlierDie, NotThere
from facewright.constraints.errors import RunError
from facewright.constraints.layout import Roll
from facewright.constraints.product import Candidate, Product
from facewright.constraints.question import Numbering
from facewright.constraints.question_form import Question
from facewright.constraints.smooth import Smooth
from facewright.constraints.texts import quoted

SHOWN = 6
"""Ids that an error names."""


def die_of(run: str, design: str, die: int | None) -> EarlierDie:
    """The die that a layout brief means; see `facewright.constraints.brief.earlier.Earlier`.

    Raises: NotThere.
    """
    question, found, _ = _run_of(run)
    if not isinstance(question, Numbering):
        accepted = "the run of a numbering brief: only its dice have labels without a place"
        raise NotThere("run", f"{quoted(run)}, the run of a {question.kind} brief", accepted)
    one = _beginning(found, run, design)
    dice = one.design.dice
    if die is None and len(dice) > 1:
        raise NotThere(
            "die", "nothing: the key is missing", f"a number from 1 to {len(dice)}: which of the dice"
        )
    place = 0 if die is None else die - 1
    if place >= len(dice):
        accepted = f"a number from 1 to {len(dice)}" if len(dice) > 1 else "1, or no such key"
        raise NotThere(
            "die", f"{die}, of a design with {len(dice)} {'die' if len(dice) == 1 else 'dice'}", accepted
        )
    shape = question.sets[one.set][place].shape
    return EarlierDie(
        dice[place].labels, dice[place].solid, shape, Roll.of(question, [die.labels for die in dice], place)
    )


def design_of(run: str, design: str) -> Candidate:
    """The design that a product brief means; see `facewright.constraints.brief.earlier.Designs`.

    Raises: NotThere.
    """
    question, found, layouts = _run_of(run)
    if isinstance(question, Product | Smooth):
        accepted = "the run of another kind of brief, whose designs are dice with faces"
        raise NotThere("run", f"{quoted(run)}, the run of a {question.kind} brief", accepted)
    one = _beginning(found, run, design)
    laid = [each.to_form() for each in layouts if each.of == one.design.id]
    text = json.dumps(laid, ensure_ascii=False, separators=(",", ":"))
    return Candidate(Path(run).name, question, one.design, one.set, text)


def _run_of(run: str) -> tuple[Question, list[Any], tuple[Any, ...]]:
    """The question, the designs and the layouts of a stored run; raises NotThere."""
    from facewright.search.folders import STORE, folder_of
    from facewright.search.store import Store

    try:
        with Store.open(folder_of(run) / STORE) as store:
            return store.question, list(store.designs()), store.layouts()
    except RunError as missing:
        words = str(missing).partition(": found ")
        raise NotThere(
            "run", f"{quoted(run)}: {words[2] or words[0]}", "the name of a run, or its folder"
        ) from missing


def _beginning(found: Sequence[Any], run: str, design: str) -> Any:
    """The one design whose id begins so; raises NotThere."""
    fitting = [one for one in found if one.design.id.startswith(design.lower())]
    if len(fitting) != 1 or not design:
        some = ", ".join(one.design.id[:8] for one in (fitting or found)[:SHOWN]) or "there are none"
        many = "no design" if not fitting else f"{len(fitting)} designs"
        raise NotThere(
            "design", f"{many} of {run} whose id begins with {quoted(design)}", f"ids begin: {some}"
        )
    return fitting[0]
