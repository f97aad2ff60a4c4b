"""Answers written for others: the contract's JSON, rows for a table, and back."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from typing import Any

from facewright.constraints.contest import BEATS, ORDERS, Contest
from facewright.constraints.errors import UsageError
from facewright.constraints.question_form import Question, any_from_form, any_to_form
from facewright.search.answer import Answer
from facewright.search.claims import Claim
from facewright.search.contest_export import particulars
from facewright.search.kinds import kind_of
from facewright.search.laying import LaidOut, claimed
from facewright.search.rank import Ranked

SCHEMA = 1

ACCEPTED = 'an answer as `facewright find --json` writes it, with "question" and "designs"'


def as_json(answer: Answer, ranked: Sequence[Ranked]) -> dict[str, Any]:
    """The answer as the contract writes it, the designs best first; "question" lets others recount it."""
    told = told_of(answer)
    designs = [
        {
            **one.scores.design.as_json(),
            **told(one),
            "rank": one.position,
            "tied": one.tied,
            "scores": {**one.scores.scores, "overall": one.overall},
        }
        for one in ranked
    ]
    return {
        "schema": SCHEMA,
        "title": answer.question.title,
        "kind": answer.question.kind,
        "verdict": answer.verdict,
        "count": answer.count,
        "count_up_to_shift": answer.count_up_to_shift,
        "count_is": answer.count_is,
        "reason": answer.reason,
        "evidence": evidence(answer),
        "sets": sets(answer),
        "dropped": [{"faces": list(one.faces), "reason": one.reason} for one in answer.question.dropped],
        "designs": designs,
        **laid_out(answer.layouts),
        "question": any_to_form(answer.question),
    }


def told_of(answer: Answer) -> Callable[[Ranked], dict[str, Any]]:
    """What is told of each design beside its labels: its distance, or in a contest its duels or orders."""
    question = answer.question
    if isinstance(question, Contest):
        return lambda one: particulars(question, one.scores.design)
    distances = {one.design.id: str(one.distance) for one in answer.found}
    return lambda one: {"distance": distances[one.id]}


def laid_out(layouts: Sequence[LaidOut]) -> dict[str, Any]:
    """The dice of the best design laid out, under `layouts`; no such key where the brief does not want that."""
    return {"layouts": [one.as_json() for one in layouts]} if layouts else {}


def evidence(answer: Answer) -> dict[str, Any]:
    """What backs the verdict."""
    return {
        "engine": answer.engine,
        "proved": answer.verdict != "partial",
        "recounted": len(answer.found),
        "seconds": round(answer.seconds, 4),
        "bound": answer.bound,
        **({"cause": answer.cause} if answer.cause else {}),
    }


def sets(answer: Answer) -> list[dict[str, Any]]:
    """What was found out about each set of dice."""
    return [
        {
            "dice": [
                {"faces": d.faces, "solid": d.solid, "copies": d.copies, "name": d.name} for d in outcome.dice
            ],
            "engine": outcome.engine,
            "verdict": outcome.closing.verdict,
            "count": outcome.closing.count,
            "count_up_to_shift": outcome.closing.count_up_to_shift,
            "listed": outcome.listed,
            "reason": outcome.closing.reason,
            "proof": list(outcome.closing.proof),
        }
        for outcome in answer.outcomes
    ]


def columns(dice: int, read: str = "total") -> list[str]:
    """The columns of a table of designs with so many dice at most, read so."""
    parts = [f"die_{place}{part}" for place in range(1, dice + 1) for part in ("_faces", "_solid", "")]
    scores = ("legible", "familiar", "readability", "cost", "overall")
    told = {BEATS: ["chance"], ORDERS: []}.get(read, ["distance"])
    return ["rank", "tied", "id", *parts, "ordinary", *told, *scores]


def rows(answer: Answer, ranked: Sequence[Ranked]) -> list[dict[str, Any]]:
    """One flat row a design, for CSV and pandas: rank, id, dice, scores; None for dice that a smaller set lacks."""
    told, names = told_of(answer), columns(0, answer.question.read)
    most = max((len(one.scores.design.dice) for one in ranked), default=0)
    table = []
    for one in ranked:
        row: dict[str, Any] = dict.fromkeys(columns(most, answer.question.read))
        row |= {"rank": one.position, "tied": one.tied, "id": one.id}
        for place, die in enumerate(one.scores.design.dice, 1):
            row[f"die_{place}_faces"] = die.faces
            row[f"die_{place}_solid"] = die.solid
            row[f"die_{place}"] = " ".join(map(str, die.labels))
        row |= {
            "ordinary": one.scores.design.ordinary,
            **{name: value for name, value in told(one).items() if name in names},
            **one.scores.scores,
            "overall": one.overall,
        }
        table.append(row)
    return table


def from_json(text: str, where: str) -> tuple[Question, list[Claim], int | None, list[LaidOut]]:
    """The question of an answer in JSON, what is claimed of each design, how many it says it lists, its layouts.

    Raises:
        UsageError: the text is not such an answer.
    """
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as wrong:
        raise UsageError(f"{where}: found no JSON ({wrong}); accepted: {ACCEPTED}") from wrong
    try:
        question = any_from_form(data["question"])
        claims = [_claim(question, one) for one in data["designs"]]
        listed = sum(int(one["listed"]) for one in data["sets"]) if "sets" in data else None
        layouts = [claimed(one) for one in data.get("layouts", ())]
    except (UsageError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as wrong:
        lacks = f" (it lacks {wrong})" if isinstance(wrong, KeyError) else ""
        raise UsageError(f"{where}: found JSON that is no answer{lacks}; accepted: {ACCEPTED}") from wrong
    return question, claims, listed, layouts


def _claim(question: Question, one: dict[str, Any]) -> Claim:
    try:
        return kind_of(question).claim(one)
    except (KeyError, TypeError):
        return Claim(str(one["id"]), None)
