"""An answer in a notebook: the table of pandas, and the view in HTML."""

from __future__ import annotations

from fractions import Fraction
from html.parser import HTMLParser
from typing import Any

import pandas as pd
import pytest
from facewright.constraints.brief import parse
from facewright.search import find
from facewright.search.answer import Answer
from facewright.search.export import columns
from facewright.search.report import notebook

HEAD = 'title = "Tolls"\nread = "total"\nlike = "2d6"\n'


@pytest.fixture(scope="module")
def mixed() -> Answer:
    """An answer whose sets have one or two dice."""
    answer: Answer = find(parse(HEAD + 'dice = "1 to 2 of 4 6 9 36"\nlabels = { lowest = 0 }\n', "test"))
    return answer


def test_a_row_a_design_best_first(mixed: Answer) -> None:
    table = mixed.table()
    assert list(table.columns) == columns(2)
    assert len(table) == len(mixed.found) == mixed.count
    assert list(table["rank"]) == sorted(table["rank"]) and table["rank"].iloc[0] == 1
    assert set(table["id"]) == {one.design.id for one in mixed.found}
    assert (table["overall"].diff().dropna() <= 0).all()


def test_labels_are_tuples_distances_fractions_faces_whole(mixed: Answer) -> None:
    table = mixed.table()
    by_id = {one.design.id: one.design for one in mixed.found}
    for row in table.to_dict("records"):
        design = by_id[row["id"]]
        assert row["die_1"] == design.dice[0].labels
        assert row["distance"] == Fraction(0) and isinstance(row["distance"], Fraction)
        assert row["die_1_faces"] == len(row["die_1"])
        if len(design.dice) == 1:
            assert row["die_2"] is None and pd.isna(row["die_2_faces"])
        else:
            assert row["die_2"] == design.dice[1].labels and row["die_2_faces"] == design.dice[1].faces
    assert str(table["die_2_faces"].dtype) == str(table["die_1_faces"].dtype) == "Int64"
    assert {len(one.dice) for one in by_id.values()} == {1, 2}


def test_it_can_be_asked_like_any_table(mixed: Answer) -> None:
    table = mixed.table()
    legible = table[(table["die_1_faces"] == 4) & (table["readability"] > 80)]
    assert 0 < len(legible) < len(table)
    assert set(legible["die_1_solid"]) == {"tetrahedron"}
    assert table.groupby("die_1_faces")["id"].count().sum() == len(table)


def test_no_design_makes_an_empty_table_with_all_columns() -> None:
    table = find(parse(HEAD + "dice = [4, 10]\n", "test")).table()
    assert len(table) == 0
    assert list(table.columns) == columns(2)


class Outline(HTMLParser):
    """Which elements a page has, whether each is closed, and its text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.seen: list[str] = []
        self.open: list[str] = []
        self.words: list[str] = []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        self.seen.append(tag)
        if tag != "br":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def test_the_view_shows_verdict_and_designs(mixed: Answer, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(notebook, "SHOWN", 5)
    outline = Outline(mixed._repr_html_())
    assert outline.seen.count("tr") == 1 + 5
    assert "script" not in outline.seen and "style" not in outline.seen
    text = " ".join(outline.words)
    assert mixed.reason.split(".")[0] in text
    assert f"{mixed.count - 5} more in .table()" in text
    first = mixed.table().iloc[0]
    assert first["id"][:6] in text and " ".join(map(str, first["die_1"])) in text


def test_the_view_of_none_and_of_a_title_that_is_markup() -> None:
    none = find(parse(HEAD + "dice = [4, 10]\n", "test"))
    outline = Outline(none._repr_html_())
    assert "table" not in outline.seen
    assert "36" in "".join(outline.words)
    name = '{ exactly = [1, 2, 3, 4, 5, 6], name = "<b>tug</b>" }'
    named = find(parse(HEAD + f"dice = [{name}, 6]\n", "test"))
    assert "<b>tug" not in named._repr_html_()
    Outline(named._repr_html_())
