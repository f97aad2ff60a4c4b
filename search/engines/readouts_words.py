"""What readouts on a solid come to, in the words of a designer: why, how far from independent, and in which way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, permutations
from math import lcm, prod

from facewright.constraints.dependence import arithmetic_bound, expected, marginal
from facewright.constraints.grammar import article, number, series
from facewright.constraints.readouts import Label, Readout, Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.constraints.views import Views

OFTEN = {2: "twice", 3: "three times", 4: "four times", 5: "five times"}


@dataclass(frozen=True)
class Deviation:
    """Where one readout tells most of another: on `showing` of the `given` rests where `other` shows `seen`."""

    readout: Readout
    label: Label
    other: Readout
    seen: Label
    showing: int
    given: int
    own: Fraction

    @property
    def gap(self) -> Fraction:
        """How far the chance, once the other is known, is from the readout's own."""
        return abs(Fraction(self.showing, self.given) - self.own)


def positions(question: Readouts, design: ReadoutsDesign) -> dict[tuple[int, ...], int]:
    """The joint counts of a design by the positions of the labels."""
    labels = [one.labels for one in question.readouts]
    return {
        tuple(of.index(label) for of, label in zip(labels, combination, strict=True)): count
        for combination, count in design.joint
    }


def largest_deviation(question: Readouts, design: ReadoutsDesign) -> Deviation | None:
    """The largest conditional deviation of one readout given another; None where there is none."""
    joint = positions(question, design)
    best: Deviation | None = None
    for at, given in permutations(range(len(question.readouts)), 2):
        one, other = question.readouts[at], question.readouts[given]
        both = marginal(joint, (at, given))
        for seen, name in enumerate(other.labels):
            column = [both.get((label, seen), 0) for label in range(len(one.labels))]
            for label, count in enumerate(column):
                own = Fraction(one.weights[label], one.ways)
                found = Deviation(one, one.labels[label], other, name, count, sum(column), own)
                better = best is None or (found.gap, -len(one.labels), count) > (
                    best.gap,
                    -len(best.readout.labels),
                    best.showing,
                )
                if better:
                    best = found
    return best if best is not None and best.gap else None


def deviation_words(deviation: Deviation) -> str:
    """A deviation as a clause: "when wind shows 4, rain shows 1 twice as often as 2"."""
    one, showing, given = deviation.readout, deviation.showing, deviation.given
    start = f"when {deviation.other.name} shows {deviation.seen}, {one.name} "
    if showing == given:
        return f"{start}always shows {deviation.label}"
    if not showing:
        return f"{start}never shows {deviation.label}"
    left = given - showing
    if len(one.labels) == 2 and one.even and showing % left == 0 and showing // left in OFTEN:
        [rest] = (label for label in one.labels if label != deviation.label)
        return f"{start}shows {deviation.label} {OFTEN[showing // left]} as often as {rest}"
    return f"{start}shows {deviation.label} with chance {Fraction(showing, given)} instead of {deviation.own}"


def way(readout: Readout) -> str:
    """A readout by its number of labels: "two-way"."""
    labels = len(readout.labels)
    return f"{number(labels)}-way"


def ways_words(readouts: Sequence[Readout]) -> str:
    """Readouts by their numbers of labels, the fewest first: "a two-way and a four-way answer"."""
    kinds = Counter(way(one) for one in sorted(readouts, key=lambda one: len(one.labels)))
    parts = [article(kind) if times == 1 else f"{number(times)} {kind}" for kind, times in kinds.items()]
    return f"{series(parts)} answer" + ("" if list(kinds.values())[-1] == 1 else "s")


def whole_rests(question: Readouts) -> int:
    """The least number of rests on which every combination could come up as often as it should."""
    pairs = question.measure == "pairs" and len(question.readouts) > 1
    parts = list(combinations(question.weights, 2)) if pairs else [question.weights]
    return lcm(*(chance.denominator for part in parts for chance in expected(part).values()))


def obstacle(question: Readouts, rests: int) -> str:
    """Why the readouts cannot be independent on so many rests: the smallest part that cannot; "" if they could."""
    most = 2 if question.measure == "pairs" else len(question.readouts)
    for size in range(2, most + 1):
        for part in combinations(question.readouts, size):
            if arithmetic_bound([one.weights for one in part], rests):
                return _obstacle(part, rests)
    return ""


def _obstacle(part: Sequence[Readout], rests: int) -> str:
    cannot = f"so {ways_words(part)} cannot be independent on this solid"
    if all(one.even for one in part):
        return f"{prod(len(one.labels) for one in part)} does not divide {rests}, {cannot}"
    chances = expected([one.weights for one in part]).values()
    chance = next(one for one in chances if (rests * one).denominator > 1)
    share = f"{rests} × {chance} = {rests * chance} of {rests} rests"
    return f"a combination with chance {chance} would need {share}, {cannot}"


def no_place(question: Readouts, views: Views) -> str:
    """Why some readout cannot stand on a solid at all; empty where each of them can."""
    from facewright.search.engines.readouts_placing import fitting

    for one in question.readouts:
        named = f"No marking does it: {one.name} ({way(one)})"
        if views.rests % one.ways:
            weights = "" if one.even else f", whose weights add up to {one.ways},"
            needs = f"{named}{weights} needs a number of rests that {one.ways} divides"
            return f"{needs}; the {views.solid} has {views.rests}"
        if not fitting(one, views):
            where = f" on the {one.on}" if one.on else ""
            return (
                f"{named} finds no place{where} of the {views.solid}: every rest must show exactly one of its marks, "
                "and each label must get a whole number of them"
            )
    return ""


def distance_words(question: Readouts, distance: Fraction) -> str:
    """The least dependence in words, by the measure of the question."""
    pairs = question.measure == "pairs" and len(question.readouts) > 2
    return (
        f"the least dependence of {'any pair' if pairs else 'all together'} is {distance}"
        if (len(question.readouts) > 2)
        else f"the least dependence is {distance}"
    )


def independent_words(question: Readouts, rests: int) -> str:
    """The reason where the readouts came out exactly independent."""
    names = series(one.name for one in question.readouts)
    if len(question.readouts) == 1:
        return f"Every rest shows exactly one mark of {names}, each label as often as it should."
    pairs = question.measure == "pairs" and len(question.readouts) > 2
    how = ", pair by pair" if pairs else ""
    return f"With this marking {names} are exactly independent{how}, over all {rests} rests."
