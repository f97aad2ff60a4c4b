"""Recounting products: the design by the recount of its own kind, what was measured and what it costs by plain sums.

The volume is worked out from the corners alone, in another way than where it was measured; labels and faces are counted
from the design; costs that an answer claims are compared with the sum of quantity × rates over all lines.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any

from facewright.constraints.product import Product
from facewright.search.products.facts import DieFacts, ProductDesign, job_of

NEAR = 1e-6
"""Measures that differ by a smaller share are equal."""


@dataclass(frozen=True)
class Finding:
    """What recounting found; where there are no `faults` the design `agrees`. `distance` from what was asked."""

    agrees: bool
    distance: Fraction
    faults: tuple[str, ...]
    chance: None = None


def recount_product(question: Product, design: ProductDesign) -> Finding:
    """Judges a product; one that is wrong raises nothing: its faults are in the finding."""
    from facewright.search.kinds import kind_of

    try:
        candidate = question.candidate(design.id)
    except KeyError:
        return Finding(False, Fraction(0), ("is none of the designs that the brief names",))
    own = kind_of(candidate.question).recounted(candidate.question, candidate.design)
    distance = Fraction(getattr(own, "distance", None) or 0)
    faults = [*own.faults]
    if candidate.run != design.run:
        faults.append(f"is of the run {candidate.run}, not {design.run}")
    if not own.faults and distance != design.inexact:
        faults.append(f"is off by {distance}, found {design.inexact}")
    faults += _dice(candidate.design, design)
    for place, die in enumerate(design.dice, 1):
        faults += [f"die {place}: {fault}" for fault in _die(candidate, die)]
    if not faults:
        faults += _costs(question, design)
    return Finding(not faults, distance, tuple(faults))


def _dice(asked: Any, design: ProductDesign) -> Iterator[str]:
    """Whether every die of the design is there once, with its labels."""
    places = sorted(place for die in design.dice for place in die.positions)
    dice = getattr(asked, "dice", None)
    if places != list(range(1, (1 if dice is None else len(dice)) + 1)):
        yield "does not have every die of the design once"
        return
    if dice is None:
        return
    for die in design.dice:
        for place in die.positions:
            one = dice[place - 1]
            copies = len(die.labels) // len(one.labels)
            if die.solid != one.solid or Counter(die.labels) != Counter(list(one.labels) * copies):
                yield f"die {place} does not carry the labels of the design"


def _die(candidate: Any, die: DieFacts) -> Iterator[str]:
    from facewright.constraints.solids import solid

    shape = _shape(candidate, die)
    try:
        body = solid(die.solid, shape)
    except ValueError as unknown:
        yield str(unknown)
        return
    corners = [tuple(map(float, corner)) for corner in body.vertices]
    found = sum(_pyramid([corners[at] for at in face]) for face in body.faces) * die.inradius_mm**3
    if len(body.faces) != die.faces:
        yield f"found {die.faces} faces, the {die.solid} has {len(body.faces)}"
    if not math.isclose(found, die.volume_mm3, rel_tol=NEAR):
        yield f"found a volume of {die.volume_mm3:.1f} mm³, it is {found:.1f} mm³"
    far = max(math.dist(a, b) for a in corners for b in corners) * die.inradius_mm
    if not math.isclose(far, die.tip_to_tip_mm, rel_tol=1e-4):
        yield f"found {die.tip_to_tip_mm:.2f} mm from tip to tip, it is {far:.2f} mm"
    if not 0 < die.area_mm2 <= math.pi / 4 * far**2 * (1 + NEAR):
        yield f"found an area of {die.area_mm2:.0f} mm² along the draw, more than a disc as wide as the die has"
    if not die.marks <= die.characters or die.marked > die.faces or die.marks < die.marked:
        yield "has numbers of marks, characters and marked faces that do not go together"


def _shape(candidate: Any, die: DieFacts) -> Any:
    """The proportions of the solid that the question asks for."""
    question = candidate.question
    if hasattr(question, "shape"):
        return question.shape
    return question.sets[candidate.position][die.positions[0] - 1].shape


def _pyramid(face: list[tuple[float, ...]]) -> float:
    """The volume between a face and the origin, a flat ring of corners: one sixth of the sum of triple products."""
    (ax, ay, az) = face[0]
    total = 0.0
    for (bx, by, bz), (cx, cy, cz) in pairwise(face[1:]):
        total += ax * (by * cz - bz * cy) - ay * (bx * cz - bz * cx) + az * (bx * cy - by * cx)
    return total / 6


def _costs(question: Product, design: ProductDesign) -> Iterator[str]:
    """Costs that an answer claims, against the sum of all lines at the likely rates."""
    if not design.quoted:
        return
    from facewright.search.costing.quote import line_rows, quote

    make = question.make
    priced = quote(job_of(question, design), question.rates, make.by, make.sets)
    if priced is None:
        yield "claims costs, although no route is open to it"
        return
    for sets, route, claimed in design.quoted:
        offer = next((one for one in priced.at(sets).offers if one.route == route), None)
        if offer is None:
            yield f"claims costs by {route}, which is not open to it"
            continue
        total = 0.0
        for row in line_rows(offer, priced.rates):
            total += row["quantity"] * row["scale"] * math.prod(rate["value"] for rate in row["rates"])
        if not math.isclose(total / sets, claimed, rel_tol=1e-4, abs_tol=0.006):
            yield f"claims {claimed:.4f} a set for {sets:,} sets by {route}; the lines come to {total / sets:.4f}"
