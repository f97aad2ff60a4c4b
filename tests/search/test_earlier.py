"""Dice of stored runs, as layout briefs name them: what is found, and what is said where it is not there."""

from __future__ import annotations

from pathlib import Path

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.brief.earlier import NotThere
from facewright.constraints.errors import BriefRefused
from facewright.constraints.layout import Layout, Roll
from facewright.search.cli import status_of
from facewright.search.earlier import die_of

BRIEF = (
    'title = "Dues"\nlike = "d6 + d8"\nread = "total"\n'
    'dice = [{ faces = 6, solid = "triangular bipyramid", shape = 2.5 }, 8]\nlabels = { highest = 9 }\n'
)
BOARD = 'title = "Board"\nsolid = "cube"\nreadouts = { wind = 2 }\n'


@pytest.fixture
def runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with two runs: dues and board."""
    monkeypatch.chdir(tmp_path)
    for name, text in (("dues", BRIEF), ("board", BOARD)):
        Path(f"{name}.toml").write_text(text, encoding="utf-8")
        assert status_of(["find", f"{name}.toml", "--quiet"]) == 0
    return tmp_path


def ids() -> list[str]:
    from facewright.search.store import Store

    with Store.open(Path("runs/dues/run.sqlite")) as store:
        return [one.design.id for one in store.designs()]


def test_a_die_with_its_solid_its_shape_and_the_others(runs: Path) -> None:
    one = ids()[0]
    first, second = die_of("dues", one[:8], 1), die_of("runs/dues", one.upper(), 2)
    assert (first.solid, first.shape) == ("triangular bipyramid", 2.5)
    assert (second.solid, second.shape) == ("octahedron", "largest-numeral")
    assert first.roll == Roll("total", (second.labels,))
    assert second.roll == Roll("total", (first.labels,))
    assert (len(first.labels), len(second.labels)) == (6, 8)


@pytest.mark.parametrize(
    ("run", "design", "die", "key", "found", "accepted"),
    [
        ("duties", "", 1, "run", '"duties"', "the name of a run"),
        ("board", "a", 1, "run", "the run of a readouts brief", "a numbering brief"),
        ("dues", "zz", 1, "design", 'begins with "zz"', "ids begin: "),
        ("dues", "", 1, "design", "3 designs", "ids begin: "),
        ("dues", "ONE", None, "die", "missing", "from 1 to 2"),
        ("dues", "ONE", 3, "die", "3, of a design with 2 dice", "from 1 to 2"),
    ],
)
def test_what_is_not_there(
    runs: Path, run: str, design: str, die: int | None, key: str, found: str, accepted: str
) -> None:
    many = len(ids())
    with pytest.raises(NotThere) as refused:
        die_of(run, ids()[0] if design == "ONE" else design, die)
    assert refused.value.key == key
    assert found.replace("3 designs", f"{many} designs") in refused.value.found
    assert accepted in refused.value.accepted


def test_a_damaged_run_is_a_fault_of_the_brief(runs: Path) -> None:
    Path("runs/dues/run.sqlite").write_bytes(b"no store at all" * 100)
    text = 'title = "N"\nfrom = { run = "dues", design = "a", die = 1 }\nlayout = ["apart"]'
    with pytest.raises(BriefRefused) as refused:
        parse(text, earlier=die_of)
    [fault] = refused.value.faults
    assert (fault.line, fault.key) == (2, "from.run")
    assert '"dues"' in fault.found


def test_the_command_reads_runs_for_a_brief(runs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("lay.toml").write_text(
        f'title = "Lay"\nfrom = {{ run = "dues", design = "{ids()[0][:6]}", die = 4 }}\nlayout = ["apart"]',
        encoding="utf-8",
    )
    assert status_of(["find", "lay.toml"]) == 2
    assert "from.die: found 4, of a design with 2 dice" in capsys.readouterr().err


def test_the_question_keeps_what_it_took_from_the_run(runs: Path) -> None:
    text = f'title = "N"\nfrom = {{ run = "dues", design = "{ids()[0][:6]}", die = 1 }}\nlayout = ["apart"]'
    question = parse(text, earlier=die_of)
    assert isinstance(question, Layout)
    assert (question.solid, question.shape) == ("triangular bipyramid", 2.5)
    assert question.roll.others == (die_of("dues", ids()[0], 2).labels,)
