"""The page of a batch: which sets of dice can do what, in how many ways; the best products; what failed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from facewright.search.batch.export import axes_of
from facewright.search.batch.plan import short
from facewright.search.batch.store import BatchStore
from facewright.search.folders import BATCH, REPORT, write_text
from facewright.search.report.batch_data import held
from facewright.search.report.shell import day, policy, scripts, styles, template

STYLES = ("page.css", "print.css", "batch.css")
SCRIPTS = ("dom.js", "strip.js", "batch-data.js", "batch.js", "batch-designs.js")
FAILURES = 500
"""Failures that the page lists."""

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

    counts, failures, page = _counts(store), _failures(store), held(store, axes_of(store))
    run_scripts = scripts((), SCRIPTS)
    return template("batch.html").render(
        policy=policy(run_scripts),
        css=Markup(styles(STYLES)),
        scripts=[Markup(one) for one in run_scripts],
        data=Markup(page.json),
        run=run,
        written=day(str(store.noted("ended") or "")),
        title=store.noted("title", ""),
        note=store.noted("note", ""),
        sentence=_sentence(counts),
        failures=failures,
        more_failures=counts["failed"] - len(failures),
        page=page,
        cautions=CAUTIONS,
    )


def _failures(store: BatchStore) -> list[dict[str, Any]]:
    """The first questions that were tried and have no answer."""
    query = (
        "SELECT chosen, status, reason FROM questions JOIN answers USING (key) WHERE status <> 'answered' "
        "ORDER BY number LIMIT ?"
    )
    return [
        {
            "words": ", ".join(f"{name} {short(value)}" for name, value in json.loads(chosen)),
            "status": status,
            "reason": reason,
        }
        for chosen, status, reason in store.rows(query, (FAILURES,))
    ]


def _counts(store: BatchStore) -> dict[str, int]:
    """How many questions there are of each sort."""
    sorts = {
        "can be done": "status = 'answered' AND verdict = 'complete'",
        "have a best that is proved": "status = 'answered' AND verdict = 'best'",
        "are proved to be impossible": "status = 'answered' AND verdict = 'none'",
        "were cut short by their limit": "status = 'answered' AND verdict = 'partial'",
        "failed": "status <> 'answered'",
        "are not answered yet": "status IS NULL",
    }
    sums = ", ".join(f"TOTAL({condition})" for condition in sorts.values())
    [(asked, *found)] = store.rows(f"SELECT COUNT(*), {sums} FROM questions LEFT JOIN answers USING (key)")
    return {"asked": asked, **{sort: int(many) for sort, many in zip(sorts, found, strict=True)}}


def _sentence(counts: dict[str, int]) -> str:
    (_, asked), *sorts = counts.items()
    first, *others = [(many, sort) for sort, many in sorts if many] or [(0, "can be done")]
    parts = [f"{first[0]:,} of {asked:,} question{'s' * (asked != 1)} {first[1]}"]
    return ", ".join([*parts, *(f"{many:,} {sort}" for many, sort in others)]) + "."
