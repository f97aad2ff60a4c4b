"""The label rules of one die: the brief's, with the die's own over them part by part; checked, completed."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from facewright.constraints.brief.faults import Faults, Path
from facewright.constraints.brief.models import LabelPart
from facewright.constraints.labels import LabelRules

LOWEST = 1
"""The least label where a brief names none."""
PARTS = ("lowest", "highest", "repeats", "only", "avoid")


@dataclass(frozen=True)
class Stated:
    """The parts of the rules that a brief states for a die, and the path where each stands.

    `tables` are the paths where parts may stand.
    """

    values: dict[str, Any]
    paths: dict[str, Path]
    tables: tuple[Path, ...]

    def doubtful(self, faults: Faults, *parts: str) -> bool:
        """Whether one of these parts is not known, since what the brief says of it is at fault already."""
        for part in parts:
            table = self.paths[part][:-1] if part in self.paths else None
            over = self.tables if table is None else self.tables[self.tables.index(table) + 1 :]
            if any(one in faults.spoilt or (*one, part) in faults.spoilt for one in over):
                return True
        return False

    @cached_property
    def only(self) -> tuple[int, ...] | None:
        """The labels listed, sorted, each once."""
        return tuple(sorted(set(self.values["only"]))) if "only" in self.values else None

    @cached_property
    def avoid(self) -> tuple[int, ...]:
        """The labels barred, sorted, each once."""
        return tuple(sorted(set(self.values.get("avoid", ()))))

    @cached_property
    def lowest(self) -> int:
        """The lower bound: stated, else from `only`, else 1."""
        return int(self.values.get("lowest", self.only[0] if self.only else LOWEST))

    @cached_property
    def highest(self) -> int | None:
        """The upper bound: stated, else from `only`, else None: what the target allows."""
        return self.values.get("highest", self.only[-1] if self.only else None)

    @cached_property
    def room(self) -> int | None:
        """How many different labels the stated parts allow; None where there is no upper bound among them."""
        if self.highest is None:
            return None
        inside = range(self.lowest, self.highest + 1)
        if self.only is not None:
            return sum(x in inside for x in set(self.only) - set(self.avoid))
        return len(inside) - sum(x in inside for x in self.avoid)

    def too_few(self, faces: int, faults: Faults | None = None) -> str | None:
        """Why the stated parts cannot label so many faces; None where they can, or where `faults` leave it open."""
        room, repeats = self.room, self.values.get("repeats")
        if faults is not None and self.doubtful(faults, *PARTS):
            sure = self.only is not None and not self.doubtful(faults, "only", "repeats")
            room = len(self.only or ()) if sure else None
        if room is None or repeats is None or room * repeats >= faces:
            return None
        labels = "label" if room == 1 else "labels"
        return f"{room} {labels} allowed, each at most {repeats}×, fill {room * repeats} of {faces} faces"

    def rules(self, highest: int) -> LabelRules:
        """The rules, with the upper bound that holds where none is stated."""
        bound = highest if self.highest is None else self.highest
        repeats = self.values.get("repeats")
        return LabelRules(self.lowest, bound, repeats, self.only, self.avoid, frozenset(self.values))


def stated(common: LabelPart | None, own: LabelPart | None = None, own_path: Path = ()) -> Stated:
    """The brief's `labels` with a die's own over them, part by part."""
    values: dict[str, Any] = {}
    paths: dict[str, Path] = {}
    for part, path in ((common, ("labels",)), (own, own_path)):
        for name in PARTS:
            value = getattr(part, name, None)
            if value is not None:
                values[name] = value
                paths[name] = (*path, name)
    return Stated(values, paths, (("labels",), own_path) if own_path else (("labels",),))


def check(rules: Stated, faults: Faults) -> bool:
    """Whether the stated parts allow any label at all; the fault where they do not."""
    low, high = rules.lowest, rules.highest
    if high is None or rules.room:
        return True
    both = "lowest" in rules.paths and "highest" in rules.paths
    crossed = low > high and both and not rules.doubtful(faults, "lowest", "highest")
    if not crossed and rules.doubtful(faults, "lowest", "highest", "only", "avoid"):
        return True
    if crossed or (low > high and rules.only is None):
        part = max((p for p in ("lowest", "highest") if p in rules.paths), key=lambda p: len(rules.paths[p]))
        given = "" if "lowest" in rules.paths else " (the default)"
        found = f"lowest {low:,}{given} and highest {high:,}"
        faults.add(rules.paths[part], found, f"a highest of at least {low:,}, or a lower lowest")
    elif rules.only is not None:
        beside = [f"{part} {rules.values[part]:,}" for part in ("lowest", "highest") if part in rules.values]
        beside += [f"avoid {_listed(rules.avoid)}"] if rules.avoid else []
        found = f"{_listed(rules.only)}, of which no label is left beside {' and '.join(beside)}"
        faults.add(rules.paths["only"], found, "at least one label within the bounds that is not avoided")
    else:
        found = f"all labels from {low:,} to {high:,}"
        faults.add(rules.paths["avoid"], found, "a list that leaves at least one label")
    return False


def broken_by(labels: list[int], own: Stated) -> str | None:
    """What a die's fixed labels break among its own rules; None where they keep them all."""
    for label, count in sorted(Counter(labels).items()):
        if "lowest" in own.values and label < own.values["lowest"]:
            return f"the label {label}, below the die's own lowest {own.values['lowest']}"
        if "highest" in own.values and label > own.values["highest"]:
            return f"the label {label}, above the die's own highest {own.values['highest']}"
        if own.only is not None and label not in own.only:
            return f"the label {label}, not among the die's own only"
        if label in own.avoid:
            return f"the label {label}, which the die's own avoid bars"
        if "repeats" in own.values and count > own.values["repeats"]:
            return (
                f"the label {label} {count}×, more often than the die's own repeats {own.values['repeats']}"
            )
    return None


def _listed(labels: tuple[int, ...]) -> str:
    shown = ", ".join(str(label) for label in labels[:6])
    return f"[{shown}{', …' if len(labels) > 6 else ''}]"
