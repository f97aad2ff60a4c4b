"""The rule that dice, read as a total, have the target's chances: a chain of convolutions of label counts."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import prod

from facewright.constraints.distribution import Distribution
from facewright.constraints.division import scaled_ways
from facewright.constraints.labels import Die
from facewright.constraints.model.counts import CountModel, Term


def post_totals(model: CountModel, target: Distribution) -> None:
    """Adds that the total's ways equal (n1…nk / M)·target, M being the target's outcomes.

    The ways of the first i dice are P_i[t] = Σ P_(i-1)[u]·a_i[v] over u + v = t. Each product q[u, v] is a
    variable that cannot pass the ways of the totals it leads to; dice with known labels come first and cost
    no variable. Where the division leaves a fraction or the labels cannot reach the totals, the model has no
    solution. The sums of q along a row or column and the mean follow from these equations; posted as well,
    they made listing slower (docs/decisions/0003-plain-model.md).

    Args:
        model: label counts; labels that no design can carry leave it.
        target: the chances wanted.
    """
    ways = scaled_ways(target, [die.faces for die in model.dice])
    if ways is None or out_of_reach(model.dice, target) is not None:
        model.refute()
        return
    _bar(model, target)
    order = sorted(range(len(model.dice)), key=lambda die: (model.dice[die].exactly is None, die))
    so_far = {0: Term.constant(1)}
    for place, die in enumerate(order, start=1):
        rest = order[place:]
        products = _products(model, so_far, die, _room(model, ways, rest))
        if rest:
            so_far = {total: model.sum(terms, f"p{place}[{total}]") for total, terms in products.items()}
        else:
            for total in sorted({*products, *ways}):
                model.equal(products.get(total, []), ways.get(total, 0))


def out_of_reach(dice: Sequence[Die], target: Distribution) -> str | None:
    """Why the labels allowed cannot reach the target's least or greatest total; None if they can."""
    lows, highs = [], []
    for die in dice:
        labels = die.exactly or die.rules.allowed()
        if not labels:
            return f"a die with {die.faces} faces has no label left that its rules allow"
        lows.append(labels[0])
        highs.append(labels[-1])
    if sum(lows) > target.least:
        return f"the least labels add up to {sum(lows)}, but the total {target.least} is wanted"
    if sum(highs) < target.greatest:
        return f"the greatest labels add up to {sum(highs)}, but the total {target.greatest} is wanted"
    return None


def _bar(model: CountModel, target: Distribution) -> None:
    """Takes out every label that leads out of the target's range with each label of the other dice."""
    bounds = [(model.labels(die)[0], model.labels(die)[-1]) for die in range(len(model.dice))]
    low, high = sum(one[0] for one in bounds), sum(one[1] for one in bounds)
    for die, (least, greatest) in enumerate(bounds):
        if model.dice[die].exactly is not None:
            continue
        for label in model.labels(die):
            if label + (low - least) > target.greatest or label + (high - greatest) < target.least:
                model.bound(die, label, 0)


def _room(model: CountModel, ways: Mapping[int, int], rest: Sequence[int]) -> Callable[[int], int]:
    """Subtotal → the most ways it can have, given which totals the dice still to come can make of it."""
    if not all(model.labels(die) for die in rest):
        return lambda subtotal: 0
    least = sum(model.labels(die)[0] for die in rest)
    greatest = sum(model.labels(die)[-1] for die in rest)
    times = prod(model.dice[die].faces for die in rest)
    return lambda subtotal: sum(ways.get(subtotal + more, 0) for more in range(least, greatest + 1)) // times


def _products(
    model: CountModel, so_far: Mapping[int, Term], die: int, room: Callable[[int], int]
) -> dict[int, list[Term]]:
    """Subtotal → the products of counts that make it, once this die is added to those so far."""
    most: dict[int, int] = {}
    products: dict[int, list[Term]] = {}
    for subtotal, times in so_far.items():
        for label, count in model.counts(die).items():
            total = subtotal + label
            if total not in most:
                most[total] = room(total)
            product = model.product(times, count, most[total], f"q{die}[{subtotal},{label}]")
            products.setdefault(total, []).append(product)
    return products
