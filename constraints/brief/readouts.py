"""What a readouts brief means: from its sound part to the question, with the faults of meaning."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from math import prod

from facewright.constraints.brief.faults import Faults, nearest_keys
from facewright.constraints.brief.goals import goals_of
from facewright.constraints.brief.models import FEW_LABELS, MOST_RESTS, READOUT_FORM, SOLID_FORM, ReadoutsPart
from facewright.constraints.brief.numbering import rank_of
from facewright.constraints.brief.shapes import USUAL, one_solid, shape_of
from facewright.constraints.like import parse_like
from facewright.constraints.question import StopRule
from facewright.constraints.readouts import GOALS_OF_MARKS, Label, Readout, Readouts, Shape
from facewright.constraints.solids.names import solid_named
from facewright.constraints.texts import TextError, quoted

MOST_READOUTS = 8
"""How many readouts one roll may answer."""
MOST_COMBINATIONS = 2_000
"""How many combinations of labels all readouts together may have."""
MOST_WEIGHT = 1_000
"""How large one weight may be."""
LONGEST_NAME = 40
"""Characters of a readout's name, and of a label."""

_WEIGHED = re.compile(rf"([^\s:,]{{1,{LONGEST_NAME}}})\s*:\s*([0-9]{{1,9}})")
_ANY = re.compile(r"any(?:\s+up\s+to\s+([0-9]{1,9}))?", re.IGNORECASE)
_WHOLE = re.compile(r"0|-?[1-9][0-9]{0,8}")


def question_of_readouts(brief: ReadoutsPart, faults: Faults) -> Readouts | None:
    """The question that a readouts brief asks; None, with every fault, where it asks none."""
    if brief.title is None:
        faults.missing("title", 'a title, such as title = "Wind and rain"')
    rank = rank_of(brief.rank, faults)
    readouts = _readouts(brief, faults)
    solids = _solids(brief, faults)
    _on(brief, faults)
    goals = goals_of(brief.layout, faults, GOALS_OF_MARKS)
    shape = _shape(brief, solids, faults)
    if not faults and readouts and solids:
        _fit(readouts, solids, faults)
    if faults or not readouts or not solids:
        return None
    return Readouts(
        readouts=tuple(readouts),
        solids=tuple(solids),
        independent=brief.independent or "best",
        measure=brief.measure or "together",
        share=brief.share or 1,
        same_under=brief.same_under or "rotation",
        rename=bool(brief.rename),
        title=brief.title or "",
        note=brief.note or "",
        asked=_asked(brief.solid),
        stop=StopRule(brief.stop.seconds, brief.stop.designs) if brief.stop else StopRule(),
        rank=rank,
        layout=goals,
        shape=shape,
    )


def parse_readout(name: str, written: int | str, on: str | None = None) -> Readout:
    """A readout as a brief writes it: a number of labels, label:weight pairs, or a distribution such as "2d3".

    Raises TextError, which says what was found and what would be accepted.

    Example:
        >>> parse_readout("rain", "yes:1 no:2").labels
        ('yes', 'no')
        >>> parse_readout("tide", "2d3").weights
        (1, 2, 3, 2, 1)
    """
    asked = str(written)
    if isinstance(written, int):
        pairs: list[tuple[Label, int]] = [(label, 1) for label in range(1, written + 1)]
    elif ":" in written:
        pairs = _weighed(written)
    elif not written.strip() or _WHOLE.fullmatch(written.strip()):
        raise TextError(f"{quoted(written)}, a text", READOUT_FORM)
    else:
        pairs = list(parse_like(written).pairs)
    if len(pairs) == 1:
        raise TextError(f"a readout of one label, {pairs[0][0]}", f"at least two labels: {READOUT_FORM}")
    if len(pairs) > MOST_RESTS:
        raise TextError(f"{len(pairs):,} labels", f"at most {MOST_RESTS}, one a rest: {READOUT_FORM}")
    return Readout.of(name, tuple(label for label, _ in pairs), tuple(w for _, w in pairs), on, asked)


def _weighed(text: str) -> list[tuple[Label, int]]:
    """Label:weight pairs."""
    left = _WEIGHED.sub(" ", text).replace(",", " ").strip()
    if left:
        raise TextError(f"{quoted(left)} in {quoted(text)}", READOUT_FORM)
    pairs: list[tuple[Label, int]] = []
    for label, weight in _WEIGHED.findall(text):
        if not 1 <= int(weight) <= MOST_WEIGHT:
            raise TextError(f"the weight {weight} for {quoted(label)}", f"weights from 1 to {MOST_WEIGHT:,}")
        pairs.append((int(label) if _WHOLE.fullmatch(label) else label, int(weight)))
    twice = [str(label) for label, times in Counter(str(label) for label, _ in pairs).items() if times > 1]
    if twice:
        raise TextError(f"the label {quoted(twice[0])} twice", "each label once, with its weight")
    return pairs


def _readouts(brief: ReadoutsPart, faults: Faults) -> list[Readout]:
    if brief.readouts is None:
        return []
    if not brief.readouts and not any(path[:1] == ("readouts",) for path in faults.spoilt):
        faults.add(("readouts",), "an empty table", "at least one readout, such as { wind = 4, rain = 2 }")
    if len(brief.readouts) > MOST_READOUTS:
        faults.add(
            ("readouts",), f"{len(brief.readouts):,} readouts", f"at most {MOST_READOUTS} from one roll"
        )
        return []
    found = []
    for name, written in brief.readouts.items():
        if not name.strip() or len(name) > LONGEST_NAME or not name.isprintable():
            accepted = f"a name of 1 to {LONGEST_NAME} characters"
            faults.add(("readouts", name), f"{quoted(name)} for a name", accepted)
            continue
        try:
            found.append(parse_readout(name, written, (brief.on or {}).get(name)))
        except TextError as unreadable:
            faults.add(("readouts", name), unreadable.found, unreadable.accepted)
    together = prod(len(one.labels) for one in found)
    if together > MOST_COMBINATIONS:
        faults.add(
            ("readouts",),
            f"{together:,} combinations of labels",
            f"at most {MOST_COMBINATIONS:,}: fewer readouts, or fewer labels",
        )
    return found


def _on(brief: ReadoutsPart, faults: Faults) -> None:
    """`on` speaks of readouts that there are."""
    known: Mapping[str, object] = brief.readouts or {}
    lost = "readouts" in faults.lost_keys or any(path[:1] == ("readouts",) for path in faults.spoilt)
    for name in brief.on or {}:
        if name not in known and not lost:
            accepted = nearest_keys(name, known).replace("known key", "readout")
            faults.add(("on", name), "a readout that the brief does not have", accepted)


def _solids(brief: ReadoutsPart, faults: Faults) -> list[str]:
    """The names of all solids to try, each once."""
    match brief.solid:
        case None:
            faults.missing("solid", f"the solid: {SOLID_FORM}")
            return []
        case str() if (form := _ANY.fullmatch(brief.solid.strip())) is not None:
            return _any(int(form[1]) if form[1] else MOST_RESTS, faults)
        case list():
            found = [
                name
                for at, one in enumerate(brief.solid)
                if (name := one_solid(one, ("solid", at), faults)) is not None
            ]
            return list(dict.fromkeys(found))
        case _:
            name = one_solid(brief.solid, ("solid",), faults)
            return [name] if name is not None else []


def _any(most: int, faults: Faults) -> list[str]:
    from facewright.constraints.solids.catalogue import listed

    if most > MOST_RESTS:
        found = f"any solid up to {most:,} faces"
        faults.add(("solid",), found, f"at most {MOST_RESTS} faces, past which a die is a ball")
        return []
    names = [name for name in listed() if solid_named(name)[1] <= most]
    if not names:
        faults.add(("solid",), f"any solid up to {most} faces", "at least 2 faces")
    return names


def _fit(readouts: list[Readout], solids: list[str], faults: Faults) -> None:
    """Readouts that no solid asked for can carry, since its number of rests is not a multiple of their ways."""
    rests = sorted({solid_named(name)[1] for name in solids})
    for one in readouts:
        if any(many % one.ways == 0 for many in rests):
            continue
        labels = f"{len(one.labels)} labels" if one.even else f"weights that add up to {one.ways}"
        where = f"the {solids[0]}" if len(solids) == 1 else "any of the solids asked for"
        some = f" with its {rests[0]} rests" if len(rests) == 1 else ""
        fitting = [str(n) for n in range(2, rests[-1] + 1) if any(many % n == 0 for many in rests)]
        shown = ", ".join(fitting[:FEW_LABELS]) + (", …" if len(fitting) > FEW_LABELS else "")
        accepted = (
            f"a number that divides the rests ({shown}), or a solid with a multiple of {one.ways} rests"
        )
        faults.add(("readouts", one.name), f"{labels}, which do not fit on {where}{some}", accepted)


def _shape(brief: ReadoutsPart, solids: list[str], faults: Faults) -> Shape:
    """Free proportions, for the one solid or, as an aim, for all of them."""
    if brief.shape is None or not solids:
        return USUAL
    if len(solids) > 1 and not isinstance(brief.shape, str):
        found = f"numbers for {len(solids)} solids"
        faults.add(("shape",), found, '"largest-numeral" or "settles-best"; numbers go with one solid')
        return USUAL
    return shape_of(brief.shape, solids[0], ("shape",), faults)


def _asked(solid: int | str | list[int | str] | None) -> str:
    if isinstance(solid, list):
        return ", ".join(str(one) for one in solid)
    return str(solid or "").strip()
