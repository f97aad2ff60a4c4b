"""Answers that other batches of the same folder have already, so that equal questions are answered once."""

from __future__ import annotations

import itertools
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from facewright.constraints.errors import RunError
from facewright.search.batch.store import ANSWER, BatchStore
from facewright.search.batch.tasks import SCORES
from facewright.search.folders import BATCH

TOGETHER = 200


def taken_from_others(store: BatchStore, folder: Path) -> int:
    """Copies answers of the batches beside a folder for questions that have none yet; gives how many.

    A store that cannot be read is passed over: its questions are answered anew. Answers that a limit cut short, and
    failures, are not taken.
    """
    taken = 0
    for path in sorted(folder.resolve().parent.glob(f"*/{BATCH}")):
        if path.parent == folder.resolve():
            continue
        try:
            with BatchStore.open(path) as other:
                taken += _copied(store, other, path.parent.name)
        except (RunError, sqlite3.Error):
            continue
    return taken


def _copied(store: BatchStore, other: BatchStore, name: str) -> int:
    waiting = store.open_jobs()
    copied = 0
    while keys := [key for key, _ in itertools.islice(waiting, TOGETHER)]:
        found = list(_results(other, keys, name))
        store.keep(found)
        copied += len(found)
    return copied


def _results(other: BatchStore, keys: list[str], name: str) -> Iterator[dict[str, Any]]:
    import json

    marks = ", ".join("?" * len(keys))
    query = (
        f"SELECT key, {', '.join(ANSWER)} FROM answers WHERE status = 'answered' AND verdict <> 'partial' "
        f"AND key IN ({marks})"
    )
    for key, *values in other.rows(query, keys):
        designs = [
            {
                "id": row[0],
                "distance": row[1],
                "ordinary": bool(row[2]),
                "scores": dict(zip(SCORES, row[4:], strict=True)),
                "form": json.loads(row[3]),
            }
            for row in other.rows(
                f"SELECT id, distance, ordinary, form, {', '.join(SCORES)} FROM designs WHERE key = ? ORDER BY place",
                (key,),
            )
        ]
        yield {"key": key, **dict(zip(ANSWER, values, strict=True)), "designs": designs, "taken_from": name}
