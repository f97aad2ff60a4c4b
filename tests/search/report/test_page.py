"""The report page as text: self-contained, safe, small, the same every time."""

from __future__ import annotations

import hashlib
import html
import json
import re
from html.parser import HTMLParser
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from facewright.search.report import page_data
from facewright.search.report.page import evidence_line, page
from facewright.search.report.shell import mathematics, script_json

HOSTILE = '</script><script>alert(1)</script><!-- \u2028 & "quoted" \''
MEGABYTE = 1_000_000


class Reader(HTMLParser):
    """What a browser would make of a page: its elements with their attributes, its texts, its scripts."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.scripts: list[str] = []
        self.text = ""
        self._inside: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        self._inside.append(tag)
        if tag == "script":
            self.scripts.append("")

    def handle_endtag(self, tag: str) -> None:
        if tag in self._inside:
            while self._inside.pop() != tag:
                pass

    def handle_data(self, data: str) -> None:
        if self._inside and self._inside[-1] == "script":
            self.scripts[-1] += data
        elif "style" not in self._inside:
            self.text += data


def data_of(text: str) -> dict[str, Any]:
    found = re.search(r'<script type="application/json" id="run-data">(.*?)</script>', text, re.S)
    assert found
    return dict(json.loads(found[1]))


def test_the_verdict_and_its_proof_stand_in_the_page_without_scripts(sample: ModuleType) -> None:
    summary, designs = sample.harbour()
    reader = Reader(page(summary, designs))
    assert summary["sentence"] in reader.text
    assert summary["ask"] in reader.text
    assert "Proved; each of the 10 recounted over its 96 outcomes" in reader.text
    assert "25 November 2026" in reader.text
    assert "How this was proved" in reader.text
    for caution in summary["cautions"]:
        assert caution in reader.text
    tags = [tag for tag, _ in reader.elements]
    assert {"header", "main", "footer", "h1", "noscript"} <= set(tags)


def test_the_page_fetches_nothing(sample: ModuleType) -> None:
    text = page(*sample.harbour())
    reader = Reader(text)
    for tag, attributes in reader.elements:
        for name in ("src", "href", "srcset", "action", "data", "poster"):
            value = attributes.get(name)
            assert value is None or value.startswith("#"), (tag, name, value)
    assert not re.search(r"url\((?!data:|#)", re.sub(r"url\(#\$", "url(#", text.split("</style>")[0]))
    assert "@import" not in text
    policy = next(a["content"] for t, a in reader.elements if t == "meta" and "http-equiv" in a)
    assert policy is not None and policy.startswith("default-src 'none'")
    assert "http" not in policy


def test_hostile_texts_stay_texts(sample: ModuleType) -> None:
    summary, designs = sample.harbour()
    texts = dict.fromkeys(("title", "note", "run", "ask", "sentence", "reason"), HOSTILE)
    first = json.loads(json.dumps(designs[0]))
    first["parts"]["legible"][0]["words"] = HOSTILE
    named = json.loads(json.dumps(summary["sets"]))
    named[0]["dice"][0]["name"] = HOSTILE
    hostile = {
        **summary,
        **texts,
        "proof": [HOSTILE],
        "cautions": [HOSTILE],
        "sets": named,
        "provenance": {"a": HOSTILE},
    }
    text = page(hostile, [first])
    reader = Reader(text)
    assert len(reader.scripts) == 5
    assert not any("alert(1)" in script for script in reader.scripts[1:])
    assert "<script>alert" not in text
    assert reader.text.count("<script>alert(1)</script>") >= len(texts)
    data = data_of(text)
    assert data["title"] == HOSTILE
    assert HOSTILE in data["words"]
    assert data["sets"][0]["dice"][0]["name"] == HOSTILE


def test_json_cannot_end_its_script() -> None:
    text = script_json({"a": HOSTILE})
    assert not set("<>&\u2028") & set(text)
    assert json.loads(text) == {"a": HOSTILE}


def test_the_same_run_gives_the_same_text(sample: ModuleType) -> None:
    summary, designs = sample.choice()
    copied = json.loads(json.dumps([summary, designs]))
    assert page(summary, designs) == page(*copied)


@pytest.mark.parametrize(
    "labels", [[1, 2, 2, 5], [7], [-3, -3, 0, 4], [1, 900], [5] * 50, list(range(1, 121))]
)
def test_labels_survive_packing(labels: list[int]) -> None:
    packed = page_data.pack_labels(labels)
    if ":" in packed:
        least, digits = packed.split(":")
        back = [int(least) + place for place, digit in enumerate(digits) for _ in range(int(digit, 36))]
    else:
        back = []
        for gap in map(int, packed.split(",")):
            back.append(gap + (back[-1] if back else 0))
    assert back == sorted(labels)


def test_designs_survive_packing(sample: ModuleType) -> None:
    summary, designs = sample.harbour()
    data = data_of(page(summary, designs))
    assert len(data["designs"]) == 10
    for row, design in zip(data["designs"], designs, strict=True):
        told = dict(zip(data["fields"], row, strict=True))
        assert told["id"] == design["id"]
        assert told["rank"] == design["rank"]
        assert told["tied"] == int(design["tied"])
        assert told["scores"] == [design["scores"][name] for name in data["scores"]]
        assert [data["dice"][place][1] for place in told["dice"]] == design["split"]
        legible = told["parts"][data["groups"].index("legible")]
        assert [data["words"][place] for place in legible[2::3]] == [
            one["words"] for one in design["parts"]["legible"]
        ]


def test_none_leaves_no_empty_table(sample: ModuleType) -> None:
    summary, designs = sample.nothing()
    text = page(summary, designs)
    reader = Reader(text)
    assert summary["reason"] in reader.text
    assert "Proved: there is none" in reader.text
    assert not any(attributes.get("id") in ("designs", "table", "card") for _, attributes in reader.elements)
    assert "table" not in [tag for tag, _ in reader.elements]


def test_a_choice_lists_every_set_and_why_others_were_dropped(sample: ModuleType) -> None:
    summary, designs = sample.choice()
    reader = Reader(page(summary, designs))
    body = [tag for tag, _ in reader.elements].count("tr") - 1
    assert body == len(summary["sets"]) + len(summary["dropped"])
    for dropped in summary["dropped"]:
        assert dropped["reason"] in reader.text


def test_a_summary_of_the_fewest_keys_is_enough() -> None:
    summary = {
        "title": "Bare",
        "verdict": "partial",
        "sentence": "Two were found before time ran out.",
        "sets": [],
    }
    assert "Stopped early" in page(summary, [])


def test_the_evidence_line() -> None:
    summary: dict[str, Any] = {
        "sets": [{"outcomes": 36}, {"outcomes": 36}], "count": 5, "count_up_to_shift": 2,
        "evidence": {"proved": False, "recounted": 1, "bound": "7/900", "seconds": 12.3456},
    }  # fmt: skip
    assert evidence_line(summary) == (
        "Not proved; the one design recounted over its 36 outcomes; 2 if designs that only move numbers from die "
        "to die count once; bound reached: 7/900; 12.3\u00a0s."
    )
    assert evidence_line({"sets": [], "evidence": {}}) == ""


def test_powers_are_raised_and_all_else_escaped() -> None:
    assert mathematics("x^12 - <b>") == "x<sup>12</sup> - &lt;b&gt;"
    assert html.unescape(str(mathematics("a & b"))) == "a & b"


def test_nine_hundred_large_pairs_stay_small(sample: ModuleType) -> None:
    text = page(*sample.great(956))
    assert len(text.encode()) < 1.5 * MEGABYTE
    assert len(data_of(text)["designs"]) == 956


def test_the_vendored_files_are_those_of_the_documents(root: Path) -> None:
    text = (root / "docs/reference/report.md").read_text(encoding="utf-8")
    told = dict(re.findall(r"^\| `([^`]+)` \|.*`([0-9a-f]{64})` \|$", text, re.M))
    vendor = root / "search/report/vendor"
    found = {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest()
        for path in vendor.iterdir()
        if path.suffix in (".js", ".woff2")
    }
    assert found == told
    assert all((vendor / f"{name.split('.')[0]}.LICENSE.txt").read_text(encoding="utf-8") for name in found)


def test_the_samples_are_real(sample: ModuleType) -> None:
    """Each exact sample has its target's ways, recounted here."""
    for run in (sample.harbour(), sample.choice(), sample.great(30)):
        summary, designs = run
        wanted = dict(summary["target"]["ways"])
        for design in designs:
            assert sample.ways_of(design["dice"]) == wanted
    assert len(sample.harbour()[1]) == 10
