"""Dice of stored runs, for layout briefs that name one."""

from __future__ import annotations

from facewright.constraints.brief.earlier import EarlierDie, NotThere
from facewright.constraints.errors import RunError
from facewright.constraints.layout import Roll
from facewright.constraints.question import Numbering
from facewright.constraints.texts import quoted

SHOWN = 6
"""Ids that an error names."""


def die_of(run: str, design: str, die: int | None) -> EarlierDie:
    """The die that a layout brief means; see `facewright.constraints.brief.earlier.Earlier`.

    Raises: NotThere.
    """
    from facewright.search.folders import STORE, folder_of
    from facewright.search.store import Store

    try:
        with Store.open(folder_of(run) / STORE) as store:
            question, found = store.question, list(store.designs())
    except RunError as missing:
        words = str(missing).partition(": found ")
        raise NotThere(
            "run", f"{quoted(run)}: {words[2] or words[0]}", "the name of a run, or its folder"
        ) from missing
    if not isinstance(question, Numbering):
        accepted = "the run of a numbering brief: only its dice have labels without a place"
        raise NotThere("run", f"{quoted(run)}, the run of a {question.kind} brief", accepted)
    fitting = [one for one in found if one.design.id.startswith(design.lower())]
    if len(fitting) != 1 or not design:
        some = ", ".join(one.design.id[:8] for one in (fitting or found)[:SHOWN]) or "there are none"
        many = "no design" if not fitting else f"{len(fitting)} designs"
        raise NotThere(
            "design", f"{many} of {run} whose id begins with {quoted(design)}", f"ids begin: {some}"
        )
    [one] = fitting
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
