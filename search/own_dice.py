"""Dice that somebody already has: what they do, whether that is a target's distribution, and a question to save."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.errors import UsageError
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering
from facewright.constraints.readings import PARAMETERS, READINGS, REROLL, How, how_to_form, reading_of
from facewright.search.report.bars import result_text
from facewright.search.report.scores import Settings

MOST_STEPS = 50_000_000
"""Additions that own dice may take: some ten seconds."""


@dataclass(frozen=True)
class OwnDice:
    """Own dice as a question with every die fixed; without `like` its target is their own distribution."""

    question: Numbering
    distribution: Distribution
    like: str | None

    @property
    def design(self) -> NumberingDesign:
        """The dice as a design."""
        return NumberingDesign.of(self.question.dice, [die.exactly or () for die in self.question.dice])

    @property
    def sentence(self) -> str:
        """What the dice do, and whether it is the target's."""
        own = self.distribution
        text = f"{own.outcomes:,} equally likely outcomes give {_results(own)}."
        if self.like is None:
            return text
        distance = own.distance(self.question.target)
        if not distance:
            return f"Exactly the chances of {self.like}. {text}"
        return f"Not the chances of {self.like}: total variation distance {distance} ({float(distance):.2%}). {text}"

    @property
    def brief(self) -> str:
        """A brief with these dice fixed, for the run folder."""
        lines = [f"title = {json.dumps(self.question.title)}", f"read = {json.dumps(self.question.read)}"]
        if self.like is not None:
            lines.append(f"like = {json.dumps(self.like)}")
        else:
            pairs = ", ".join(f'"{result_text(r)}" = {count}' for r, count in self.question.target.pairs)
            lines.append(f"ways = {{ {pairs} }}")
        lines += [f"{key} = {json.dumps(value)}" for key, value in self.question.how]
        dice = ", ".join(f"{{ exactly = {list(die.exactly or ())} }}" for die in self.question.dice)
        lines += [f"dice = [{dice}]", f"accept = {json.dumps(self.question.accept)}"]
        return "\n".join(lines) + "\n"

    def as_json(self, settings: Settings) -> dict[str, Any]:
        """The distribution, the comparison and the scores as plain values."""
        from facewright.search.rank import score

        scored = score(self.design, [1] * len(self.question.dice), settings)
        moments: dict[str, str | None] = {"mean": None, "variance": None}
        if _numbers(self.distribution):
            moments = {"mean": str(self.distribution.mean), "variance": str(self.distribution.variance)}
        compared: dict[str, Any] = {}
        if self.like is not None:
            distance = self.distribution.distance(self.question.target)
            compared = {"like": self.like, "same": distance == 0, "distance": str(distance)}
        return {
            "schema": 1,
            "kind": "ways",
            "read": self.question.read,
            **how_to_form(self.question.how),
            "outcomes": self.distribution.outcomes,
            "ways": self.distribution.plain_pairs,
            **moments,
            **compared,
            "design": {**self.design.as_json(), "scores": scored.scores},
        }


def own_dice(
    texts: tuple[str, ...],
    read: str = "total",
    like: str | None = None,
    told: Mapping[str, Any] | None = None,
) -> OwnDice:
    """Dice from lists of labels as people type them.

    Params:
        texts: the labels of each die.
        read: how the dice are read.
        like: a target to compare with.
        told: what the reading must be told; a value of None stands for an option that was not given.
    Raises:
        UsageError: labels, reading or target that cannot be understood; all of them together.
    """
    from facewright.constraints.like import parse_like
    from facewright.constraints.own import parse_labels
    from facewright.constraints.solids.names import default_solid

    faults: list[str] = []
    labels: list[tuple[int, ...]] = []
    for place, text in enumerate(texts, 1):
        try:
            one = parse_labels(text)
            if len(one) < 2:
                faults.append(f"die {place}: found {len(one)} label in {text!r}; accepted: two or more")
            labels.append(tuple(sorted(one)))
        except ValueError as wrong:
            faults.append(f"die {place}: {wrong}")
    target = None
    if like is not None:
        try:
            target = parse_like(like)
        except ValueError as wrong:
            faults.append(f"--like: {wrong}")
    how: How = tuple(sorted((key, value) for key, value in (told or {}).items() if value is not None))
    faults += reading_faults(read, how, len(texts))
    if not faults and _steps(labels, read, how) > MOST_STEPS:
        faults.append(
            f"labels: found {len(labels)} dice with too many different results to count; accepted: fewer dice, or "
            "smaller labels"
        )
    if faults:
        raise UsageError("\n".join(faults))
    reading = reading_of(read, how)
    own = reading.distribution(labels)
    if target is not None and (strange := reading.strange(target, len(labels))):
        raise UsageError(f"--like: found {strange[0]}; accepted: {strange[1]}")
    dice = tuple(
        Die(
            len(one),
            default_solid(len(one)),
            1,
            LabelRules(one[0], one[-1]),
            exactly=one,
            place=at if reading.ordered else None,
        )
        for at, one in enumerate(labels)
    )
    exact = target is None or own.same_chances(target)
    title = "Own dice: " + " and ".join(" ".join(map(str, one)) for one in labels)
    question = Numbering(
        read=read,
        target=target or own,
        sets=(dice,),
        accept="exact" if exact else "nearest",
        how=how,
        anchored=read == "difference",
        title=title
        if len(title) <= 80
        else f"Own dice: {len(labels)} with {', '.join(str(len(one)) for one in labels)} faces",
        like=like or "",
    )
    return OwnDice(question, own, like)


def again_of(text: str | None) -> tuple[int, ...] | None:
    """The labels that are rolled again, as an option gives them; None where it does not.

    Raises:
        UsageError: a text that holds no labels.
    """
    from facewright.constraints.own import FORM

    if text is None:
        return None
    words = text.replace(",", " ").replace("−", "-").split()
    if not words or not all(word.removeprefix("-").isdecimal() and len(word) < 9 for word in words):
        raise UsageError(f"--reroll: found {text!r}; accepted: {FORM.partition(',')[0]}")
    return tuple(sorted(set(map(int, words))))


def reading_faults(read: str, how: How, dice: int) -> list[str]:
    """What is wrong with a reading as options give it, a line a fault."""
    if read not in READINGS:
        return [f"--read: found {read!r}; accepted in this version: {', '.join(READINGS)}"]
    needed, given = PARAMETERS.get(read, ()), [key for key, _ in how if key != REROLL]
    missing, strange = [k for k in needed if k not in given], [k for k in given if k not in needed]
    faults = [
        f"--{_option(key)}: found none; accepted: a value, which --read {read} needs" for key in missing
    ]
    faults += [
        f"--{_option(key)}: found beside --read {read}; accepted: no such option there" for key in strange
    ]
    if not faults and (takes := reading_of(read, how).takes(dice)):
        faults.append(
            f"labels: found {dice} {'die' if dice == 1 else 'dice'} read as the {read}; accepted: {takes}"
        )
    return faults


def _option(key: str) -> str:
    return key.replace("_", "-")


def _steps(dice: list[tuple[int, ...]], read: str, how: How) -> int:
    """How many pairs of what is known and a label are taken up, at most."""
    steps, states, spread, every = 0, 1, 0, 0
    for labels in dice:
        distinct = len(set(labels))
        steps += states * distinct
        spread += labels[-1] - labels[0]
        every += distinct
        states *= distinct
        if read == "total":
            states = min(states, spread + 1)
        elif read in ("highest", "lowest"):
            states = min(states, every)
        elif read == "total-modulo":
            states = min(states, dict(how)["modulo"])
        elif read == "how-many":
            states = min(states, len(dice) + 1)
    return steps


def _numbers(own: Distribution) -> bool:
    return not isinstance(own.least, tuple)


def _results(own: Distribution) -> str:
    if not _numbers(own):
        return f"{len(own.pairs):,} different rows of labels"
    return (
        f"results from {own.least} to {own.greatest}, mean {_decimal(own.mean)}, standard deviation "
        f"{float(own.variance) ** 0.5:.4g}"
    )


def _decimal(value: Any) -> str:
    return str(value) if value.denominator == 1 else f"{float(value):.4g}"
