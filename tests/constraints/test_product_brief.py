"""Product briefs: what they mean, and every fault at once, those of the files that they name too."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.brief.earlier import NotThere
from facewright.constraints.brief.starter import starter
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.errors import BriefRefused, UsageError
from facewright.constraints.product import USUAL_SETS, WEIGHTS, Candidate, Product
from facewright.constraints.question_form import any_from_form, any_to_form
from facewright.constraints.rates import shipped

DUES = parse('title = "Dues"\nlike = "2d6"\nread = "total"\ndice = [6, 6]')
TITLE = 'title = "Fair"\n'


def design(last: int) -> NumberingDesign:
    return NumberingDesign((DesignDie(6, "cube", (1, 2, 3, 4, 5, last)),) * 2)


def runs(run: str, beginning: str) -> Candidate:
    """Runs dues and tides, with designs whose ids are asked for by their last label."""
    if run not in ("dues", "tides", "a/b"):
        raise NotThere("run", f'"{run}": no run of that name', "the name of a run, or its folder")
    if not beginning.isdigit():
        raise NotThere("design", f'no design of {run} whose id begins with "{beginning}"', "ids begin: 6, 7")
    return Candidate(run, DUES, design(int(beginning)))


def product(text: str, folder: Path | None = None) -> Product:
    found = parse(TITLE + text, str((folder or Path()) / "brief.toml"), None, runs)
    assert isinstance(found, Product)
    return found


def refused(text: str, folder: Path | None = None, title: str = TITLE) -> dict[str, tuple[str, str]]:
    with pytest.raises(BriefRefused) as caught:
        parse(title + text, str((folder or Path()) / "brief.toml"), None, runs)
    return {one.key: (one.found, one.accepted) for one in caught.value.faults}


def test_defaults() -> None:
    found = product('product = ["dues/6"]')
    assert found.make.by == ("marked-blanks", "cast", "mould")
    assert found.make.sets == USUAL_SETS == (500, 2000, 10_000)
    assert found.make.compare_at == 2000
    assert (found.make.colours, found.make.inks, found.make.core) == (1, 1, False)
    assert found.rates == shipped()
    assert found.rank == WEIGHTS
    assert found.candidates[0].name.startswith("dues/")


def test_all_keys(tmp_path: Path) -> None:
    (tmp_path / "r.toml").write_text('[cast]\nresin = { likely = 9, unit = "EUR a kg" }\n', encoding="utf-8")
    (tmp_path / "s.toml").write_text(
        'Hexahedron = ["mould"]\n"octagonal bipyramid" = ["blanks", "master"]\n', encoding="utf-8"
    )
    found = product(
        'product = ["dues/6", "a/b/7"]\nrates = "r.toml"\nowned = "s.toml"\nrank = { readability = 2, cost = 1 }\n'
        'make = { by = ["mould", "cast"], sets = [9000, 10, 10], compare_at = 77, colours = 3, inks = 2, '
        'currency = "EUR", core = true, body = "#F4EFE2", ink = "#1c2430" }\n',
        tmp_path,
    )
    assert found.make.by == ("mould", "cast")
    assert found.make.sets == (10, 9000)
    assert (found.make.compare_at, found.make.colours, found.make.inks, found.make.core) == (77, 3, 2, True)
    assert (found.make.body, found.make.ink) == ("#f4efe2", "#1c2430")
    assert found.rates.by_key["cast.resin"].likely == 9
    assert found.owned == (("cube", ("mould",)), ("octagonal bipyramid", ("blanks", "master")))
    assert [one.run for one in found.candidates] == ["dues", "a/b"]
    assert dict(found.rank) == {"readability": 2, "cost": 1}
    again = any_from_form(json.loads(json.dumps(any_to_form(found))))
    assert again == found
    assert again.fingerprint() == found.fingerprint()


def test_what_tells_product_questions_apart() -> None:
    usual = product('product = ["dues/6"]').fingerprint()
    assert (
        product('note = "x"\nproduct = ["dues/6"]\nmake = { sets = [3], colours = 2 }').fingerprint() == usual
    )
    assert product('product = ["dues/7"]').fingerprint() != usual
    assert product('product = ["dues/6"]\nmake = { by = ["cast"] }').fingerprint() != usual


def test_all_faults_at_once() -> None:
    found = refused(
        'product = ["dues/6", "tides", "moor/6", "dues/x", "dues/6", "tides/6", 4]\n'
        'rates = "none.toml"\nowned = "none.toml"\nmake = { by = ["print"], sets = [0, 10000000000], colours = 0, '
        'inks = 1.5, currency = "euro", core = 1, body = "white", cost = 3 }\n'
        'rank = { tool = 1, cost = -1 }\nlike = "2d6"\n',
        title="",
    )
    assert set(found) == {
        "title", "product[7]", "rates", "owned", "make.by[1]", "make.sets[1]", "make.sets[2]", "make.colours",
        "make.inks", "make.currency", "make.core", "make.body", "make.cost", "rank.tool", "rank.cost", "like",
    }  # fmt: skip
    assert "whole number of sets" in found["make.sets[1]"][1]
    assert "tooling" in found["rank.tool"][1]
    names = refused('product = ["dues/6", "tides", "moor/6", "dues/x", "dues/6", "tides/6"]\n')
    assert names["product[2]"] == ('"tides"', 'a design of a run, such as "harbour-dues/3f2a"')
    assert "no run of that name" in names["product[3]"][0]
    assert names["product[4]"][1] == "ids begin: 6, 7"
    assert "for the second time" in names["product[5]"][0]
    assert "the same dice as dues/" in names["product[6]"][0]


def test_faults_of_the_files_that_it_names(tmp_path: Path) -> None:
    (tmp_path / "r.toml").write_text(
        '\n[cast]\nresin = { likely = -9, unit = "EUR a kg" }\n', encoding="utf-8"
    )
    (tmp_path / "s.toml").write_text('cube = ["molud"]\nkube = ["mould"]\noctahedron = 3\n', encoding="utf-8")
    with pytest.raises(BriefRefused) as caught:
        parse(
            TITLE + 'product = ["dues/6"]\nrates = "r.toml"\nowned = "s.toml"',
            str(tmp_path / "b.toml"),
            None,
            runs,
        )
    found = [f"{one.line} {one.key} {one.found}" for one in caught.value.faults]
    assert found[0] == "3 rates r.toml, line 3, cast.resin.likely: -9"
    assert found[1].startswith('4 owned s.toml, line 1, cube[1]: "molud"')
    assert found[2].startswith('4 owned s.toml, line 2, kube: "kube"')
    assert found[3].startswith("4 owned s.toml, line 3, octahedron: 3")
    (tmp_path / "r.toml").write_bytes(b"\xff\xfe")
    assert "no UTF-8" in refused('product = ["dues/6"]\nrates = "r.toml"', tmp_path)["rates"][0]
    assert "cannot be read" in refused('product = ["dues/6"]\nrates = "."', tmp_path)["rates"][0]


def test_no_product_without_runs_and_none_with_nothing() -> None:
    with pytest.raises(BriefRefused, match="no runs are read"):
        parse(TITLE + 'product = ["dues/6"]')
    assert "product" in refused("product = []")
    assert "make.core" in refused('product = ["dues/6"]\nmake = { core = true, by = ["cast"] }')
    assert "make.currency" in refused('product = ["dues/6"]\nmake = { currency = "GBP" }')
    assert "rank" in refused('product = ["dues/6"]\nrank = { cost = 0 }')
    assert "read" in refused('product = ["dues/6"]\nread = "total"')


def test_the_starter() -> None:
    with pytest.raises(BriefRefused) as caught:
        parse(starter("product"), "brief.toml", None, runs)
    # only the runs are missing
    assert {one.key for one in caught.value.faults} == {"product[1]", "product[2]"}


@pytest.mark.parametrize("part", ["candidates", "make", "rates", "owned", "rank", "stop", "title"])
def test_forms_that_are_none(part: str) -> None:
    form = product('product = ["dues/6"]').to_form()
    for wrong in ({**form, part: 3}, {key: value for key, value in form.items() if key != part}):
        if part == "title" and part in wrong:
            continue
        with pytest.raises(UsageError):
            any_from_form(wrong)
