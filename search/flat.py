"""Flat tables for other programs: CSV on a stream, Parquet in a file; written row by row, never held whole."""

from __future__ import annotations

import csv
import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from facewright.constraints.errors import RunError, UsageError

TOGETHER = 10_000
"""Rows of a row group of Parquet: so many are held at once."""

Column = tuple[str, str]
"""The name of a column and its type: int64, float64, bool or string; every column may lack values."""


@dataclass(frozen=True)
class Table:
    """Columns, and what gives the rows, one by one, from the start each time."""

    columns: tuple[Column, ...]
    rows: Callable[[], Iterable[Sequence[Any]]]

    @property
    def names(self) -> list[str]:
        """The names of the columns."""
        return [name for name, _ in self.columns]


def table_of(rows: Sequence[Mapping[str, Any]]) -> Table:
    """Rows that are there already, as a table; a column's type is that of its values."""
    names = list(dict.fromkeys(name for row in rows for name in row)) or ["rank", "tied", "id"]
    columns = tuple((name, _type([row.get(name) for row in rows])) for name in names)
    texts = [name for name, kind in columns if kind == "string"]

    def given() -> Iterator[list[Any]]:
        for row in rows:
            values = {**row, **{name: str(row[name]) for name in texts if row.get(name) is not None}}
            yield [values.get(name) for name in names]

    return Table(columns, given)


def write_csv(table: Table, stream: IO[str]) -> None:
    """Writes a table as comma-separated values, a line that names the columns first."""
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(table.names)
    writer.writerows(table.rows())


def write_parquet(table: Table, path: Path) -> int:
    """Writes a table as a Parquet file, whole or not at all; gives how many rows it has.

    Raises: UsageError where pyarrow is missing, RunError where the file cannot be written.
    """
    try:
        import pyarrow
        from pyarrow import parquet
    except ImportError as wrong:
        raise UsageError(
            "--parquet: found no package `pyarrow`; accepted: an installation with the extra [parquet]"
        ) from wrong
    types = {
        "int64": pyarrow.int64(),
        "float64": pyarrow.float64(),
        "bool": pyarrow.bool_(),
        "string": pyarrow.string(),
    }
    schema = pyarrow.schema([(name, types[kind]) for name, kind in table.columns])
    draft = path.with_name(path.name + ".draft")
    many = 0
    try:
        with parquet.ParquetWriter(draft, schema, compression="zstd") as writer:
            for some in _parts(table.rows()):
                arrays = [
                    pyarrow.array(values, kind)
                    for values, kind in zip(zip(*some, strict=True), schema.types, strict=True)
                ]
                writer.write_batch(pyarrow.record_batch(arrays, schema=schema))
                many += len(some)
        draft.replace(path)
    except OSError as wrong:
        raise RunError(f"{path}: cannot be written ({wrong.strerror or wrong})") from wrong
    finally:
        with suppress(OSError):
            draft.unlink(missing_ok=True)
    return many


def _parts(rows: Iterable[Sequence[Any]]) -> Iterator[list[Sequence[Any]]]:
    waiting = iter(rows)
    while some := list(itertools.islice(waiting, TOGETHER)):
        yield some


def _type(values: Sequence[Any]) -> str:
    kinds = {type(value) for value in values if value is not None}
    if kinds == {bool}:
        return "bool"
    if kinds == {int} and all(abs(value) < 2**63 for value in values if value is not None):
        return "int64"
    return "float64" if float in kinds and kinds <= {int, float} else "string"
