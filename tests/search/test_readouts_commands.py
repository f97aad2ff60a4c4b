"""Readouts from the command line: one answer whatever the way it is asked and kept."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from facewright.search.cli import status_of

SOLIDS = '["cube", "dodecahedron", "tetrakis hexahedron", "rhombic dodecahedron"]'
BRIEF = f'title = "Board"\nsolid = {SOLIDS}\nreadouts = {{ wind = 2, rain = 3, harvest = 4 }}\n'


@pytest.fixture
def told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    monkeypatch.chdir(tmp_path)
    Path("board.toml").write_text(BRIEF, encoding="utf-8")

    def run(*arguments: str) -> tuple[int, str]:
        status = status_of(list(arguments))
        return status, capsys.readouterr().out

    return run


def plain(text: str) -> dict[str, Any]:
    """The answer without the time it took."""
    answer: dict[str, Any] = json.loads(text)
    answer["evidence"]["seconds"] = 0
    return answer


def test_a_run_keeps_the_best_design_of_every_solid(told: Any) -> None:
    status, out = told("find", "board.toml", "--json")
    at_once = plain(out)
    assert (status, at_once["verdict"]) == (0, "best")
    assert "exactly independent" in at_once["reason"]
    assert at_once["designs"][0]["solid"] == "tetrakis hexahedron"
    assert at_once["designs"][0]["dependence"] == "0"
    kept = plain(told("find", "board.toml", "--json", "--out", "kept")[1])
    assert kept == at_once
    assert plain(told("show", "kept", "--json")[1]) == at_once
    assert plain(told("find", "board.toml", "--json", "--out", "kept")[1]) == at_once


def test_a_run_is_checked_shown_and_reported(told: Any) -> None:
    told("find", "board.toml", "--out", "kept")
    assert told("check", "kept") == (0, "3 designs recounted: all agree\n")
    assert "tetrakis hexahedron" in told("show", "kept")[1]
    one = json.loads(told("find", "board.toml", "--json")[1])["designs"][0]
    assert one["id"] in told("show", "kept", one["id"][:6], "--json")[1]
    assert Path("kept/report.html").read_text(encoding="utf-8").count("<table") >= 2


def test_tampered_marks_are_found(told: Any) -> None:
    answer = json.loads(told("find", "board.toml", "--json")[1])
    sites = answer["designs"][0]["sites"]["wind"]
    site = next(iter(sites))
    sites[site] = 3 - sites[site]
    Path("answer.json").write_text(json.dumps(answer), encoding="utf-8")
    assert told("check", "answer.json")[0] == 3
