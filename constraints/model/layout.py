"""A layout under given limits as a CP-SAT model: which unit carries which number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from facewright.constraints.model.symmetry import FIRST, first_number, rankings
from facewright.constraints.model.units import NO_LIMIT, Limits, Units

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

    Literals = dict[tuple[int, int], cp_model.IntVar]


class LayoutModel:
    """Booleans x[unit, number]: each unit carries one number, each number as many units as it should.

    Args:
        units: what is to be laid.
        limits: what a layout must keep; there is no objective.
    """

    def __init__(self, units: Units, limits: Limits) -> None:
        from ortools.sat.python import cp_model

        self.units, self.limits = units, limits
        self.cp = cp_model.CpModel()
        self.x: Literals = {}
        self._post_numbers()
        self._post_rows()
        self._post_pairs()
        self._post_symmetry()

    @property
    def wanted(self) -> list[cp_model.IntVar]:
        """The variables from whose values `decoded` makes a layout."""
        return list(self.x.values())

    def decoded(self, values: tuple[int, ...]) -> tuple[int, ...]:
        """The number on each unit, from the values of `wanted`."""
        found = {unit: number for (unit, number), value in zip(self.x, values, strict=True) if value}
        return tuple(found[unit] for unit in range(self.units.many))

    def _signs(self, number: int) -> tuple[int, ...]:
        return (1, -1) if self.units.paired and number else (1,)

    def _post_numbers(self) -> None:
        units = self.units
        for unit in range(units.many):
            for number, _ in units.choices:
                for sign in self._signs(number):
                    self.x[unit, sign * number] = self.cp.new_bool_var(f"x{unit},{sign * number}")
            self.cp.add_exactly_one(x for (of, _), x in self.x.items() if of == unit)
        for number, times in units.choices:
            signed = [sign * number for sign in self._signs(number)]
            self.cp.add(sum(self.x[unit, one] for unit in range(units.many) for one in signed) == times)
        self.numbers = tuple(sorted({number for _, number in self.x}))

    def _on(self, unit: int) -> cp_model.LinearExpr | int:
        return sum(number * self.x[unit, number] for number in self.numbers)

    def _post_rows(self) -> None:
        rows = ((self.units.opposite, self.limits.opposite), (self.units.vertices, self.limits.vertices))
        for lines, limit in rows:
            if limit < NO_LIMIT:
                for line in lines:
                    total = sum(times * self._on(unit) for unit, times in line)
                    self.cp.add_linear_constraint(total, -limit, limit)

    def _post_pairs(self) -> None:
        step, limits = self.units.scale.step, self.limits
        asked = (
            (self.units.edges, limits.across, (0,)),
            (self.units.corners, limits.corner, (0,)),
            (self.units.edges, limits.consecutive, (-step, step) if step else ()),
        )
        for pairs, limit, gaps in asked:
            if limit < len(pairs) and gaps:
                clashes = [self._clash(pair, gaps, bar=limit == 0) for pair in pairs]
                if limit:
                    self.cp.add(sum(clashes) <= limit)

    def _clash(self, pair: tuple[int, int], gaps: tuple[int, ...], *, bar: bool) -> cp_model.IntVar | int:
        """A boolean that is 1 where the numbers of two faces differ by a gap; 0 where that is barred."""
        (one, sign), (other, turned) = (self.units.faces[face] for face in pair)
        clash = 0 if bar else self.cp.new_bool_var("")
        for number in self.numbers:
            # for one number of the first face the second has at most one of these, since it has one number
            beside = {turned * (sign * number + gap) for gap in gaps}
            if one == other:
                both = [self.x[one, number]] if number in beside else []
                self.cp.add(sum(both) <= clash)
            else:
                met = [self.x[other, there] for there in sorted(beside) if there in self.numbers]
                if met:
                    self.cp.add(self.x[one, number] + sum(met) <= 1 + clash)
        return clash

    def _post_symmetry(self) -> None:
        number = first_number(self.units)
        if number is None:
            return
        self.cp.add(self.x[FIRST, number] == 1)
        for unit, (other, sign) in rankings(self.units):
            self.cp.add(self._on(unit) <= sign * self._on(other))
