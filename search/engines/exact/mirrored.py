"""The engine `mirrored factors`: one die less the other is the total of the first and the second turned round."""

from __future__ import annotations

import sys
from dataclasses import replace

from facewright.constraints.design import NumberingDesign
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering, StopRule
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.exact.division import barred_by_division
from facewright.search.engines.factors import Factors
from facewright.search.progress import Progress
from facewright.search.stop import Stop
from facewright.search.words import completed, conditions, stopped

TURNED = {"lowest": "highest", "highest": "lowest"}
"""What a bound becomes when the labels change their signs."""


class Mirrored:
    """Complete and exact for signed differences: the factors of the total of a die and its partner turned round."""

    name = "mirrored factors"

    def accepts(self, question: Numbering) -> bool:
        """Plain questions for signed differences."""
        return question.read == "signed-difference" and question.plain

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams the designs, each once; see `Engine`. The seed changes nothing: there is no chance in it."""
        return Answering(self.name, _stream(question, limit, stop, seed, report))


def as_total(question: Numbering) -> Numbering:
    """The same question of a total: the labels of the second die with their signs changed."""
    first, second = question.dice
    return replace(
        question,
        read="total",
        sets=((first, turned(second)),),
        anchored=False,
        stop=StopRule(question.stop.seconds, None),
    )


def turned(die: Die) -> Die:
    """The die whose labels are those of this one with their signs changed."""
    rules = die.rules
    return replace(
        die,
        rules=LabelRules(
            -rules.highest,
            -rules.lowest,
            rules.repeats,
            None if rules.only is None else tuple(-x for x in reversed(rules.only)),
            tuple(-x for x in reversed(rules.avoid)),
            frozenset(TURNED.get(part, part) for part in rules.given),
        ),
        exactly=None if die.exactly is None else tuple(-x for x in reversed(die.exactly)),
    )


def _stream(question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Stream:
    barred = barred_by_division(question)
    if barred is not None:
        return barred
    # only some of the designs are anchored: then all are gone through, to count these
    all_of_them = sys.maxsize if question.anchored else limit
    answering = Factors().answer(as_total(question), all_of_them, stop, seed, report)
    count = 0
    for total in answering:
        first, second = (die.labels for die in total.dice)
        design = NumberingDesign.of(question.dice, [first, [-x for x in second]])
        if question.anchored and not _anchored(question, design):
            continue
        count += 1
        if count <= limit:
            yield design
    closing = answering.closing
    listed = min(count, limit)
    if closing.verdict == "partial":
        asked = closing.reason.partition("(")[2].partition(")")[0]
        return Closing("partial", count, count, "at least", stopped(count, asked))
    count = count if question.anchored else closing.count
    proof = ("With the signs of the second die's labels changed, the difference is a total.", *closing.proof)
    if count:
        return Closing("complete", count, count, "all", completed(question, count, listed), proof)
    if closing.reason.startswith("No labels"):
        return Closing("none", 0, 0, "all", closing.reason, proof, cause=closing.cause)
    reason = (
        f"{conditions(question)} no numbering does it: every way to combine the target's parts was tried."
    )
    return Closing("none", 0, 0, "all", reason, proof, cause="search")


def _anchored(question: Numbering, design: NumberingDesign) -> bool:
    """Whether some die carries its least label."""
    pairs = zip(question.dice, design.dice, strict=True)
    return any(die.exactly is not None or made.labels[0] == die.rules.allowed()[0] for die, made in pairs)
