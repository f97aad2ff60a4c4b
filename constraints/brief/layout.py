"""What a layout brief means: from its sound part to the question, with the faults of meaning."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import hypot

from facewright.constraints.brief.earlier import Earlier, EarlierDie, NotThere
from facewright.constraints.brief.faults import Faults
from facewright.constraints.brief.goals import goals_of
from facewright.constraints.brief.models import FEW_LABELS, GOALS_FORM
from facewright.constraints.brief.models_layout import DRAW_FORM, LABELS_FORM, FromPart, LayoutPart
from facewright.constraints.brief.numbering import rank_of
from facewright.constraints.brief.readouts import LONGEST_NAME
from facewright.constraints.brief.shapes import USUAL, one_solid, shape_of
from facewright.constraints.layout import GOALS, GOALS_OF_NUMBERS, SIZES, Draw, Layout, Roll
from facewright.constraints.own import parse_labels
from facewright.constraints.question import StopRule
from facewright.constraints.readouts import Label, Shape
from facewright.constraints.solids.names import default_solid, solid_named
from facewright.constraints.texts import TextError, quoted

LEAST_DRAW = 1e-6
"""Shorter directions, as a brief writes them, count as none."""

UNMEASURED = ("edge", "height", "tip-to-tip")
"""What the size of a solid without opposite faces can measure; the height at rest unless the brief says otherwise."""


def question_of_layout(brief: LayoutPart, faults: Faults, earlier: Earlier | None) -> Layout | None:
    """The question that a layout brief asks; None, with every fault, where it asks none.

    Params:
        brief: the sound part.
        faults: takes the faults.
        earlier: finds dice of earlier runs; without it a brief with `from` is refused.
    """
    if brief.title is None:
        faults.missing("title", 'a title, such as title = "Numbers for the harbour die"')
    rank = rank_of(brief.rank, faults)
    named = brief.from_ if brief.place is None else None
    die = _earlier(named, faults, earlier) if named is not None else None
    labels = die.labels if die else labels_of(brief.place, faults)
    solid = _solid(brief, die, labels, faults)
    kept = die.shape if die is not None and die.solid == solid else USUAL
    shape = kept if brief.shape is None else shape_of(brief.shape, solid, ("shape",), faults)
    goals = _goals(brief, labels, faults)
    draw = _draw(brief, faults)
    counting = next((goal for goal in goals if goal in GOALS_OF_NUMBERS), None)
    if brief.rename and counting is not None:
        found = f"true, although {quoted(counting)} makes every number matter"
        faults.add(("rename",), found, "false, or goals that do not speak of numbers")
    carried = _carried(labels, solid, "place" if named is None else "from", faults)
    size_is = brief.size_is
    if size_is is not None and size_is not in SIZES:
        faults.add(("size_is",), quoted(size_is), ", ".join(f'"{one}"' for one in SIZES))
    if solid is not None:
        size_is = _fits(brief, goals, solid, shape, faults)
    if faults or solid is None or not labels:
        return None
    return Layout(
        solid=solid,
        labels=carried,
        goals=goals,
        shape=shape,
        draw=draw,
        roll=die.roll if die else Roll(),
        same_under=brief.same_under or "rotation",
        rename=bool(brief.rename),
        title=brief.title or "",
        note=brief.note or "",
        asked=_asked(brief),
        size_mm=brief.size_mm,
        size_is=size_is or SIZES[0],
        stop=StopRule(brief.stop.seconds, brief.stop.designs) if brief.stop else StopRule(),
        rank=rank,
    )


def _earlier(part: FromPart, faults: Faults, earlier: Earlier | None) -> EarlierDie | None:
    """The die of the run that a brief names; None, with the fault, where there is none."""
    for key, value, accepted in (
        ("run", part.run, 'the name of a run, such as run = "harbour-dues"'),
        ("design", part.design, 'the id of a design, or its beginning, such as design = "3f2a"'),
    ):
        if value is None and ("from", key) not in faults.spoilt:
            faults.add(("from", key), "nothing: the key is missing", accepted)
    if part.run is None or part.design is None or ("from", "die") in faults.spoilt:
        return None
    if earlier is None:
        faults.add(("from",), "a die of a run", "labels in `place`: no runs are read here")
        return None
    try:
        return earlier(part.run, part.design, part.die)
    except NotThere as missing:
        faults.add(("from", missing.key), missing.found, missing.accepted)
        return None


def labels_of(place: str | list[int | str] | None, faults: Faults) -> tuple[Label, ...]:
    """The labels of `place`, in its order; none, with the faults, where they are not sound."""
    if place is None:
        return ()
    if isinstance(place, str):
        try:
            return parse_labels(place)
        except TextError as unreadable:
            faults.add(("place",), unreadable.found, f"{LABELS_FORM}, or {unreadable.accepted}")
            return ()
    sound = True
    for at, label in enumerate(place):
        if isinstance(label, str) and (wrong := _wrong_word(label)):
            faults.add(("place", at), *wrong)
            sound = False
    if sound and len(set(place)) == 1:
        faults.add(("place",), f"{len(place)} labels, all {place[0]}", "at least two different labels")
        sound = False
    return tuple(place) if sound else ()


def _wrong_word(word: str) -> tuple[str, str] | None:
    """What is wrong with a label that is a text, and what would be accepted; None where nothing is."""
    try:
        int(word)
    except ValueError:
        if word == word.strip() and len(word) <= LONGEST_NAME and word.isprintable():
            return None
        return (
            f"{quoted(word)} for a label",
            f"a text of up to {LONGEST_NAME} characters, no spaces around it",
        )
    return f"{quoted(word)}, a text", f"a number without quotation marks, {int(word)}"


def _solid(brief: LayoutPart, die: EarlierDie | None, labels: Sequence[Label], faults: Faults) -> str | None:
    """The solid: the brief's, else that of the die, else the usual one for so many labels."""
    if brief.solid is not None:
        return one_solid(brief.solid, ("solid",), faults)
    if ("solid",) in faults.spoilt or (die is None and not labels):
        return None
    if die is not None:
        return one_solid(die.solid, ("from", "die"), faults)
    if "solid" in faults.lost_keys:
        return None
    return one_solid(default_solid(len(labels)), ("place",), faults)


def _carried(labels: Sequence[Label], solid: str | None, key: str, faults: Faults) -> tuple[Label, ...]:
    """One label a rest: each as often as a carrier needs; the labels as they are, with the fault, where none fits."""
    if solid is None or not labels:
        return tuple(labels)
    rests = solid_named(solid)[1]
    if rests % len(labels) == 0:
        return tuple(label for label in labels for _ in range(rests // len(labels)))
    fitting = [str(n) for n in range(2, rests + 1) if rests % n == 0]
    shown = ", ".join(
        [*fitting[: FEW_LABELS - 1], "…", fitting[-1]] if len(fitting) > FEW_LABELS else fitting
    )
    found = f"{len(labels)} labels for the {rests} faces of the {solid}"
    accepted = (
        f"{rests} labels, or a number that divides {rests} ({shown}), each label then standing several times"
    )
    faults.add((key,), found, f"{accepted}; or solid = {len(labels)}")
    return tuple(labels)


def _goals(brief: LayoutPart, labels: Sequence[Label], faults: Faults) -> tuple[str, ...]:
    if brief.layout is None:
        faults.missing("layout", GOALS_FORM)
        return ()
    if not brief.layout:
        faults.add(("layout",), "an empty list", GOALS_FORM)
    goals = goals_of(brief.layout, faults)
    if "long-along-draw" in goals and brief.draw is None and ("draw",) not in faults.spoilt:
        at = brief.layout.index("long-along-draw")
        faults.add(("layout", at), '"long-along-draw" without a draw', f"draw beside it: {DRAW_FORM}")
    word = next((label for label in labels if isinstance(label, str)), None)
    if word is not None:
        for at, goal in enumerate(brief.layout):
            if goal in GOALS_OF_NUMBERS:
                fitting = ", ".join(f'"{one}"' for one in GOALS if one not in GOALS_OF_NUMBERS)
                accepted = f"whole numbers for labels, or goals that go with words: {fitting}"
                faults.add(
                    ("layout", at),
                    f"{quoted(goal)} for labels that are words, such as {quoted(word)}",
                    accepted,
                )
    return goals


def _draw(brief: LayoutPart, faults: Faults) -> Draw | None:
    if not isinstance(brief.draw, list):
        return brief.draw
    x, y, z = brief.draw
    if hypot(x, y, z) < LEAST_DRAW:
        faults.add(("draw",), f"[{x:g}, {y:g}, {z:g}], which is no direction", DRAW_FORM)
    return (float(x), float(y), float(z))


def _fits(brief: LayoutPart, goals: tuple[str, ...], solid: str, shape: Shape, faults: Faults) -> str:
    """What the size measures, on this solid; with the faults of a size or a goal that the solid cannot have."""
    from facewright.constraints.solids import solid as built

    body = built(solid, shape)
    opposite = all(body.opposite[rest.below] is not None for rest in body.rests)
    if not opposite and "opposite-sums" in goals:
        found = f'"opposite-sums" on the {solid}, whose faces have no opposite'
        faults.add(
            ("layout", (brief.layout or []).index("opposite-sums")),
            found,
            "a solid with opposite faces, or other goals",
        )
    if not opposite and brief.size_is == "across-flats":
        found = f'"across-flats" of the {solid}, whose faces have no opposite'
        faults.add(("size_is",), found, ", ".join(f'"{one}"' for one in UNMEASURED))
    return brief.size_is or ("across-flats" if opposite else "height")


def _asked(brief: LayoutPart) -> str:
    """The brief's own wording of the labels."""
    if brief.from_ is not None:
        die = f", die {brief.from_.die}" if brief.from_.die else ""
        return f"{brief.from_.run}/{brief.from_.design}{die}"
    if isinstance(brief.place, str):
        return brief.place.strip()
    return " ".join(str(label) for label in Counter(brief.place or ()).elements())
