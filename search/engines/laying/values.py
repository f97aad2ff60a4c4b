"""The goals of a layout as whole numbers that can be compared, with what arithmetic says about each."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import gcd
from typing import Literal

from facewright.constraints.face_map import FaceMap
from facewright.constraints.layout import Layout
from facewright.constraints.model.units import Limits, Scale

Part = Literal["opposite", "vertices", "across", "corner", "consecutive"]

PARTS: dict[str, tuple[Part, ...]] = {
    "opposite-sums": ("opposite",),
    "even-vertices": ("vertices",),
    "apart": ("across", "corner"),
    "no-neighbours": ("consecutive",),
}
"""The whole numbers that each goal makes small, what matters most first; guards have none."""


@dataclass(frozen=True)
class Value:
    """A whole number that a goal wants small.

    Deviations are in the scale's numbers. They can take certain values only: the sum of d numbers is d·r plus a
    multiple of `jump`, where r is what all numbers leave when divided by it; `sizes` are the d that occur.
    """

    part: Part
    sizes: tuple[int, ...] = ()
    remainder: int = 0
    jump: int = 1

    @property
    def least(self) -> int:
        """What no layout can go below, by divisibility."""
        return max((self.from_size(size, 0) for size in self.sizes), default=0)

    def after(self, value: int) -> int:
        """The least value above one that a layout could have, by divisibility."""
        if not self.sizes:
            return value + 1
        return min(self.from_size(size, value + 1) for size in self.sizes)

    def of(self, found: Limits) -> int:
        """The value of a layout."""
        return int(getattr(found, self.part))

    def limited(self, limits: Limits, value: int) -> Limits:
        """The limits with one for this value."""
        return replace(limits, **{self.part: value})

    def from_size(self, size: int, least: int) -> int:
        """The least |d·r + k·jump| that is not below `least`."""
        start = size * self.remainder % self.jump
        tops = (start, self.jump - start)
        return min(one + max(0, -((one - least) // self.jump)) * self.jump for one in tops)


def values_of(question: Layout, faces: FaceMap) -> tuple[tuple[str, Value], ...]:
    """The values of a question's goals before its first guard, in their order, each with its goal.

    Goals that say nothing about these labels or this solid are left out: sums of words, opposite faces where there are
    none.
    """
    guards = [at for at, goal in enumerate(question.goals) if goal not in PARTS]
    return _values(question, faces, question.goals[: guards[0]] if guards else question.goals)


def values_after(question: Layout, faces: FaceMap) -> tuple[tuple[str, Value], ...]:
    """The values of the goals after the first guard."""
    return tuple(
        one for one in _values(question, faces, question.goals) if one not in values_of(question, faces)
    )


def _values(question: Layout, faces: FaceMap, goals: tuple[str, ...]) -> tuple[tuple[str, Value], ...]:
    scale = Scale.of(question.labels)
    jump = 0
    for number in scale.numbers:
        jump = gcd(jump, number - scale.numbers[0])
    remainder = scale.numbers[0] % jump if jump else 0
    found: list[tuple[str, Value]] = []
    for goal, part in ((one, part) for one in goals for part in PARTS.get(one, ())):
        if part in ("opposite", "vertices", "consecutive") and not scale.step:
            continue
        sizes = {"opposite": (2,) if faces.opposite else (), "vertices": faces.degrees}.get(part, ())
        # all labels are equal, or no faces meet so
        if part in ("opposite", "vertices") and not (sizes and jump):
            continue
        found.append((goal, Value(part, sizes, remainder, jump or 1)))
    return tuple(found)


def opposite_least(question: Layout, faces: FaceMap) -> int:
    """The least that the largest deviation of opposite faces can be, in the scale's numbers.

    The least label beside the greatest, and so on inwards, is best: of any two pairs a ≤ b ≤ c ≤ d the sums a + d and
    b + c lie between the sums of any other pairing.
    """
    scale = Scale.of(question.labels)
    numbers = sorted(scale.number(label) for label in question.labels)
    if not faces.opposite:
        return 0
    return max(abs(a + b) for a, b in zip(numbers, reversed(numbers), strict=True))
