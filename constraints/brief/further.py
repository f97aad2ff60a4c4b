"""The further rules of a brief (`also`): from its tables to rules, with the faults of meaning."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

from facewright.constraints.brief.faults import Faults, Path
from facewright.constraints.brief.models import AlsoPart, fields_of
from facewright.constraints.brief.target import target_in
from facewright.constraints.further import AlsoRead, Distinct, EqualLabels, Further, SameMean, Symmetric
from facewright.constraints.readings import PARAMETERS, READINGS, How, reading_of

KEYS: dict[str, tuple[str, ...]] = {
    EqualLabels.rule: ("chance",),
    SameMean.rule: (),
    Symmetric.rule: (),
    Distinct.rule: ("at_most",),
    AlsoRead.rule: ("read", "like", "ways", "modulo", "keep", "at_least"),
}
"""The keys that go with each rule."""

CHANCE = 'a fraction from 0 to 1 as a text, such as "1/6"'
_FRACTION = re.compile(r"\s*([0-9]{1,30})\s*(?:/\s*([0-9]{1,30})\s*)?")


def further_of(
    written: Sequence[AlsoPart | None] | None, sizes: Sequence[int], faults: Faults
) -> tuple[Further, ...]:
    """The further rules; with faults, those that are sound.

    Params:
        written: the tables of the brief.
        sizes: how many dice the sets have.
        faults: takes keys that do not go with their rule, missing ones, and rules that so many dice cannot keep.
    """
    found = [
        _rule(part, ("also", at), sizes, faults) for at, part in enumerate(written or ()) if part is not None
    ]
    rules = [rule for rule in found if rule is not None]
    for at, rule in enumerate(rules):
        if rule in rules[:at]:
            faults.add(("also", at), f'the rule "{rule.rule}" for the second time', "each rule once")
    return tuple(rules)


def _rule(part: AlsoPart, path: Path, sizes: Sequence[int], faults: Faults) -> Further | None:
    if part.rule is None:
        if not any(spoilt[: len(path)] == path for spoilt in faults.spoilt):
            faults.add(path, "a table without `rule`", f"rule = {fields_of(AlsoPart)['rule']}")
        return None
    strange = [key for key in fields_of(AlsoPart) if key != "rule" and key not in KEYS[part.rule]]
    for key in strange:
        if getattr(part, key) is not None:
            owners = " or ".join(f'rule = "{rule}"' for rule, keys in KEYS.items() if key in keys)
            faults.add(
                (*path, key), f"a key that goes with {owners}", f'no such key beside rule = "{part.rule}"'
            )
    if part.rule in (EqualLabels.rule, SameMean.rule) and sizes and min(sizes) < 2:
        faults.add((*path, "rule"), f'"{part.rule}" for one die', "two dice or more")
        return None
    match part.rule:
        case EqualLabels.rule:
            return _equal_labels(part, path, faults)
        case SameMean.rule:
            return SameMean()
        case Symmetric.rule:
            return Symmetric()
        case Distinct.rule:
            if part.at_most is None:
                _missing((*path, "at_most"), fields_of(AlsoPart)["at_most"], faults)
                return None
            return Distinct(part.at_most)
    return _also_read(part, path, sizes, faults)


def _missing(path: Path, accepted: str, faults: Faults) -> None:
    if path not in faults.spoilt:
        faults.add(path, "nothing: the key is missing", accepted)


def _equal_labels(part: AlsoPart, path: Path, faults: Faults) -> EqualLabels | None:
    if part.chance is None:
        _missing((*path, "chance"), CHANCE, faults)
        return None
    form = _FRACTION.fullmatch(part.chance)
    chance = None if form is None or int(form[2] or 1) == 0 else Fraction(int(form[1]), int(form[2] or 1))
    if chance is None or chance > 1:
        faults.add((*path, "chance"), f'"{part.chance[:40]}"', CHANCE)
        return None
    return EqualLabels(chance)


def _also_read(part: AlsoPart, path: Path, sizes: Sequence[int], faults: Faults) -> AlsoRead | None:
    if part.read is None:
        _missing((*path, "read"), fields_of(AlsoPart)["read"], faults)
        return None
    if part.read not in READINGS:
        known = ", ".join(f'"{name}"' for name in READINGS)
        faults.add((*path, "read"), f'"{part.read}"', f"{known}: no other reading has a target")
        return None
    target = target_in(part, part.read, path, faults)
    needed = PARAMETERS.get(part.read, ())
    told = {
        key: getattr(part, key) for key in ("modulo", "keep", "at_least") if getattr(part, key) is not None
    }
    for key in needed:
        if key not in told:
            _missing((*path, key), f'{fields_of(AlsoPart)[key]}: read = "{part.read}" needs it', faults)
    for key in told:
        if key not in needed:
            faults.add((*path, key), f'a key beside read = "{part.read}"', "no such key there")
    if target is None or set(told) != set(needed):
        return None
    how: How = tuple(sorted(told.items()))
    reading = reading_of(part.read, how)
    for size in sizes:
        if (takes := reading.takes(size)) is not None:
            dice = "die" if size == 1 else "dice"
            faults.add((*path, "read"), f'"{part.read}" beside {size} {dice}', takes)
            return None
        if (strange := reading.strange(target, size)) is not None:
            faults.add((*path, "like" if part.like is not None else "ways"), *strange)
            return None
    return AlsoRead(part.read, target, how, (part.like or "").strip())
