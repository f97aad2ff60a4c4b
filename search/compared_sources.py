"""Where designs to compare come from, runs and batches: their values one by one, their dice only when asked for."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any, Protocol

from facewright.constraints.errors import RunError, UsageError
from facewright.search.batch.store import BatchStore
from facewright.search.folders import BATCH, RUNS, STORE
from facewright.search.report.batch_page import dice_words
from facewright.search.report.strips import label_text

VALUES = ("legible", "familiar", "readability", "cost", "distance")
"""What is known of each design, in this order."""

ROOM = 60
"""Characters for the labels of a die."""


@dataclass(frozen=True)
class Entry:
    """A design by its values (in the order of `VALUES`): `name` tells it apart, `kept` leads to its dice.

    Scores are numbers, the distance is a fraction.
    """

    name: str
    id: str
    values: tuple[Any, ...]
    kept: Any


class Source(Protocol):
    """A run or a batch whose designs are compared."""

    def entries(self) -> Iterator[Entry]:
        """The designs, one by one; raises UsageError where they have no such values."""

    def dice(self, entry: Entry) -> tuple[str, ...]:
        """The dice of one of these designs, a line each."""


def source_of(name: str) -> Source:
    """The run or batch of a name or path; raises RunError where there is none."""
    for folder in (Path(name), RUNS / name):
        if (folder / BATCH).is_file():
            return OfBatch(folder)
        if (folder / STORE).is_file():
            return OfRun(folder)
    raise RunError(
        f"{name}: found no run or batch of that name; `facewright list` shows the runs", exit_status=2
    )


class OfRun:
    """The designs of a run of numberings, scored as they are read."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def entries(self) -> Iterator[Entry]:
        """The designs, one by one."""
        from facewright.search.rank import score
        from facewright.search.report.scores import load_scores
        from facewright.search.store import Store

        settings = load_scores(None)
        with Store.open(self._folder / STORE) as store:
            question: Any = store.question
            if question.kind != "numbering":
                raise UsageError(
                    f"{self._folder}: found a {question.kind} run, whose designs have no scores of this sort; "
                    "accepted: runs of numberings (a product brief compares designs of any kind)"
                )
            copies = [[die.copies for die in dice] for dice in question.sets]
            for found in store.designs():
                scores = score(found.design, copies[found.set], settings).scores
                values = (
                    *(scores[name] for name in VALUES[:-1]),
                    Fraction(getattr(found, "distance", 0) or 0),
                )
                ident = found.design.id
                yield Entry(f"{self._folder.name}/{ident[:8]}", ident, values, found.design)

    def dice(self, entry: Entry) -> tuple[str, ...]:
        """The dice of a design."""
        return tuple(f"{die.solid}: {label_text(die.labels, ROOM)}" for die in entry.kept.dice)


class OfBatch:
    """The designs of a batch that have scores, those of equal questions once."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def entries(self) -> Iterator[Entry]:
        """The designs, one by one."""
        query = (
            f"SELECT number, key, place, id, {', '.join(VALUES)} FROM questions JOIN designs USING (key) "
            "WHERE cost IS NOT NULL AND number = (SELECT MIN(q.number) FROM questions AS q WHERE q.key = designs.key) "
            "ORDER BY number, place"
        )
        batch = self._folder.name
        with BatchStore.open(self._folder / BATCH) as store:
            for number, key, place, ident, *scores, distance in store.rows(query):
                values = (*scores, _fraction(distance or "0"))
                yield Entry(f"{batch}/{number}/{ident[:8]}", ident, values, (key, place))

    def dice(self, entry: Entry) -> tuple[str, ...]:
        """The dice of a design."""
        query = "SELECT form FROM designs WHERE key = ? AND place = ?"
        with BatchStore.open(self._folder / BATCH) as store:
            [(form,)] = store.rows(query, entry.kept)
        return tuple(dice_words(json.loads(form)))


@lru_cache(maxsize=4096)
def _fraction(text: str) -> Fraction:
    return Fraction(text)
