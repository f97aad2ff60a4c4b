"""Designs of several runs and batches side by side: the Pareto front first, the weights second; read as a stream."""

from __future__ import annotations

import heapq
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from facewright.constraints.errors import RunError, UsageError
from facewright.search.batch.store import BATCH, BatchStore
from facewright.search.folders import RUNS, STORE

LESS_IS_BETTER = {"legible": False, "familiar": False, "cost": True, "distance": True}
"""What designs are compared by, and whether less is better."""

WEIGHTS = {"readability": 2, "cost": 1}
"""What counts how much, among designs that are on the front alike, or behind it alike."""

CONDITION = re.compile(
    r"\s*(legible|familiar|readability|cost|distance)\s*(<=|>=|<|>|=)\s*(\d+(?:\.\d+)?(?:/\d+)?)\s*"
)

TESTS: dict[str, Callable[[Any, Any], bool]] = {
    "<=": lambda a, b: a <= b,
    ">=": lambda a, b: a >= b,
    "<": lambda a, b: a < b,
    ">": lambda a, b: a > b,
    "=": lambda a, b: a == b,
}


@dataclass(frozen=True)
class Compared:
    """A design of some run: `name` is the run and its id; `values` by criterion, `readability` besides."""

    name: str
    id: str
    dice: tuple[str, ...]
    values: dict[str, Any]
    front: bool = False
    overall: int = 0


def conditions(texts: Sequence[str]) -> tuple[tuple[str, str, Fraction], ...]:
    """Conditions such as "legible >= 80"; raises UsageError with every one that is none."""
    found, wrong = [], []
    for text in texts:
        read = CONDITION.fullmatch(text)
        if read is None:
            wrong.append(repr(text))
        else:
            found.append((read[1], read[2], Fraction(read[3])))
    if wrong:
        raise UsageError(
            f'--keep: found {", ".join(wrong)}; accepted: a name and a bound, such as "legible >= 80" (legible, '
            "familiar, readability, cost or distance; <, <=, =, >= or >)"
        )
    return tuple(found)


def compared(
    names: Sequence[str], keep: Sequence[tuple[str, str, Fraction]], most: int
) -> tuple[list[Compared], int, int]:
    """The best designs of runs and batches.

    Params:
        names: runs or batches, by name or folder.
        keep: conditions that every design must meet.
        most: how many are given.
    Returns: the best in order; how many are on the front; how many were compared.
    Raises: UsageError, RunError where there is no such run, or one without scores.
    """
    folders = [_folder(name) for name in names]
    cheapest = min(
        (one.values["cost"] for folder in folders for one in _designs(folder) if _kept(one, keep)), default=0
    )
    front: list[Compared] = []
    best: list[tuple[int, int, Compared]] = []
    many = 0
    for folder in folders:
        for plain in _designs(folder):
            if not _kept(plain, keep):
                continue
            many += 1
            one = replace(plain, overall=_overall(plain.values, cheapest))
            if not any(_betters(other, one) for other in front):
                front = [other for other in front if not _betters(one, other)] + [one]
            heapq.heappush(best, (one.overall, -many, one))
            if len(best) > most:
                heapq.heappop(best)
    leading = sorted(front, key=lambda one: (-one.overall, one.name))
    known = {(one.name, one.id) for one in leading}
    rest = [
        one
        for _, _, one in sorted(best, key=lambda row: (-row[0], -row[1]))
        if (one.name, one.id) not in known
    ]
    ordered = [replace(one, front=True) for one in leading] + rest
    return ordered[:most], len(front), many


def _overall(values: dict[str, Any], cheapest: float) -> int:
    economy = 100 * cheapest / values["cost"] if values["cost"] else 100.0
    whole = WEIGHTS["readability"] * values["readability"] + WEIGHTS["cost"] * economy
    return int(whole / sum(WEIGHTS.values()) + 0.5)


def _betters(one: Compared, other: Compared) -> bool:
    """Whether a design is nowhere worse than another and somewhere better."""
    ahead = False
    for name, less in LESS_IS_BETTER.items():
        mine, theirs = one.values[name], other.values[name]
        if mine != theirs:
            if (mine < theirs) is not less:
                return False
            ahead = True
    return ahead


def _kept(one: Compared, keep: Sequence[tuple[str, str, Fraction]]) -> bool:
    return all(TESTS[sign](one.values[name], bound) for name, sign, bound in keep)


def _folder(name: str) -> Path:
    for folder in (Path(name), RUNS / name):
        if (folder / STORE).is_file() or (folder / BATCH).is_file():
            return folder
    raise RunError(
        f"{name}: found no run or batch of that name; `facewright list` shows the runs", exit_status=2
    )


def _designs(folder: Path) -> Iterator[Compared]:
    yield from _of_batch(folder) if (folder / BATCH).is_file() else _of_run(folder)


def _of_run(folder: Path) -> Iterator[Compared]:
    from facewright.search.rank import score
    from facewright.search.report.scores import load_scores
    from facewright.search.report.strips import label_text
    from facewright.search.store import Store

    settings = load_scores(None)
    with Store.open(folder / STORE) as store:
        question = store.question
        if question.kind != "numbering":
            raise UsageError(
                f"{folder}: found a {question.kind} run, whose designs have no scores of this sort; accepted: runs of "
                "numberings (a product brief compares designs of any kind)"
            )
        for found in store.designs():
            copies = [die.copies for die in question.sets[found.set]]
            scores = score(found.design, copies, settings).scores
            dice = tuple(f"{die.solid}: {label_text(die.labels, 60)}" for die in found.design.dice)
            values = {**scores, "distance": Fraction(getattr(found, "distance", 0) or 0)}
            yield Compared(f"{folder.name}/{found.design.id[:8]}", found.design.id, dice, values)


def _of_batch(folder: Path) -> Iterator[Compared]:
    import json

    from facewright.search.report.batch_page import dice_words

    query = (
        "SELECT number, id, form, legible, familiar, readability, cost, distance FROM products WHERE cost IS NOT NULL "
        "ORDER BY number, place"
    )
    with BatchStore.open(folder / BATCH) as store:
        for number, ident, form, legible, familiar, readability, cost, distance in store.rows(query):
            values = {
                "legible": legible,
                "familiar": familiar,
                "readability": readability,
                "cost": cost,
                "distance": Fraction(distance or 0),
            }
            dice = tuple(dice_words(json.loads(form)))
            yield Compared(f"{folder.name}/{number}/{ident[:8]}", ident, dice, values)
