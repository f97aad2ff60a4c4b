"""Further rules of a numbering on a CP-SAT model of label counts; every helper variable follows from the counts."""

from __future__ import annotations

from facewright.constraints.further import (
    AlsoRead,
    Distinct,
    EqualLabels,
    Further,
    SameMean,
    Symmetric,
    told_of,
)
from facewright.constraints.model.counts import CountModel, Term
from facewright.constraints.readings import reading_of


def post_further(model: CountModel, rule: Further) -> None:
    """Adds a further rule to a model."""
    match rule:
        case EqualLabels():
            _equal_labels(model, rule)
        case SameMean():
            _same_mean(model)
        case Symmetric():
            for die in range(len(model.dice)):
                _symmetric(model, die)
        case Distinct():
            for die in range(len(model.dice)):
                _distinct(model, die, rule.at_most)
        case AlsoRead():
            reading_of(rule.read, told_of(rule, sorted(model.again))).post(model, rule.target)


def _equal_labels(model: CountModel, rule: EqualLabels) -> None:
    """Σ over labels of the product of their counts on all dice is the chance times all outcomes."""
    wanted = rule.chance * model.outcomes
    if wanted.denominator > 1:
        model.refute()
        return
    weights = [model.weights(die) for die in range(len(model.dice))]
    alike = []
    for label in sorted(set.intersection(*(set(one) for one in weights))):
        term = Term.constant(1)
        for die, one in enumerate(weights):
            term = model.product(term, one[label], model.outcomes, f"e{die}[{label}]")
        alike.append(term)
    model.equal(alike, int(wanted))


def _same_mean(model: CountModel) -> None:
    """The labels of each die add up to its faces times what those of the first add up to, over the first's."""
    first = model.dice[0].faces
    for die in range(1, len(model.dice)):
        faces = model.dice[die].faces
        mine = [(faces * label, count) for label, count in model.counts(0).items()]
        theirs = [(-first * label, count) for label, count in model.counts(die).items()]
        model.linear([*mine, *theirs], 0, 0)


def _symmetric(model: CountModel, die: int) -> None:
    """Some sum s is that of each label and its mirror: the labels add up to faces·s/2, so that there is one s only."""
    counts = model.counts(die)
    faces = model.dice[die].faces
    if not counts:
        model.refute()
        return
    if all(isinstance(count.value, int) for count in counts.values()):
        ends = [label for label, count in counts.items() if count.least]
        both = min(ends) + max(ends)
        if any(count.least != model.count(die, both - label).least for label, count in counts.items()):
            model.refute()
        return
    sums = sorted({one + other for one in counts for other in counts})
    chosen = [Term(model.cp.new_bool_var(f"s{die}[{total}]"), 0, 1) for total in sums]
    model.equal(chosen, 1)
    doubled = [(2 * label, count) for label, count in counts.items()]
    model.linear([*doubled, *((-faces * total, one) for total, one in zip(sums, chosen, strict=True))], 0, 0)
    for total, one in zip(sums, chosen, strict=True):
        for label, count in counts.items():
            mirror = model.count(die, total - label)
            if total - label >= label or not mirror.most:
                model.cp.add(count.value == mirror.value).only_enforce_if(one.value)


def _distinct(model: CountModel, die: int, at_most: int) -> None:
    """At most so many labels stand on the die; one that stands there stands at least once."""
    present = []
    for label, count in model.counts(die).items():
        if count.least:
            present.append(Term.constant(1))
            continue
        here = Term(model.cp.new_bool_var(f"d{die}[{label}]"), 0, 1)
        model.linear([(1, here), (-1, count)], -count.most, 0)
        model.linear([(count.most, here), (-1, count)], 0, count.most)
        present.append(here)
    model.linear([(1, one) for one in present], 0, at_most)
