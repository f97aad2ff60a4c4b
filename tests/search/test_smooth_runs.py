"""Runs of smooth briefs: found, kept, shown, checked, reported, spoilt."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from facewright.search.cli import status_of

BRIEF = 'title = "A roller"\nsmooth = { symmetry = "tetrahedral", width_mm = 22, least_radius = 0.05, degree = 9 }\n'


@pytest.fixture
def told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    """Runs a command beside a brief; gives its exit status and what it printed."""
    monkeypatch.chdir(tmp_path)
    Path("roller.toml").write_text(BRIEF, encoding="utf-8")

    def run(*arguments: str) -> tuple[int, str]:
        status = status_of(list(arguments))
        return status, capsys.readouterr().out

    return run


def test_the_answer_as_the_contract_writes_it(told: Any) -> None:
    status, out = told("find", "roller.toml", "--json")
    answer = json.loads(out)
    assert (status, answer["kind"], answer["verdict"], answer["count_is"]) == (
        0,
        "smooth",
        "best",
        "at least",
    )
    [design] = answer["designs"]
    body = design["smooth"]
    assert {"width", "least_radius", "settling", "bound", "volume", "area", "coefficients"} <= set(body)
    assert body["width"] == 1
    assert 0.05 <= body["least_radius"] < 0.051
    assert 0.092 < body["settling"] < body["bound"]


def test_a_run_is_kept_shown_checked_and_reported(told: Any) -> None:
    status, out = told("find", "roller.toml", "--out", "run")
    assert status == 0
    assert "Proved" in out
    assert "22 mm in every direction" in out
    answer = json.loads(told("show", "run", "--json")[1])
    one = answer["designs"][0]["id"]
    assert "2.03 mm" in told("show", "run", one[:6])[1]
    assert "settling" in told("show", "run", "--csv")[1].splitlines()[0]
    assert told("check", "run")[0] == 0
    page = Path("run/report.html").read_text(encoding="utf-8")
    for words in ("A roller", "Proved: nothing better exists", "44.45 mm", "this body"):
        assert words in page
    assert len(re.findall(r"<svg", page)) == 2
    assert told("report", "run")[0] == 0
    assert Path("run/report.html").read_text(encoding="utf-8") == page
    assert told("find", "roller.toml", "--out", "run")[0] == 0
    assert json.loads(told("show", "run", "--json")[1]) == answer


def test_a_spoilt_answer_is_found_out(told: Any) -> None:
    text = told("find", "roller.toml", "--json")[1]
    path = Path("answer.json")
    path.write_text(text, encoding="utf-8")
    assert told("check", "answer.json")[0] == 0
    # a wrong claim is a wrong design; what is no design at all cannot be checked
    for key, value, wanted in (
        ("settling", 0.09, 3),
        ("least_radius", 0.06, 3),
        ("volume", 0.5, 3),
        ("symmetry", "round", 2),
        ("coefficients", ["x"], 2),
    ):
        spoilt = json.loads(text)
        spoilt["designs"][0]["smooth"][key] = value
        path.write_text(json.dumps(spoilt), encoding="utf-8")
        assert told("check", "answer.json")[0] == wanted, key


def test_a_limit_of_time_gives_a_partial_answer(told: Any) -> None:
    Path("roller.toml").write_text(BRIEF + "stop = { seconds = 1e-9 }\n", encoding="utf-8")
    status, out = told("find", "roller.toml", "--json")
    assert status == 1
    assert json.loads(out)["verdict"] == "partial"
