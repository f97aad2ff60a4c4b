"""The store of a run: one SQLite file, one transaction a shard with its done mark."""

from __future__ import annotations

import errno
import json
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict
from fractions import Fraction
from pathlib import Path
from typing import Any

from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.errors import RunError
from facewright.constraints.question import Numbering
from facewright.constraints.question_form import any_from_form, any_to_form
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.search.answer import Answer, Closing, FoundDesign, SetOutcome
from facewright.search.readouts_answer import FoundMarks, ReadoutsAnswer, SolidOutcome

SCHEMA = 1
"""Version of the tables; a store of another version is refused with a remedy."""

TABLES = """
CREATE TABLE about (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE outcomes (position INTEGER PRIMARY KEY, outcome TEXT NOT NULL);
CREATE TABLE designs (
    number INTEGER PRIMARY KEY, id TEXT NOT NULL, position INTEGER NOT NULL,
    labels TEXT NOT NULL, distance TEXT NOT NULL, UNIQUE (position, id)
);
"""


class Store:
    """A run's designs and outcomes on disk; a context manager."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path = path
        self._connection = connection

    @classmethod
    def create(cls, path: Path, question: Numbering | Readouts) -> Store:
        """A new store for a question; raises RunError where it cannot be written."""
        with _told(path):
            connection = _connect(path)
            connection.execute("PRAGMA journal_mode=WAL")
            with connection:
                for statement in TABLES.split(";"):
                    connection.execute(statement)
                connection.execute(f"PRAGMA user_version={SCHEMA}")
        store = cls(path, connection)
        store.note("question", any_to_form(question))
        return store

    @classmethod
    def open(cls, path: Path) -> Store:
        """The store at a path; raises RunError where there is none, or none of ours."""
        if not path.is_file():
            raise RunError(f"{path}: found no store of a run; `facewright list` shows the runs there are")
        with _told(path):
            connection = _connect(path)
            version = connection.execute("PRAGMA user_version").fetchone()[0]
        if version != SCHEMA:
            connection.close()
            raise RunError(f"{path}: found a store of version {version}, this program reads version {SCHEMA}")
        return cls(path, connection)

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self._connection.close()

    def note(self, key: str, value: object) -> None:
        """Keeps a value (anything JSON can hold) under a key."""
        with _told(self.path), self._connection as connection:
            connection.execute("INSERT OR REPLACE INTO about VALUES (?, ?)", (key, json.dumps(value)))

    def noted(self, key: str, default: Any = None) -> Any:
        """The value kept under a key."""
        with _told(self.path):
            row = self._connection.execute("SELECT value FROM about WHERE key = ?", (key,)).fetchone()
        return default if row is None else json.loads(row[0])

    def append(
        self,
        shard: Sequence[FoundDesign] | Sequence[FoundMarks],
        outcome: SetOutcome | SolidOutcome | None,
        position: int,
    ) -> None:
        """Keeps a shard of designs and, with the last one of a set of dice, its outcome: all or nothing.

        Designs that are there already stay as they are. An outcome that a stop cut short is no done mark: the set
        is tried again when the run goes on.
        """
        rows = [(one.design.id, one.set, json.dumps(_form(one.design)), str(one.distance)) for one in shard]
        with _told(self.path), self._connection as connection:
            connection.executemany(
                "INSERT OR IGNORE INTO designs (id, position, labels, distance) VALUES (?, ?, ?, ?)", rows
            )
            if outcome is not None:
                form = {k: v for k, v in asdict(outcome).items() if k not in ("dice", "solid")}
                connection.execute(
                    "INSERT OR REPLACE INTO outcomes VALUES (?, ?)", (position, json.dumps(form))
                )

    @property
    def question(self) -> Numbering | Readouts:
        """The question of the run."""
        return any_from_form(self.noted("question", {}))

    def outcomes(self) -> tuple[Any, ...]:
        """The outcomes of the first sets of dice, or solids, as far as there is no gap."""
        question = self.question
        with _told(self.path):
            rows = self._connection.execute(
                "SELECT position, outcome FROM outcomes ORDER BY position"
            ).fetchall()
        outcomes: list[Any] = []
        for place, (position, text) in enumerate(rows):
            if position != place:
                break
            form = json.loads(text)
            closing = form.pop("closing")
            closing["proof"] = tuple(closing["proof"])
            form["closing"] = Closing(**closing)
            if isinstance(question, Readouts):
                outcomes.append(SolidOutcome(solid=question.solids[position], **form))
            else:
                outcomes.append(SetOutcome(dice=question.sets[position], **form))
        return tuple(outcomes)

    def designs(self) -> Iterator[Any]:
        """The designs, in the order in which they were found."""
        question = self.question
        with _told(self.path):
            for position, labels, distance in self._connection.execute(
                "SELECT position, labels, distance FROM designs ORDER BY number"
            ):
                if isinstance(question, Readouts):
                    marks = ReadoutsDesign.from_json(json.loads(labels))
                    yield FoundMarks(marks, position, Fraction(distance))
                else:
                    design = NumberingDesign.of(question.sets[position], json.loads(labels))
                    yield FoundDesign(design, position, Fraction(distance))

    def claims(self) -> Iterator[tuple[str, Any]]:
        """Each design as it is written, under the id that was noted for it."""
        question = self.question
        with _told(self.path):
            for claimed, position, labels in self._connection.execute(
                "SELECT id, position, labels FROM designs ORDER BY number"
            ):
                if isinstance(question, Readouts):
                    yield claimed, ReadoutsDesign.from_json(json.loads(labels))
                    continue
                dice = zip(question.sets[position], json.loads(labels), strict=True)
                yield (
                    claimed,
                    NumberingDesign(tuple(DesignDie(d.faces, d.solid, tuple(one)) for d, one in dice)),
                )

    def answer(self) -> Any:
        """The answer as far as it is known: an `Answer`, for readouts a `ReadoutsAnswer`."""
        question, seed = self.question, self.noted("seed", 0)
        if isinstance(question, Readouts):
            return ReadoutsAnswer(question, self.outcomes(), tuple(self.designs()), seed)
        return Answer(question, self.outcomes(), tuple(self.designs()), seed)


def _form(design: NumberingDesign | ReadoutsDesign) -> object:
    """What a store writes of a design."""
    if isinstance(design, ReadoutsDesign):
        return design.as_json()
    return [die.labels for die in design.dice]


def _connect(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, timeout=5)


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Turns what SQLite and the system say into a RunError that says what to do."""
    try:
        yield
    except (sqlite3.Error, OSError) as wrong:
        text = str(wrong)
        if "full" in text or getattr(wrong, "errno", None) in (errno.ENOSPC, errno.EDQUOT):
            raise RunError(
                f"{path}: the disk is full. What was found until now is kept; make room and give the same command "
                "again to go on"
            ) from wrong
        if "locked" in text:
            raise RunError(
                f"{path}: another process is writing this run; wait for it or use --out"
            ) from wrong
        if "readonly" in text or isinstance(wrong, PermissionError):
            raise RunError(f"{path}: the folder cannot be written; use --out to name another") from wrong
        raise RunError(f"{path}: the store cannot be used ({text})") from wrong
