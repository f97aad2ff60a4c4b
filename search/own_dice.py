"""Dice that somebody already has: what they do, whether that is a target's distribution, and a question to save."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.errors import UsageError
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering
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
        text = (
            f"{own.outcomes:,} equally likely outcomes give results from {own.least} to {own.greatest}, "
            f"mean {_decimal(own.mean)}, standard deviation {float(own.variance) ** 0.5:.4g}."
        )
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
            pairs = ", ".join(f'"{result}" = {count}' for result, count in self.question.target.pairs)
            lines.append(f"ways = {{ {pairs} }}")
        dice = ", ".join(f"{{ exactly = {list(die.exactly or ())} }}" for die in self.question.dice)
        lines += [f"dice = [{dice}]", f"accept = {json.dumps(self.question.accept)}"]
        return "\n".join(lines) + "\n"

    def as_json(self, settings: Settings) -> dict[str, Any]:
        """The distribution, the comparison and the scores as plain values."""
        from facewright.search.rank import score

        scored = score(self.design, [1] * len(self.question.dice), settings)
        compared: dict[str, Any] = {}
        if self.like is not None:
            distance = self.distribution.distance(self.question.target)
            compared = {"like": self.like, "same": distance == 0, "distance": str(distance)}
        return {
            "schema": 1,
            "kind": "ways",
            "read": self.question.read,
            "outcomes": self.distribution.outcomes,
            "ways": [list(pair) for pair in self.distribution.pairs],
            "mean": str(self.distribution.mean),
            "variance": str(self.distribution.variance),
            **compared,
            "design": {**self.design.as_json(), "scores": scored.scores},
        }


def own_dice(texts: tuple[str, ...], read: str = "total", like: str | None = None) -> OwnDice:
    """Dice from lists of labels as people type them.

    Raises:
        UsageError: labels, reading or target that cannot be understood; all of them together.
    """
    from facewright.constraints.like import parse_like
    from facewright.constraints.own import parse_labels
    from facewright.constraints.readings import READINGS
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
    if read not in READINGS:
        faults.append(f"--read: found {read!r}; accepted in this version: {', '.join(READINGS)}")
    if not faults and _steps(labels) > MOST_STEPS:
        faults.append(
            f"labels: found {len(labels)} dice with too many different totals to add up; accepted: fewer dice, or "
            "smaller labels"
        )
    if faults:
        raise UsageError("\n".join(faults))
    own = READINGS[read].distribution(labels)
    dice = tuple(
        Die(len(one), default_solid(len(one)), 1, LabelRules(one[0], one[-1]), exactly=one) for one in labels
    )
    exact = target is None or own.same_chances(target)
    title = "Own dice: " + " and ".join(" ".join(map(str, one)) for one in labels)
    question = Numbering(
        read=read,
        target=target or own,
        sets=(dice,),
        accept="exact" if exact else "nearest",
        title=title
        if len(title) <= 80
        else f"Own dice: {len(labels)} with {', '.join(str(len(one)) for one in labels)} faces",
        like=like or "",
    )
    return OwnDice(question, own, like)


def _steps(dice: list[tuple[int, ...]]) -> int:
    """How many pairs of a total and a label are added up, at most."""
    steps, totals, spread = 0, 1, 0
    for labels in dice:
        distinct = len(set(labels))
        steps += totals * distinct
        spread += labels[-1] - labels[0]
        totals = min(totals * distinct, spread + 1)
    return steps


def _decimal(value: Any) -> str:
    return str(value) if value.denominator == 1 else f"{float(value):.4g}"
