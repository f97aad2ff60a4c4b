"""A run in plain text for a terminal: the verdict, a table of designs, one design, a distribution."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from facewright.search.report.bars import bar_of, distribution_text
from facewright.search.report.strips import label_text, number_line, stacked, step_of, strip
from facewright.search.report.terminal import (
    NARROWEST,
    bold,
    can_draw,
    clean,
    folded,
    sentence,
    wants_bold,
    wrapped,
)

__all__ = ["can_draw", "details", "distribution_text", "table", "wants_bold"]

SHOWN = ("legible", "familiar", "readability", "cost")
"""The scores in a table, in this order."""

NO_DISTANCE = (None, "0", 0)
"""How a design says that its chances are exactly those wanted."""

WIDE_LABELS = 22
"""From so much room for labels on, a die's scores stand in its line; with less they stand above it."""

SETS_SHOWN = 12
"""How many sets of a choice, or dropped sets, are listed before the rest is counted."""

BAR = 10
"""The cells of a bar that shows a part of a score."""


def table(
    summary: Mapping[str, Any],
    designs: Sequence[Mapping[str, Any]],
    width: int,
    *,
    colour: bool = False,
    plain: bool = False,
) -> str:
    """What a run found: its verdict and reason, its sets where there are several, a table of its designs.

    Params: `summary` and `designs`, best first, as the report takes them; `width` in characters; `colour`
    sets headings in bold by ANSI codes; `plain` keeps to ASCII.
    Returns: lines no longer than `width` (`NARROWEST` at least), without an end of line at the end.
    """
    width = max(width, NARROWEST)
    if plain:
        summary, designs = folded(summary), folded(designs)
    lines = [*_verdict(summary, width, colour), *_sets(summary, width)]
    if designs:
        lines += [
            "",
            *_rows(designs, width, colour, plain),
            "",
            *wrapped(_caption(summary, designs, width), width),
        ]
    return "\n".join(lines)


def details(
    summary: Mapping[str, Any],
    design: Mapping[str, Any],
    width: int,
    *,
    colour: bool = False,
    plain: bool = False,
) -> str:
    """One design: each die drawn as its labels along one number line, and why it ranks where it does.

    Params and returns as for `table`.
    """
    width = max(width, NARROWEST)
    if plain:
        summary, design = folded(summary), folded(design)
    lowest, highest = _bounds([design])
    about = _set_of(summary, design)
    lines = [*_headed(f"{clean(summary['title'])}: design {design['id']}", width, colour)]
    lines += wrapped(_standing(design), width)
    for at, labels in enumerate(design["dice"]):
        lines += ["", *_headed(_die_heading(at, labels, about), width, colour)]
        lines += wrapped(label_text(labels, 2 * width, plain), width, "  ")
        lines += [f"  {row}" for row in stacked(labels, lowest, highest, width - 2, plain)]
    scores, parts = design["scores"], design.get("parts", {})
    for name in SHOWN:
        if name in scores:
            unit = "points" if name == "cost" else "of 100"
            lines += ["", bold(f"{name} {scores[name]} {unit}", colour)]
            lines += _parts(parts.get(name, ()), width, plain)
    return "\n".join(lines)


def _verdict(summary: Mapping[str, Any], width: int, colour: bool) -> Iterator[str]:
    yield from _headed(clean(summary["sentence"]), width, colour)
    if summary.get("reason"):
        yield from wrapped(clean(summary["reason"]), width)
    evidence = summary.get("evidence") or {}
    if evidence:
        said = ["proved" if evidence.get("proved") else "not proved"]
        if evidence.get("engine"):
            said.append(f"engine: {clean(evidence['engine'])}")
        if evidence.get("recounted") is not None:
            said.append(f"{evidence['recounted']:,} recounted")
        if evidence.get("bound") is not None:
            said.append(f"bound reached: {clean(evidence['bound'])}")
        if evidence.get("seconds") is not None:
            said.append(f"{evidence['seconds']:.3g} s")
        yield from wrapped(sentence(said), width)


def _headed(text: str, width: int, colour: bool) -> Iterator[str]:
    return (bold(line, colour) for line in wrapped(text, width))


def _sets(summary: Mapping[str, Any], width: int) -> Iterator[str]:
    sets, dropped = summary.get("sets") or [], summary.get("dropped") or []
    if len(sets) > 1:
        yield ""
        yield "Sets tried"
        shown = sorted(sets, key=lambda one: -(one.get("count") or 0))[:SETS_SHOWN]
        for one in shown:
            faces = " + ".join(str(die["faces"]) for die in one["dice"])
            count = one.get("count") or 0
            reason = f": {clean(one['reason'])}" if one.get("reason") and not count else ""
            yield from wrapped(f"{faces}: {count:,} design{'s' * (count != 1)}{reason}", width, "  ")
        if len(sets) > len(shown):
            yield f"  and {len(sets) - len(shown):,} more"
    if dropped:
        yield ""
        yield "Sets dropped before any search"
        for one in dropped[:SETS_SHOWN]:
            yield from wrapped(f"{' + '.join(map(str, one['faces']))}: {clean(one['reason'])}", width, "  ")
        if len(dropped) > SETS_SHOWN:
            yield f"  and {len(dropped) - SETS_SHOWN:,} more"


def _rows(designs: Sequence[Mapping[str, Any]], width: int, colour: bool, plain: bool) -> Iterator[str]:
    """A line a die under one heading; in a narrow terminal a design's scores stand above its dice."""
    lowest, highest = _bounds(designs)
    cells = _cells(designs, width)
    digits = max(len(str(len(labels))) for one in designs for labels in one["dice"])
    most = max(max(Counter(labels).values()) for one in designs for labels in one["dice"])
    columns = _columns(designs)
    heads = "  ".join(name.rjust(size) for name, size in columns)
    numbers = f"{'':{digits}}  {number_line(lowest, highest, cells):<{cells}}"
    room = width - len(f"{'':15}{numbers}    {heads}")
    wide = room >= WIDE_LABELS
    if wide:
        yield bold(f"{'rank':>5} {'design':<8} {numbers}  {'labels':<{room}}  {heads}", colour)
    else:
        columns = columns[: len(SHOWN)]
        room = width - len(f"{'':6}{numbers}  ")
        yield bold(f"{'rank':>5} {'design':<6}  {_joined(columns)}", colour)
        yield f"{'':6}{numbers}".rstrip()
    for one in designs:
        dice = []
        for labels in one["dice"]:
            drawing = strip(labels, lowest, highest, cells, most=most, plain=plain)
            text, *more = textwrap.wrap(label_text(labels, room, plain), room)
            dice.append((f"{len(labels):>{digits}}  {drawing:<{cells}}", text))
            dice += [(" " * len(numbers), line) for line in more]
        yield from (_wide(one, columns, dice, room) if wide else _narrow(one, columns, dice, width))


def _wide(
    design: Mapping[str, Any], columns: Sequence[tuple[str, int]], dice: list[tuple[str, str]], room: int
) -> Iterator[str]:
    ordinary = "ordinary" if design.get("ordinary") else ""
    if ordinary and len(dice) == 1:
        dice = [*dice, ("", "")]
    values = "  ".join(_value(design, name).rjust(size) for name, size in columns)
    for at, (drawn, text) in enumerate(dice):
        left = (f"{_rank(design):>5} {design['id'][:6]:<8}", f"{'':5} {ordinary:<8}", " " * 14)[min(at, 2)]
        yield f"{left} {drawn}  {text:<{room}}  {values if at == 0 else ''}".rstrip()


def _narrow(
    design: Mapping[str, Any], columns: Sequence[tuple[str, int]], dice: list[tuple[str, str]], width: int
) -> Iterator[str]:
    values = _joined([(_value(design, name), size) for name, size in columns])
    notes = ["ordinary"] if design.get("ordinary") else []
    if design.get("distance") not in NO_DISTANCE:
        notes.append(f"distance {design['distance']}")
    if design.get("chance"):
        notes.append(f"least chance {design['chance']}")
    line, note = f"{_rank(design):>5} {design['id'][:6]:<6}  {values}", ", ".join(notes)
    if len(line) + 2 + len(note) <= width:
        yield f"{line}  {note}".rstrip()
    else:
        yield line
        yield f"{'':6}{note}"
    yield from (f"{'':6}{drawn}  {text}" for drawn, text in dice)


def _joined(columns: Sequence[tuple[str, int]]) -> str:
    return " ".join(text.rjust(size) for text, size in columns)


def _rank(design: Mapping[str, Any]) -> str:
    return f"{design['rank']}{'=' if design.get('tied') else ' '}"


def _cells(designs: Sequence[Mapping[str, Any]], width: int) -> int:
    """How many cells the strips of a table have."""
    lowest, highest = _bounds(designs)
    step = step_of(lowest, highest, 40 if width >= 120 else 24)
    return (highest - lowest) // step + 1


def _columns(designs: Sequence[Mapping[str, Any]]) -> list[tuple[str, int]]:
    names = list(SHOWN)
    if any(one.get("distance") not in NO_DISTANCE for one in designs):
        names.append("distance")
    if any(one.get("chance") for one in designs):
        names.append("chance")
    return [(name, max(len(name), *(len(_value(one, name)) for one in designs))) for name in names]


def _value(design: Mapping[str, Any], name: str) -> str:
    found = design.get(name) if name in ("distance", "chance") else design["scores"].get(name)
    if found is None:
        return "-"
    return f"{found:.1f}" if name == "cost" else str(found)


def _caption(summary: Mapping[str, Any], designs: Sequence[Mapping[str, Any]], width: int) -> str:
    lowest, highest = _bounds(designs)
    step = step_of(lowest, highest, _cells(designs, width))
    said = ["A die is drawn as its labels along one number line, a label on more faces standing higher."]
    if step > 1:
        said.append(f"Each mark stands for {step} numbers.")
    if any(one.get("tied") for one in designs):
        said.append("= shares its rank.")
    said.append("Scores are of 100, more is better; cost is in points, less is better.")
    count = summary.get("count")
    if count is not None and count > len(designs):
        least = "at least " if summary.get("count_is") == "at least" else ""
        said.append(f"{len(designs):,} of {least}{count:,} designs are shown.")
    return " ".join(said)


def _standing(design: Mapping[str, Any]) -> str:
    said = [f"rank {design['rank']}{', shared' if design.get('tied') else ''}"]
    if "overall" in design["scores"]:
        said.append(f"overall {design['scores']['overall']} of 100")
    if design.get("ordinary"):
        said.append("ordinary dice")
    if design.get("distance") not in NO_DISTANCE:
        said.append(f"distance {design['distance']} from what was wanted")
    if design.get("chance"):
        said.append(f"least chance {design['chance']}")
    return sentence(said)


def _die_heading(at: int, labels: Sequence[int], about: Mapping[str, Any]) -> str:
    dice = about.get("dice") or []
    die = dice[at] if at < len(dice) else {}
    said = [f"Die {at + 1}"]
    if die.get("name"):
        said.append(f", {clean(die['name'])}")
    said.append(f": {len(labels)} faces" if (die.get("copies") or 1) == 1 else f": {len(labels)} labels")
    if die.get("solid"):
        said.append(f", {clean(die['solid'])}")
    if (die.get("copies") or 1) > 1:
        said.append(f", each label on {die['copies']} faces")
    return "".join(said)


def _set_of(summary: Mapping[str, Any], design: Mapping[str, Any]) -> Mapping[str, Any]:
    sets = summary.get("sets") or []
    at = design.get("set") or 0
    return sets[at] if at < len(sets) else {}


def _parts(parts: Sequence[Mapping[str, Any]], width: int, plain: bool) -> Iterator[str]:
    longest = max((len(part["name"]) for part in parts), default=0)
    for part in parts:
        bar = bar_of(part["share"], BAR, plain)
        start = f"  {part['name']:<{longest}}  {bar}  "
        text = textwrap.wrap(clean(part["words"]), max(12, width - len(start))) or [""]
        yield f"{start}{text[0]}".rstrip()
        yield from (f"{'':{len(start)}}{more}" for more in text[1:])


def _bounds(designs: Sequence[Mapping[str, Any]]) -> tuple[int, int]:
    dice = [labels for one in designs for labels in one["dice"]]
    return min(map(min, dice)), max(map(max, dice))
