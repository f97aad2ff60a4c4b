"""What a numbering brief means whose dice are rolled against one another: the question of a contest, or its faults."""

from __future__ import annotations

import re
from fractions import Fraction

from facewright.constraints.brief.choice import drafts_of, sets_of, too_few
from facewright.constraints.brief.dice import MOST_SLOTS, Draft, ListOfDice, slots, too_many_slots
from facewright.constraints.brief.faults import Faults
from facewright.constraints.brief.goals import goals_of
from facewright.constraints.brief.models import DiePart, NumberingPart, fields_of
from facewright.constraints.brief.numbering import BELONGS, rank_of, required
from facewright.constraints.brief.rules import PARTS, check, stated
from facewright.constraints.contest import BEATS, ORDERS, Contest
from facewright.constraints.duels import Arc, two_beaten_by_one
from facewright.constraints.labels import Die
from facewright.constraints.layout import GOALS_WITHOUT_DRAW
from facewright.constraints.orders import EVERY, impossible
from facewright.constraints.question import DroppedSet, StopRule
from facewright.constraints.texts import TextError, quoted

MOST_DUELLING = 30
"""How many dice may beat one another."""
MOST_ORDERED = 6
"""How many dice may come in in every order: they have 720 orders already."""
ANY_TWO = "any-two"
"""The pattern in which any two dice are beaten by a third."""

_CHANCE = re.compile(r"(more than\s+|at least\s+)?([0-9]{1,9})\s*/\s*([0-9]{1,9})")


def question_of_contest(brief: NumberingPart, faults: Faults) -> Contest | None:
    """The question of a contest that a brief asks; None, with every fault, where it asks none."""
    read = brief.read or BEATS
    required(brief, faults)
    _foreign_keys(brief, read, faults)
    rank = rank_of(brief.rank, faults)
    goals = goals_of(brief.layout, faults, GOALS_WITHOUT_DRAW)
    chance, strictly = _chance(brief, faults)
    sets, dropped = _sets(brief, read, faults)
    beats = _pattern(brief, {len(dice) for dice in sets}, faults) if sets else ()
    if faults:
        return None
    return Contest(
        read=read,
        sets=sets,
        ties=brief.ties or "lose",
        chance_at_least=chance,
        strictly=strictly,
        beats=beats,
        fair=brief.fair or EVERY,
        title=brief.title or "",
        note=brief.note or "",
        dropped=dropped,
        choice=brief.dice.strip() if isinstance(brief.dice, str) else "",
        stop=StopRule(brief.stop.seconds, brief.stop.designs) if brief.stop else StopRule(),
        rank=rank,
        layout=goals,
    )


def _foreign_keys(brief: NumberingPart, read: str, faults: Faults) -> None:
    """The faults of keys that do not go with dice rolled against one another."""
    for key in ("like", "ways"):
        if getattr(brief, key) is not None:
            accepted = f'no such key: read = "{read}" compares dice with one another'
            faults.add((key,), "a distribution that is wanted", accepted)
    for key in ("accept", "nearest"):
        if getattr(brief, key) not in (None, "exact"):
            accepted = "no such key"
            if read == BEATS:
                accepted += ": without chance_at_least the best least chance is looked for"
            faults.add((key,), f'"{getattr(brief, key)}" beside read = "{read}"', accepted)
    for key, readings in BELONGS.items():
        if getattr(brief, key) is not None and read not in readings:
            words = " or ".join(f'"{reading}"' for reading in readings)
            faults.add((key,), f"a key that goes with read = {words}", f'no such key beside read = "{read}"')
    if brief.reroll is not None:
        faults.add(("reroll",), "labels that are rolled again", f'no such key beside read = "{read}"')
    if brief.also:
        faults.add(("also",), "further rules", f'no such key: none are kept beside read = "{read}"')
    if read == ORDERS:
        _labels_are_told(brief, faults)


def _labels_are_told(brief: NumberingPart, faults: Faults) -> None:
    """The faults of rules for labels that are fixed already: each number from 1 to all faces stands once."""
    accepted = f'no such key: with read = "{ORDERS}" the labels are 1 to the number of all faces, once each'
    if brief.labels is not None:
        faults.add(("labels",), "rules for labels", accepted)
    for at, item in enumerate(brief.dice if isinstance(brief.dice, list) else []):
        if isinstance(item, DiePart):
            for key in ("labels", "exactly"):
                if getattr(item, key) is not None:
                    faults.add(("dice", at, key), "rules for labels", accepted)


def _chance(brief: NumberingPart, faults: Faults) -> tuple[Fraction | None, bool]:
    """The chance asked for, and whether it must be passed."""
    text = brief.chance_at_least
    if text is None:
        return None, False
    form = _CHANCE.fullmatch(text.strip())
    if form is None or not int(form[3]) or not 0 < Fraction(int(form[2]), int(form[3])) <= 1:
        faults.add(("chance_at_least",), quoted(text), fields_of(NumberingPart)["chance_at_least"])
        return None, False
    return Fraction(int(form[2]), int(form[3])), (form[1] or "").startswith("more")


def _sets(
    brief: NumberingPart, read: str, faults: Faults
) -> tuple[tuple[tuple[Die, ...], ...], tuple[DroppedSet, ...]]:
    """Every set of dice to try, and the sets of a choice that are dropped."""
    most = MOST_DUELLING if read == BEATS else MOST_ORDERED
    if isinstance(brief.dice, list):
        if not 2 <= len(brief.dice) <= most:
            many = "1 die" if len(brief.dice) == 1 else f"{len(brief.dice)} dice"
            faults.add(("dice",), f'{many} beside read = "{read}"', f"2 to {most} dice")
        drafts = ListOfDice(brief.labels, faults).drafts(brief.dice)
        return ((_finished(drafts, brief, faults),), ()) if drafts is not None else ((), ())
    common = stated(brief.labels)
    check(common, faults)
    if brief.dice is None:
        return (), ()
    try:
        sets = sets_of(brief.dice)
    except TextError as unreadable:
        faults.add(("dice",), unreadable.found, unreadable.accepted)
        return (), ()
    wrong = [size for size in sorted({len(one) for one in sets}) if not 2 <= size <= most]
    if wrong:
        found = f'sets of {"1 die" if wrong[0] == 1 else f"{wrong[-1]} dice"} beside read = "{read}"'
        faults.add(("dice",), found, f"sets of 2 to {most} dice")
    if wrong or common.doubtful(faults, *PARTS):
        return (), ()
    dropped = []
    for faces in sets:
        reason = too_few(faces, common)
        if reason is None and read == ORDERS:
            reason = impossible(faces, brief.fair or EVERY)
        if reason is not None:
            dropped.append(DroppedSet(faces, reason))
    gone = {one.faces for one in dropped}
    kept = (drafts_of(faces, common) for faces in sets if faces not in gone)
    return tuple(_finished(drafts, brief, faults) for drafts in kept), tuple(dropped)


def _finished(drafts: tuple[Draft, ...], brief: NumberingPart, faults: Faults) -> tuple[Die, ...]:
    """The dice of one set; the highest label is the number of all faces unless a brief states one."""
    faces = sum(draft.shape.faces for draft in drafts)
    dice = tuple(draft.die(max(faces, draft.lowest_label), None) for draft in drafts)
    if slots(dice) > MOST_SLOTS:
        too_many_slots(brief.labels, faults)
    return dice


def _pattern(brief: NumberingPart, sizes: set[int], faults: Faults) -> tuple[Arc, ...]:
    """Who is to beat whom, where the brief says it; nothing stands for each the next."""
    wanted = brief.beats
    if wanted is None:
        return ()
    if len(sizes) != 1:
        accepted = "a choice of sets with equally many dice, or no such key"
        faults.add(("beats",), "a pattern for sets of different sizes", accepted)
        return ()
    dice = min(sizes)
    if not isinstance(wanted, str):
        return _listed(wanted, dice, faults)
    if wanted.strip() != ANY_TWO:
        faults.add(("beats",), quoted(wanted), fields_of(NumberingPart)["beats"])
        return ()
    arcs = two_beaten_by_one(dice)
    if arcs is None:
        known = [many for many in range(2, MOST_DUELLING + 1) if two_beaten_by_one(many) is not None]
        told = f"{', '.join(map(str, known))} dice, or a list of who beats whom"
        faults.add(("beats",), f'"{ANY_TWO}" for {dice} dice', told)
    return arcs or ()


def _listed(wanted: list[list[int] | None], dice: int, faults: Faults) -> tuple[Arc, ...]:
    """The arcs of a list such as [[1, 2], [2, 3], [3, 1]]."""
    arcs: list[Arc] = []
    for at, pair in enumerate(wanted):
        if pair is None:
            continue
        found = None
        if not all(1 <= one <= dice for one in pair):
            found = f"{pair} for {dice} dice"
        elif pair[0] == pair[1]:
            found = "a die that is to beat itself"
        elif (pair[0] - 1, pair[1] - 1) in arcs:
            found = f"{pair} for the second time"
        if found is None:
            arcs.append((pair[0] - 1, pair[1] - 1))
        else:
            accepted = f"two different dice from 1 to {dice}, such as [1, 2], each pair once"
            faults.add(("beats", at), found, accepted)
    return tuple(arcs)
