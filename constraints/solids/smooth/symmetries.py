"""The symmetries of smooth bodies, in one table: which harmonics they keep, where tips are, what none exceeds."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, pi, sqrt


@dataclass(frozen=True)
class SmoothSymmetry:
    """A point group without the central inversion, with odd harmonics that it keeps.

    Angles are in radians: colatitude from the z axis, longitude from the x axis. In a harmonic of odd degree stand the
    orders m = `order`, 3·`order`, 5·`order`, …, with cos mφ or, where `sine`, with sin mφ. `cubic` asks moreover that
    x → y → z → x leaves all as it is. `tip` is the direction of one tip, on a three-fold or two-fold axis that only
    turns about it keep, `ways` the number of tips and of resting places opposite them. `solid` has flat faces where
    such a body has rests; see `companion`.
    """

    name: str
    point_group: str
    ways: int
    order: int
    sine: bool
    cubic: bool
    tip: tuple[float, float]
    solid: str

    @property
    def least_degree(self) -> int:
        """The least degree in which there is a harmonic."""
        return 3 if self.cubic else self.order

    @property
    def reach(self) -> float:
        """The greatest distance of a tip from the centre of a body of width 1.

        Two of the tips are 2·reach·sin(half their angle) apart, and no two points of a body of constant width 1 are
        farther apart than 1. Four tips of a tetrahedron: √(3/8), as Jung's theorem has it; n tips of a regular n-gon,
        n odd: 1/(2 cos(π/2n)).
        """
        return sqrt(3 / 8) if self.cubic else 1 / (2 * cos(pi / (2 * self.ways)))

    @property
    def bound(self) -> float:
        """What no settling of a body of width 1 exceeds, of whatever degree: reach − ½."""
        return self.reach - 0.5

    @property
    def corner(self) -> tuple[float, float]:
        """The largest colatitude and longitude of the domain: the part of the sphere of which all else is an image.

        With inversion the group has 48 elements (tetrahedral) or 8n (n-gonal). The domain is x ≥ y ≥ z ≥ 0, or
        colatitude up to 90° and longitude up to 90°/n.
        """
        return pi / 2, pi / 4 if self.cubic else pi / (2 * self.ways)

    def orders(self, degree: int) -> tuple[int, ...]:
        """The orders m of the harmonics of an odd degree."""
        return tuple(range(self.order, degree + 1, 2 * self.order))

    def multiplicity(self, degree: int) -> int:
        """How many independent harmonics of a degree the group keeps.

        Tetrahedral: xyz times a polynomial in x⁴+y⁴+z⁴ and (xyz)², one for each way to write degree − 3 as 4j + 6k.
        """
        if degree % 2 == 0:
            return 0
        if not self.cubic:
            return len(self.orders(degree))
        left = degree - 3
        return sum((left - 6 * k) % 4 == 0 for k in range(left // 6 + 1)) if left >= 0 else 0


def _prismatic(name: str, sides: int) -> SmoothSymmetry:
    return SmoothSymmetry(name, f"D{sides}h", sides, sides, False, False, (pi / 2, 0.0), f"{sides}-sided log")


SYMMETRIES = {
    one.name: one
    for one in (
        SmoothSymmetry("tetrahedral", "Td", 4, 2, True, True, (atan2(sqrt(2), 1), pi / 4), "tetrahedron"),
        _prismatic("three-sided", 3),
        _prismatic("five-sided", 5),
        _prismatic("seven-sided", 7),
    )
}
"""Every symmetry by its name. The prismatic ones are those of prisms with an odd number of sides."""
