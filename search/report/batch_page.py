"""The page of a batch: which sets of dice can do what, in how many ways; the best products; what failed."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from facewright.constraints.grammar import counted
from facewright.search.batch.plan import short
from facewright.search.batch.store import BatchStore
from facewright.search.folders import BATCH, REPORT, write_text
from facewright.search.report.shell import day, policy, script_json, scripts, styles, template
from facewright.search.report.strips import label_text

STYLES = ("page.css", "print.css", "batch.css")
SCRIPTS = ("dom.js", "batch.js")
A_QUESTION = 5
"""Designs of each question that the page holds."""

BEST = 200
"""Designs in the list of the best."""

ROOM = 60
"""Characters for the labels of a die."""

CAUTIONS = (
    "The chances are those of ideal bodies; measure and roll a prototype before you say anything of it.",
    "Dice are small parts: not for children under three. Local rules and licensed advice come first.",
)


def write_batch_report(folder: Path) -> Path:
    """Writes report.html of the batch in a folder; raises RunError where it cannot be written."""
    with BatchStore.open(folder / BATCH) as store:
        page = batch_page(store, folder.resolve().name)
    write_text(folder / REPORT, page)
    return folder / REPORT


def batch_page(store: BatchStore, run: str = "") -> str:
    """The whole page, from the store alone."""
    from markupsafe import Markup

    axes = [str(one) for one in store.noted("varies", [])]
    questions = _questions(store, axes)
    failures = [one for one in questions if one["status"] not in ("answered", "open")]
    run_scripts = scripts((), SCRIPTS)
    return template("batch.html").render(
        policy=policy(run_scripts),
        css=Markup(styles(STYLES)),
        scripts=[Markup(one) for one in run_scripts],
        data=Markup(script_json(_packed(axes, questions))),
        run=run,
        written=day(str(store.noted("ended") or "")),
        title=store.noted("title", ""),
        note=store.noted("note", ""),
        sentence=_sentence(questions),
        failures=failures[:500],
        more_failures=max(0, len(failures) - 500),
        best=_best(store),
        several=len(axes) > 1,
        cautions=CAUTIONS,
    )


def _questions(store: BatchStore, axes: Sequence[str]) -> list[dict[str, Any]]:
    found = []
    query = (
        "SELECT number, questions.key, chosen, brief, status, verdict, count, count_is, reason, engine, seconds, "
        "taken_from FROM questions LEFT JOIN answers USING (key) ORDER BY number"
    )
    for (
        number,
        key,
        chosen,
        brief,
        status,
        verdict,
        count,
        count_is,
        reason,
        engine,
        seconds,
        taken,
    ) in store.rows(query):
        values = dict(json.loads(chosen))
        found.append(
            {
                "number": number,
                "key": key,
                "values": [short(values[axis]) if axis in values else "" for axis in axes],
                "brief": brief,
                "status": status or "open",
                "verdict": verdict,
                "count": count,
                "count_is": count_is,
                "reason": reason or "Not answered yet.",
                "engine": engine,
                "seconds": seconds,
                "taken": taken,
                "words": ", ".join(f"{axis} {short(value)}" for axis, value in values.items()),
            }
        )
    designs: dict[str, list[Any]] = {}
    query = (
        "SELECT key, id, form, overall, legible, familiar, cost, distance FROM designs WHERE place <= ? "
        "ORDER BY key, place"
    )
    for key, *rest in store.rows(query, (A_QUESTION,)):
        designs.setdefault(key, []).append(_design(*rest))
    for one in found:
        one["designs"] = designs.get(one["key"], [])
    return found


def _design(
    ident: str, form: str, overall: float | None, legible: Any, familiar: Any, cost: Any, distance: Any
) -> list[Any]:
    return [ident[:8], dice_words(json.loads(form)), overall, legible, familiar, cost, distance]


def dice_words(form: dict[str, Any]) -> list[str]:
    """The dice of a design, or its solid, a line each."""
    if "dice" in form:
        return [f"{die['solid']}: {label_text(die['labels'], ROOM)}" for die in form["dice"]]
    return [str(form.get("solid", ""))]


def _sentence(questions: Sequence[dict[str, Any]]) -> str:
    answered = [one for one in questions if one["status"] == "answered"]
    with_designs = sum(one["count"] not in ("0", None) for one in answered)
    none = sum(one["verdict"] == "none" for one in answered)
    parts = [f"{counted(with_designs, 'question')} of {len(questions):,} can be done"]
    if none:
        parts.append(f"{none:,} are proved to be impossible")
    early = sum(one["verdict"] == "partial" for one in answered)
    if early:
        parts.append(f"{early:,} were cut short by their limit")
    failed = sum(one["status"] not in ("answered", "open") for one in questions)
    if failed:
        parts.append(f"{failed:,} failed")
    left = sum(one["status"] == "open" for one in questions)
    if left:
        parts.append(f"{left:,} are not answered yet")
    text = ", ".join(parts)
    return text[:1].upper() + text[1:] + "."


def _best(store: BatchStore) -> list[dict[str, Any]]:
    query = (
        "SELECT chosen, id, form, overall, legible, familiar, cost, verdict FROM products WHERE overall IS NOT NULL "
        "ORDER BY overall DESC, cost, id LIMIT ?"
    )
    return [
        {
            "words": ", ".join(short(value) for _, value in json.loads(chosen)),
            "id": ident[:8],
            "dice": dice_words(json.loads(form)),
            "overall": overall,
            "legible": legible,
            "familiar": familiar,
            "cost": cost,
        }
        for chosen, ident, form, overall, legible, familiar, cost, _ in store.rows(query, (BEST,))
    ]


def _packed(axes: Sequence[str], questions: Sequence[dict[str, Any]]) -> dict[str, Any]:
    """The questions as short lists, texts that repeat written once."""
    texts: dict[str, int] = {}

    def place(text: str) -> int:
        return texts.setdefault(text, len(texts))

    rows = [
        [
            [place(value) for value in one["values"]],
            one["status"],
            one["verdict"],
            one["count"],
            one["count_is"] == "at least",
            place(one["reason"]),
            place(one["brief"]),
            one["seconds"],
            one["designs"],
            one["taken"],
        ]
        for one in questions
    ]
    return {"axes": list(axes), "rows": rows, "texts": list(texts)}
