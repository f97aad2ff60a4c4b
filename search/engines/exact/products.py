"""The engine `products`: products of labels, by the irreducible factors of polynomials in one variable a prime.

A positive label is a monomial, its prime factorisation with a variable for each prime; a die is the sum of its labels,
and dice multiply as their labels do. Polynomials over the integers factor in one way only, in any number of variables,
so each die is a part of the content times a product of irreducible factors. Zeros take up the faces that are left.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from math import isqrt, prod

import flint
from facewright.constraints.design import NumberingDesign
from facewright.constraints.division import scaled_ways
from facewright.constraints.grammar import counted
from facewright.constraints.labels import Die, LabelRules, interchangeable
from facewright.constraints.question import Numbering
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.exact.division import barred_by_division
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped
from facewright.search.words import completed, conditions, dice_words, stopped

MOST_TERMS = 4_000
"""Up to so many results the polynomial is factored: more could take minutes that no stop can shorten."""

MOST_DEALS = 1_000_000
"""Up to so many divisors are gone through for one die; past them the solver is asked instead."""

ANY = LabelRules(0, sys.maxsize)
"""Label rules that bar no label of 0 and above."""

ASKED_EVERY = 200
"""Divisors between two questions whether to stop."""


@dataclass(frozen=True)
class Parts:
    """The positive results as content · ∏ factor^power; each factor as exponents of the primes → coefficient."""

    primes: tuple[int, ...]
    content: int
    factors: tuple[flint.fmpz_mpoly, ...]
    powers: tuple[int, ...]
    at_one: tuple[int, ...]

    @classmethod
    def of(cls, ways: dict[int, int]) -> Parts:
        """The parts of the polynomial of positive results with these ways."""
        primes = sorted({p for result in ways for p in _primes(result)})
        ring = flint.fmpz_mpoly_ctx.get(tuple(f"x{p}" for p in primes) or ("x",))
        terms = {_exponents(result, primes) or (0,): count for result, count in ways.items()}
        content, pairs = ring.from_dict(terms).factor()
        positive = [(f if _value(f) > 0 else -f, int(power)) for f, power in pairs]
        positive.sort(key=lambda pair: (_value(pair[0]) == 1, _value(pair[0]), str(pair[0])))
        return cls(
            tuple(primes),
            abs(int(content)),
            tuple(f for f, _ in positive),
            tuple(power for _, power in positive),
            tuple(_value(f) for f, _ in positive),
        )

    def deals(self) -> int:
        """How many products of factors there are."""
        return prod(power + 1 for power in self.powers)

    def labels(self, exponents: Sequence[int]) -> dict[int, int] | None:
        """Label → how often, for a product of factors; None where some coefficient is negative."""
        poly = None
        for factor, exponent in zip(self.factors, exponents, strict=True):
            if exponent:
                power = factor**exponent
                poly = power if poly is None else poly * power
        if poly is None:
            return {1: 1}
        found = {}
        for powers, count in poly.to_dict().items():
            if count < 0:
                return None
            label = prod(p ** int(e) for p, e in zip(self.primes, powers, strict=False))
            found[label] = int(count)
        return found


class Products:
    """Complete and exact for products of labels that are not negative."""

    name = "products"

    def accepts(self, question: Numbering) -> bool:
        """Plain questions for products without negative labels, some result above 0, not too many results."""
        if question.read != "product" or not question.plain:
            return False
        target = question.target
        if any(die.lowest_label < 0 for die in question.dice) or target.least < 0 or target.greatest <= 0:
            return False
        return len(target.pairs) <= MOST_TERMS and isqrt(int(target.greatest)) <= 1_000_000

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams the designs, each once; see `Engine`. The seed changes nothing: there is no chance in it."""
        return Answering(self.name, _stream(question, limit, stop, report))


def _stream(question: Numbering, limit: int, stop: Stop, report: Progress) -> Stream:
    barred = barred_by_division(question)
    if barred is not None:
        return barred
    ways = scaled_ways(question.target, [die.faces for die in question.dice]) or {}
    parts = Parts.of({result: count for result, count in ways.items() if result > 0})
    proof = _proof(parts)
    stuck = _stuck(question, parts, zeros=0 in ways)
    if stuck is not None:
        return Closing("none", 0, 0, "all", stuck, proof, cause="factor")
    count = 0
    try:
        for labels in _dealt(question, parts, stop):
            count += 1
            if count <= limit:
                yield NumberingDesign.of(question.dice, labels)
            report("designs found", count, None)
    except Stopped as asked:
        return Closing("partial", count, count, "at least", stopped(count, str(asked)))
    if not count and _fits_nowhere(question, parts, stop):
        start = f"No labels on {dice_words(question.dice)} can do it, whatever they are."
        reason = (
            f"{start} The target's pattern falls into {counted(sum(parts.powers), 'part')}; every way to deal them out "
            "was tried, and each would put some label on fewer than no faces."
        )
        return Closing("none", 0, 0, "all", reason, proof, cause="factor")
    if not count:
        reason = (
            f"{conditions(question)} no numbering does it: every way to combine the target's parts was tried."
        )
        return Closing("none", 0, 0, "all", reason, proof, cause="search")
    return Closing("complete", count, count, "all", completed(question, count, min(count, limit)), proof)


def _stuck(question: Numbering, parts: Parts, zeros: bool) -> str | None:
    """Why the parts fit on no dice of these sizes, whatever the labels; None where the sizes allow it."""
    start = f"No labels on {dice_words(question.dice)} can do it, whatever they are. The target's pattern"
    faces = [die.faces for die in question.dice]
    large = next((v for v in parts.at_one if not any(_holds(n, v, zeros) for n in faces)), None)
    if large is not None:
        carry = f"with at least {large:,} faces" if zeros else f"with {large:,} faces, or a multiple of it,"
        return f"{start} has a part that cannot be split any further and that only a die {carry} could carry."
    top = [power for power, value in zip(parts.powers, parts.at_one, strict=True) if value > 1]
    values = parts.at_one[: len(top)]
    reached = {(0,) * len(top)}
    for count in faces:
        steps = [
            exponents
            for exponents in product(*(range(power + 1) for power in top))
            if _holds(count, prod(v**e for v, e in zip(values, exponents, strict=True)), zeros)
        ]
        sums = {tuple(map(sum, zip(before, step, strict=True))) for before in reached for step in steps}
        reached = {one for one in sums if all(have <= most for have, most in zip(one, top, strict=True))}
    if tuple(top) in reached:
        return None
    return (
        f"{start} falls into parts that each take up a fixed share of a face count, and these shares cannot be dealt "
        "out so that every die comes out with its own number of faces."
    )


def _holds(faces: int, value: int, zeros: bool) -> bool:
    """Whether a die can carry parts with this value at 1: all its faces are theirs, where none may show 0."""
    return value <= faces if zeros else faces % value == 0


def _fits_nowhere(question: Numbering, parts: Parts, stop: Stop) -> bool:
    """Whether no labels whatever do it; False where a stop comes first, or where some die is fixed.

    With the signs of labels left out no result changes that is not negative.
    """
    if any(die.exactly is not None for die in question.dice):
        return False
    free = question.alone(tuple(replace(die, rules=ANY) for die in question.dice))
    try:
        return next(_dealt(free, parts, stop), None) is None
    except Stopped:
        return False


def _dealt(question: Numbering, parts: Parts, stop: Stop) -> Iterator[list[list[int]]]:
    """Every way to deal content and factors to the dice, as labels; interchangeable dice stand in order."""
    groups = [group for group in interchangeable(question.dice) if len(group) > 1]
    choices = [_choices(die, parts, stop) for die in question.dice]
    for labels in _rest(question.dice, choices, parts.content, parts.powers, []):
        if all(labels[a] <= labels[b] for group in groups for a, b in pairwise(group)):
            yield labels


Choices = dict[tuple[int, tuple[int, ...]], list[int]]
"""A part of the content and exponents of the factors → the labels that they make with the zeros that are left."""


def _choices(die: Die, parts: Parts, stop: Stop) -> Choices:
    """Everything that one die can be: (its part of the content, exponents) → its labels."""
    found: Choices = {}
    if die.exactly is not None and not any(die.exactly):
        return found
    for number, exponents in enumerate(product(*(range(power + 1) for power in parts.powers))):
        if number % ASKED_EVERY == 0 and (asked := stop()):
            raise Stopped(asked)
        value = prod(v**e for v, e in zip(parts.at_one, exponents, strict=True))
        if value > die.faces:
            continue
        counts = parts.labels(exponents)
        if counts is None:
            continue
        for content in range(1, die.faces // value + 1):
            if parts.content % content:
                continue
            zeros = die.faces - content * value
            labels = sorted(x for x, times in counts.items() for _ in range(times * content))
            labels = [0] * zeros + labels
            if die.keeps(tuple(labels)):
                found[content, exponents] = labels
    return found


def _rest(
    dice: Sequence[Die],
    choices: Sequence[Choices],
    content: int,
    powers: tuple[int, ...],
    chosen: list[list[int]],
) -> Iterator[list[list[int]]]:
    """The choices of the dice that are still to come, which use up what is left; the last is looked up."""
    die = len(chosen)
    if die == len(dice) - 1:
        last = choices[die].get((content, powers))
        if last is not None:
            yield [*chosen, last]
        return
    for (part, exponents), labels in choices[die].items():
        if content % part or any(e > left for e, left in zip(exponents, powers, strict=True)):
            continue
        left = tuple(have - e for have, e in zip(powers, exponents, strict=True))
        yield from _rest(dice, choices, content // part, left, [*chosen, labels])


def _proof(parts: Parts) -> tuple[str, ...]:
    content = f"{parts.content} · " if parts.content > 1 else ""
    pairs = zip(parts.factors, parts.powers, strict=True)
    shown = " · ".join(f"({f})" + (f"^{power}" if power > 1 else "") for f, power in pairs)
    told = f"The positive results are {content}{shown or '1'}."
    return (
        "A positive label is a monomial with a variable for each prime; Z[x₂, x₃, …] has unique factorisation.",
        told if len(told) < 2_000 else "The positive results were factored.",
        f"{parts.deals():,} products of factors were tried for each die, with each part of the content; zeros take up "
        "the faces that are left.",
    )


def _value(poly: flint.fmpz_mpoly) -> int:
    """The sum of the coefficients."""
    return int(sum(poly.to_dict().values()))


def _primes(number: int) -> set[int]:
    """The primes that divide a positive number, by trial division."""
    found, p = set(), 2
    while p * p <= number:
        while number % p == 0:
            found.add(p)
            number //= p
        p += 1
    return found | ({number} if number > 1 else set())


def _exponents(number: int, primes: Sequence[int]) -> tuple[int, ...]:
    """How often each prime divides the number."""
    found = []
    for p in primes:
        times = 0
        while number % p == 0:
            number //= p
            times += 1
        found.append(times)
    return tuple(found)
