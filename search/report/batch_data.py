"""What the page of a batch holds: its questions and its best designs, in columns, texts that repeat written once.

However large the batch, the page holds so many of both and no more; they are read one by one.
"""

from __future__ import annotations

import json
import re
from array import array
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import isnan, nan
from typing import Any

from facewright.search.batch.plan import short
from facewright.search.batch.store import BatchStore
from facewright.search.report.shell import script_json
from facewright.search.report.strips import label_text

QUESTIONS = 100_000
"""Questions that the page holds, the first of the plan."""

DESIGNS = 100_000
"""Designs in its list, the best of all."""

A_QUESTION = 5
"""Designs of each question that a cell shows at least, while there are no more than `DESIGNS` in all."""

ROOM = 60
"""Characters for the labels of a die."""

END, TITLE, NOTHING = -1, -2, -1
"""In lists of texts: the end of one list; the line with the title, which the page writes itself. Alone: no text."""

SENTENCE = re.compile(r"(?<=[.;:]) ")

FIRST = "(SELECT MIN(number) FROM questions AS same WHERE same.key = designs.key)"
"""The number of the first of the questions that have a design; equal questions have the same."""

VALUES = ("overall", "legible", "familiar", "cost")


class Texts:
    """Texts that stand once, and are told by their place."""

    def __init__(self) -> None:
        self._places: dict[str, int] = {}

    def place(self, text: str | None) -> int:
        """The place of a text."""
        return NOTHING if text is None else self._places.setdefault(text, len(self._places))

    def places(self, texts: Iterable[str]) -> Iterator[int]:
        """The places of texts, and the mark of their end."""
        yield from map(self.place, texts)
        yield END

    def __iter__(self) -> Iterator[str]:
        return iter(self._places)


def _whole() -> array[int]:
    return array("q")


def _real() -> array[float]:
    return array("d")


@dataclass
class _Questions:
    """The columns of the questions; `first` is the place of the first that is equal."""

    values: list[array[int]]
    status: array[int] = field(default_factory=_whole)
    verdict: array[int] = field(default_factory=_whole)
    count: array[int] = field(default_factory=_whole)
    at_least: array[int] = field(default_factory=_whole)
    reason: array[int] = field(default_factory=_whole)
    brief: array[int] = field(default_factory=_whole)
    seconds: array[float] = field(default_factory=_real)
    taken: array[int] = field(default_factory=_whole)
    first: array[int] = field(default_factory=_whole)


@dataclass
class _Designs:
    """The columns of the designs; `words` tell of a question that the page does not hold."""

    question: array[int] = field(default_factory=_whole)
    words: array[int] = field(default_factory=_whole)
    id: list[str] = field(default_factory=list)
    dice: array[int] = field(default_factory=_whole)
    overall: array[float] = field(default_factory=_real)
    legible: array[float] = field(default_factory=_real)
    familiar: array[float] = field(default_factory=_real)
    cost: array[float] = field(default_factory=_real)
    distance: array[int] = field(default_factory=_whole)


@dataclass(frozen=True)
class Held:
    """The page's data as JSON, and how much of the batch it is."""

    json: str
    asked: int
    questions: int
    kept: int
    listed: int


def held(store: BatchStore, axes: Sequence[str]) -> Held:
    """What the page holds of a batch with these axes."""
    texts = Texts()
    [(asked,)] = store.rows("SELECT COUNT(*) FROM questions")
    [(kept,)] = store.rows("SELECT COUNT(*) FROM designs WHERE key IN (SELECT key FROM questions)")
    title = str(store.noted("title", ""))
    questions = _questions(store, axes, title, texts)
    designs = _Designs()
    shown = _add(store, designs, texts, _best(store), set())
    listed = len(designs.id)
    if kept > listed:
        _add(store, designs, texts, _of_each(store, len(questions.status)), shown)
    parts = {
        "title": title,
        "axes": list(axes),
        "listed": listed,
        "questions": vars(questions),
        "designs": vars(designs),
        "texts": list(texts),
    }
    return Held(_json(parts), asked, len(questions.status), kept, listed)


def dice_words(form: dict[str, Any]) -> list[str]:
    """The dice of a design, or its solid, a line each."""
    if "dice" in form:
        return [f"{die['solid']}: {label_text(die['labels'], ROOM)}" for die in form["dice"]]
    return [str(form.get("solid", ""))]


def _questions(store: BatchStore, axes: Sequence[str], title: str, texts: Texts) -> _Questions:
    found = _Questions([_whole() for _ in axes])
    query = (
        "SELECT chosen, brief, status, verdict, count, count_is, reason, seconds, taken_from, "
        "(SELECT MIN(number) FROM questions AS same WHERE same.key = questions.key) "
        "FROM questions LEFT JOIN answers USING (key) ORDER BY number LIMIT ?"
    )
    for chosen, brief, status, verdict, count, count_is, reason, seconds, taken, first in store.rows(
        query, (QUESTIONS,)
    ):
        values = dict(json.loads(chosen))
        for column, axis in zip(found.values, axes, strict=True):
            column.append(texts.place(short(values[axis]) if axis in values else ""))
        found.status.append(texts.place(status or "open"))
        found.verdict.append(texts.place(verdict))
        found.count.append(texts.place(count))
        found.at_least.append(int(count_is == "at least"))
        found.reason.extend(texts.places(SENTENCE.split(reason or "Not answered yet.")))
        own = "title = " + json.dumps(
            f"{title}: {', '.join(map(short, values.values()))}", ensure_ascii=False
        )
        found.brief.extend(
            TITLE if line == own else texts.place(line) for line in brief.rstrip("\n").split("\n")
        )
        found.brief.append(END)
        found.seconds.append(NOTHING if seconds is None else round(seconds, 3))
        found.taken.append(texts.place(taken))
        found.first.append(first - 1)
    return found


Row = tuple[Any, ...]
COLUMNS = f"{FIRST} AS first, place, id, form, {', '.join(VALUES)}, distance"


def _best(store: BatchStore) -> Iterator[Row]:
    """The best designs of all; those without scores question by question behind them."""
    room = DESIGNS
    scored = (
        f"SELECT {COLUMNS} FROM designs WHERE overall IS NOT NULL AND first IS NOT NULL "
        "ORDER BY overall DESC, cost, id LIMIT ?"
    )
    for row in store.rows(scored, (room,)):
        room -= 1
        yield row
    others = (
        f"SELECT {COLUMNS} FROM questions JOIN designs USING (key) WHERE overall IS NULL AND number = first "
        "ORDER BY number, place LIMIT ?"
    )
    yield from store.rows(others, (room,))


def _of_each(store: BatchStore, questions: int) -> Iterator[Row]:
    """The first designs of each question that the page holds."""
    query = (
        f"SELECT {COLUMNS} FROM questions JOIN designs USING (key) WHERE number <= ? AND place <= ? "
        "AND number = first ORDER BY number, place"
    )
    return store.rows(query, (questions, max(1, min(A_QUESTION, DESIGNS // questions))))


def _add(
    store: BatchStore, designs: _Designs, texts: Texts, rows: Iterable[Row], known: set[tuple[int, int]]
) -> set[tuple[int, int]]:
    """Adds designs that are not known; gives those of the first places, by question and place."""
    added = set()
    for first, place, ident, form, *values, distance in rows:
        if (first, place) in known:
            continue
        if place <= A_QUESTION:
            added.add((first, place))
        words = None
        if first > QUESTIONS:
            [(chosen,)] = store.rows("SELECT chosen FROM questions WHERE number = ?", (first,))
            words = ", ".join(short(value) for _, value in json.loads(chosen))
        designs.question.append(first - 1)
        designs.words.append(texts.place(words))
        designs.id.append(ident[:8])
        designs.dice.extend(texts.places(dice_words(json.loads(form))))
        for name, value in zip(VALUES, values, strict=True):
            getattr(designs, name).append(nan if value is None else value)
        designs.distance.append(texts.place(distance))
    return added


def _json(value: Any) -> str:
    """JSON of columns within tables, one column after the other; what is no number is null."""
    if isinstance(value, dict):
        return "{" + ",".join(f"{script_json(key)}:{_json(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list) and value and isinstance(value[0], array):
        return "[" + ",".join(map(_json, value)) + "]"
    if isinstance(value, array):
        if value.typecode == "q":
            return "[" + ",".join(map(str, value)) + "]"
        return "[" + ",".join("null" if isnan(one) else f"{one:.12g}" for one in value) + "]"
    return script_json(value)
