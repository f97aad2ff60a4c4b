"""The rule for readings that keep one label by its rank, such as the highest: counts of labels up to each value."""

from __future__ import annotations

from itertools import accumulate

from facewright.constraints.distribution import Distribution
from facewright.constraints.division import scaled_ways
from facewright.constraints.model.counts import CountModel, Term


def post_rank(model: CountModel, target: Distribution, rank: int) -> None:
    """Adds that the label of this rank from below has the target's chances: 1 the lowest, as many as dice the highest.

    The result is at most t exactly when at least `rank` dice show at most t. With C_i(t) for the count of labels up to
    t on die i, the ways N_i[j] in which j of the first i dice show at most t follow one from the other:
    N_i[j] = N_(i-1)[j]·(n_i − C_i(t)) + N_(i-1)[j-1]·C_i(t), where j stands still once it reaches the rank.

    Args:
        model: label counts.
        target: the chances wanted.
        rank: which label counts, from 1 for the least to the number of dice for the greatest.
    """
    ways = scaled_ways(target, [model.chances(die) for die in range(len(model.dice))])
    if ways is None:
        model.refute()
        return
    places = range(len(model.dice))
    values = sorted({*ways, *(label for die in places for label in model.weights(die))})
    below = [_counts_up_to(model, die, values) for die in places]
    wanted = list(accumulate(ways.get(value, 0) for value in values))
    for at, value in enumerate(values):
        _post_value(model, [counts[at] for counts in below], rank, wanted[at], value)


def _counts_up_to(model: CountModel, die: int, values: list[int]) -> list[Term]:
    """For each value how many ways the die has to show at most that."""
    weights = model.weights(die)
    total = model.chances(die)
    known = all(isinstance(term.value, int) for term in weights.values())
    so_far, found = Term.constant(0), []
    for value in values:
        if value in weights:
            before, one = so_far, weights[value]
            if known:
                so_far = Term.constant(before.least + one.least)
            else:
                so_far = model.whole(before.least, total, f"c{die}[{value}]")
                model.linear([(-1, so_far), (1, before), (1, one)], 0, 0)
        found.append(so_far)
    return found


def _post_value(model: CountModel, counts: list[Term], rank: int, wanted: int, value: int) -> None:
    """Adds that at least `rank` of the dice show at most this value in as many ways as wanted."""
    ways: dict[int, Term] = {0: Term.constant(1)}
    outcomes = 1
    for die, count in enumerate(counts):
        left = len(counts) - die - 1
        total = model.chances(die)
        outcomes *= total
        over = model.whole(total - count.most, total - count.least, f"o{die}[{value}]")
        model.linear([(1, over), (1, count)], total, total)
        sums: dict[int, list[Term]] = {}
        for low, times in ways.items():
            if low == rank:
                product = model.product(Term.constant(total), times, outcomes, f"r{die}[{value}]")
                sums.setdefault(rank, []).append(product)
                continue
            for further, weight in ((low, over), (low + 1, count)):
                if further + left >= rank:
                    product = model.product(times, weight, outcomes, f"r{die}[{value},{low},{further}]")
                    sums.setdefault(further, []).append(product)
        ways = {low: model.sum(terms, f"n{die}[{value},{low}]") for low, terms in sums.items()}
    model.equal([ways[rank]] if rank in ways else [], wanted)
