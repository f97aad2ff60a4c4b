"""Dice as a question asks for them: face count, solid and the rules that their labels must keep."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field


@dataclass(frozen=True)
class LabelRules:
    """What the labels of one die must keep, every default filled in.

    `lowest` and `highest` bound the labels; `repeats` bounds how often one label may stand on the die (None: no
    bound); `only`, sorted, lists the labels allowed (None: all between the bounds); `avoid`, sorted, those barred.
    `given` names the parts that the brief states itself; it serves reasons only and does not tell questions apart.
    """

    lowest: int
    highest: int
    repeats: int | None = None
    only: tuple[int, ...] | None = None
    avoid: tuple[int, ...] = ()
    given: frozenset[str] = field(default=frozenset(), compare=False)

    def allowed(self) -> tuple[int, ...]:
        """The labels that a face may carry, sorted."""
        barred = set(self.avoid)
        pool = range(self.lowest, self.highest + 1) if self.only is None else self.only
        return tuple(x for x in pool if self.lowest <= x <= self.highest and x not in barred)

    def keep(self, labels: Iterable[int]) -> bool:
        """Whether these labels keep every rule."""
        counts = Counter(labels)
        inside = all(self.lowest <= x <= self.highest and x not in self.avoid for x in counts)
        listed = self.only is None or set(counts) <= set(self.only)
        return inside and listed and (self.repeats is None or max(counts.values()) <= self.repeats)


@dataclass(frozen=True)
class Die:
    """One die of a question: `faces` labels on a solid that has `copies` times as many faces.

    `exactly`, sorted, fixes the labels. `shape` gives free proportions of the solid: what they serve, or numbers. Two
    dice are interchangeable when they are equal; `place` is the die's place in the roll where the reading heeds the
    order of the dice, and tells them apart then.
    """

    faces: int
    solid: str
    copies: int
    rules: LabelRules
    exactly: tuple[int, ...] | None = None
    name: str | None = None
    shape: str | float | tuple[float, ...] = "largest-numeral"
    place: int | None = None

    @property
    def lowest_label(self) -> int:
        """The least label that may stand on the die."""
        return self.exactly[0] if self.exactly else self.rules.lowest

    def keeps(self, labels: tuple[int, ...]) -> bool:
        """Whether sorted labels are an answer for this die: as many as its faces, within every rule."""
        if self.exactly is not None:
            return labels == self.exactly
        return len(labels) == self.faces and self.rules.keep(labels)


def interchangeable(dice: tuple[Die, ...]) -> list[list[int]]:
    """The positions of dice that may be exchanged, a list a group, in order of first appearance."""
    groups: dict[Die, list[int]] = {}
    for position, die in enumerate(dice):
        groups.setdefault(die, []).append(position)
    return list(groups.values())
