"""Stores of earlier versions, written by an earlier program: brought to this version whole or not at all."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.errors import RunError
from facewright.search import store as runs
from facewright.search.batch import store as batches
from facewright.search.batch.store import BatchStore
from facewright.search.cli.command import status_of
from facewright.search.schema import Schema
from facewright.search.store import Store

KEPT = Path(__file__).parent / "stores"
"""What `.dump` of SQLite gives of stores that earlier programs wrote, by kind and version."""

KINDS: dict[str, tuple[Schema, Callable[..., Any]]] = {
    "run": (runs.SCHEMA, Store.open),
    "batch": (batches.SCHEMA, BatchStore.open),
}


def earlier(kind: str, folder: Path, version: int = 1) -> Path:
    """A store of an earlier version in a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{kind}.sqlite"
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript((KEPT / f"{kind}-{version}.sql").read_text(encoding="utf-8"))
    return path


def looked_at(path: Path) -> tuple[Any, ...]:
    """Version, tables and indices (name and text, spaces apart), rows by table."""
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA quick_check").fetchone() == ("ok",)
        version = connection.execute("PRAGMA user_version").fetchone()[0]
        made = {
            name: " ".join(text.split())
            for name, text in connection.execute(
                "SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL"
            ).fetchall()
        }
        columns = {
            name: [row[1:] for row in connection.execute(f"PRAGMA table_xinfo({name})")] for name in made
        }
        indices = {name: text for name, text in made.items() if "INDEX" in text}
        rows = {
            name: connection.execute(f"SELECT COUNT(*) FROM {name}").fetchone()[0]
            for name, text in made.items()
            if "TABLE" in text
        }
        return version, columns, indices, rows


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("write", [False, True])
def test_an_earlier_store_becomes_one_of_now(kind: str, write: bool, tmp_path: Path) -> None:
    schema, opened = KINDS[kind]
    path = earlier(kind, tmp_path)
    before = looked_at(path)
    assert before[0] == 1
    opened(path, write=write).__exit__()
    after = looked_at(path)
    with closing(sqlite3.connect(tmp_path / "new.sqlite")) as connection, connection:
        connection.execute("BEGIN")
        schema.make(connection)
    new = looked_at(tmp_path / "new.sqlite")
    assert after[:3] == new[:3]
    assert after[3] == before[3]
    assert sum(before[3].values()) > 5


def test_an_earlier_run_is_read_and_gone_on_with(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    earlier("run", tmp_path / "runs" / "tolls")
    assert status_of(["show", "tolls", "--json"]) == 0
    shown = json.loads(capsys.readouterr().out)
    assert (shown["title"], shown["verdict"]) == ("Tolls", "complete")
    assert status_of(["check", "tolls"]) == 0
    assert "all agree" in capsys.readouterr().out
    assert len(shown["designs"]) == shown["count"]


def test_an_earlier_batch_is_ranked_and_gone_on_with(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    earlier("batch", tmp_path / "runs" / "quays")
    assert status_of(["rank", "quays", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["compared"] == 4
    with BatchStore.open(tmp_path / "runs" / "quays" / "batch.sqlite", write=True) as store:
        assert (store.tally()["done"], store.tally()["different"]) == (4, 4)
        [(tries,)] = store.rows("SELECT DISTINCT tries FROM answers")
        assert tries == 1


@pytest.mark.parametrize("kind", KINDS)
def test_a_step_that_fails_changes_nothing(kind: str, tmp_path: Path) -> None:
    schema, _ = KINDS[kind]
    path = earlier(kind, tmp_path)
    before = looked_at(path)
    worse = Schema(schema.tables, (f"{schema.steps[0]};\nCREATE TABLE about (key)", *schema.steps[1:]), "")
    with closing(sqlite3.connect(path)) as connection, pytest.raises(sqlite3.OperationalError):
        worse.bring(connection, path)
    assert looked_at(path) == before


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("write", [False, True])
def test_a_store_of_a_newer_program_is_refused_and_left_alone(kind: str, write: bool, tmp_path: Path) -> None:
    _, opened = KINDS[kind]
    path = earlier(kind, tmp_path)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA user_version=99")
    before = path.read_bytes()
    with pytest.raises(RunError, match=r"version 99 \(a newer facewright wrote it\).*versions 1 to 2"):
        opened(path, write=write)
    assert path.read_bytes() == before


def test_another_database_of_that_name_is_left_alone(tmp_path: Path) -> None:
    for kind, (_, opened) in KINDS.items():
        path = tmp_path / f"{kind}.sqlite"
        with closing(sqlite3.connect(path)) as connection:
            connection.execute("CREATE TABLE dues (quay TEXT)")
        with pytest.raises(RunError, match="version 0"):
            opened(path, write=True)
        assert path.is_file()
