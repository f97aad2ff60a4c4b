"""Prototypes with the numbers of their faces in place of labels."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from facewright.constraints.brief import parse
from facewright.search import find
from facewright.search.artwork.placing import read_at
from facewright.search.cli.command import status_of
from facewright.search.make.dice import by_face, dice_of
from facewright.search.report.contents import ranked_designs
from facewright.search.report.scores import load_scores

PAIR = 'title = "P"\nlike = "2d6"\nread = "total"\ndice = [4, 9]\n'


def test_every_rest_has_its_own_number_where_it_is_read() -> None:
    answer = find(parse(PAIR))
    for die in dice_of(answer, ranked_designs(answer, load_scores(None))[0]):
        made = by_face(die)
        solid = made.artwork.solid
        read = read_at(solid)
        shown = {mark.site: mark.text for mark in made.artwork.marks}
        assert shown == {read[f"f{rest.below + 1}"]: str(rest.below + 1) for rest in solid.rests}
        assert len(set(shown.values())) == len(solid.rests)
        assert (made.positions, made.question) == (die.positions, die.question)
        assert made.artwork != die.artwork


def test_the_command_makes_them_in_a_folder_of_their_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("brief.toml").write_text(
        'title = "P"\nlike = "2d4"\nread = "total"\ndice = [4, 4]\n', encoding="utf-8"
    )
    assert status_of(["find", "brief.toml", "--json", "--quiet", "--out", "run"]) == 0
    design = json.loads(capsys.readouterr().out)["designs"][0]["id"]
    assert status_of(["make", "run", design, "--face-numbers", "--by", "print", "--json", "--quiet"]) == 0
    made = json.loads(capsys.readouterr().out)["made"]
    assert made[0]["folder"] == f"run/make/{design[:8]}-faces/die-1"
    assert "not its label" in Path(made[0]["folder"], "notes.txt").read_text(encoding="utf-8")
