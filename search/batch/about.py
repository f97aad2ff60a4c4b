"""A batch in a line: how far it is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from facewright.constraints.errors import RunError
from facewright.search.batch.store import BatchStore
from facewright.search.folders import BATCH


def about_batch(folder: Path) -> dict[str, Any]:
    """Name, title, and how many questions are different, answered, failed and left; why, where it cannot be read."""
    try:
        with BatchStore.open(folder / BATCH) as store:
            tally, title = store.tally(), str(store.noted("title", ""))
            ended = str(store.noted("ended") or "")
    except RunError as wrong:
        return {"batch": folder.name, "title": str(wrong), "different": None}
    answered = tally.get("answered", 0)
    return {
        "batch": folder.name,
        "title": title,
        "different": tally["different"],
        "answered": answered,
        "failed": tally["done"] - answered,
        "left": tally["different"] - tally["done"],
        "ended": ended[:16].replace("T", " "),
    }
