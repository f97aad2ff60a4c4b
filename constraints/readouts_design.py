"""Designs of readouts: which marks stand on which sites of a solid, with an identity up to its rotations."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import combinations, product
from math import factorial, prod
from typing import Any

from facewright.constraints.dependence import distance, pair_distances
from facewright.constraints.design import ID_LENGTH
from facewright.constraints.readouts import Label, Readout, Readouts
from facewright.constraints.views import Permutation, Views

Marks = tuple[tuple[tuple[int, int], ...], ...]
"""For each readout the pairs (number of a site, position of its label), sorted by site."""


@dataclass(frozen=True)
class ReadoutsDesign:
    """The marks of every readout on one solid, and what they come to.

    `sites` holds, a readout, its name and the pairs (site, label) in the order of the sites; `joint` every
    combination of labels with the number of rests that show it, zeros included; `dependence` is the total variation
    distance of the joint distribution from the product of the readouts', `pairs` the same for each pair, in order.
    `marks` are to be read, `cuts` to be made: a mark at a vertex of d faces is cut d times, on an edge twice.
    """

    solid: str
    sites: tuple[tuple[str, tuple[tuple[str, Label], ...]], ...]
    joint: tuple[tuple[tuple[Label, ...], int], ...]
    dependence: Fraction
    pairs: tuple[Fraction, ...]
    marks: int
    cuts: int

    @classmethod
    def of(cls, question: Readouts, views: Views, marks: Marks) -> ReadoutsDesign:
        """The design that these marks make, counted over all rests."""
        readouts, weights = question.readouts, question.weights
        counts = joint_counts(views, marks)
        sites = tuple(
            (one.name, tuple((views.names[site], one.labels[at]) for site, at in pairs))
            for one, pairs in zip(readouts, marks, strict=True)
        )
        every = product(*(range(len(one.labels)) for one in readouts))
        joint = tuple(
            (tuple(one.labels[at] for one, at in zip(readouts, c, strict=True)), counts.get(c, 0))
            for c in every
        )
        pairs = tuple(pair_distances(counts, weights, views.rests).values())
        stood = [site for pairs_ in marks for site, _ in pairs_]
        cuts = sum(views.kind_of[site].cuts for site in stood)
        return cls(views.solid, sites, joint, distance(counts, weights, views.rests), pairs, len(stood), cuts)

    @cached_property
    def id(self) -> str:
        """The first digits of the SHA-256 of solid and sites: the same whatever found the design."""
        form = [self.solid, [[name, [list(pair) for pair in pairs]] for name, pairs in self.sites]]
        text = json.dumps(form, separators=(",", ":"), ensure_ascii=False)
        return hashlib.sha256(text.encode()).hexdigest()[:ID_LENGTH]

    @property
    def order(self) -> tuple[Fraction, int, int, str]:
        """What sorts designs: least dependence first, then fewest marks, fewest cuts."""
        return self.dependence, self.marks, self.cuts, self.id

    def as_json(self) -> dict[str, Any]:
        """The design as the contract writes it: id, solid, sites, joint, dependence, pairs; marks and cuts beside."""
        numbered = combinations(range(1, len(self.sites) + 1), 2)
        return {
            "id": self.id,
            "solid": self.solid,
            "sites": {name: dict(pairs) for name, pairs in self.sites},
            "joint": [{"labels": list(labels), "count": count} for labels, count in self.joint],
            "dependence": str(self.dependence),
            "pairs": {f"{a}-{b}": str(gap) for (a, b), gap in zip(numbered, self.pairs, strict=True)},
            "marks": self.marks,
            "cuts": self.cuts,
        }

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> ReadoutsDesign:
        """The design that `as_json` wrote; other keys are passed over."""
        return cls(
            data["solid"],
            tuple((name, tuple(pairs.items())) for name, pairs in data["sites"].items()),
            tuple((tuple(one["labels"]), one["count"]) for one in data["joint"]),
            Fraction(data["dependence"]),
            tuple(Fraction(gap) for gap in data["pairs"].values()),
            data["marks"],
            data["cuts"],
        )


def joint_counts(views: Views, marks: Marks) -> dict[tuple[int, ...], int]:
    """Positions of labels, one a readout → how many rests show them together.

    Raises ValueError unless every rest shows exactly one mark of every readout.
    """
    tables = [dict(pairs) for pairs in marks]
    counts: dict[tuple[int, ...], int] = {}
    for rest in range(views.rests):
        shown = {site for kind in views.kinds for site in kind.seen[rest]}
        combination: list[int] = []
        for table in tables:
            seen = [at for site, at in table.items() if site in shown]
            if len(seen) != 1:
                raise ValueError(f"marks: one of each readout a rest is needed, found {len(seen)} on one")
            combination += seen
        counts[tuple(combination)] = counts.get(tuple(combination), 0) + 1
    return counts


def symmetries(question: Readouts, views: Views) -> Sequence[Permutation]:
    """The symmetries that join designs of a question."""
    return views.symmetries if question.same_under == "reflection" else views.rotations


def canonical(question: Readouts, views: Views, marks: Marks) -> tuple[Marks, int]:
    """The marks that stand for all that count as the same design, and how many labelled designs those are.

    The least image under the symmetries; where `rename` is on, equally likely labels of a readout are first named
    anew in the order of their sites.
    """
    group = symmetries(question, views)
    images = [_renamed(question, _moved(marks, one)) for one in group]
    own = _renamed(question, marks)
    named = prod(_names(one) for one in question.readouts) if question.rename else 1
    return min(images), len(group) * named // images.count(own)


def _moved(marks: Marks, by: Permutation) -> Marks:
    return tuple(tuple(sorted((by[site], at) for site, at in pairs)) for pairs in marks)


def _names(readout: Readout) -> int:
    """In how many ways equally likely labels of a readout can be renamed."""
    return prod(factorial(readout.weights.count(weight)) for weight in set(readout.weights))


def _renamed(question: Readouts, marks: Marks) -> Marks:
    if not question.rename:
        return marks
    return tuple(_in_order(one.weights, pairs) for one, pairs in zip(question.readouts, marks, strict=True))


def _in_order(weights: Sequence[int], pairs: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int], ...]:
    """The same marks, where the labels of equal weight come up in rising order along the sites."""
    waiting: dict[int, list[int]] = {}
    for at in reversed(range(len(weights))):
        waiting.setdefault(weights[at], []).append(at)
    names: dict[int, int] = {}
    for _, at in pairs:
        if at not in names:
            names[at] = waiting[weights[at]].pop()
    return tuple((site, names[at]) for site, at in pairs)


def as_marks(question: Readouts, views: Views, sites: Mapping[str, Mapping[str, Label]]) -> Marks:
    """Marks written as readout → {site: label} in numbers; raises KeyError or ValueError for unknown ones."""
    return tuple(
        tuple(sorted((views.number[site], one.labels.index(at)) for site, at in sites[one.name].items()))
        for one in question.readouts
    )
