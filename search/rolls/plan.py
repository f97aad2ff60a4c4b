"""Before the first roll: what to record, and how many rolls show a bias of a given size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from math import inf
from typing import Any

from facewright.search.rolls.judging import LEVEL
from facewright.search.rolls.looking import Looked, rolls_looked
from facewright.search.rolls.power import hardest, rolls_needed
from facewright.search.rolls.views import Subject, View
from facewright.search.rolls.words import percent

USUAL_OFF = (0.1, 0.2, 0.5)
"""Biases of one face for which rolls are planned, as shares of its own chance."""

USUAL_CERTAINTY = (0.8, 0.9)
"""Certainties for which rolls are planned."""


@dataclass(frozen=True)
class Planned:
    """Rolls that show a face off by the share `off` with a certainty, where `record` is recorded.

    `fixed` is the number set beforehand for the chi-square test, None where no number shows it; `looked` the rolls
    of the test that may be looked at after every roll, by simulation. `face` is the face hardest to see.
    """

    record: str
    of: str
    off: float
    certainty: float
    fixed: int | None
    looked: Looked | None
    face: str


def planned(
    subject: Subject,
    offs: Sequence[float] = USUAL_OFF,
    certainties: Sequence[float] = USUAL_CERTAINTY,
    level: float = LEVEL,
    seed: int = 0,
) -> list[Planned]:
    """Plans rolls for every way of recording them, the one that needs fewest first.

    Params:
        subject: the design to be rolled.
        offs: biases of one face, as shares of its own chance.
        certainties: how sure one wants to be to see them.
        level: the chance of a false alarm.
        seed: of the simulation.
    """
    found = [
        _one(record, view, off, wanted, level, seed)
        for record, view in _ways_of_recording(subject)
        for off in offs
        for wanted in certainties
    ]
    first = {one.record: one.fixed or inf for one in reversed(found)}
    return sorted(found, key=lambda one: (first[one.record], one.record))


def _one(record: str, view: View, off: float, wanted: float, level: float, seed: int) -> Planned:
    worst = hardest(view)
    degrees = len(view.cells) - 1
    fixed = None if worst is None else rolls_needed(worst.effect * off**2, degrees, level, wanted)
    looked = None
    if worst is not None and fixed is not None:
        looked = rolls_looked(view.ways, worst.moves, off, level, wanted, fixed, seed)
    return Planned(record, view.name, off, wanted, fixed, looked, "" if worst is None else worst.name)


def _ways_of_recording(subject: Subject) -> Iterator[tuple[str, View]]:
    """Each column alone, or all readouts, with the finest view that it gives; columns that see the same together."""
    columns = list(subject.columns())
    together = [column for column in columns if column != "face" and not column.startswith("face_")]
    found: dict[tuple[float, int], tuple[list[str], View]] = {}
    for chosen in [[column] for column in columns] + [together]:
        for view in subject.views(chosen)[:1]:
            worst = hardest(view)
            key = (0.0 if worst is None else round(worst.effect, 12), len(view.cells))
            names, _ = found.setdefault(key, ([], view))
            if len(view.cells) > 1 and not (len(chosen) > 1 and names):
                names.append(" and ".join(chosen))
    for names, view in found.values():
        if names:
            yield _named(names), view


def _named(columns: Sequence[str]) -> str:
    """Columns that see the same: "face or result".

    Example:
        >>> _named(["die_1", "die_2", "die_3"]), _named(["result"])
        ('die_1 … die_3', 'result')
    """
    if len(columns) <= 2:
        return " or ".join(columns)
    return f"{columns[0]} … {columns[-1]}"


def plan_text(plan: Sequence[Planned], subject: Subject, level: float) -> str:
    """The plan as a table, the plain sentence first."""
    from facewright.search.rolls.words import CAUTIONS

    if not plan:
        return f"{subject.words}: nothing that comes up can be tested."
    lines = [f"{headline(plan, level)}", ""]
    rows = [
        (
            "record the column",
            "a face off by",
            "certainty",
            "rolls, set beforehand",
            "looked at as you go: half of all cases",
            "that certainty",
        )
    ]
    rows += [
        (
            one.record,
            percent(one.off),
            percent(one.certainty),
            _many(one.fixed, "no number shows it"),
            "–" if one.looked is None else _about(one.looked.half),
            "–" if one.looked is None else _about(one.looked.wanted),
        )
        for one in plan
    ]
    wide = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    for row in rows:
        cells = [
            f"{text:<{size}}" if at == 0 else f"{text:>{size}}"
            for at, (text, size) in enumerate(zip(row, wide, strict=True))
        ]
        lines.append("  ".join(cells).rstrip())
    lines += [
        "",
        f"Level {percent(level)}: so often the test calls a die without any bias unusual. Beforehand: the chi-square "
        "test, its power from the noncentral chi-square distribution, for the face that is hardest to see. As you go: "
        "the e-value, valid however often you look; by simulation, rounded.",
        CAUTIONS[0],
    ]
    return "\n".join(lines)


def headline(plan: Sequence[Planned], level: float) -> str:
    """The plan for its first way of recording, as a sentence."""
    one = plan[0]
    if one.fixed is None:
        return f"Recording {one.record}: no number of rolls shows {one.face} off."
    looked = ""
    if one.looked is not None and one.looked.wanted is not None:
        looked = f"; looking as you go, about {_about(one.looked.wanted)}"
    return (
        f"To see a face off by {percent(one.off)} with {percent(one.certainty)} certainty, record {one.record} and "
        f"make {one.fixed:,} rolls{looked} (level {percent(level)})."
    )


def plan_json(plan: Sequence[Planned], level: float) -> dict[str, Any]:
    """The plan as plain values."""
    return {
        "level": level,
        "sentence": headline(plan, level) if plan else "",
        "plan": [asdict(one) for one in plan],
    }


def _many(rolls: int | None, without: str) -> str:
    return without if rolls is None else f"{rolls:,}"


def _about(rolls: int | None) -> str:
    """A simulated number, to two digits."""
    if rolls is None:
        return "more"
    step = 10 ** max(0, len(str(rolls)) - 2)
    return f"{-(-rolls // step) * step:,}"
