"""The store: what goes in comes out, all or nothing, and one plain file at rest."""

from __future__ import annotations

import sqlite3
from fractions import Fraction
from pathlib import Path

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.design import NumberingDesign
from facewright.constraints.errors import RunError
from facewright.search.answer import Closing, FoundDesign, SetOutcome
from facewright.search.store import NotBegun, Store

QUESTION = parse('title = "Tolls"\nread = "total"\nlike = "2d6"\ndice = "2 of 4 6 9"\n', "test")
FOUR_NINE, CUBES = QUESTION.sets


def found(position: int, *labels: tuple[int, ...]) -> FoundDesign:
    return FoundDesign(NumberingDesign.of(QUESTION.sets[position], labels), position, Fraction(1, 3))


ONE = found(0, (1, 2, 2, 3), (1, 3, 3, 5, 5, 5, 7, 7, 9))
TWO = found(1, (1, 2, 3, 4, 5, 6), (1, 2, 3, 4, 5, 6))
THREE = found(1, (1, 2, 2, 3, 3, 4), (1, 3, 4, 5, 6, 8))
CLOSING = Closing("complete", 2, 1, "all", "Two „do it”.", ("(x + 1)²", "done"), "7/192")


def outcome(position: int) -> SetOutcome:
    return SetOutcome(QUESTION.sets[position], "factors", CLOSING, 2, 0.25)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "run.sqlite"


def test_sets_and_their_names() -> None:
    assert [[die.faces for die in dice] for dice in (FOUR_NINE, CUBES)] == [[4, 9], [6, 6]]


def test_what_goes_in_comes_out(path: Path) -> None:
    with Store.create(path, QUESTION) as store:
        store.append([THREE], None, 1)
        store.append([ONE], outcome(0), 0)
        store.append([TWO, THREE], outcome(1), 1)
        store.note("anything", {"a": [1, None, "ü"]})
    with Store.open(path) as store:
        assert store.question == QUESTION
        assert store.question.title == "Tolls"
        # set by set, and what is there already stays where it is
        assert list(store.designs()) == [ONE, THREE, TWO]
        assert store.outcomes() == (outcome(0), outcome(1))
        assert [store.size(), store.size(0), store.size(1), store.size(2)] == [3, 1, 2, 0]
        assert store.noted("anything") == {"a": [1, None, "ü"]}
        assert store.noted("nothing", 5) == 5
        answer = store.answer()
        assert (answer.verdict, answer.count) == ("complete", 4)
        assert store.outline().found == ()
        assert [(one.id, one.design) for one in store.claims()] == [
            (one.design.id, one.design) for one in (ONE, THREE, TWO)
        ]


def test_outcomes_count_up_to_the_first_gap(path: Path) -> None:
    with Store.create(path, QUESTION) as store:
        store.append([], outcome(1), 1)
        assert store.outcomes() == ()
        store.append([], outcome(0), 0)
        assert len(store.outcomes()) == 2


def test_a_shard_goes_in_whole_or_not_at_all(path: Path) -> None:
    broken = FoundDesign(TWO.design, None, Fraction(0))  # type: ignore[arg-type]
    with Store.create(path, QUESTION) as store:
        store.append([ONE], None, 0)
        # INSERT OR IGNORE passes over what breaks a rule of the table: the outcome breaks one here
        with pytest.raises(RunError):
            store.append([TWO], outcome(1), "not a number")  # type: ignore[arg-type]
        assert list(store.designs()) == [ONE]
        store.append([broken], None, 0)
        assert store.size() == 1


def test_a_store_comes_to_be_at_once(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise sqlite3.OperationalError("killed here")

    with monkeypatch.context() as broken:
        broken.setattr(Store, "note", fails)
        with pytest.raises(RunError, match="killed here"):
            Store.create(path, QUESTION)
    with pytest.raises(NotBegun, match="ended before it began"):
        Store.open(path)


def test_at_rest_it_is_one_plain_file(path: Path) -> None:
    with Store.create(path, QUESTION) as store:
        store.append([ONE], outcome(0), 0)
        assert path.with_name("run.sqlite-wal").exists()
        with Store.open(path) as other:
            assert list(other.designs()) == [ONE]
    assert [one.name for one in path.parent.iterdir()] == ["run.sqlite"]
    with Store.open(path, write=True) as store:
        store.append([TWO], None, 1)
    assert [one.name for one in path.parent.iterdir()] == ["run.sqlite"]


def test_a_reader_does_not_keep_a_writer_from_ending(path: Path) -> None:
    with Store.create(path, QUESTION) as store:
        store.append([ONE, TWO, THREE], None, 0)
        reading = Store.open(path)
        designs = reading.designs()
        next(designs)
    assert list(designs)[-1] == THREE
    reading.__exit__()
    with Store.open(path) as store:
        assert store.size() == 3


def test_what_is_no_store(path: Path) -> None:
    with pytest.raises(RunError, match="no store") as refused:
        Store.open(path)
    assert refused.value.exit_status == 2
    path.write_bytes(b"")
    with pytest.raises(NotBegun):
        Store.open(path)
    path.write_bytes(b"a text" * 300)
    with pytest.raises(RunError, match="damaged") as refused:
        Store.open(path)
    assert refused.value.exit_status == 1


def test_a_writer_that_waits_too_long_is_told(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("facewright.search.store.WAIT", 0.01)
    with Store.create(path, QUESTION) as store:
        other = sqlite3.connect(path, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(RunError, match="another process is writing"):
            store.append([ONE], None, 0)
        other.execute("ROLLBACK")
        other.close()
        store.append([ONE], None, 0)
        assert store.size() == 1
