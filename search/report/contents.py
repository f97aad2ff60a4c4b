"""What a report and a terminal show of an answer: one summary, one entry a design, best first."""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import prod
from typing import TYPE_CHECKING, Any

from facewright.constraints.contest import BEATS, Contest, DiceQuestion
from facewright.constraints.duels import least_chance
from facewright.constraints.labels import Die
from facewright.constraints.readings import how_to_form
from facewright.search.answer import Answer, FoundDesign, SetOutcome
from facewright.search.export import evidence
from facewright.search.rank import Ranked, rank, score
from facewright.search.report.laid_out import labels_laid
from facewright.search.report.scores import Settings
from facewright.search.words import ask

if TYPE_CHECKING:
    from facewright.search.engines.splitting.polynomials import Factored

CAUTIONS = (
    "Dice are small parts: not for children under three, and sharp tips and fresh resin need care.",
    "The chances are those of ideal bodies; measure and roll a prototype before you claim that it is fair.",
    "Not for licensed gaming. Local rules and the advice of those licensed to give it come first.",
)
"""Shown at the foot of every report."""


def ranked_designs(answer: Answer, settings: Settings) -> list[Ranked]:
    """The designs of an answer scored and ranked by the weights of its question."""
    sets = answer.question.sets
    scored = [score(one.design, [die.copies for die in sets[one.set]], settings) for one in answer.found]
    chosen = next((one.closing.selection for one in answer.outcomes if one.closing.selection), None)
    cheapest = None
    if chosen is not None:
        from facewright.search.selecting.select import key_of

        if chosen["by"] == key_of(answer.question, len(answer.found), settings):
            cheapest = chosen["cheapest"]
    return rank(scored, answer.question.rank, cheapest)


def summary(
    answer: Answer, *, run: str = "", written: str = "", provenance: dict[str, Any] | None = None
) -> dict[str, Any]:
    """What is said about the answer as a whole."""
    question = answer.question
    sentence, reason = headline(answer.reason)
    return {
        "schema": 1,
        "kind": question.kind,
        "title": question.title,
        "note": question.note,
        "run": run,
        "written": written,
        "read": question.read,
        "ask": ask(question),
        "sentence": sentence,
        "reason": reason,
        "verdict": answer.verdict,
        "count": answer.count,
        "count_up_to_shift": answer.count_up_to_shift,
        "count_is": answer.count_is,
        "listed": len(answer.found),
        "evidence": evidence(answer),
        "proof": list(answer.proof),
        **_wanted(question),
        "sets": [_set(outcome, answer) for outcome in answer.outcomes],
        "dropped": [{"faces": list(one.faces), "reason": one.reason} for one in question.dropped],
        "weights": dict(question.rank),
        "provenance": {**(provenance or {}), "seed": answer.seed, "seconds": round(answer.seconds, 3)},
        "cautions": list(CAUTIONS),
    }


def _wanted(question: DiceQuestion) -> dict[str, Any]:
    """What is wanted: a target and how it is read; of a contest who is to beat whom, or in which sense it is fair."""
    if isinstance(question, Contest):
        arcs = [list(arc) for arc in question.beats]
        return {"target": None, "contest": {"read": question.read, "beats": arcs, "fair": question.fair}}
    target = question.target
    words = question.like or "the ways in the brief"
    wanted = {"words": words, "outcomes": target.outcomes, "ways": target.plain_pairs}
    return {**how_to_form(question.how), "target": wanted}


def entries(answer: Answer, ranked: Sequence[Ranked], *, parts: bool = True) -> list[dict[str, Any]]:
    """One entry a design, best first; without `parts` neither score parts nor factors, for a terminal."""
    found = {(one.design.id): one for one in answer.found}
    splits = _Splits(answer) if parts else None
    listed = []
    for one in ranked:
        origin = found[one.id]
        entry: dict[str, Any] = {
            "id": one.id,
            "set": origin.set,
            "rank": one.position,
            "tied": one.tied,
            "dice": [list(die.labels) for die in one.scores.design.dice],
            "ordinary": one.scores.design.ordinary,
            **_reached(answer.question, origin),
            "scores": {**one.scores.scores, "overall": one.overall},
        }
        if splits is not None:
            if laid := labels_laid(answer.layouts, one.id):
                entry["laid"] = laid
            entry["parts"] = one.scores.parts
            entry["split"] = splits.of(origin.set, [die.labels for die in one.scores.design.dice])
        listed.append(entry)
    return listed


def _reached(question: DiceQuestion, found: FoundDesign) -> dict[str, Any]:
    """How near a design comes: its distance from the target; of duels the least chance."""
    if not isinstance(question, Contest):
        return {"distance": str(found.distance)}
    if question.read != BEATS:
        return {}
    dice = [die.labels for die in found.design.dice]
    return {"chance": str(least_chance(dice, question.arcs(len(dice))))}


def headline(reason: str) -> tuple[str, str]:
    """The first two sentences of a reason, where the second states the conditions, and the rest."""
    sentences = re.split(r"(?<=[.!?]) (?=[A-Z0-9])", reason)
    first = 2 if len(sentences) > 1 and sentences[1].startswith("With ") else 1
    return " ".join(sentences[:first]), " ".join(sentences[first:])


def _set(outcome: SetOutcome, answer: Answer) -> dict[str, Any]:
    from facewright.search.engines.splitting.polynomials import polynomial_text

    whole = _whole(outcome.dice, answer) if outcome.listed else None
    return {
        "dice": [_die(die) for die in outcome.dice],
        "verdict": outcome.closing.verdict,
        "count": outcome.closing.count,
        "count_up_to_shift": outcome.closing.count_up_to_shift,
        "reason": outcome.closing.reason,
        "outcomes": prod(answer.question.chances(outcome.dice)),
        "factors": []
        if whole is None
        else [{"text": polynomial_text(f.poly), "at_1": f.at_one, "power": f.power} for f in whole.factors],
        "content": 1 if whole is None else whole.content,
    }


def _die(die: Die) -> dict[str, Any]:
    form = {"faces": die.faces, "solid": die.solid, "copies": die.copies, "name": die.name}
    return form if die.shape == Die.shape else {**form, "shape": die.shape}


def _whole(dice: Sequence[Die], answer: Answer) -> Factored | None:
    """The polynomial that these dice multiply to, factored; None where they need not reach the target."""
    from facewright.constraints.division import scaled_ways
    from facewright.search.engines.splitting.polynomials import factored, polynomial

    if isinstance(answer.question, Contest):
        return None
    ways = scaled_ways(answer.question.target, [die.faces for die in dice])
    exact = (
        answer.question.read == "total" and not answer.question.again and answer.question.accept == "exact"
    )
    return factored(polynomial(ways)) if ways is not None and exact else None


class _Splits:
    """For each die of a design, its part of the content and the exponents of the factors."""

    def __init__(self, answer: Answer) -> None:
        self._wholes = [_whole(o.dice, answer) if o.listed else None for o in answer.outcomes]
        self._known: dict[tuple[int, tuple[int, ...]], list[int]] = {}

    def of(self, position: int, dice: Sequence[tuple[int, ...]]) -> list[list[int] | None]:
        """Content first, then one exponent a factor, for each die; None where the set has no factors."""
        whole = self._wholes[position] if position < len(self._wholes) else None
        if whole is None:
            return [None] * len(dice)
        first = [self._exponents(position, whole, labels) for labels in dice[:-1]]
        # what the other dice leave over is the last die's
        content = whole.content // prod(one[0] for one in first)
        left = [power - sum(one[at] for one in first) for at, power in enumerate(whole.powers, 1)]
        return [*first, [content, *left]]

    def _exponents(self, position: int, whole: Factored, labels: tuple[int, ...]) -> list[int]:
        key = (position, tuple(label - labels[0] for label in labels))
        if key not in self._known:
            self._known[key] = self._divided(whole, key[1])
        return self._known[key]

    def _divided(self, whole: Factored, labels: tuple[int, ...]) -> list[int]:
        from facewright.constraints.distribution import Distribution
        from facewright.search.engines.splitting.polynomials import polynomial

        poly = polynomial(Distribution.of_labels(labels).ways)
        exponents = []
        for factor in whole.factors:
            exponent = 0
            while exponent < factor.power and poly.degree() >= factor.degree:
                quotient, remainder = divmod(poly, factor.poly)
                if remainder.degree() >= 0:
                    break
                poly, exponent = quotient, exponent + 1
            exponents.append(exponent)
        return [int(poly[0]), *exponents]
