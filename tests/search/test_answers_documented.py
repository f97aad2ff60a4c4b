"""What the documents say of answers: every key of the JSON, and the examples in Python."""

from __future__ import annotations

import contextlib
import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.search.export import as_json
from facewright.search.finding import find
from facewright.search.layouts_export import as_json as layouts_as_json
from facewright.search.report.contents import ranked_designs
from facewright.search.report.scores import load_scores
from facewright.search.smooth_export import as_json as smooth_as_json

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs" / "reference" / "answer.md"
FROM_PYTHON = (ROOT / "docs" / "how-to" / "use-from-python.md").read_text(encoding="utf-8")


def keys(value: Any) -> Iterator[str]:
    """Every key, at any depth."""
    if isinstance(value, dict):
        for key, inside in value.items():
            yield key
            yield from keys(inside)
    elif isinstance(value, list):
        for inside in value:
            yield from keys(inside)


def test_every_key_is_explained() -> None:
    text = 'title = "t"\nread = "total"\nlike = "2d6"\ndice = "2 of 4 6 9"\n'
    answer = find(parse(text, "test"))
    written = set(keys(as_json(answer, ranked_designs(answer, load_scores(None)))))
    explained = set(re.findall(r"`([a-z_]+)`", PAGE.read_text(encoding="utf-8")))
    assert written - explained == set()


LAID = [
    'title = "t"\nplace = "1..6"\ndraw = "face"\nlayout = ["opposite-sums"]\n',
    'title = "t"\nread = "total"\nlike = "2d6"\ndice = [6, 6]\nlayout = ["opposite-sums"]\n',
]


@pytest.mark.parametrize("text", LAID, ids=["layout", "numbering laid out"])
def test_every_key_of_a_layout_is_explained(text: str) -> None:
    """Apart from the geometry, which is that of `facewright solids`, and the sites and results, which are names."""
    answer = find(parse(text, "test"))
    if answer.question.kind == "layout":
        form = layouts_as_json(answer, answer.ranked)
        entries = form["designs"]
    else:
        form = as_json(answer, ranked_designs(answer, load_scores(None)))
        entries = form["layouts"]
    assert entries
    for one in entries:
        assert "name" in one.pop("geometry")
        del one["faces"]
        one["balance"]["vertices"]["by_degree"] = 0
        for shift in one["balance"].values():
            if isinstance(shift, dict):
                shift.pop("results", None)
    written = set(keys(form))
    explained = set(re.findall(r"`([a-z_]+)`", PAGE.read_text(encoding="utf-8")))
    assert written - explained == set()


def test_every_key_of_a_smooth_body_is_explained() -> None:
    answer = find(parse('title = "t"\nsmooth = { symmetry = "tetrahedral", degree = 3 }\n', "test"))
    form = smooth_as_json(answer, answer.ranked)
    assert form["designs"]
    explained = set(re.findall(r"`([a-z_]+)`", PAGE.read_text(encoding="utf-8")))
    assert set(keys(form)) - explained == set()


EXAMPLES = re.findall(r"^```python\n(.*?)^```\n+^```text\n(.*?)^```", FROM_PYTHON, re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize(("code", "printed"), EXAMPLES, ids=range(len(EXAMPLES)))
def test_the_examples_in_python_print_what_stands_below_them(
    code: str, printed: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        exec(compile(code, "use-from-python.md", "exec"), {})
    assert said.getvalue() == printed


def test_there_are_examples() -> None:
    assert len(EXAMPLES) == 3
