"""The chances of a set of dice, beside dice that everybody knows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from facewright.constraints.contest import BEATS, Contest
from facewright.constraints.distribution import Distribution
from facewright.constraints.duels import chance
from facewright.constraints.layout import Layout
from facewright.constraints.like import parse_like
from facewright.constraints.readouts import Readouts

FAMILIAR = (
    "d2", "d4", "d6", "d8", "d10", "d12", "d20", "2d4", "2d6", "2d8", "2d10", "2d12", "3d6", "d4 + d6", "d6 + d8",
    "d8 + d12",
)  # fmt: skip
"""Dice that players know, as they are named in the trade."""


@dataclass(frozen=True)
class Chances:
    """The chances of one result: of these dice, and of familiar ones beside (None where none come near).

    `name` is what the result is called, empty where there is only one. `labels` name the results in order, `ours` and
    `theirs` their chances. `beside` names the familiar dice, `gap` is the total variation distance from them.
    """

    name: str
    labels: tuple[str, ...]
    ours: tuple[Fraction, ...]
    beside: str = ""
    theirs: tuple[Fraction, ...] = ()
    gap: Fraction = Fraction(0)

    @property
    def words(self) -> str:
        """The comparison in a sentence."""
        if not self.beside:
            return ""
        if not self.gap:
            return f"Exactly the chances of {the(self.beside)}."
        return f"Beside {the(self.beside)}: {percent(self.gap)} of rolls come out otherwise."


def chances_of(answer: Any, one: Any) -> tuple[Chances, ...]:
    """The chances of a ranked design: one entry, for a solid with several readouts one a readout."""
    question = answer.question
    if isinstance(question, Readouts):
        return tuple(_readout(readout) for readout in question.readouts)
    if isinstance(question, Layout):
        labels = [label for label in question.labels if isinstance(label, int)]
        return (_beside("", Distribution.of_labels(labels)),) if labels else ()
    if isinstance(question, Contest):
        return _duels(question, one) if question.read == BEATS else ()
    found = question.reading.distribution([die.labels for die in one.scores.design.dice])
    if not isinstance(found.least, int):
        return ()
    if question.like:
        return (_compared("", found, question.like, question.target),)
    return (_beside("", found),)


def _readout(readout: Any) -> Chances:
    ways = sum(readout.weights)
    alike = f"d{len(readout.labels)}" if readout.even else ""
    own = tuple(Fraction(weight, ways) for weight in readout.weights)
    return Chances(readout.name, tuple(map(str, readout.labels)), own, alike, own if alike else ())


def _duels(question: Contest, one: Any) -> tuple[Chances, ...]:
    dice = [die.labels for die in one.scores.design.dice]
    arcs = question.arcs(len(dice))
    won = tuple(chance(dice[a], dice[b]) for a, b in arcs)
    return (Chances("", tuple(f"die {a + 1} beats die {b + 1}" for a, b in arcs), won),)


def _beside(name: str, found: Distribution) -> Chances:
    """Beside those familiar dice that come nearest."""
    known = [(words, parse_like(words)) for words in FAMILIAR]
    words, target = min(known, key=lambda one: (found.distance(one[1]), FAMILIAR.index(one[0])))
    if found.distance(target) > Fraction(1, 2):
        return Chances(
            name, tuple(map(str, found.ways)), tuple(found.chance(result) for result in found.ways)
        )
    return _compared(name, found, words, target)


def _compared(name: str, found: Distribution, words: str, target: Distribution) -> Chances:
    results = sorted({*found.ways, *target.ways})
    return Chances(
        name,
        tuple(map(str, results)),
        tuple(found.chance(result) for result in results),
        words,
        tuple(target.chance(result) for result in results),
        found.distance(target),
    )


def rows(chances: Chances) -> Iterator[tuple[str, str]]:
    """Each result with its chance, for a table."""
    for label, share in zip(chances.labels, chances.ours, strict=True):
        yield label, f"{share.numerator} in {share.denominator} ({percent(share)})" if share else "never"


def percent(share: Fraction) -> str:
    """A chance in per cent with one decimal, halves rounded up.

    Example:
        >>> percent(Fraction(5, 36)), percent(Fraction(1, 4))
        ('13.9 %', '25.0 %')
    """
    tenths = (2000 * share.numerator + share.denominator) // (2 * share.denominator)
    return f"{tenths // 10}.{tenths % 10} %"


def tallest(several: Sequence[Chances]) -> Fraction:
    """The greatest chance of all."""
    return max(share for one in several for share in (*one.ours, *one.theirs))


def the(like: str) -> str:
    """Familiar dice within a sentence.

    Example:
        >>> the("2d6"), the("highest of 2d20")
        ('2d6', 'the highest of 2d20')
    """
    return like if like.lstrip("+- ")[:1] in "0123456789d" and not like.startswith("diff") else f"the {like}"
