"""Marks of the same chances with equal labels apart, as a CP-SAT model.

With x[i, s, l] (readout i has label l on site s) and z[r, c] (rest r shows the combination c) every rest shows one mark
of every readout, and every combination comes up as often as it does in the design that the search starts from. For two
sites of one readout that lie side by side, same[i, s, t] is at least x[i, s, l] + x[i, t, l] − 1 for every label l.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import Marks, ReadoutsDesign, as_marks
from facewright.constraints.site_neighbours import Beside
from facewright.constraints.views import Views

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


class ApartModel:
    """A CP-SAT model of all markings with the joint counts of a design, on its kinds of site.

    Args:
        question: the question, about one solid.
        views: what the rests of the solid show.
        where: its neighbouring sites.
        design: the design that gives the counts, and a first solution.
    """

    def __init__(self, question: Readouts, views: Views, where: Beside, design: ReadoutsDesign) -> None:
        from ortools.sat.python import cp_model

        self.question, self.views = question, views
        self.cp = cp_model.CpModel()
        start = as_marks(question, views, {name: dict(pairs) for name, pairs in design.sites})
        self.kinds = [views.kind_of[pairs[0][0]] for pairs in start]
        self.x: dict[tuple[int, int, int], cp_model.IntVar] = {}
        self._post_marks(start)
        self._post_sharing()
        self._post_counts(design)
        close = self._post_pairs(where.close)
        near = self._post_pairs(where.near)
        self.heavy = len(near) + 1
        self.cp.minimize(self.heavy * sum(close) + sum(near))

    def marks(self, values: tuple[int, ...]) -> Marks:
        """The marks of a solution, whose values stand in the order of `x`."""
        standing: list[list[tuple[int, int]]] = [[] for _ in self.kinds]
        for (readout, site, label), value in zip(self.x, values, strict=True):
            if value:
                standing[readout].append((site, label))
        return tuple(tuple(sorted(pairs)) for pairs in standing)

    def decoded(self, objective: int) -> tuple[int, int]:
        """The pairs side by side, and those that touch otherwise, that an objective means."""
        return divmod(objective, self.heavy)

    def _post_marks(self, start: Marks) -> None:
        for readout, (kind, pairs) in enumerate(zip(self.kinds, start, strict=True)):
            labels = range(len(self.question.readouts[readout].labels))
            standing = dict(pairs)
            for site in kind.sites:
                for label in labels:
                    self.x[readout, site, label] = self.cp.new_bool_var(f"x{readout},{site},{label}")
                    self.cp.add_hint(self.x[readout, site, label], int(standing.get(site) == label))
                self.cp.add_at_most_one(self.x[readout, site, label] for label in labels)
            for sites in kind.seen:
                self.cp.add_exactly_one(self.x[readout, s, label] for s in sites for label in labels)

    def _post_sharing(self) -> None:
        for kind in {one.first: one for one in self.kinds}.values():
            there = [at for at, one in enumerate(self.kinds) if one.first == kind.first]
            if len(there) > self.question.share:
                for site in kind.sites:
                    marks = [
                        self.x[at, site, label]
                        for at in there
                        for label in range(len(self.question.weights[at]))
                    ]
                    self.cp.add(sum(marks) <= self.question.share)

    def _post_counts(self, design: ReadoutsDesign) -> None:
        """Every combination comes up as often as in the design; those that never do have no variable."""
        places = [{label: at for at, label in enumerate(one.labels)} for one in self.question.readouts]
        counts = {
            tuple(place[label] for place, label in zip(places, labels, strict=True)): count
            for labels, count in design.joint
            if count
        }
        shown: dict[tuple[int, ...], list[cp_model.IntVar]] = {c: [] for c in counts}
        for rest in range(self.views.rests):
            z = {c: self.cp.new_bool_var(f"z{rest},{c}") for c in counts}
            self.cp.add_exactly_one(z.values())
            for readout, kind in enumerate(self.kinds):
                for label in range(len(places[readout])):
                    inside = sum(one for c, one in z.items() if c[readout] == label)
                    self.cp.add(inside == sum(self.x[readout, s, label] for s in kind.seen[rest]))
            for c, one in z.items():
                shown[c].append(one)
        for c, count in counts.items():
            self.cp.add(sum(shown[c]) == count)

    def _post_pairs(self, pairs: frozenset[tuple[str, str]]) -> list[cp_model.IntVar]:
        """One variable for each readout and pair of its sites: whether both carry the same label."""
        found = []
        for readout, kind in enumerate(self.kinds):
            for one, other in sorted((self.views.number[a], self.views.number[b]) for a, b in pairs):
                if one in kind.sites and other in kind.sites:
                    same = self.cp.new_bool_var(f"same{readout},{one},{other}")
                    for label in range(len(self.question.weights[readout])):
                        both = self.x[readout, one, label] + self.x[readout, other, label]
                        self.cp.add(same >= both - 1)
                    found.append(same)
        return found
