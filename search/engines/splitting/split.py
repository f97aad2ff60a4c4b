"""A question split: the divisors that a die can be, the choices of each kind of die, and the ways to combine them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from operator import sub

from facewright.constraints.design import NumberingDesign
from facewright.constraints.labels import interchangeable
from facewright.constraints.question import Numbering
from facewright.search.engines.splitting.divisors import Vector, nonnegative_divisors
from facewright.search.engines.splitting.kinds import Kind, Polynomials
from facewright.search.engines.splitting.lattice import Bag, Lattice, Multisets
from facewright.search.engines.splitting.listing import Listing
from facewright.search.engines.splitting.problem import Problem
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped

Shape = tuple[tuple[int, Vector], ...]
"""The number of its kind and the divisor of each die: equal where a shift joins designs."""


@dataclass(frozen=True)
class Split:
    """A question as a problem of adding up to one vector: the divisors found, each kind of die with its choices."""

    question: Numbering
    problem: Problem
    divisors: list[Vector]
    kinds: list[Kind]
    lattice: Lattice
    choices: list[dict[int, tuple[Vector, int]]]
    ways: Multisets

    @classmethod
    def of(cls, question: Numbering, problem: Problem, stop: Stop, report: Progress) -> Split:
        """Finds the divisors and the choices of each kind of die.

        Raises:
            Stopped: `stop` asked for it, or memory would not do.
        """
        dice = question.dice
        groups = [group for group in interchangeable(dice) if dice[group[0]].exactly is None]
        faces = [dice[group[0]].faces for group in groups]
        divisors = nonnegative_divisors(problem.whole, faces, stop, report)
        polys = Polynomials(problem.whole)
        useful = divisors if sum(map(len, groups)) != 2 else _with_a_partner(divisors, problem.whole.powers)
        kinds = [Kind(dice[group[0]], group, useful, polys, problem.slack, stop) for group in groups]
        lattice = Lattice((*problem.whole.powers, problem.slack))
        choices = [kind.choices(lattice) for kind in kinds]
        bags: list[Bag] = [dict.fromkeys(chosen, 1) for chosen in choices]
        ways = Multisets(lattice, bags, [len(kind.positions) for kind in kinds], stop)
        return cls(question, problem, divisors, kinds, lattice, choices, ways)

    def listing(self, stop: Stop) -> Listing:
        """All ways to combine the choices, each once."""
        return Listing(self.lattice, self.ways.bags, self.ways.sizes, self.ways, stop)

    def designs(self, listing: Listing) -> Iterator[tuple[NumberingDesign, Shape]]:
        """The designs that a listing stands for, each with what tells it from others up to shift."""
        dice = self.question.dice
        groups = interchangeable(dice)
        owners = [
            (kind, position) for kind in range(len(self.kinds)) for position in self.kinds[kind].positions
        ]
        for way in listing:
            labels: list[list[int]] = [list(die.exactly or ()) for die in dice]
            shape = []
            for (kind, position), packed in zip(owners, way, strict=True):
                vector, offset = self.choices[kind][packed]
                labels[position] = self.kinds[kind].labels(vector, offset)
                shape.append((kind, vector))
            yield NumberingDesign.of(dice, labels, groups), tuple(sorted(shape))

    def count_up_to_shift(self, stop: Stop) -> int:
        """How many designs no shift joins.

        Where rules are intervals, offsets that add up to the slack exist for every choice of divisors or for none,
        since the degrees add up to the same number; else each choice of divisors is looked at.
        """
        if not self.ways.count:
            return 0
        sizes = self.ways.sizes
        flat = Lattice((*self.problem.whole.powers, 0))
        shapes = [kind.shapes(flat) for kind in self.kinds]
        ways = Multisets(flat, shapes, sizes, stop)
        if all(kind.interval for kind in self.kinds):
            return ways.count
        offsets = [
            {flat.pack((*vector, 0)): _mask(kind.offsets[vector]) for vector in kind.offsets}
            for kind in self.kinds
        ]
        owners = [kind for kind, size in enumerate(sizes) for _ in range(size)]
        listing = Listing(flat, shapes, sizes, ways, stop)
        count = sum(
            _reaches(
                [offsets[kind][packed] for kind, packed in zip(owners, way, strict=True)], self.problem.slack
            )
            for way in listing
        )
        if listing.stopped:
            raise Stopped(listing.stopped)
        return count


def _mask(offsets: Sequence[int]) -> int:
    """Rising offsets as a number whose bit t is set for the offset t."""
    bits = bytearray(offsets[-1] // 8 + 1)
    for offset in offsets:
        bits[offset // 8] |= 1 << offset % 8
    return int.from_bytes(bits, "little")


def _with_a_partner(divisors: list[Vector], powers: Vector) -> list[Vector]:
    """For two dice: the divisors whose cofactor is a divisor too; the others cannot be one of the two."""
    known = set(divisors)
    return [one for one in divisors if tuple(map(sub, powers, one)) in known]


def _reaches(masks: list[int], slack: int) -> bool:
    """Whether one offset from each set (bit t: offset t) can add up to the slack."""
    sums = 1
    for mask in masks:
        reached, left = 0, mask
        while left:
            low = left & -left
            reached |= sums << (low.bit_length() - 1)
            left ^= low
        sums = reached & ((2 << slack) - 1)
    return bool(sums >> slack & 1)
