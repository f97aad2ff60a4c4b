"""A batch as flat tables, read from its store row by row: a row a design, or a row a question."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from facewright.search.batch.plan import short
from facewright.search.batch.store import ANSWER, BatchStore
from facewright.search.batch.tasks import SCORES
from facewright.search.flat import Column, Table

WHOLE, REAL, TRUTH, TEXT = "int64", "float64", "bool", "string"


def designs_table(store: BatchStore) -> Table:
    """The designs: question by question, the best first; a column each of what varies and of each die's labels.

    Designs of other kinds than numberings have their solid and their whole form, as JSON, instead of dice.
    """
    axes = axes_of(store)
    [(most, others)] = store.rows(
        "SELECT MAX(json_array_length(form, '$.dice')), SUM(json_type(form, '$.dice') IS NULL) FROM designs"
    )
    most, others = most or 0, bool(others)
    dice = [
        (f"die_{place}{part}", kind)
        for place in range(1, most + 1)
        for part, kind in (("_faces", WHOLE), ("_solid", TEXT), ("", TEXT))
    ]
    columns: list[Column] = [
        ("number", WHOLE),
        *_named(axes),
        ("verdict", TEXT),
        ("count", TEXT),
        ("place", WHOLE),
        ("id", TEXT),
        ("distance", TEXT),
        ("ordinary", TRUTH),
        *((name, REAL) for name in SCORES),
        *dice,
        *([("solid", TEXT), ("form", TEXT)] if others else []),
    ]
    query = (
        f"SELECT number, chosen, verdict, count, place, id, distance, ordinary, {', '.join(SCORES)}, form "
        "FROM products ORDER BY number, place"
    )

    def rows() -> Iterator[tuple[Any, ...]]:
        for number, chosen, verdict, count, place, ident, distance, ordinary, *scores, form in store.rows(
            query
        ):
            design = json.loads(form)
            labels: list[Any] = [None] * (3 * most)
            for at, die in enumerate(design.get("dice", ())):
                labels[3 * at : 3 * at + 3] = (
                    die["faces"],
                    die["solid"],
                    " ".join(map(str, die["labels"])),
                )
            other = (design.get("solid"), None if "dice" in design else form) if others else ()
            told = (verdict, count, place, ident, distance, bool(ordinary), *scores, *labels, *other)
            yield (number, *asked_values(axes, chosen), *told)

    return Table(tuple(columns), rows)


def answers_table(store: BatchStore) -> Table:
    """The questions, each with its answer or why there is none; `status` is open where it was not answered yet."""
    axes = axes_of(store)
    told = [(name, REAL if name == "seconds" else TEXT) for name in ANSWER]
    columns = (("number", WHOLE), *_named(axes), *told, ("tries", WHOLE), ("taken_from", TEXT))
    query = (
        f"SELECT number, chosen, {', '.join(ANSWER)}, tries, taken_from "
        "FROM questions LEFT JOIN answers USING (key) ORDER BY number"
    )

    def rows() -> Iterator[tuple[Any, ...]]:
        for number, chosen, status, *rest in store.rows(query):
            yield (number, *asked_values(axes, chosen), status or "open", *rest)

    return Table(columns, rows)


def axes_of(store: BatchStore) -> tuple[str, ...]:
    """What varies in a batch."""
    return tuple(str(one) for one in store.noted("varies", []))


def _named(axes: tuple[str, ...]) -> list[Column]:
    """Columns for what varies; one that a key of ours is called too has `asked.` before it."""
    ours = {
        "number",
        "count",
        "place",
        "id",
        "solid",
        "form",
        "kind",
        "reason",
        "verdict",
        "distance",
        "cost",
    }
    return [(f"asked.{axis}" if axis in ours else axis, TEXT) for axis in axes]


@lru_cache(maxsize=16)  # a question's designs stand together
def asked_values(axes: tuple[str, ...], chosen: str) -> tuple[str | None, ...]:
    """What a question asks, by axis, in a few characters; None where it has no such value."""
    values = dict(json.loads(chosen))
    return tuple(short(values[axis]) if axis in values else None for axis in axes)
