"""The label counts of a set of dice as variables of a CP-SAT model, for rules and readings to build on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import prod
from typing import TYPE_CHECKING

from facewright.constraints.labels import Die

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

LARGEST_SUM = 2**61
"""No sum in a model may reach this: CP-SAT counts in 64 bits and keeps some room for its own sums."""


@dataclass(frozen=True)
class Term:
    """A whole number of the model with the bounds known for it; a plain number where both bounds agree."""

    value: cp_model.IntVar | int
    least: int
    most: int

    @classmethod
    def constant(cls, value: int) -> Term:
        """A number that is known."""
        return cls(value, value, value)


class CountModel:
    """A CP-SAT model in which `count(die, label)` says how often a die carries a label.

    The label rules of each die are in it from the start: only allowed labels, at most `repeats` of each, as
    many together as the die has faces; fixed dice stand as plain numbers. Readings and scores add what they
    need, through the helpers here or directly to `cp`. Every helper variable must follow from the counts, so
    that listing all solutions lists each set of counts once.

    Args:
        dice: the dice of the question, in its order.
        again: labels that are rolled again once; see `weights`.
    """

    def __init__(self, dice: Sequence[Die], again: Sequence[int] = ()) -> None:
        from ortools.sat.python import cp_model

        self.dice = tuple(dice)
        self.again = frozenset(again)
        self.cp = cp_model.CpModel()
        self._weights: dict[int, dict[int, Term]] = {}
        self._counts = [self._counts_of(position, die) for position, die in enumerate(self.dice)]

    def _counts_of(self, position: int, die: Die) -> dict[int, Term]:
        if die.exactly is not None:
            return {label: Term.constant(die.exactly.count(label)) for label in sorted(set(die.exactly))}
        most = die.faces if die.rules.repeats is None else min(die.faces, die.rules.repeats)
        counts = {label: self.whole(0, most, f"a{position}[{label}]") for label in die.rules.allowed()}
        self.equal(counts.values(), die.faces)
        return counts

    @property
    def outcomes(self) -> int:
        """The ways in which the dice come up."""
        return prod(self.chances(die) for die in range(len(self.dice)))

    def chances(self, die: int) -> int:
        """The equally likely ways in which the die at this position comes up: its faces, or their square.

        Where labels are rolled again every die is rolled twice in thought.
        """
        return self.dice[die].faces ** (2 if self.again else 1)

    def weights(self, die: int) -> dict[int, Term]:
        """Label → in how many of these ways it counts, for every label that the die may still carry.

        With n faces, a[v] of them with the label v and R of them with a label that is rolled again, v counts in
        R·a[v] ways after a second roll, and in n·a[v] more after the first unless it is itself rolled again. What was
        asked for once stands: labels that are bounded later keep their weights.
        """
        if not self.again:
            return self.counts(die)
        if die not in self._weights:
            self._weights[die] = self._weights_of(die)
        return self._weights[die]

    def _weights_of(self, die: int) -> dict[int, Term]:
        counts, faces = self.counts(die), self.dice[die].faces
        rolled = self.sum([counts[label] for label in counts if label in self.again], f"again{die}")
        weights = {}
        for label, count in counts.items():
            second = self.product(rolled, count, faces * faces, f"second{die}[{label}]")
            first = 0 if label in self.again else faces
            least, most = second.least + first * count.least, second.most + first * count.most
            weights[label] = self.whole(least, most, f"shown{die}[{label}]")
            self.linear([(-1, weights[label]), (1, second), (first, count)], 0, 0)
        return weights

    def labels(self, die: int) -> tuple[int, ...]:
        """The labels that the die at this position may still carry, sorted."""
        return tuple(label for label, count in self._counts[die].items() if count.most)

    def count(self, die: int, label: int) -> Term:
        """How often the die at this position carries the label; zero for a label that it may not carry."""
        return self._counts[die].get(label, Term.constant(0))

    def counts(self, die: int) -> dict[int, Term]:
        """Label → count for every label that the die at this position may still carry, sorted by label."""
        return {label: count for label, count in self._counts[die].items() if count.most}

    def bound(self, die: int, label: int, most: int) -> None:
        """Lets the die carry the label at most so many times; with none the label leaves the model."""
        count = self.count(die, label)
        if most >= count.most:
            return
        if most < count.least:
            self.refute()
            return
        self.linear([(1, count)], 0, most)
        self._counts[die][label] = Term(count.value, count.least, most) if most else Term.constant(0)

    def whole(self, least: int, most: int, name: str) -> Term:
        """A new whole number with these bounds; a plain number where they agree."""
        if least == most:
            return Term.constant(least)
        return Term(self.cp.new_int_var(least, most, name), least, most)

    def product(self, one: Term, other: Term, most: int, name: str) -> Term:
        """The product of two numbers that are never negative, and may not exceed `most`."""
        least, most = one.least * other.least, min(most, one.most * other.most)
        for known, factor in ((one, other), (other, one)):
            if known.most == known.least == 1 and factor.most <= most:
                return factor
        if least > most:
            self.refute()
            return Term.constant(most)
        if isinstance(one.value, int) and isinstance(other.value, int):
            return Term.constant(one.value * other.value)
        result = self.whole(least, most, name)
        if isinstance(one.value, int):
            self.linear([(one.value, other), (-1, result)], 0, 0)
        elif isinstance(other.value, int):
            self.linear([(other.value, one), (-1, result)], 0, 0)
        else:
            self.cp.add_multiplication_equality(result.value, [one.value, other.value])
        return result

    def sum(self, terms: Sequence[Term], name: str) -> Term:
        """The sum of these terms as one."""
        if not terms:
            return Term.constant(0)
        if len(terms) == 1:
            return terms[0]
        result = self.whole(sum(term.least for term in terms), sum(term.most for term in terms), name)
        self.linear([(-1, result), *((1, term) for term in terms)], 0, 0)
        return result

    def linear(self, parts: Iterable[tuple[int, Term]], least: int, most: int) -> None:
        """The sum of weight × term over the parts lies between these bounds."""
        weights, variables, known = [], [], 0
        for weight, term in parts:
            if isinstance(term.value, int):
                known += weight * term.value
            else:
                weights.append(weight)
                variables.append(term.value)
        if variables:
            from ortools.sat.python import cp_model

            total = cp_model.LinearExpr.weighted_sum(variables, weights)
            self.cp.add_linear_constraint(total, least - known, most - known)
        elif not least <= known <= most:
            self.refute()

    def equal(self, terms: Iterable[Term], to: int) -> None:
        """The terms add up to this number."""
        self.linear(((1, term) for term in terms), to, to)

    def refute(self) -> None:
        """The model has no solution."""
        self.cp.add_bool_or([])
