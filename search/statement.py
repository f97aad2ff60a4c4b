"""What every answer on solids states alike in the contract's JSON: the verdict, the count, and what backs them."""

from __future__ import annotations

from typing import Any

from facewright.search.export import SCHEMA


def statement(answer: Any) -> dict[str, Any]:
    """The first keys of an answer, evidence included; designs follow."""
    return {
        "schema": SCHEMA,
        "title": answer.question.title,
        "kind": answer.question.kind,
        "verdict": answer.verdict,
        "count": answer.count,
        "count_up_to_shift": answer.count,
        "count_is": answer.count_is,
        "reason": answer.reason,
        "evidence": evidence(answer),
    }


def evidence(answer: Any) -> dict[str, Any]:
    """What backs the verdict."""
    return {
        "engine": answer.engine,
        "proved": answer.verdict != "partial",
        "recounted": len(answer.found),
        "seconds": round(answer.seconds, 4),
        "bound": answer.bound,
    }
