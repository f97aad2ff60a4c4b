"""Where designs to compare come from, runs and batches: their values one by one, their dice only when asked for.

What a batch's store can tell exactly (bounds on scores, the least cost) it is asked for; the rest is tested here.
"""

from __future__ import annotations

import json
import operator
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple, Protocol

from facewright.constraints.errors import RunError, UsageError
from facewright.search.batch.store import BatchStore
from facewright.search.folders import BATCH, RUNS, STORE
from facewright.search.report.batch_data import dice_words
from facewright.search.report.strips import label_text

VALUES = ("legible", "familiar", "readability", "cost", "distance")
"""What is known of each design, in this order."""

ROOM = 60
"""Characters for the labels of a die."""


COST, DISTANCE = VALUES.index("cost"), VALUES.index("distance")

Condition = tuple[str, str, Fraction]
"""What a design must meet: one of `VALUES`, a sign, a bound."""

SIGNS: dict[str, Callable[[Any, Any], bool]] = {
    "<=": operator.le,
    ">=": operator.ge,
    "<": operator.lt,
    ">": operator.gt,
    "=": operator.eq,
}


class Entry(NamedTuple):
    """A design by its values (in the order of `VALUES`): `of` and `id` name it, `kept` leads to its dice.

    Scores are numbers, the distance is a fraction, or a whole number.
    """

    of: str
    id: str
    values: tuple[Any, ...]
    kept: Any

    @property
    def name(self) -> str:
        """What tells it from all other designs."""
        return f"{self.of}/{self.id[:8]}"


class Source(Protocol):
    """A run or a batch whose designs are compared."""

    def entries(self, keep: Sequence[Condition]) -> Iterator[Entry]:
        """The designs that meet all conditions, one by one; raises UsageError where they have no such values."""

    def cheapest(self, keep: Sequence[Condition]) -> float | None:
        """The least cost among them; None where there are none."""

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

    def entries(self, keep: Sequence[Condition]) -> Iterator[Entry]:
        """The designs that meet all conditions, one by one."""
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
                if meets(values, keep):
                    yield Entry(self._folder.name, found.design.id, values, found.design)

    def cheapest(self, keep: Sequence[Condition]) -> float | None:
        """The least cost among them."""
        return min((entry.values[COST] for entry in self.entries(keep)), default=None)

    def dice(self, entry: Entry) -> tuple[str, ...]:
        """The dice of a design."""
        return tuple(f"{die.solid}: {label_text(die.labels, ROOM)}" for die in entry.kept.dice)


class OfBatch:
    """The designs of a batch that have scores, those of equal questions once."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def entries(self, keep: Sequence[Condition]) -> Iterator[Entry]:
        """The designs that meet all conditions, one by one."""
        where, bounds, others = _told_in_sql(keep)
        # CROSS JOIN: question by question, so that nothing is sorted and equal ones are passed over whole
        query = (
            f"SELECT number, key, place, id, {', '.join(VALUES)} FROM questions CROSS JOIN designs USING (key) "
            f"WHERE {where} AND NOT EXISTS (SELECT 1 FROM questions AS same WHERE same.key = questions.key "
            "AND same.number < questions.number) ORDER BY number, place"
        )
        batch = self._folder.name
        with BatchStore.open(self._folder / BATCH) as store:
            for number, key, place, ident, *scores, distance in store.rows(query, bounds):
                values = (*scores, _exact(distance))
                if not others or meets(values, others):
                    yield Entry(f"{batch}/{number}", ident, values, (key, place))

    def cheapest(self, keep: Sequence[Condition]) -> float | None:
        """The least cost among them."""
        where, bounds, others = _told_in_sql(keep)
        if others:
            return min((entry.values[COST] for entry in self.entries(keep)), default=None)
        query = f"SELECT MIN(cost) FROM designs WHERE {where} AND key IN (SELECT key FROM questions)"
        with BatchStore.open(self._folder / BATCH) as store:
            [(least,)] = store.rows(query, bounds)
        return None if least is None else float(least)

    def dice(self, entry: Entry) -> tuple[str, ...]:
        """The dice of a design."""
        query = "SELECT form FROM designs WHERE key = ? AND place = ?"
        with BatchStore.open(self._folder / BATCH) as store:
            [(form,)] = store.rows(query, entry.kept)
        return tuple(dice_words(json.loads(form)))


def meets(values: Sequence[Any], keep: Sequence[Condition]) -> bool:
    """Whether values meet all conditions; scores are decimals as they are shown, and so are their bounds."""
    return all(SIGNS[sign](values[VALUES.index(name)], _bound(name, bound)) for name, sign, bound in keep)


def _bound(name: str, bound: Fraction) -> Fraction | float:
    return bound if name == "distance" else float(bound)


def _told_in_sql(keep: Sequence[Condition]) -> tuple[str, list[float], list[Condition]]:
    """The conditions that SQLite decides exactly, numbers against numbers, with their bounds; and the others."""
    own = [one for one in keep if one[0] != "distance"]
    where = " AND ".join(["cost IS NOT NULL", *(f"{name} {sign} ?" for name, sign, _ in own)])
    return where, [float(bound) for _, _, bound in own], [one for one in keep if one[0] == "distance"]


@lru_cache(maxsize=4096)
def _exact(text: str | None) -> Fraction | int:
    """A distance; a whole one as such, which is compared sooner."""
    fraction = Fraction(text or "0")
    return fraction.numerator if fraction.denominator == 1 else fraction
