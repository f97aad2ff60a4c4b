"""Versions of a store's tables: made anew, or brought from an older version to this one in one transaction."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from facewright.constraints.errors import RunError


@dataclass(frozen=True)
class Schema:
    """The tables of a kind of store.

    Params:
        tables: statements that make them in their newest form, parted by a semicolon at a line's end.
        steps: what leads from each earlier version to the next, the first from version 1 to 2.
        otherwise: what to do with a store that is too new.
    """

    tables: str
    steps: Sequence[str]
    otherwise: str

    @property
    def version(self) -> int:
        """The newest version, noted in the store itself."""
        return len(self.steps) + 1

    def make(self, connection: sqlite3.Connection) -> None:
        """Makes the tables and notes their version; the caller has begun a transaction and ends it."""
        _run(connection, self.tables)
        connection.execute(f"PRAGMA user_version={self.version}")

    def bring(self, connection: sqlite3.Connection, path: Path) -> None:
        """Brings an older store to this version, all or nothing; two processes may try at once.

        Raises: RunError for a store of a newer program, or of none; sqlite3.Error where it cannot be written.
        """
        if self.version_of(connection, path) == self.version:
            return
        level, connection.isolation_level = connection.isolation_level, None
        connection.execute("BEGIN IMMEDIATE")
        try:
            for at in range(self.version_of(connection, path), self.version):
                _run(connection, self.steps[at - 1])
                connection.execute(f"PRAGMA user_version={at + 1}")
            connection.execute("COMMIT")
        except BaseException:
            connection.execute("ROLLBACK")
            raise
        finally:
            connection.isolation_level = level

    def version_of(self, connection: sqlite3.Connection, path: Path) -> int:
        """The version that a store notes; raises RunError where it is none that this program reads."""
        found = int(connection.execute("PRAGMA user_version").fetchone()[0])
        if not 1 <= found <= self.version:
            newer = " (a newer facewright wrote it)" if found > self.version else ""
            raise RunError(
                f"{path}: found a store of version {found}{newer}, this program reads versions 1 to {self.version}; "
                f"{self.otherwise}"
            )
        return found


def _run(connection: sqlite3.Connection, statements: str) -> None:
    """Runs statements one by one: sqlite3's own script runner would end the transaction first."""
    for statement in statements.split(";\n"):
        if statement.strip():
            connection.execute(statement)
