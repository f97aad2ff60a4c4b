"""The goals of a layout as whole numbers that can be compared, with what arithmetic says about each."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
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
        return max((self._from(size, 0) for size in self.sizes), default=0)

    def after(self, value: int) -> int:
        """The least value above one that a layout could have, by divisibility."""
        if not self.sizes:
            return value + 1
        return min(self._from(size, value + 1) for size in self.sizes)

    def of(self, found: Limits) -> int:
        """The value of a layout."""
        return int(getattr(found, self.part))

    def limited(self, limits: Limits, value: int) -> Limits:
        """The limits with one for this value."""
        return replace(limits, **{self.part: value})

    def _from(self, size: int, least: int) -> int:
        """The least |d·r + k·jump| that is not below `least`."""
        start = size * self.remainder % self.jump
        tops = (start, self.jump - start)
        return min(one + max(0, -((one - least) // self.jump)) * self.jump for one in tops)


def values_of(question: Layout, faces: FaceMap) -> tuple[tuple[str, Value], ...]:
    """The values of a question's goals up to its first guard, in their order, each with its goal.

    Goals that say nothing about these labels or this solid are left out: sums of words, opposite faces where there are
    none.
    """
    scale = Scale.of(question.labels)
    jump = 0
    for number in scale.numbers:
        jump = gcd(jump, number - scale.numbers[0])
    remainder = scale.numbers[0] % jump if jump else 0
    found: list[tuple[str, Value]] = []
    for goal in question.goals:
        if goal not in PARTS:
            break
        for part in PARTS[goal]:
            if part == "opposite" and (not faces.opposite or not scale.step):
                continue
            if part in ("vertices", "consecutive") and not scale.step:
                continue
            sizes = {"opposite": (2,), "vertices": faces.degrees}.get(part, ())
            if sizes and not jump:
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


def as_deviation(scale: Scale, value: int) -> Fraction:
    """A deviation in the scale's numbers as one of sums of labels."""
    return scale.deviation(value)
