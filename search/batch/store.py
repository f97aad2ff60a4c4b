"""The store of a batch: one SQLite file that the parent alone writes, one transaction a handful with its done marks."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing, suppress
from pathlib import Path
from typing import Any

from facewright.constraints.errors import RunError
from facewright.search.batch.plan import Asked
from facewright.search.batch.tasks import SCORES, Job
from facewright.search.schema import Schema
from facewright.search.store import WAIT, bring, closed_unless_sound, told_of_store

BY_SCORE = "CREATE INDEX designs_by_score ON designs (overall DESC, cost, id)"
"""Lets the best designs be read without going through all of them."""

SCHEMA = Schema(
    f"""
CREATE TABLE about (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE questions (
    number INTEGER PRIMARY KEY, key TEXT NOT NULL, fingerprint TEXT NOT NULL, chosen TEXT NOT NULL, brief TEXT NOT NULL
);
CREATE INDEX questions_by_key ON questions (key);
CREATE TABLE answers (
    key TEXT PRIMARY KEY, status TEXT NOT NULL, kind TEXT, verdict TEXT, count TEXT, count_up_to_shift TEXT,
    count_is TEXT, engine TEXT, reason TEXT NOT NULL, bound TEXT, seconds REAL NOT NULL, taken_from TEXT,
    tries INTEGER NOT NULL DEFAULT 1
) WITHOUT ROWID;
CREATE TABLE designs (
    key TEXT NOT NULL, place INTEGER NOT NULL, id TEXT NOT NULL, distance TEXT, ordinary INTEGER NOT NULL,
    legible REAL, familiar REAL, readability REAL, cost REAL, overall REAL, form TEXT NOT NULL,
    PRIMARY KEY (key, place)
) WITHOUT ROWID;
{BY_SCORE};
CREATE VIEW products AS SELECT questions.number, questions.chosen, answers.verdict, answers.count, designs.*
    FROM questions JOIN answers USING (key) JOIN designs USING (key)
""",
    (
        f"""
DROP INDEX designs_by_score;
{BY_SCORE};
ALTER TABLE answers ADD COLUMN tries INTEGER NOT NULL DEFAULT 1
""",
    ),
    "use --out to name another folder, or take that program",
)
"""The tables; stores of earlier versions are brought to this one when they are opened."""

ANSWER = (
    "status",
    "kind",
    "verdict",
    "count",
    "count_up_to_shift",
    "count_is",
    "engine",
    "reason",
    "bound",
    "seconds",
)


class BatchStore:
    """Questions, answers and designs of a batch; a context manager."""

    def __init__(self, path: Path, connection: sqlite3.Connection, write: bool) -> None:
        self.path = path
        self._connection = connection
        self._write = write

    @classmethod
    def create(cls, path: Path) -> BatchStore:
        """A new store; raises RunError where it cannot be written."""
        with told_of_store(path):
            connection = sqlite3.connect(path, timeout=WAIT)
            with closed_unless_sound(connection):
                connection.execute("PRAGMA journal_mode=WAL")
                connection.execute("PRAGMA synchronous=NORMAL")
                with connection:
                    connection.execute("BEGIN IMMEDIATE")
                    SCHEMA.make(connection)
        return cls(path, connection, write=True)

    @classmethod
    def open(cls, path: Path, *, write: bool = False) -> BatchStore:
        """The store at a path, an older one brought to this version; raises RunError where there is none of ours."""
        if not path.is_file():
            raise RunError(f"{path}: found no store of a batch", exit_status=2)
        with told_of_store(path):
            if _empty(path):
                if not write:
                    raise RunError(
                        f"{path}: the batch was ended before it began; give its plan to `batch` again"
                    )
                path.unlink()
                return cls.create(path)
            connection = _connected(path, write)
            if write:
                with closed_unless_sound(connection):
                    connection.execute("PRAGMA journal_mode=WAL")
                    connection.execute("PRAGMA synchronous=NORMAL")
        return cls(path, connection, write)

    def __enter__(self) -> BatchStore:
        return self

    def __exit__(self, *_: object) -> None:
        if self._write:
            # refused while another process reads: then the log stays beside the store, which does no harm
            with suppress(sqlite3.Error):
                self._connection.execute("PRAGMA journal_mode=DELETE")
        self._connection.close()

    def note(self, key: str, value: object) -> None:
        """Keeps a value (anything JSON can hold) under a key."""
        with told_of_store(self.path), self._connection as connection:
            connection.execute("INSERT OR REPLACE INTO about VALUES (?, ?)", (key, json.dumps(value)))

    def noted(self, key: str, default: Any = None) -> Any:
        """The value kept under a key."""
        with told_of_store(self.path):
            row = self._connection.execute("SELECT value FROM about WHERE key = ?", (key,)).fetchone()
            return default if row is None else json.loads(row[0])

    def ask(self, questions: Iterable[tuple[Asked, str, str]]) -> None:
        """Takes the questions of a plan, with fingerprints and keys, in place of those of before; all or none."""
        rows = (
            (number, key, fingerprint, json.dumps(asked.chosen, ensure_ascii=False), asked.brief)
            for number, (asked, fingerprint, key) in enumerate(questions, 1)
        )
        with told_of_store(self.path), self._connection as connection:
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("DELETE FROM questions")
            connection.executemany("INSERT INTO questions VALUES (?, ?, ?, ?, ?)", rows)

    def open_jobs(self) -> Iterator[Job]:
        """The questions that have no answer yet, equal ones once, read as they are needed."""
        query = (
            "SELECT key, brief, number FROM questions WHERE number > ? "
            "AND NOT EXISTS (SELECT 1 FROM answers WHERE answers.key = questions.key) "
            "AND number = (SELECT MIN(number) FROM questions AS q WHERE q.key = questions.key) "
            "ORDER BY number LIMIT 200"
        )
        after = 0
        while True:
            with told_of_store(self.path):
                rows = self._connection.execute(query, (after,)).fetchall()
            if not rows:
                return
            for key, brief, number in rows:
                after = number
                yield key, brief

    def keep(self, results: Sequence[dict[str, Any]]) -> None:
        """Keeps results with their designs: all or nothing."""
        answers = [
            (one["key"], *(one.get(name) for name in ANSWER), one.get("taken_from"), one.get("tries", 1))
            for one in results
        ]
        designs = [
            (
                one["key"],
                place,
                design["id"],
                design["distance"],
                int(design["ordinary"]),
                *(design["scores"][name] for name in SCORES),
                json.dumps(design["form"], ensure_ascii=False),
            )
            for one in results
            for place, design in enumerate(one.get("designs", ()), 1)
        ]
        marks = ", ".join("?" * (len(ANSWER) + 3))
        with told_of_store(self.path), self._connection as connection:
            connection.executemany(f"INSERT OR REPLACE INTO answers VALUES ({marks})", answers)
            connection.executemany(
                f"INSERT OR REPLACE INTO designs VALUES ({', '.join('?' * (6 + len(SCORES)))})", designs
            )

    def forget_failures(self) -> None:
        """Lets questions that failed be asked again."""
        with told_of_store(self.path), self._connection as connection:
            connection.execute("DELETE FROM answers WHERE status <> 'answered'")

    def forget_cut_short(self) -> None:
        """Lets questions that a limit of time cut short, or that hung, be asked again."""
        with told_of_store(self.path), self._connection as connection:
            short = "verdict = 'partial' OR status = 'hung'"
            connection.execute(f"DELETE FROM designs WHERE key IN (SELECT key FROM answers WHERE {short})")
            connection.execute(f"DELETE FROM answers WHERE {short}")

    def tally(self) -> dict[str, int]:
        """How many questions there are, equal ones once, how many of them are answered, and by which status."""
        with told_of_store(self.path):
            asked, keys = self._connection.execute(
                "SELECT COUNT(*), COUNT(DISTINCT key) FROM questions"
            ).fetchone()
            query = "SELECT status, COUNT(*) FROM answers WHERE key IN (SELECT key FROM questions) GROUP BY status"
            by_status = dict(self._connection.execute(query).fetchall())
        return {"questions": asked, "different": keys, "done": sum(by_status.values()), **by_status}

    def rows(self, query: str, values: Sequence[Any] = ()) -> Iterator[tuple[Any, ...]]:
        """The rows of a query, one by one."""
        with told_of_store(self.path):
            yield from self._connection.execute(query, values)

    def sound(self) -> bool:
        """Whether the file holds together (SQLite's quick check)."""
        with told_of_store(self.path):
            return bool(self._connection.execute("PRAGMA quick_check").fetchone()[0] == "ok")


def _empty(path: Path) -> bool:
    """Whether the tables of a store never came to be; an older store is brought to this version on the way.

    Opened for writing, for SQLite to take back what a process that was killed left half done: one that only reads
    may not. Where nothing can be written SQLite opens it for reading all the same.
    """
    with closing(_connected(path, write=True)) as connection:
        if not connection.execute("SELECT COUNT(*) FROM sqlite_master").fetchone()[0]:
            return True
        bring(SCHEMA, connection, path)
    return False


def _connected(path: Path, write: bool) -> sqlite3.Connection:
    mode = "rw" if write else "ro"
    return sqlite3.connect(f"{path.resolve().as_uri()}?mode={mode}", timeout=WAIT, uri=True)
