"""Tables for other programs: runs and batches as CSV and Parquet, read back by pandas in one line."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pandas
import pytest
from facewright.search.batch.store import BatchStore
from facewright.search.cli.command import status_of
from facewright.search.flat import TOGETHER, Table, table_of, write_csv, write_parquet
from facewright.search.folders import BATCH

from tests.search.test_schema import earlier

pytest.importorskip("pyarrow", reason="the extra [parquet] is not installed")

PLANS = Path(__file__).parents[2] / "docs" / "reference" / "plans.md"


@pytest.fixture
def batch(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A batch of six questions, four of them different, with four designs; it stands in runs/quays."""
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "runs" / "quays"
    earlier("batch", folder)
    with BatchStore.open(folder / BATCH, write=True) as store:
        store.keep(
            [{"key": "4044310f4277102a2572fab09274a55a", "status": "failed", "reason": "lost", "seconds": 2}]
        )
    return folder


def said(capsys: pytest.CaptureFixture[str], *arguments: str, status: int = 0) -> str:
    assert status_of([*arguments]) == status
    told = capsys.readouterr()
    return told.err if status else told.out


def test_the_lines_of_the_page_read_a_batch(batch: Path, capsys: pytest.CaptureFixture[str]) -> None:
    blocks = re.findall(r"```python\n(.*?)```", PLANS.read_text(encoding="utf-8"), re.DOTALL)
    commands = re.findall(r"^\$ facewright (.*)$", PLANS.read_text(encoding="utf-8"), re.MULTILINE)
    exports = [one.replace("spring-plan", "quays") for one in commands if "parquet" in one or "csv" in one]
    assert len(exports) == 3
    for one in exports:
        command, _, into = one.partition(" > ")
        out = said(capsys, *command.split())
        if into:
            Path(into).write_text(out, encoding="utf-8")
    [code] = [one for one in blocks if "read_parquet" in one]
    names: dict[str, Any] = {}
    for line in code.replace("spring-plan", "quays").splitlines():
        exec(line, names)
    tables = [value for value in names.values() if isinstance(value, pandas.DataFrame)]
    assert [len(table) for table in tables] == [8, 8, 6, 8]
    first = tables[0]
    assert list(first["like"]) == ["2d6"] * 4 + ["d6 + d6"] * 4
    assert first["overall"].dtype == float
    assert first["die_1_faces"].tolist() == [4, 4, 6, 6] * 2
    assert first["die_2"][3] == "1 3 4 5 6 8"
    texts = {"count": str, "distance": str}  # a table of commas does not say what is a text
    pandas.testing.assert_frame_equal(tables[1].astype(texts), first, check_dtype=False)
    assert (tables[3]["id"] == first["id"]).all()
    assert tables[2]["status"].tolist() == ["answered"] * 5 + ["failed"]


def test_a_run_as_parquet_is_its_csv(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    earlier("run", tmp_path / "runs" / "tolls")
    said(capsys, "show", "tolls", "--parquet", "tolls.parquet")
    table = pandas.read_parquet("tolls.parquet")
    other = pandas.read_csv(io.StringIO(said(capsys, "show", "tolls", "--csv")), dtype={"distance": str})
    assert len(table) > 2
    assert table["rank"].dtype == "int64" and table["tied"].dtype == bool
    pandas.testing.assert_frame_equal(table, other, check_dtype=False)


def test_a_batch_is_shown_and_reported(batch: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "6 questions, 4 of them different; 3 answered, 1 failed, 0 left; 4 designs" in said(
        capsys, "show", "quays"
    )
    assert json.loads(said(capsys, "show", "quays", "--json"))["designs"] == 4
    assert not (batch / "report.html").exists()
    said(capsys, "report", "quays")
    assert (batch / "report.html").exists()
    assert "the batch alone" in said(capsys, "show", "quays", "c40e", status=2)
    assert "--csv and --parquet" in said(capsys, "show", "quays", "--csv", "--parquet", "x", status=2)
    assert "--scores" in said(capsys, "report", "quays", "--scores", str(PLANS), status=2)


def test_rows_are_written_as_they_come(tmp_path: Path) -> None:
    given = 0

    def rows() -> Iterator[tuple[Any, ...]]:
        nonlocal given
        for given in range(3 * TOGETHER + 7):
            yield given, None if given % 3 else given / 2, str(given), bool(given % 2)

    columns = (("a", "int64"), ("b", "float64"), ("c", "string"), ("d", "bool"))
    assert write_parquet(Table(columns, rows), tmp_path / "t.parquet") == given + 1
    from pyarrow import parquet

    assert parquet.ParquetFile(tmp_path / "t.parquet").num_row_groups == 4
    table = pandas.read_parquet(tmp_path / "t.parquet")
    text = io.StringIO()
    write_csv(Table(columns, rows), text)
    other = pandas.read_csv(io.StringIO(text.getvalue()), dtype={"c": str})
    pandas.testing.assert_frame_equal(table, other, check_dtype=False)


def test_a_file_that_cannot_be_written_leaves_nothing(
    batch: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "cannot be written" in said(capsys, "show", "quays", "--parquet", "no/x.parquet", status=1)
    Path("full").mkdir()
    assert "cannot be written" in said(capsys, "show", "quays", "--parquet", "full", status=1)
    assert not list(Path().glob("*.draft"))


def test_values_of_one_column_have_one_type() -> None:
    table = table_of([{"a": 1, "b": 10**30}, {"a": None, "b": 2, "c": "x"}, {"a": 2, "b": 3, "d": 0.5}])
    assert table.columns == (("a", "int64"), ("b", "string"), ("c", "string"), ("d", "float64"))
    assert list(table.rows()) == [[1, str(10**30), None, None], [None, "2", "x", None], [2, "3", None, 0.5]]
