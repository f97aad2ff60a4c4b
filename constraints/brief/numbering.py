"""What a numbering brief means: from its sound part to the question, with the faults of meaning."""

from __future__ import annotations

from facewright.constraints.brief.choice import drafts_of, dropped_of, sets_of
from facewright.constraints.brief.dice import (
    MOST_SLOTS,
    Draft,
    ListOfDice,
    anchored,
    finished,
    slots,
    too_many_slots,
)
from facewright.constraints.brief.faults import Faults
from facewright.constraints.brief.further import further_of
from facewright.constraints.brief.goals import goals_of
from facewright.constraints.brief.models import NumberingPart, RankPart, fields_of
from facewright.constraints.brief.rules import PARTS, check, stated
from facewright.constraints.brief.target import target_of
from facewright.constraints.contest import BEATS, ORDERS
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die
from facewright.constraints.layout import GOALS_WITHOUT_DRAW
from facewright.constraints.question import DroppedSet, Numbering, StopRule
from facewright.constraints.readings import PARAMETERS, READINGS, REROLL, How, Reading, reading_of
from facewright.constraints.texts import TextError

BELONGS: dict[str, tuple[str, ...]] = {
    "modulo": ("total-modulo",),
    "keep": ("total-of-highest", "total-of-lowest"),
    "at_least": ("how-many",),
    "ties": (BEATS,),
    "chance_at_least": (BEATS,),
    "beats": (BEATS,),
    "fair": (ORDERS,),
}
"""Keys that go with some readings only."""


def question_of(brief: NumberingPart, faults: Faults) -> Numbering | None:
    """The question that a numbering brief asks; None, with every fault, where it asks none."""
    required(brief, faults)
    _limits_of_this_version(brief, faults)
    rank = rank_of(brief.rank, faults)
    goals = goals_of(brief.layout, faults, GOALS_WITHOUT_DRAW)
    target = target_of(brief, faults)
    how = _how(brief, faults)
    reading = reading_of(brief.read or "total", how) if how is not None else None
    also = further_of(brief.also, _sizes(brief), faults)
    sets, dropped, anchored = _sets(brief, target, reading, faults)
    if faults or target is None or brief.read is None or how is None:
        return None
    return Numbering(
        read=brief.read,
        target=target,
        sets=sets,
        how=how,
        anchored=anchored,
        also=also,
        accept=brief.accept or "exact",
        nearest=brief.nearest or "total-variation",
        title=brief.title or "",
        note=brief.note or "",
        like=(brief.like or "").strip(),
        dropped=dropped,
        choice=brief.dice.strip() if isinstance(brief.dice, str) else "",
        stop=StopRule(brief.stop.seconds, brief.stop.designs) if brief.stop else StopRule(),
        rank=rank,
        layout=goals,
    )


def required(brief: NumberingPart, faults: Faults) -> None:
    """The faults of keys that every numbering brief must have and this one has not."""
    if brief.title is None:
        faults.missing("title", 'a title, such as title = "Harbour dues"')
    if brief.dice is None:
        faults.missing("dice", 'the new dice, such as dice = [6, 16] or dice = "2 of 4 6 8"')


def _limits_of_this_version(brief: NumberingPart, faults: Faults) -> None:
    """The keys and values that are known, but not answered yet; and those that do not go together."""
    for key, readings in BELONGS.items():
        if getattr(brief, key) is not None and brief.read in READINGS and brief.read not in readings:
            words = " or ".join(f'"{reading}"' for reading in readings)
            faults.add(
                (key,),
                f"a key that goes with read = {words}",
                f'no such key beside read = "{brief.read}"',
            )
    if brief.nearest == "moments-first" and brief.read == "side-by-side":
        faults.add(
            ("nearest",),
            f'"moments-first" beside read = "{brief.read}"',
            '"total-variation" or "largest": labels side by side have no mean',
        )
    if brief.accept != "nearest" and brief.nearest is not None and ("accept",) not in faults.spoilt:
        faults.add(
            ("nearest",),
            "what near means, where exact answers are wanted",
            'no such key, or accept = "nearest"',
        )


def rank_of(rank: RankPart | None, faults: Faults) -> tuple[tuple[str, int], ...]:
    """The weights that a brief states, or the usual ones."""
    if rank is None:
        return Numbering.rank
    weights = tuple((name, weight) for name, weight in rank.model_dump().items() if weight is not None)
    if not any(weight for _, weight in weights) and not any(path[:1] == ("rank",) for path in faults.spoilt):
        faults.add(
            ("rank",),
            "no weight above 0",
            "at least one weight above 0, such as { readability = 2, cost = 1 }",
        )
    return weights


def _sizes(brief: NumberingPart) -> list[int]:
    """How many dice the sets have; nothing where the brief does not say it soundly."""
    if isinstance(brief.dice, list):
        return [len(brief.dice)]
    try:
        return sorted({len(one) for one in sets_of(brief.dice or "")})
    except TextError:
        return []


def _how(brief: NumberingPart, faults: Faults) -> How | None:
    """What the reading must be told; None where the brief does not say it soundly."""
    if brief.read is None:
        return ()
    if brief.read not in READINGS:
        return None
    told = []
    for key in PARAMETERS.get(brief.read, ()):
        value = getattr(brief, key)
        if value is None:
            faults.missing(key, f'{fields_of(NumberingPart)[key]}: read = "{brief.read}" needs it')
        else:
            told.append((key, value))
    again = tuple(sorted(set(brief.reroll or ())))
    if again:
        told.append((REROLL, again))
    return tuple(sorted(told)) if len(told) - bool(again) == len(PARAMETERS.get(brief.read, ())) else None


def _sets(
    brief: NumberingPart, target: Distribution | None, reading: Reading | None, faults: Faults
) -> tuple[tuple[tuple[Die, ...], ...], tuple[DroppedSet, ...], bool]:
    """Every set of dice to try, the sets of a choice that are dropped, whether some die must reach its lowest."""
    if isinstance(brief.dice, list):
        drafts = ListOfDice(brief.labels, faults).drafts(brief.dice)
        readable = _readable(brief, reading, [len(brief.dice)], target, faults)
        if drafts is None or target is None or reading is None or not readable:
            return (), (), False
        return (_finished(drafts, target, reading, brief, faults),), (), anchored(drafts, reading)
    common = stated(brief.labels)
    check(common, faults)
    if brief.dice is None:
        return (), (), False
    try:
        sets = sets_of(brief.dice)
    except TextError as unreadable:
        faults.add(("dice",), unreadable.found, unreadable.accepted)
        return (), (), False
    readable = _readable(brief, reading, sorted({len(one) for one in sets}), target, faults)
    if target is None or reading is None or not readable or common.doubtful(faults, *PARTS):
        return (), (), False
    dropped = tuple(dropped_of(sets, target, common, bool(brief.reroll)))
    gone = {one.faces for one in dropped}
    kept = [drafts_of(faces, common) for faces in sets if faces not in gone]
    pinned = any(anchored(drafts, reading) for drafts in kept)
    return tuple(_finished(drafts, target, reading, brief, faults) for drafts in kept), dropped, pinned


def _readable(
    brief: NumberingPart,
    reading: Reading | None,
    sizes: list[int],
    target: Distribution | None,
    faults: Faults,
) -> bool:
    """Whether so many dice can be read so and give such results; the faults where not."""
    if reading is None:
        return False
    for size in sizes:
        takes = reading.takes(size)
        if takes is not None:
            found = f'{size} {"die" if size == 1 else "dice"} beside read = "{brief.read}"'
            faults.add(("dice",), found, takes)
            return False
        strange = reading.strange(target, size) if target is not None else None
        if strange is not None:
            faults.add(("like",) if brief.like is not None else ("ways",), *strange)
            return False
    return True


def _finished(
    drafts: tuple[Draft, ...], target: Distribution, reading: Reading, brief: NumberingPart, faults: Faults
) -> tuple[Die, ...]:
    """The dice of one set, within the bound on labels to choose from."""
    dice = finished(drafts, target, reading)
    if slots(dice) > MOST_SLOTS:
        too_many_slots(brief.labels, faults)
    return dice
