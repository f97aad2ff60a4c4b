"""The marks of readouts on a solid as a CP-SAT model: rules, joint counts, and the distances that are to be small.

No variables are multiplied. With x[i, s, l] (readout i has label l on site s) and z[r, c] (rest r shows the
combination c) every rest has exactly one combination, and the sum of the z[r, c] in which readout i has label l is
the sum of the x[i, s, l] over the sites that the rest shows.

A readout whose kind of site gives every rest a site of its own can show any labels at any rests. It gets no x
and no z: only the counts t say how often its labels come up beside each combination of the others, and such counts
can always be filled in. That takes out the largest readout and loses nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, product
from math import lcm, prod
from typing import TYPE_CHECKING

from facewright.constraints.readouts import Readouts
from facewright.constraints.views import SiteKind, Views

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

Combination = tuple[int, ...]
"""Positions of labels, one a readout."""


@dataclass(frozen=True)
class Placing:
    """On which kind of site each readout of a question stands."""

    kinds: tuple[SiteKind, ...]

    @property
    def fixed(self) -> tuple[int, ...]:
        """The readouts whose sites must be chosen."""
        return tuple(at for at, kind in enumerate(self.kinds) if not kind.own)

    @property
    def free(self) -> tuple[int, ...]:
        """The readouts that can show any labels at any rests."""
        return tuple(at for at, kind in enumerate(self.kinds) if kind.own)


class ReadoutsModel:
    """A CP-SAT model of one placing of the readouts of a question.

    Args:
        question: the question.
        views: what the rests of the solid show.
        placing: the kind of site of each readout.
        listing: whether every solution is wanted: then no symmetry is broken but by one mark, and each count of the
            free readouts follows from the solution.
    """

    def __init__(self, question: Readouts, views: Views, placing: Placing, *, listing: bool = False) -> None:
        from ortools.sat.python import cp_model

        self.question, self.views, self.placing = question, views, placing
        self.cp = cp_model.CpModel()
        self.x: dict[tuple[int, int, int], cp_model.IntVar] = {}
        self.counts: dict[Combination, cp_model.IntVar] = {}
        self.shown = self._post_marks()
        self._post_sharing()
        self._post_counts()
        self._post_first_mark()
        self._listing = listing
        self.scale, self.gaps = self._post_gaps()

    def times(self, readout: int, label: int) -> int:
        """How many rests must show a label."""
        one = self.question.readouts[readout]
        return self.views.rests * one.weights[label] // one.ways

    def _post_marks(self) -> dict[tuple[int, int, int], cp_model.LinearExpr | int]:
        """Every rest shows one mark of every readout, every label as often as it should; gives what rests show."""
        shown: dict[tuple[int, int, int], cp_model.LinearExpr | int] = {}
        for readout in self.placing.fixed:
            kind = self.placing.kinds[readout]
            labels = range(len(self.question.readouts[readout].labels))
            for site in kind.sites:
                for label in labels:
                    self.x[readout, site, label] = self.cp.new_bool_var(f"x{readout},{site},{label}")
                self.cp.add_at_most_one(self.x[readout, site, label] for label in labels)
            for rest, sites in enumerate(kind.seen):
                self.cp.add_exactly_one(self.x[readout, s, label] for s in sites for label in labels)
                for label in labels:
                    shown[rest, readout, label] = sum(self.x[readout, s, label] for s in sites)
            for label in labels:
                marks = self.times(readout, label) // kind.seen_from
                self.cp.add(sum(self.x[readout, s, label] for s in kind.sites) == marks)
        return shown

    def _post_sharing(self) -> None:
        """At most so many readouts on a site, where more of them stand on its kind."""
        for kind in self.views.kinds:
            there = [at for at in self.placing.fixed if self.placing.kinds[at].first == kind.first]
            if len(there) <= self.question.share:
                continue
            for site in kind.sites:
                labels = ((at, label) for at in there for label in range(len(self.question.weights[at])))
                self.cp.add(sum(self.x[at, site, label] for at, label in labels) <= self.question.share)

    def _post_counts(self) -> None:
        """z[r, c] for the fixed readouts, and the whole joint counts t."""
        fixed, free = self.placing.fixed, self.placing.free
        sizes = [range(len(one.labels)) for one in self.question.readouts]
        sums: dict[Combination, list[cp_model.LinearExpr | int]] = {}
        for rest in range(self.views.rests):
            z = {c: self._combination(rest, c) for c in product(*(sizes[at] for at in fixed))}
            if len(fixed) > 1:
                self.cp.add(sum(z.values()) == 1)
                for place, readout in enumerate(fixed):
                    for label in sizes[readout]:
                        inside = sum(one for c, one in z.items() if c[place] == label)
                        self.cp.add(inside == self.shown[rest, readout, label])
            for c, one in z.items():
                sums.setdefault(c, []).append(one)
        parts: dict[Combination, list[cp_model.IntVar]] = {c: [] for c in sums}
        shares: dict[tuple[int, int], list[cp_model.IntVar]] = {}
        for combination in product(*sizes):
            most = min(self.times(readout, label) for readout, label in enumerate(combination))
            count = self.cp.new_int_var(0, most, f"t{combination}")
            self.counts[combination] = count
            parts[tuple(combination[at] for at in fixed)].append(count)
            for readout, label in enumerate(combination):
                shares.setdefault((readout, label), []).append(count)
        for c, counts in parts.items():
            self.cp.add(sum(counts) == sum(sums[c]))
        for (readout, label), counts in shares.items():
            if readout in free or len(fixed) > 1:
                self.cp.add(sum(counts) == self.times(readout, label))

    def _combination(self, rest: int, c: Combination) -> cp_model.LinearExpr | int:
        """What says whether a rest shows a combination: one readout alone needs no variable of its own."""
        if not c:
            return 1
        if len(c) == 1:
            return self.shown[rest, self.placing.fixed[0], c[0]]
        return self.cp.new_bool_var(f"z{rest},{c}")

    def _post_first_mark(self) -> None:
        """One label of one readout stands on the first site of its kind.

        The rotations take every site of a kind to every other and each label stands somewhere, so that every design
        has an image of which this holds. The label with the fewest marks among the most sites leaves the fewest.
        """
        choices = [
            (self.times(at, label) // (kind := self.placing.kinds[at]).seen_from, -len(kind.sites), at, label)
            for at in self.placing.fixed
            for label in range(len(self.question.weights[at]))
        ]
        if choices:
            _, _, readout, label = min(choices)
            self.cp.add(self.x[readout, self.placing.kinds[readout].sites[0], label] == 1)

    def _post_gaps(self) -> tuple[int, list[cp_model.LinearExpr | int]]:
        """What is to be small: for all readouts together one sum of gaps, for pairs one a pair.

        Gives the scale and the sums; a sum divided by the scale is a total variation distance.
        """
        together = self.question.measure == "together" or len(self.question.readouts) < 3
        readouts = range(len(self.question.readouts))
        parts = [tuple(readouts)] if together else list(combinations(readouts, 2))
        wholes = [prod(self.question.readouts[at].ways for at in part) for part in parts]
        common = lcm(*wholes)
        scale = 2 * self.views.rests * common
        gaps = [self._gap(part, common // whole) for part, whole in zip(parts, wholes, strict=True)]
        return scale, gaps

    def _gap(self, part: tuple[int, ...], factor: int) -> cp_model.LinearExpr | int:
        """Σ|D·n − N·P| over the combinations of some readouts, times a factor."""
        weights = [self.question.weights[at] for at in part]
        whole = prod(sum(one) for one in weights)
        total: list[cp_model.LinearExpr | int] = []
        for c in product(*(range(len(one)) for one in weights)):
            ways = self.views.rests * prod(w[at] for w, at in zip(weights, c, strict=True))
            inside = [
                t for of, t in self.counts.items() if all(of[p] == at for p, at in zip(part, c, strict=True))
            ]
            total.append(factor * self._deviation(sum(inside), ways, whole, f"{part}{c}"))
        return sum(total)

    def _deviation(
        self, count: cp_model.LinearExpr | int, ways: int, whole: int, name: str
    ) -> cp_model.IntVar:
        """|D·n − ways| for a whole number n; it lies on or above the chord between the whole numbers around the aim.

        Those chords give the arithmetic bound to the linear relaxation.
        """
        most = whole * self.views.rests
        gap = self.cp.new_int_var(0, most, f"gap{name}")
        if self._listing:
            self.cp.add_abs_equality(gap, whole * count - ways)
        else:
            self.cp.add(gap >= whole * count - ways)
            self.cp.add(gap >= ways - whole * count)
        below, over = divmod(ways, whole)
        if over:
            self.cp.add(gap >= over + (count - below) * (whole - 2 * over))
        return gap

    def distance_of(self, gap: int) -> Fraction:
        """A sum of gaps as a total variation distance."""
        return Fraction(gap, self.scale)

    def objective(self) -> cp_model.LinearExpr | int:
        """What is to be least: the gap, or of pairs the largest gap before their sum."""
        if len(self.gaps) == 1:
            return self.gaps[0]
        most = self.scale
        largest = self.cp.new_int_var(0, most, "largest")
        if self._listing:
            self.cp.add_max_equality(largest, self.gaps)
        else:
            for gap in self.gaps:
                self.cp.add(largest >= gap)
        return largest * (len(self.gaps) * most + 1) + sum(self.gaps)

    def encoded(self, distances: Sequence[Fraction]) -> int:
        """The least objective that means at least these distances: one, or of pairs the largest and their sum."""
        gaps = [-(-distance.numerator * self.scale // distance.denominator) for distance in distances]
        return gaps[0] if len(self.gaps) == 1 else gaps[0] * (len(self.gaps) * self.scale + 1) + gaps[1]

    def decoded(self, objective: int) -> tuple[Fraction, ...]:
        """The distance, or of pairs the largest and the sum, that an objective means."""
        if len(self.gaps) == 1:
            return (self.distance_of(objective),)
        largest, total = divmod(objective, len(self.gaps) * self.scale + 1)
        return self.distance_of(largest), self.distance_of(total)
