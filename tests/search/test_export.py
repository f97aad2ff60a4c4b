"""An answer as JSON and as rows, and back: every key, every type."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.design import NumberingDesign
from facewright.constraints.errors import UsageError
from facewright.search.answer import Answer
from facewright.search.claims import checked
from facewright.search.export import as_json, columns, from_json, rows
from facewright.search.finding import find
from facewright.search.report.contents import ranked_designs
from facewright.search.report.scores import load_scores
from facewright.search.stop import Limits

HEAD = 'title = "Zölle"\nread = "total"\n'
NAMED = '{ faces = 3, solid = "cube", name = "tug" }'
CASES = {
    "some": HEAD + 'like = "d8 + d12"\ndice = [6, 16]\n',
    "none": HEAD + 'like = "2d6"\ndice = [4, 10]\n',
    "a choice": HEAD + 'like = "2d6"\ndice = "1 to 2 of 3 4 9 36"\nlabels = { avoid = [13] }\n',
    "names": HEAD + f'note = "n"\nlike = "d3 + d6"\ndice = [{NAMED}, 6]\nrank = {{ legible = 3 }}\n',
    "far": HEAD + 'like = "2d6"\naccept = "nearest"\ndice = [{ exactly = [1, 2] }]\n',
    "limited": HEAD + 'like = "d8 + d12"\ndice = [6, 16]\nstop = { designs = 3, seconds = 60 }\n',
}

KEYS = {
    "schema": int,
    "title": str,
    "kind": str,
    "verdict": str,
    "count": int,
    "count_up_to_shift": int,
    "count_is": str,
    "reason": str,
    "evidence": dict,
    "sets": list,
    "dropped": list,
    "designs": list,
    "question": dict,
}


def exported(answer: Answer) -> dict[str, Any]:
    form = as_json(answer, ranked_designs(answer, load_scores(None)))
    again: dict[str, Any] = json.loads(json.dumps(form))
    # nothing in it that JSON would turn into something else
    assert again == form
    return again


@pytest.mark.parametrize("name", CASES)
def test_every_key_and_type(name: str) -> None:
    answer = find(parse(CASES[name], "test"))
    form = exported(answer)
    assert {key: type(value) for key, value in form.items()} == KEYS
    assert (form["schema"], form["title"], form["kind"]) == (1, "Zölle", "numbering")
    why = ["cause"] if form["verdict"] == "none" else []
    assert list(form["evidence"]) == ["engine", "proved", "recounted", "seconds", "bound", *why]
    assert form["evidence"]["proved"] is (form["verdict"] != "partial")
    assert form["evidence"]["recounted"] == len(form["designs"]) == len(answer.found)
    assert form["count"] >= len(form["designs"]) and form["count"] >= form["count_up_to_shift"]
    for one in form["sets"]:
        assert list(one) == [
            "dice", "engine", "verdict", "count", "count_up_to_shift", "listed", "reason", "proof",
        ]  # fmt: skip
        assert all(list(die) == ["faces", "solid", "copies", "name"] for die in one["dice"])
    assert sum(one["listed"] for one in form["sets"]) == len(form["designs"])
    assert sum(one["count"] for one in form["sets"]) == form["count"]
    for one in form["dropped"]:
        assert list(one) == ["faces", "reason"]
    places = []
    for one in form["designs"]:
        assert list(one) == ["id", "dice", "ordinary", "distance", "rank", "tied", "scores"]
        assert list(one["scores"]) == ["legible", "familiar", "readability", "cost", "overall"]
        assert all(0 <= one["scores"][key] <= 100 for key in ("legible", "familiar", "readability"))
        assert str(Fraction(one["distance"])) == one["distance"]
        assert all(list(die) == ["faces", "solid", "labels"] for die in one["dice"])
        assert all(die["faces"] == len(die["labels"]) for die in one["dice"])
        assert all(die["labels"] == sorted(die["labels"]) for die in one["dice"])
        places.append(one["rank"])
    assert places == sorted(places)
    assert places[:1] in ([], [1])


@pytest.mark.parametrize("name", CASES)
def test_back_again(name: str) -> None:
    answer = find(parse(CASES[name], "test"))
    question, claims, listed, layouts = from_json(json.dumps(exported(answer)), "test")
    assert question == answer.question
    assert question.fingerprint() == answer.question.fingerprint()
    assert isinstance(claims, list) and listed == len(answer.found)
    assert {claim.design for claim in claims} == {one.design for one in answer.found}
    assert layouts == []
    found = checked(question, claims, listed, layouts)
    assert found.sound and found.checked == len(answer.found)
    assert found.as_json() == {"checked": len(answer.found), "wrong": [], "faults": []}


def test_a_bound_and_a_partial_answer() -> None:
    far = exported(find(parse(CASES["far"], "test")))
    assert (far["verdict"], far["evidence"]["bound"], far["designs"][0]["distance"]) == (
        "best",
        "35/36",
        "35/36",
    )
    slow = HEAD + 'like = "6d60"\ndice = [60, 60, 60, 60, 60, 60]\n'
    cut = exported(find(parse(slow, "test"), stop=Limits(0.05)))
    assert (cut["verdict"], cut["count_is"], cut["evidence"]["proved"]) == ("partial", "at least", False)


def test_every_row_has_every_column() -> None:
    answer = find(parse(CASES["a choice"], "test"))
    table = rows(answer, ranked_designs(answer, load_scores(None)))
    sizes = {len(one.design.dice) for one in answer.found}
    assert sizes == {1, 2}
    assert all(list(row) == columns(2) for row in table)
    assert {row["die_2"] is None for row in table} == {True, False}
    for row, one in zip(table, ranked_designs(answer, load_scores(None)), strict=True):
        assert row["id"] == one.id
        assert row["die_1"] == " ".join(map(str, one.scores.design.dice[0].labels))


@pytest.mark.parametrize("text", ["", "[]", "7", "{}", '{"question": {}, "designs": []}', "[" * 100_000])
def test_what_is_no_answer(text: str) -> None:
    with pytest.raises(UsageError, match=r"^file: found (no JSON|JSON that is no answer)"):
        from_json(text, "file")


def test_a_claim_that_is_no_design_stays_a_claim() -> None:
    form = exported(find(parse(CASES["some"], "test")))
    form["designs"][0]["dice"] = None
    _, claims, *_ = from_json(json.dumps(form), "test")
    assert claims[0].id == form["designs"][0]["id"] and claims[0].design is None
    assert isinstance(claims[1].design, NumberingDesign)
