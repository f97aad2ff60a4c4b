"""The store of a run: one SQLite file, one transaction a shard with its done mark."""

from __future__ import annotations

import errno
import json
import sqlite3
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import asdict, replace
from fractions import Fraction
from functools import cached_property
from pathlib import Path
from typing import Any

from facewright.constraints.errors import BriefRefused, FacewrightError, RunError
from facewright.constraints.question_form import Question, any_from_form, any_to_form
from facewright.search.answer import Closing
from facewright.search.claims import Claim
from facewright.search.kinds import Kind, kind_of
from facewright.search.laying import LaidOut
from facewright.search.schema import Schema

WAIT = 5
"""Seconds to wait for another process that writes."""

DAMAGED = "the store is damaged; answer its brief anew, in another folder or with --replace"
KEPT = "What was found until now is kept; make room and give the same command again to go on"

IN_ORDER = "CREATE INDEX designs_in_order ON designs (position, number)"
"""Lets designs be read in their order without sorting all of them first."""

INSERT = "INSERT OR IGNORE INTO designs (id, position, labels, distance) VALUES (?, ?, ?, ?)"
OUTCOME = "INSERT OR REPLACE INTO outcomes VALUES (?, ?)"

SCHEMA = Schema(
    f"""
CREATE TABLE about (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE outcomes (position INTEGER PRIMARY KEY, outcome TEXT NOT NULL);
CREATE TABLE designs (
    number INTEGER PRIMARY KEY, id TEXT NOT NULL, position INTEGER NOT NULL,
    labels TEXT NOT NULL, distance TEXT NOT NULL, UNIQUE (position, id)
);
{IN_ORDER}
""",
    (IN_ORDER,),
    "answer its brief anew, in another folder or with --replace, or take that program",
)
"""The tables; stores of earlier versions are brought to this one when they are opened."""


class NotBegun(RunError):
    """A store whose run was ended before it noted its question: nothing can be lost of it."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path}: the run was ended before it began; give its brief to `find` again")


class Store:
    """A run's designs and outcomes on disk; a context manager.

    While it is written others can read it (a write-ahead log beside it); at rest it is one plain file, which can be
    read where nothing can be written.
    """

    def __init__(self, path: Path, connection: sqlite3.Connection, write: bool = False) -> None:
        self.path = path
        self._connection = connection
        self._write = write

    @classmethod
    def create(cls, path: Path, question: Question) -> Store:
        """A new store for a question; raises RunError where it cannot be written."""
        connection = _connected(path)
        with told_of_store(path), closed_unless_sound(connection):
            connection.execute("PRAGMA journal_mode=WAL")
            store = cls(path, connection, write=True)
            with connection:
                # tables, version and question together or not at all: sqlite3 opens no transaction for tables itself
                connection.execute("BEGIN IMMEDIATE")
                SCHEMA.make(connection)
                store.note("question", any_to_form(question))
        return store

    @classmethod
    def open(cls, path: Path, write: bool = False) -> Store:
        """The store at a path, to be read or written too; raises RunError where there is none, or none of ours."""
        if not path.is_file():
            raise RunError(
                f"{path}: found no store of a run; `facewright list` shows the runs there are", exit_status=2
            )
        connection = _connected(path)
        with told_of_store(path), closed_unless_sound(connection):
            if not connection.execute("SELECT COUNT(*) FROM sqlite_master").fetchone()[0]:
                raise NotBegun(path)
            bring(SCHEMA, connection, path)
            if write:
                connection.execute("PRAGMA journal_mode=WAL")
            store = cls(path, connection, write)
            if store.noted("question") is None:
                raise NotBegun(path)
        return store

    def __enter__(self) -> Store:
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

    def append(self, shard: Sequence[Any], outcome: Any | None, position: int) -> None:
        """Keeps a shard of designs and, with the last one of a set of dice, its outcome: all or nothing.

        Designs that are there already stay as they are. An outcome that a stop cut short is no done mark: the set
        is tried again when the run goes on.
        """
        with told_of_store(self.path), self._connection as connection:
            connection.executemany(INSERT, self._rows(shard))
            if outcome is not None:
                connection.execute(OUTCOME, (position, _outcome_form(outcome)))

    def renew(self, found: Sequence[Any], outcomes: Sequence[Any]) -> None:
        """Keeps these designs and outcomes in the place of all that there are: all or nothing."""
        with told_of_store(self.path), self._connection as connection:
            connection.execute("DELETE FROM designs")
            connection.executemany(INSERT, self._rows(found))
            connection.executemany(
                OUTCOME, [(position, _outcome_form(one)) for position, one in enumerate(outcomes)]
            )

    def _rows(self, shard: Sequence[Any]) -> list[tuple[str, int, str, str]]:
        form = self._kind.form
        return [(one.design.id, one.set, json.dumps(form(one.design)), str(one.distance)) for one in shard]

    @cached_property
    def _kind(self) -> Kind:
        """The kind of the run's question, which never changes."""
        return kind_of(self.question)

    def drop_others(self, kept: Collection[str], position: int) -> None:
        """Removes the designs of one set of dice, or solid, apart from those with these ids."""
        with told_of_store(self.path), self._connection as connection:
            query = "SELECT id FROM designs WHERE position = ?"
            others = [one for (one,) in connection.execute(query, (position,)) if one not in kept]
            connection.executemany(
                "DELETE FROM designs WHERE position = ? AND id = ?", [(position, one) for one in others]
            )

    @property
    def question(self) -> Question:
        """The question of the run."""
        form = self.noted("question")
        with told_of_store(self.path):
            return any_from_form(form)

    def outcomes(self) -> tuple[Any, ...]:
        """The outcomes of the first sets of dice, or solids, as far as there is no gap."""
        question, kind = self.question, self._kind
        outcomes: list[Any] = []
        with told_of_store(self.path):
            for place, (position, text) in enumerate(
                self._connection.execute("SELECT position, outcome FROM outcomes ORDER BY position")
            ):
                if position != place:
                    break
                form = json.loads(text)
                closing = form.pop("closing")
                closing["proof"] = tuple(closing["proof"])
                form["closing"] = Closing(**closing)
                outcomes.append(kind.outcome(question, position, form))
        return tuple(outcomes)

    def size(self, position: int | None = None) -> int:
        """How many designs there are, of one set of dice or of all."""
        with told_of_store(self.path):
            query = "SELECT COUNT(*) FROM designs WHERE ?1 IS NULL OR position = ?1"
            return int(self._connection.execute(query, (position,)).fetchone()[0])

    def designs(self) -> Iterator[Any]:
        """The designs, set by set, in the order in which they were found."""
        question, kind = self.question, self._kind
        with told_of_store(self.path):
            for position, labels, distance in self._connection.execute(
                "SELECT position, labels, distance FROM designs ORDER BY position, number"
            ):
                yield kind.found(question, position, json.loads(labels), Fraction(distance))

    def claims(self) -> Iterator[Claim]:
        """Each design as it is written, under the id that was noted for it."""
        question, kind = self.question, self._kind
        with told_of_store(self.path):
            for claimed, position, labels, distance in self._connection.execute(
                "SELECT id, position, labels, distance FROM designs ORDER BY position, number"
            ):
                try:
                    written = kind.written(question, position, json.loads(labels))
                except (ValueError, TypeError, LookupError, AttributeError):
                    yield Claim(claimed, None, None)
                else:
                    yield Claim(claimed, written, distance)

    def layouts(self) -> tuple[LaidOut, ...]:
        """The dice of the best design laid out, as far as that was done."""
        with told_of_store(self.path):
            return tuple(LaidOut.from_form(form) for form in self.noted("layouts", ()))

    def outline(self) -> Any:
        """The answer as far as it is known, without its designs: an `Answer`, or that of another kind."""
        question, seed = self.question, self.noted("seed", 0)
        return self._kind.answer(question, self.outcomes(), (), seed)

    def answer(self) -> Any:
        """The answer as far as it is known."""
        known = replace(self.outline(), found=tuple(self.designs()))
        laid = self.layouts()
        return replace(known, layouts=laid) if laid else known


def _outcome_form(outcome: Any) -> str:
    return json.dumps({k: v for k, v in asdict(outcome).items() if k not in ("dice", "solid")})


def _connected(path: Path) -> sqlite3.Connection:
    with told_of_store(path):
        return sqlite3.connect(path, timeout=WAIT)


@contextmanager
def closed_unless_sound(connection: sqlite3.Connection) -> Iterator[None]:
    """Closes a connection where what is done with it fails."""
    try:
        yield
    except BaseException:
        connection.close()
        raise


def bring(schema: Schema, connection: sqlite3.Connection, path: Path) -> None:
    """Brings an older store to this version; raises RunError where it cannot, with what to do."""
    try:
        schema.bring(connection, path)
    except sqlite3.OperationalError as wrong:
        if wrong.sqlite_errorcode & 0xFF in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN):
            raise RunError(
                f"{path}: found a store of an earlier version in a place where nothing can be written; copy its folder "
                "to where it can, and open it there"
            ) from wrong
        raise


@contextmanager
def told_of_store(path: Path) -> Iterator[None]:
    """Turns what SQLite, the system and broken contents say into a RunError that says what to do."""
    try:
        yield
    except (RunError, BriefRefused):  # a plan's questions are read while they are written
        raise
    except (sqlite3.Error, OSError) as wrong:
        raise RunError(f"{path}: {_trouble(wrong)}") from wrong
    except (FacewrightError, ValueError, KeyError, TypeError, IndexError, AttributeError) as wrong:
        raise RunError(f"{path}: {DAMAGED} ({type(wrong).__name__}: {wrong})") from wrong


def _trouble(wrong: sqlite3.Error | OSError) -> str:
    code = getattr(wrong, "sqlite_errorcode", 0) & 0xFF
    number = getattr(wrong, "errno", None)
    if code == sqlite3.SQLITE_FULL or number in (errno.ENOSPC, errno.EDQUOT):
        return f"the disk is full. {KEPT}"
    if code == sqlite3.SQLITE_IOERR:
        return f"the disk takes no more, or fails ({wrong}). {KEPT}"
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return "another process is writing this run; wait for it or use --out"
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN) or isinstance(wrong, PermissionError):
        return "the store cannot be opened or written there; use --out to name another folder"
    if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return f"{DAMAGED} ({wrong})"
    return f"the store cannot be used ({wrong})"
