"""What the tests of rolls come to, in plain words; never that a die is without bias, which no test shows."""

from __future__ import annotations

from math import inf, log10

from facewright.constraints.grammar import counted
from facewright.search.rolls.chi_square import DISTRIBUTION, EXACT
from facewright.search.rolls.judging import Judged, Test
from facewright.search.rolls.tally import Tally
from facewright.search.rolls.views import Subject

CAUTIONS = (
    "No number of rolls shows that a die has no bias: it only bounds a bias, and only for these dice, this table, this "
    "way of throwing. Say what was rolled and what would have been seen; say no more.",
    "Dice for gaming for money are bound by local law and tested by licensed houses: these tests do not replace them.",
    "Callipers on every axis of a few dice often tell more than thousands of rolls (`facewright measure`).",
)

NAMED = 3
"""Tests that the sentence names."""


def sentence(judged: Judged, tally: Tally, subject: Subject) -> str:
    """The verdict as one or two sentences."""
    rolled = f"{counted_rolls(tally.rolls)} of {subject.words}"
    if not judged.whole:
        return f"{rolled}: nothing could be tested."
    found = judged.unusual
    seen = _seen(judged)
    if not found:
        return f"{rolled}: nothing unusual{f'; {seen}' if seen else ''}."
    told = "; ".join(_unusual(one) for one in found[:NAMED])
    more = f"; and {counted(len(found) - NAMED, 'test')} more" if len(found) > NAMED else ""
    return f"{rolled}: not what the design says. {told[0].upper()}{told[1:]}{more}."


def seen_sentence(judged: Judged) -> str:
    """What the first test could have seen, as a sentence of its own; nothing where that is not known."""
    seen = judged.seen
    if seen is None or not judged.whole:
        return ""
    of = judged.whole[0].of
    share = f" at a level of {percent(judged.own_level)}"
    if seen.share == inf:
        return f"The test of {of} cannot see {seen.named} off."
    face = "A face" if seen.named == "a face" else f"The face hardest to see ({seen.named})"
    return (
        f"{face} off by {percent(seen.off)} would have been seen with {certainty_words(seen.certainty)} certainty, "
        f"one off by {percent(seen.share)} with {percent(seen.wanted)} (chi-square test of {of}{share})."
    )


def looked_sentence(judged: Judged) -> str:
    """What holds for whoever looked as the rolls came in."""
    tested = [one for one in judged.whole if one.log_e is not None and not one.same_as]
    if not tested:
        return ""
    limit = f"{judged.limit:,.0f}"
    if judged.alarms:
        top = max(judged.alarms, key=lambda one: one.top or 0.0)
        when = f" (after {counted_rolls(top.highest_at)})" if top.highest_at else ""
        return (
            f"Looked at whenever you like, the e-value of {top.of} reached {number(top.top)}{when} of the {limit} "
            "needed: unusual."
        )
    top = max(tested, key=lambda one: one.top or 0.0)
    if top.log_highest is None:
        return (
            f"The order of the rolls is not in the table, so that only the e-value at the end counts: "
            f"{number(top.log_e)} of the {limit} needed, nothing unusual. "
            "That holds also if you stopped because of what you saw."
        )
    return (
        f"Looked at after every roll, the highest e-value was {number(top.log_highest)} of the {limit} needed: nothing "
        "unusual, whenever you stop. If you stopped because of what you saw, this is the sentence that holds."
    )


def together_sentence(judged: Judged) -> str:
    """How the errors of all tests together are kept low."""
    many = sum(not one.same_as for one in (*judged.whole, *judged.parts))
    if many == 1:
        share = percent(judged.level)
        return (
            f"One test, with the number of rolls set beforehand: a false alarm in {share} of all such tests."
        )
    halves = ", half of it for all rolls, half for groups" if judged.parts else ""
    return (
        f"{many} tests: p is adjusted (Holm) so that any false alarm among them has a chance of at most "
        f"{percent(judged.level)}{halves}."
    )


def stands_out(test: Test) -> str:
    """The cell that stands out most: "f3: 42 where 33.3 expected, p 0.4"."""
    if test.most is None:
        return ""
    place = test.most.place
    expected = test.rolls * test.view.ways[place] / test.view.outcomes
    return f"{test.view.cells[place]}: {test.counts[place]:,}, expected {rounded(expected)}, p {p_words(test.most.p)}"


def p_words(p: float) -> str:
    """A p as it is read.

    Example:
        >>> p_words(0.0312), p_words(0.6), p_words(1e-20)
        ('0.031', '0.60', '<0.00001')
    """
    if p < 1e-5:
        return "<0.00001"
    return f"{p:.2f}" if p >= 0.1 else f"{p:.2g}" if p >= 1e-4 else f"{p:.5f}"


def p_source(test: Test) -> str:
    """A sign for where p comes from, where it is not the chi-square distribution."""
    return {DISTRIBUTION: "", EXACT: " exact"}.get(test.chi.p_is, " simulated")


def number(log_e: float | None) -> str:
    """An e-value from its logarithm.

    Example:
        >>> number(0.0), number(5.0), number(100.0)
        ('1.00', '148', '10^43')
    """
    if log_e is None:
        return "–"
    tens = log_e / 2.302585092994046
    if tens > 6:
        return f"10^{tens:.0f}"
    value = 10**tens
    return f"{value:,.0f}" if value >= 100 else f"{value:.3g}" if value < 1 else f"{value:.2f}"


def percent(share: float) -> str:
    """A share in per cent, with no more digits than it is worth.

    Example:
        >>> percent(0.2), percent(0.0125), percent(0.2086)
        ('20 %', '1.2 %', '21 %')
    """
    hundredth = 100 * share
    if hundredth >= 10 or abs(hundredth - round(hundredth)) < 1e-9:
        return f"{hundredth:,.0f} %"
    return f"{hundredth:.{1 - min(1, int(log10(max(hundredth, 1e-9)) // 1))}f} %"


def certainty_words(value: float) -> str:
    """A certainty in per cent."""
    return "more than 99 %" if value > 0.995 else f"{100 * value:.0f} %"


def rounded(value: float) -> str:
    """An expected number of rolls."""
    return f"{value:,.0f}" if value >= 1000 else f"{value:.3g}"


def counted_rolls(many: int) -> str:
    """So many rolls, in figures: a log is no prose."""
    return f"{many:,} roll{'s' * (many != 1)}"


def _seen(judged: Judged) -> str:
    seen = judged.seen
    if seen is None:
        return ""
    if seen.share == inf:
        return f"but {seen.named} off would not show at all in what was recorded"
    face = "a face" if seen.named == "a face" else "any face"
    only = " only" if seen.certainty < 0.5 else ""
    sure = certainty_words(seen.certainty)
    return f"{face} off by {percent(seen.off)} would have been seen with {sure} certainty{only}"


def _unusual(one: Test) -> str:
    p = f"p {p_words(one.p_adjusted)}"
    if one.group and one.group[1] is None:
        return f"the entries of {one.group[0]} differ among themselves ({p})"
    assert one.most is not None
    place = one.most.place
    expected = one.rolls * one.view.ways[place] / one.view.outcomes
    off = one.counts[place] / expected - 1
    way = "more" if off > 0 else "less"
    of = "" if one.of == "result" else f"{one.of}: "
    return (
        f"{of}{one.view.cells[place]} came up {one.counts[place]:,} times, {percent(abs(off))} {way} often than the "
        f"{rounded(expected)} expected ({p})"
    )
