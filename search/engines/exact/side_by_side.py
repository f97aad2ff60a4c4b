"""The engine `side by side`: labels read in the order of the dice; each place alone settles its die."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from math import prod
from typing import Any

from facewright.constraints.design import NumberingDesign
from facewright.constraints.question import Numbering
from facewright.search.answer import Answering, Cause, Closing, Stream
from facewright.search.engines.exact.division import barred_by_division
from facewright.search.progress import Progress
from facewright.search.stop import Stop
from facewright.search.words import completed, conditions

PROOF = (
    "Dice fall independently, so the chance of labels side by side is the product of the chances of each.",
    "The chance of a label in a place, over all results, is the share of faces that carry it on that die.",
)


class SideBySide:
    """Complete and exact for labels side by side: there is one design at most."""

    name = "side by side"

    def accepts(self, question: Numbering) -> bool:
        """Plain questions for labels side by side."""
        return question.read == "side-by-side" and question.plain

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams the one design, if there is one; see `Engine`."""
        return Answering(self.name, _stream(question, limit))


def _stream(question: Numbering, limit: int) -> Stream:
    barred = barred_by_division(question)
    if barred is not None:
        return barred
    dice, target = question.dice, question.target
    places: list[Counter[int]] = [Counter() for _ in dice]
    for result, ways in target.pairs:
        for place, label in enumerate(result):
            places[place][label] += ways
    for place, counts in enumerate(places):
        for label, ways in sorted(counts.items()):
            share = Fraction(ways * dice[place].faces, target.outcomes)
            if share.denominator > 1:
                return _none(
                    "division",
                    f"No labels whatever can do it. In place {place + 1} the label {label} would need {share} of "
                    f"{dice[place].faces} faces, no whole number.",
                )
    apart = _dependent(question, places)
    if apart is not None:
        return _none("factor", apart)
    labels = [
        [x for x, ways in counts.items() for _ in range(ways * die.faces // target.outcomes)]
        for die, counts in zip(dice, places, strict=True)
    ]
    for place, (die, one) in enumerate(zip(dice, labels, strict=True), 1):
        if not die.keeps(tuple(sorted(one))):
            told = " ".join(map(str, sorted(one)))
            return _none(
                "clash",
                f"{conditions(question)} no numbering does it: die {place} would have to carry {told}.",
            )
    if limit:
        yield NumberingDesign.of(dice, labels)
    return Closing("complete", 1, 1, "all", completed(question, 1, min(1, limit)), PROOF)


def _dependent(question: Numbering, places: list[Counter[int]]) -> str | None:
    """A result whose chance is not the product of its labels' chances, in words; None where all are."""
    target = question.target
    for result, ways in target.pairs:
        apart = prod(
            (Fraction(places[place][label], target.outcomes) for place, label in enumerate(result)),
            start=Fraction(1),
        )
        if apart != Fraction(ways, target.outcomes):
            return (
                f"No labels whatever can do it. {_told(result)} side by side are wanted in {ways} of {target.outcomes} "
                f"ways; the dice fall independently, which makes it a chance of {apart}."
            )
    return None


def _none(cause: Cause, reason: str) -> Closing:
    return Closing("none", 0, 0, "all", reason, PROOF, cause=cause)


def _told(result: Any) -> str:
    return " and ".join(map(str, result))
