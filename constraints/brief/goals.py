"""Goals of a layout, as briefs list them."""

from __future__ import annotations

from collections.abc import Sequence

from facewright.constraints.brief.faults import Faults
from facewright.constraints.layout import GOALS
from facewright.constraints.texts import quoted

KEY = "layout"


def goals_of(written: Sequence[str] | None, faults: Faults, known: Sequence[str] = GOALS) -> tuple[str, ...]:
    """The goals of a list, in its order; with faults, those that are sound.

    Params:
        written: the list of the brief.
        faults: takes unknown goals (with the nearest known ones) and those that stand twice.
        known: the goals that the brief may have.
    """
    found: list[str] = []
    for at, goal in enumerate(written or ()):
        if goal in found:
            faults.add(
                (KEY, at), f"{quoted(goal)} for the second time", "each goal once, what matters most first"
            )
        elif goal in known:
            found.append(goal)
        else:
            elsewhere = " in this brief" if goal in GOALS else ""
            faults.add((KEY, at), f"{quoted(goal)}{elsewhere}", _nearest(goal, known))
    return tuple(found)


def _nearest(goal: str, known: Sequence[str]) -> str:
    from difflib import get_close_matches

    near = get_close_matches(goal.strip().lower().replace("_", "-").replace(" ", "-")[:60], known, cutoff=0.6)
    listed = ", ".join(f'"{one}"' for one in near or known)
    return listed if near or len(known) == 1 else f"one of {listed}"
