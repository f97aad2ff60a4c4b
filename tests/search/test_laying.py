"""The best design laid out beside an answer: numberings die by die, readouts with equal labels apart."""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.layout import Layout, Roll
from facewright.constraints.question import Numbering
from facewright.search import find, laying
from facewright.search.cli import status_of
from facewright.search.laying import LaidOut, lay_out, layout_question
from facewright.search.runs import perform
from facewright.search.stop import never

DUES = (
    'title = "Dues"\nlike = "d4 + d6"\nread = "total"\ndice = [4, { faces = 3, solid = "cube" }]\n'
    'labels = { lowest = 0 }\nlayout = ["opposite-sums", "apart"]\n'
)
PAIR = 'title = "Pair"\nlike = "2d6"\nread = "total"\ndice = [6, 6]\nlayout = ["opposite-sums"]\n'
BOARD = (
    'title = "Board"\nsolid = "rhombic dodecahedron"\nreadouts = { wind = 4, rain = 2 }\nlayout = ["apart"]\n'
)
DUES = DUES.replace("d4 + d6", "d4 + d3")
HOW: dict[str, Any] = {"seed": 0, "stop": never, "report": lambda *_: None}


def test_every_die_of_the_best_design() -> None:
    answer = find(parse(DUES))
    from facewright.search.report.contents import ranked_designs
    from facewright.search.report.scores import load_scores

    best = ranked_designs(answer, load_scores(None))[0]
    assert [(one.of, one.die) for one in answer.layouts] == [(best.id, 1), (best.id, 2)]
    four, three = answer.layouts
    assert (four.question.solid, three.question.solid) == ("tetrahedron", "cube")
    dice = best.scores.design.dice
    assert sorted(four.found[0].labels) == list(dice[0].labels)
    assert Counter(three.found[0].labels) == {label: 2 * n for label, n in Counter(dice[1].labels).items()}


def test_what_is_asked_for_a_die() -> None:
    """Goals that its solid cannot have are left out; the others of the roll stand beside it."""
    answer = find(parse(DUES))
    four, three = (one.question for one in answer.layouts)
    assert isinstance(four, Layout) and isinstance(three, Layout)
    assert four.goals == ("apart",)
    assert three.goals == ("opposite-sums", "apart")
    assert four.roll == Roll("total", (tuple(sorted(set(three.labels))),))
    assert three.size_is == "across-flats" and four.size_is == "height"


def test_equal_dice_share_a_layout(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Layout] = []
    one = laying._one

    def counting(question: Layout, *rest: Any) -> LaidOut:
        asked.append(question)
        return one(question, *rest)

    monkeypatch.setattr(laying, "_one", counting)
    question = parse(PAIR)
    assert isinstance(question, Numbering)
    ordinary = next(
        one.design for one in find(parse(PAIR.replace("layout", "#"))).found if one.design.ordinary
    )
    first, second = lay_out(question, question.dice, ordinary, seed=0, stop=never)
    assert len(asked) == 1
    assert (first.die, second.die) == (1, 2)
    assert first.found == second.found


def test_free_proportions_reach_the_layout() -> None:
    rules = LabelRules(1, 6)
    dice = (Die(6, "triangular bipyramid", 1, rules, shape=2.5), Die(4, "tetrahedron", 1, rules))
    from facewright.constraints.design import NumberingDesign

    design = NumberingDesign.of(dice, [(1, 2, 3, 4, 5, 6), (1, 2, 3, 4)])
    question = parse(PAIR)
    assert isinstance(question, Numbering)
    assert layout_question(question, dice, design, 0).shape == 2.5


def test_a_die_with_too_many_faces_says_so() -> None:
    rules = LabelRules(1, 200)
    dice = (Die(130, "65-gonal trapezohedron", 1, rules), Die(6, "cube", 1, rules))
    from facewright.constraints.design import NumberingDesign

    design = NumberingDesign.of(dice, [tuple(range(1, 131)), (1, 2, 3, 4, 5, 6)])
    question = parse(PAIR)
    assert isinstance(question, Numbering)
    large, small = lay_out(question, dice, design, seed=0, stop=never)
    assert large.found == ()
    assert "130 faces" in large.outcome.closing.reason
    assert small.found


def test_a_stop_before_it_lays_nothing_out() -> None:
    question = parse(PAIR)
    assert isinstance(question, Numbering)
    design = find(parse(PAIR.replace("layout", "#"))).found[0].design
    assert lay_out(question, question.dice, design, seed=0, stop=lambda: "interrupted") == ()


def test_plain_values_and_back() -> None:
    for text in (DUES, BOARD):
        for one in find(parse(text)).layouts:
            again = LaidOut.from_form(json.loads(json.dumps(one.to_form())))
            assert again == one
            assert [design.id for design in again.found] == [design.id for design in one.found]


@pytest.fixture
def told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    monkeypatch.chdir(tmp_path)
    for name, text in (("dues", DUES), ("board", BOARD)):
        Path(f"{name}.toml").write_text(text, encoding="utf-8")

    def run(*arguments: str, status: int = 0) -> str:
        capsys.readouterr()
        assert status_of([*arguments]) == status
        return capsys.readouterr().out

    return run


def without_time(text: str) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(text)
    answer["evidence"]["seconds"] = 0
    return answer


@pytest.mark.parametrize("name", ["dues", "board"])
def test_one_answer_whatever_the_way_it_is_kept(told: Any, name: str) -> None:
    at_once = without_time(told("find", f"{name}.toml", "--json"))
    assert len(at_once["layouts"]) == (2 if name == "dues" else 1)
    assert without_time(told("find", f"{name}.toml", "--json", "--out", "kept")) == at_once
    assert without_time(told("show", "kept", "--json")) == at_once
    assert without_time(told("find", f"{name}.toml", "--json", "--out", "kept")) == at_once
    Path("answer.json").write_text(json.dumps(at_once), encoding="utf-8")
    assert "all agree" in told("check", "answer.json")
    assert "all agree" in told("check", "kept")
    text = told("show", "kept")
    assert text.count("Laid out: design") == len(at_once["layouts"])
    assert "Laid out" in told("show", "kept", at_once["layouts"][0]["design"])
    page = Path("kept/report.html").read_text(encoding="utf-8")
    assert "The best design, laid out" in page
    assert page.count('<div class="design">') == len(at_once["layouts"])


def test_json_of_a_layout_beside_a_numbering(told: Any) -> None:
    answer = json.loads(told("find", "dues.toml", "--json"))
    first = answer["layouts"][0]
    assert first["design"] == answer["designs"][0]["id"]
    assert (first["die"], first["solid"]) == (1, "tetrahedron")
    assert sorted(first["faces"].values()) == answer["designs"][0]["dice"][0]["labels"]
    assert first["geometry"]["name"] == "tetrahedron"
    assert first["question"]["kind"] == "layout"
    assert not json.loads(told("find", "dues.toml", "--json", "--count")).get("layouts")


@pytest.mark.parametrize(
    ("name", "change", "fault"),
    [
        ("dues", lambda one: one["faces"].update(f1=9), "labels"),
        ("dues", lambda one: one.update(die=2), "does not carry the labels of die 2"),
        ("dues", lambda one: one.update(die=7), "does not carry the labels of die 7"),
        ("dues", lambda one: one.update(design="0" * 16), "not among the designs"),
        ("board", lambda one: one["sites"]["wind"].update(f1=3 - one["sites"]["wind"]["f1"]), ""),
    ],
)
def test_check_finds_a_wrong_layout(told: Any, name: str, change: Any, fault: str) -> None:
    answer = json.loads(told("find", f"{name}.toml", "--json"))
    change(answer["layouts"][0])
    Path("answer.json").write_text(json.dumps(answer), encoding="utf-8")
    said = told("check", "answer.json", status=3)
    assert "laid out" in said
    assert fault in said


def test_layouts_are_kept_and_a_new_list_is_laid_out_anew(tmp_path: Path) -> None:
    folder = tmp_path / "run"
    first, _ = perform(parse(DUES), DUES, folder, **HOW)
    again, done = perform(parse(DUES), DUES, folder, **HOW)
    assert done == "known"
    assert [one.to_form() for one in again.layouts] == [one.to_form() for one in first.layouts]
    other = DUES.replace('["opposite-sums", "apart"]', '["even-vertices"]')
    changed, done = perform(parse(other), other, folder, **HOW)
    assert done == "resumed"
    assert [one.question.goals for one in changed.layouts] == [("even-vertices",)] * 2
    none = DUES.replace('["opposite-sums", "apart"]', "[]")
    assert perform(parse(none), none, folder, **HOW)[0].layouts == ()


def test_what_was_cut_short_is_laid_out_when_the_run_goes_on(tmp_path: Path) -> None:
    folder = tmp_path / "run"
    asked = 0

    def soon() -> str | None:
        nonlocal asked
        asked += 1
        return "interrupted" if asked > 8 else None

    plain = DUES.replace('layout = ["opposite-sums", "apart"]\n', "")
    perform(parse(plain), plain, folder, **HOW)
    first, _ = perform(parse(DUES), DUES, folder, **{**HOW, "stop": lambda: "interrupted"})
    assert first.layouts == ()
    second, done = perform(parse(DUES), DUES, folder, **HOW)
    assert done == "resumed"
    assert len(second.layouts) == 2


def test_readouts_keep_every_chance(told: Any) -> None:
    answer = json.loads(told("find", "board.toml", "--json"))
    [laid] = answer["layouts"]
    assert laid["joint"] == answer["designs"][0]["joint"]
    assert laid["design"] == answer["designs"][0]["id"] != laid["id"]
    assert laid["verdict"] == "best"
    assert "no equal labels of a readout touch" in laid["reason"]


def test_damaged_layouts_are_said_to_be(told: Any) -> None:
    told("find", "dues.toml", "--out", "kept")
    with sqlite3.connect("kept/run.sqlite") as store:
        store.execute("UPDATE about SET value = '[3]' WHERE key = 'layouts'")
    store.close()
    assert told("check", "kept", status=1) == ""
    assert told("show", "kept", status=1) == ""
