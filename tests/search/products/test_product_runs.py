"""Product briefs from end to end: ranked, costed, kept, checked, shown, with sheets of the best two."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from facewright.search.cli.command import status_of

DUES = 'title = "Dues"\nlike = "2d6"\nread = "total"\ndice = [6, 6]\n'
LIGHTS = 'title = "Lights"\nlike = "d4 + d6"\nread = "total"\ndice = [4, 6]\n'
MARKS = 'title = "Marks"\nsolid = "cube"\nreadouts = { wind = 3, rain = "yes:1 no:1" }\n'
RING = 'title = "Ring"\nread = "each-beats-next"\ndice = [3, 3, 3]\n'


@pytest.fixture
def runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    """Answers briefs into runs; gives "run/beginning of an id" for the designs of one."""
    monkeypatch.chdir(tmp_path)

    def answering(text: str) -> list[str]:
        Path("brief.toml").write_text(text, encoding="utf-8")
        assert status_of(["find", "brief.toml", "--quiet"]) == 0
        capsys.readouterr()
        name = text.partition('title = "')[2].partition('"')[0].lower()
        assert status_of(["show", name, "--json"]) == 0
        return [f"{name}/{one['id'][:8]}" for one in json.loads(capsys.readouterr().out)["designs"]]

    return answering


def fair(designs: list[str], *lines: str) -> None:
    """Writes a product brief."""
    make = 'make = { by = ["marked-blanks", "cast", "mould"], sets = [200, 2000], colours = 2 }'
    Path("fair.toml").write_text(
        "\n".join(['title = "Fair"', f"product = {json.dumps(designs)}", make, *lines])
    )


def test_a_fair_from_briefs_to_two_sheets(runs: Any, capsys: pytest.CaptureFixture[str]) -> None:
    fair(runs(DUES) + runs(LIGHTS)[:1])
    assert status_of(["find", "fair.toml", "--quiet"]) == 0
    text = capsys.readouterr().out
    assert "stands above" in text or "are level" in text
    assert status_of(["show", "fair", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["kind"], told["verdict"], len(told["designs"])) == ("product", "complete", 3)
    sheets = sorted(path.parent.name for path in Path("runs/fair/sheets").glob("*/sheet.html"))
    assert sheets == sorted(one["id"][:8] for one in told["designs"][:2])
    page = Path("runs/fair/report.html").read_text(encoding="utf-8")
    assert all(f'href="sheets/{name}/sheet.html"' in page for name in sheets)
    sheet = Path(f"runs/fair/sheets/{sheets[0]}/sheet.html").read_text(encoding="utf-8")
    link = sheet.partition('<a href="')[2].partition('"')[0]
    assert (Path("runs/fair/sheets") / sheets[0] / link).resolve().is_file()
    assert status_of(["check", "fair"]) == 0
    assert status_of(["report", "fair", "--quiet"]) == 0
    assert status_of(["find", "fair.toml", "--quiet"]) == 0


def test_kinds_of_designs_may_be_mixed(runs: Any, capsys: pytest.CaptureFixture[str]) -> None:
    fair(runs(DUES)[:1] + runs(MARKS)[:1] + runs(RING)[:1])
    assert status_of(["find", "fair.toml", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert len(told["designs"]) == 3
    ranks = [one["rank"] for one in told["designs"]]
    assert ranks == sorted(ranks)


def test_a_run_that_has_gone_leaves_its_sheet_out(runs: Any, capsys: pytest.CaptureFixture[str]) -> None:
    fair(runs(DUES)[:1] + runs(LIGHTS)[:1])
    assert status_of(["find", "fair.toml", "--quiet"]) == 0
    Path("runs/dues").rename("dues-elsewhere")
    assert status_of(["report", "fair", "--quiet"]) == 0
    capsys.readouterr()
    assert Path("runs/fair/report.html").read_text(encoding="utf-8").count("sheet.html") == 1


def test_every_fault_of_a_fair_is_told_at_once(runs: Any, capsys: pytest.CaptureFixture[str]) -> None:
    [first, *_] = runs(DUES)
    Path("rates.toml").write_text("[cast]\nresin = { likely = -3 }\nglue = 2\n", encoding="utf-8")
    fair(
        [first, "dues/zz", "nowhere/11"], 'rates = "rates.toml"', 'owned = "none.toml"', "rank = { cost = 0 }"
    )
    assert status_of(["find", "fair.toml"]) == 2
    told = capsys.readouterr().err
    for words in ("product[2]", "product[3]", "owned", "resin", "glue"):
        assert words in told
    assert "Traceback" not in told
